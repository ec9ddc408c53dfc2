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
    /// Where the search ends for want of room.
    pub room: Option<RoomEnd>,
    /// Name of each strategy with what it bears.
    pub strategies: Vec<(String, Carried)>,
}

/// The largest flock that there is room for, beyond which `check` warns of crowding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomEnd {
    /// Birds.
    pub birds: u64,
    /// What each bird more would have: "less than 0.4 m2 per bird in the yard".
    pub why: String,
}

impl CarryView {
    /// A limit's key as a keeper would say it: "least cover".
    #[must_use]
    pub fn limit(&self, limit: usize) -> String {
        self.limits[limit].name.replace('_', " ")
    }
}

/// "18 (16–20)"; "150, all there is room for".
#[must_use]
pub fn birds(view: &CarryView, carried: &Carried) -> String {
    if carried.beyond {
        let end = if view.room.is_some() { ", all there is room for" } else { " or more" };
        return format!("{}{end}", carried.birds);
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
            let room = view.room.as_ref().filter(|_| place == carried.order.len());
            let room = room.map_or_else(|| "-".to_owned(), |room| format!("room, {}", room.birds));
            carried.order.get(place).map_or(room, of)
        };
        let steepest = carried.steepest.map_or_else(|| "-".to_owned(), |flock| format!("{flock:.0}"));
        table.row([name.clone(), birds(view, carried), way(0), way(1), steepest]);
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
    if let Some(room) = &view.room {
        notes.push(format!(
            "More than {} are not tried: they would be crowded, with {}.",
            counted_birds(room.birds),
            room.why
        ));
    }
    notes.extend(view.strategies.iter().filter_map(|(name, carried)| ground(name, carried)));
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

/// "1 bird", "12 birds".
fn counted_birds(birds: u64) -> String {
    if birds == 1 { "1 bird".to_owned() } else { format!("{birds} birds") }
}

/// What the ground looks like with the most birds of a strategy; nothing where it carries none or has no sward.
fn ground(name: &str, carried: &Carried) -> Option<String> {
    let [with, without] = &carried.ground;
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    (carried.birds > 0 && with.mean_cover.is_finite() && with.least_cover.is_finite()).then(|| {
        format!(
            "With {} under {name} the ground is {} covered on the mean and {} where it is barest ({} and {} without birds); the longest it lies under half cover because of them: {:.0} days.",
            counted_birds(carried.birds),
            percent(with.mean_cover),
            percent(with.least_cover),
            percent(without.mean_cover),
            percent(without.least_cover),
            if with.bare_days.is_finite() { with.bare_days } else { 0.0 },
        )
    })
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
