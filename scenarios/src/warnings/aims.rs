//! Aims that reward harm, or drown each other.

use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::measures::{Better, Measure};

/// Worth for what does harm, or against what is wanted.
pub(super) fn sign(view: &SiteView<'_>) -> Vec<Warning> {
    let turned = |&(measure, points): &(Measure, f64)| {
        let (side, wanted, meant) = match measure.better() {
            Better::More if points < 0.0 => ("punishes", "more", "positive"),
            Better::Less if points > 0.0 => ("rewards", "less", "negative"),
            _ => return None,
        };
        warning(
            format!("aims.{}", measure.name()),
            format!("{} {side} \"{}\"", measure.name(), measure.plain()),
            format!("{wanted} of it is what most keepers want"),
            format!("Did you mean a {meant} number?"),
        )
    };
    view.model.aims.iter().filter_map(turned).collect()
}

/// What a strategy may easily move in a year, in the unit of the measure: from memory, of small gardens.
const MOVES: &[(&str, f64)] = &[
    ("h/yr", 20.0),
    ("kg/yr", 30.0),
    ("points", 10.0),
    ("%", 30.0),
    ("%/yr", 30.0),
    ("share", 0.1),
    ("moves/yr", 30.0),
    ("d", 30.0),
    ("d/yr", 30.0),
    ("kg/ha/yr", 50.0),
    ("m2 per bird", 5.0),
];
/// Times the next aim from which one decides alone.
const ALONE: Threshold = Threshold::new(100.0, "times the next aim", "from memory");

/// One aim that leaves the others nothing to say.
pub(super) fn size(view: &SiteView<'_>) -> Option<Warning> {
    let weight = |&(measure, points): &(Measure, f64)| {
        let (_, moves) = MOVES.iter().find(|(unit, _)| *unit == measure.unit())?;
        Some((measure, points, (points * moves).abs()))
    };
    let mut weights: Vec<_> = view.model.aims.iter().filter_map(weight).filter(|(.., weight)| *weight > 0.0).collect();
    weights.sort_by(|a, b| b.2.total_cmp(&a.2));
    let [(measure, points, first), (_, _, second), ..] = weights.as_slice() else { return None };
    (*first > ALONE.value * second).then_some(())?;
    warning(
        format!("aims.{}", measure.name()),
        format!("{} for each {} of {}", view.model.aim_unit.amount(&tidy(*points)), measure.unit(), measure.name()),
        format!("it weighs over {ALONE} and decides alone"),
        "Look at what one hour is worth, above, and scale it down.",
    )
}

/// Nothing is wanted.
pub(super) fn none(view: &SiteView<'_>) -> Option<Warning> {
    view.model.aims.iter().all(|(_, points)| *points == 0.0).then_some(())?;
    let remedy = "Add for example work_saved = \"1 h per h\", or take [aims] out: then defaults are taken.";
    warning("aims", "no aim has any worth", "then every strategy is worth the same", remedy)
}
