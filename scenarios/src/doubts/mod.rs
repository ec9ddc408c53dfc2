//! What can be read and is yet doubtful: "unusual, because". A theme is a file; each
//! doubt in it is one function, registered below, with the threshold it goes by.

mod aims;
mod care;
mod crops;
mod events;
mod flock;
mod fruit;
mod ground;
mod guards;
mod harm;
mod isolation;
mod limits;
mod outside;
mod pests;
mod place;
mod places;
mod room;
mod run;
mod sight;
mod size;
mod stays;
mod strategies;
mod typical;
mod waiting;
mod weeds;
mod windows;
mod yard;

use crate::diagnose::Page;
pub(crate) use places::Places;
pub(crate) use sight::Sight;
use std::fmt;
pub(crate) use typical::Typical;

/// A doubt: the place it is about, what is unusual, why, what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Doubt {
    /// Path of the value in the file, for example `plot.orchard.area`.
    about: String,
    /// What is unusual, and after "because" why.
    message: String,
    /// What to do; "Did you mean …?" where that can be told.
    remedy: String,
}

impl Doubt {
    fn new(about: impl Into<String>, what: &str, because: &str, remedy: impl Into<String>) -> Self {
        Self { about: about.into(), message: format!("{what}, because {because}"), remedy: remedy.into() }
    }
}

/// From where on a value is unusual, and who says so.
#[derive(Clone, Copy, Debug)]
struct Threshold {
    value: f64,
    unit: &'static str,
    source: &'static str,
}

impl Threshold {
    const fn new(value: f64, unit: &'static str, source: &'static str) -> Self {
        Self { value, unit, source }
    }
}

impl fmt::Display for Threshold {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gap = if self.unit.is_empty() { "" } else { " " };
        write!(out, "{}{gap}{} ({})", tidy(self.value), self.unit, self.source)
    }
}

/// A number as people write it: whole above 100, else three digits without needless zeros.
fn tidy(value: f64) -> String {
    let decimals = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        _ => 2,
    };
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

const DOUBTS: &[fn(&Sight<'_>) -> Vec<Doubt>] = &[
    place::hemisphere,
    place::station_turned,
    place::offset,
    place::high,
    place::tropics,
    place::climate,
    run::few_draws,
    run::one_year,
    run::mid_crop,
    run::after_emergence,
    size::square_feet,
    size::slip,
    size::tiny,
    size::far,
    size::sliver,
    room::tight,
    room::limit,
    ground::drainage,
    ground::shade,
    ground::drip,
    yard::larger,
    yard::tiny,
    yard::roof,
    yard::never_cleaned,
    yard::night_share,
    flock::lone,
    flock::outside,
    flock::pullets,
    flock::table_birds,
    flock::mostly_away,
    flock::infection,
    isolation::none,
    isolation::short,
    isolation::among_crops,
    crops::too_short,
    crops::too_long,
    crops::frost,
    crops::at_once,
    crops::no_harvest,
    crops::touches_soil,
    fruit::season,
    guards::small,
    guards::late,
    waiting::always_shut,
    waiting::dates,
    waiting::by_hand,
    waiting::none,
    waiting::heap,
    pests::many,
    pests::hostless,
    pests::other_fruit,
    pests::never,
    pests::nothing,
    pests::twice,
    weeds::many,
    weeds::few,
    weeds::twice,
    weeds::reserve,
    harm::plants,
    harm::residue,
    care::mow,
    care::hoe,
    care::often,
    care::effort,
    care::mulch,
    care::nitrogen,
    stays::one_plot,
    stays::named_twice,
    stays::long,
    stays::turn,
    stays::rest,
    stays::shut,
    strategies::hours,
    strategies::birds,
    strategies::narrow,
    strategies::under_limit,
    strategies::heat,
    strategies::no_shade,
    windows::counted,
    windows::never,
    outside::pests,
    outside::dates,
    outside::events,
    events::order_end,
    events::twice,
    limits::cover_start,
    limits::cover_high,
    limits::sure,
    aims::sign,
    aims::size,
    aims::none,
];

/// Notes every doubt at the place of the value it is about.
pub(crate) fn look(sight: &Sight<'_>, page: Page<'_>) {
    for doubt in DOUBTS.iter().flat_map(|doubt| doubt(sight)) {
        page.unusual(sight.places.find(&doubt.about), doubt.message, doubt.remedy);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_threshold_says_its_source() {
        let threshold = Threshold::new(300.0, "per m2", "from memory");
        assert_eq!(threshold.to_string(), "300 per m2 (from memory)");
        assert_eq!([tidy(0.127), tidy(12.0), tidy(-0.001)], ["0.13", "12", "0"]);
    }
}
