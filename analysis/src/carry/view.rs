//! What is told of carrying capacity: table, raw curves.

use super::{Carried, CurvePoint};
use crate::csv_text::csv_text;
use crate::sweep::LimitName;
use crate::table::{TextColumn, TextTable, paragraph};
use crate::wording::{capital, possible_years};

/// A finished search, with the names it is told by.
#[derive(Clone, Debug)]
pub struct CarryView {
    /// Possible years.
    pub draws: u64,
    /// Share of them in which all limits must hold.
    pub required_reliability: f64,
    /// The flock of the site.
    pub present: u64,
    /// The limits.
    pub limits: Vec<LimitName>,
    /// Name of each strategy with what it bears.
    pub strategies: Vec<(String, Carried)>,
}

impl CarryView {
    /// A limit's key as a keeper would say it: "least cover".
    #[must_use]
    pub fn limit(&self, limit: usize) -> String {
        self.limits[limit].name.replace('_', " ")
    }
}

/// "18 (16–20)", "at least 2000".
#[must_use]
pub fn birds(carried: &Carried) -> String {
    if carried.beyond {
        return format!("{} or more", carried.birds);
    }
    format!("{} ({}–{})", carried.birds, carried.low, carried.high)
}

/// The table for the screen.
#[must_use]
pub fn carry_table(view: &CarryView) -> String {
    let mut table = TextTable::new(&[
        (TextColumn::Words, "strategy"),
        (TextColumn::Numbers, "most birds\n(95 % interval)"),
        (TextColumn::Words, "fails first,\nabove birds"),
        (TextColumn::Words, "next,\nabove birds"),
        (TextColumn::Numbers, "cover falls\nfastest at"),
    ]);
    for (name, carried) in &view.strategies {
        let way = |place: usize| {
            let of = |&(limit, flock): &(usize, u64)| format!("{}, {flock}", view.limit(limit));
            carried.order.get(place).map_or_else(|| "-".to_owned(), of)
        };
        let steepest = carried.steepest.map_or_else(|| "-".to_owned(), |flock| format!("{flock:.0}"));
        table.row([name.clone(), birds(carried), way(0), way(1), steepest]);
    }
    format!("{}{}", table.text(), notes(view))
}

fn notes(view: &CarryView) -> String {
    let mut notes = vec![format!(
        "The whole flock, all groups in their present proportions (now {}). All limits hold together in at least {:.0} of 100 possible years, counted on {}.",
        view.present,
        100.0 * view.required_reliability,
        possible_years(view.draws as usize)
    )];
    let words = view.limits.iter().map(|limit| format!("{} means that {}", limit.name.replace('_', " "), limit.words));
    notes.push(format!("{}.", capital(&words.collect::<Vec<_>>().join("; "))));
    if !view.limits.iter().any(|limit| limit.name.starts_with("nitrogen")) {
        notes.push("Nitrogen is not limited here: set it under [limits] if it should be; phosphorus usually reaches good practice before it does.".to_owned());
    }
    if super::curve::Bars::of(view.required_reliability, view.draws).surely > view.draws {
        notes.push(
            "So few possible years cannot make any flock certain: the lower end is 0. Ask for more with --draws."
                .to_owned(),
        );
    }
    notes.iter().map(|note| paragraph(note)).collect()
}

/// The curves as CSV: a row a strategy and flock tried.
#[must_use]
pub fn curves_csv(view: &CarryView) -> Vec<u8> {
    let mut heads: Vec<String> = ["strategy", "birds", "chance", "chance_low", "chance_high"].map(str::to_owned).into();
    heads.extend(view.limits.iter().map(|limit| format!("chance_{}", limit.name)));
    heads.extend(["mean_cover[share]", "mean_cover_low[share]", "mean_cover_high[share]"].map(str::to_owned));
    let row = |name: &String, point| std::iter::once(name.clone()).chain(figures(point)).collect();
    let rows =
        view.strategies.iter().flat_map(|(name, carried)| carried.curve.iter().map(move |point| row(name, point)));
    csv_text(std::iter::once(heads).chain(rows))
}

fn figures(point: &CurvePoint) -> Vec<String> {
    let figure = |value: f64| if value.is_finite() { value.to_string() } else { String::new() };
    let mut figures = vec![point.birds.to_string()];
    figures.extend([point.chance.chance, point.chance.low, point.chance.high].map(figure));
    figures.extend(point.limits.iter().map(|&chance| figure(chance)));
    figures.extend([point.cover.mean, point.cover.low, point.cover.high].map(figure));
    figures
}
