//! The flock itself against no birds at all, in a paragraph: what no gate decides.

use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::units::Units;
use crate::wording::{figure, measured};
use sim_engine::measures::Measure;

/// What having no birds changes on the ground: the measure, and words for more of it and for less.
const WITHOUT: [(Measure, [&str; 2]); 3] = [
    (Measure::HarvestKept, ["more would be harvested", "less would be harvested"]),
    (Measure::NitrogenLeached, ["more nitrogen would leach", "less nitrogen would leach"]),
    (Measure::PestDamage, ["more of a crop would be lost to pests", "less of a crop would be lost to pests"]),
];

/// Mass of an egg to count eggs by, kg (common practice: 60 g).
const EGG_KG: f64 = 0.06;

/// The flock itself in a year, from its measures shut in: eggs, bought feed, care; nothing where there are no birds.
#[must_use]
pub fn flock_in_words(shut_in: &dyn Fn(Measure) -> f64, units: Units) -> Option<String> {
    (shut_in(Measure::CareOfBirds) > 0.0).then(|| {
        let flock = |measure| said(shut_in(measure), measure, units);
        let eggs = match shut_in(Measure::Eggs) {
            0.0 => String::new(),
            kg => format!(
                "lays {} of eggs a year (about {} of a hen's size), ",
                flock(Measure::Eggs),
                figure((kg / EGG_KG / 10.0).round() * 10.0, 0)
            ),
        };
        format!(
            "Shut in, the flock {eggs}needs {} of bought feed and takes {} of care (so much time a day, alike for few birds and many).",
            flock(Measure::FeedBought),
            flock(Measure::CareOfBirds)
        )
    })
}

/// A value with its unit, of a year.
fn said(value: f64, measure: Measure, units: Units) -> String {
    let unit = units.unit(measure.unit());
    format!("{} {}", measured(value, measure, units), unit.trim_end_matches("/yr"))
}

/// The flock, and what the ground would be like without it; nothing where there are no birds.
#[must_use]
pub fn birds_or_none(c: &Comparison, units: Units) -> Option<String> {
    let flock = flock_in_words(&|measure| c.mean(ArmId::ShutIn, measure).unwrap_or(0.0), units)?;
    let mean = |run, measure| c.figure(run, measure).map(|figure| figure.mean.mean);
    let changes = WITHOUT.iter().filter_map(|&(measure, [more, less])| {
        let change = mean(ArmId::NoBirds, measure)? - mean(ArmId::ShutIn, measure)?;
        let words = if change < 0.0 { less } else { more };
        // A change too small to print is none.
        let smallest = 0.5 * 10f64.powi(-(measure.decimals() as i32));
        (change.abs() >= smallest).then(|| format!("{} {words}", said(change.abs(), measure, units)))
    });
    let changes: Vec<String> = changes.collect();
    let without = match changes.as_slice() {
        [] => String::new(),
        changes => format!(" With no birds at all instead, a year: {}.", changes.join("; ")),
    };
    Some(format!("Birds or none is another question, which no gate decides. {flock}{without}"))
}
