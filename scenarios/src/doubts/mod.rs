//! What can be read and is yet doubtful: "unusual, because". A theme is a file; each
//! doubt in it is one function, registered below, with the threshold it goes by.

mod aims;
mod care;
mod crops;
mod doubt;
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

pub(crate) use places::Places;
pub(crate) use sight::SiteView;
pub(crate) use typical::Typical;

use crate::diagnose::FaultPage;
use doubt::{Doubt, Threshold, tidy};

const DOUBTS: &[fn(&SiteView<'_>) -> Vec<Doubt>] = &[
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
pub(crate) fn look(sight: &SiteView<'_>, page: FaultPage<'_>) {
    for doubt in DOUBTS.iter().flat_map(|doubt| doubt(sight)) {
        page.unusual(sight.places.find(&doubt.about), doubt.message, doubt.remedy);
    }
}
