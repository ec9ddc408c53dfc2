//! The flock itself against no birds at all, in a paragraph: what no gate decides.

use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::units::Units;
use crate::wording::measured;
use sim_engine::measures::Measure;

/// What having no birds changes on the ground: the measure, and words for more of it and for less.
const WITHOUT: [(Measure, [&str; 2]); 3] = [
    (Measure::HarvestKept, ["more would be harvested", "less would be harvested"]),
    (Measure::NitrogenLeached, ["more nitrogen would leach", "less nitrogen would leach"]),
    (Measure::PestDamage, ["more of a crop would be lost to pests", "less of a crop would be lost to pests"]),
];

/// Eggs, feed and care of the flock on means, and what the ground would be like without it; nothing where
/// there are no birds.
#[must_use]
pub fn birds_or_none(c: &Comparison, units: Units) -> Option<String> {
    let mean = |run, measure| c.figure(run, measure).map(|figure| figure.mean.mean);
    let shut_in = |measure| mean(ArmId::ShutIn, measure).unwrap_or(0.0);
    if shut_in(Measure::CareOfBirds) <= 0.0 {
        return None;
    }
    let said = |value: f64, measure: Measure| {
        let unit = units.unit(measure.unit());
        format!("{} {}", measured(value, measure, units), unit.trim_end_matches("/yr"))
    };
    let flock = |measure| said(shut_in(measure), measure);
    let changes = WITHOUT.iter().filter_map(|&(measure, [more, less])| {
        let change = mean(ArmId::NoBirds, measure)? - mean(ArmId::ShutIn, measure)?;
        let words = if change < 0.0 { less } else { more };
        // A change too small to print is none.
        let smallest = 0.5 * 10f64.powi(-(measure.decimals() as i32));
        (change.abs() >= smallest).then(|| format!("{} {words}", said(change.abs(), measure)))
    });
    let changes: Vec<String> = changes.collect();
    let without = match changes.as_slice() {
        [] => String::new(),
        changes => format!(" With no birds at all instead, a year: {}.", changes.join("; ")),
    };
    Some(format!(
        "Birds or none is another question, which no gate decides. Shut in, this flock lays {} of eggs a year, needs \
         {} of bought feed and takes {} of care (opening, feeding, eggs, house).{without}",
        flock(Measure::Eggs),
        flock(Measure::FeedBought),
        flock(Measure::CareOfBirds),
    ))
}
