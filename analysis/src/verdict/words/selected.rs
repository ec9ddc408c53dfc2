//! The words of a verdict that a selection led to.

use super::figures::{hundredths, range, yearly};
use super::standing::{excluded, gain};
use crate::select::{Selection, SelectionEnd};
use crate::units::Units;
use crate::verdict::Verdict;
use crate::wording::{list, possible_years};
use scenarios::money::AimUnit;

/// Text of a verdict that a selection led to.
pub(super) fn tell_selected(
    verdict: &Verdict,
    leader: usize,
    selection: &Selection,
    units: Units,
    aims: &AimUnit,
) -> String {
    let left: Vec<String> = selection.left().iter().map(|&s| verdict.standings[s].name.clone()).collect();
    let years = possible_years(selection.draws);
    let worth = yearly(selection.indifference_hours, selection.indifference_hours, aims);
    let mut parts = vec![gain(&verdict.standings[leader], aims)];
    parts.push(match selection.answer {
        SelectionEnd::Best => {
            let ahead = match (&verdict.runner_up, verdict.difference) {
                (Some(next), Some(lead)) => {
                    format!(": {} ahead of {next}{}", yearly(lead.mean, lead.mean, aims), range(lead))
                }
                _ => String::new(),
            };
            format!("It is the best that keeps every limit{ahead}. {}", promise(selection, &years))
        }
        SelectionEnd::NoWorthwhileDifference => format!(
            "No worthwhile difference between {}: none leads another by {worth}. {} Take the one that is less work.",
            list(&left),
            promise(selection, &years)
        ),
        _ if left.len() == 1 => format!(
            "Only {} is still in after {years}, but whether it keeps every limit often enough is not known yet.",
            left[0]
        ),
        _ => format!(
            "Not settled in {years}: {} are still in, and a lead of {worth} would be worth a change. Measure something on your ground instead, such as the pests and weed seeds in the soil, or allow more years with --most-draws.",
            list(&left)
        ),
    });
    parts.extend(excluded(verdict, leader, units, aims));
    parts.join(" ")
}

/// What stands behind the answer.
fn promise(selection: &Selection, years: &str) -> String {
    format!(
        "This was known after {years}; of 100 such answers at least {} are right.",
        hundredths(selection.rules.confidence)
    )
}
