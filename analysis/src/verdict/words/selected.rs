//! The words of a verdict that a selection led to.

use super::figures::{hundredths, points, range};
use super::standing::{excluded, gain};
use crate::select::{Selection, SelectionEnd};
use crate::units::Units;
use crate::verdict::Verdict;
use crate::wording::{list, possible_years};

/// Text of a verdict that a selection led to.
pub(super) fn tell_selected(verdict: &Verdict, leader: usize, selection: &Selection, units: Units) -> String {
    let left: Vec<String> = selection.left().iter().map(|&s| verdict.standings[s].name.clone()).collect();
    let years = possible_years(selection.draws);
    let worth = points(selection.indifference_hours, selection.indifference_hours);
    let mut parts = vec![gain(&verdict.standings[leader])];
    parts.push(match selection.answer {
        SelectionEnd::Best => {
            let ahead = match (&verdict.runner_up, verdict.difference) {
                (Some(next), Some(lead)) => {
                    format!(": {} hours a year ahead of {next}{}", points(lead.mean, lead.mean), range(lead))
                }
                _ => String::new(),
            };
            format!("It is the best that keeps every limit{ahead}. {}", promise(selection, &years))
        }
        SelectionEnd::NoWorthwhileDifference => format!(
            "No worthwhile difference between {}: none leads another by {worth} hours a year. {} Take the one that is less work.",
            list(&left),
            promise(selection, &years)
        ),
        _ if left.len() == 1 => format!(
            "Only {} is still in after {years}, but whether it keeps every limit often enough is not known yet.",
            left[0]
        ),
        _ => format!(
            "Not settled in {years}: {} are still in, and a lead of {worth} hours a year would be worth a change. Measure something on your ground instead, such as the pests and weed seeds in the soil, or allow more years with --most-draws.",
            list(&left)
        ),
    });
    parts.extend(excluded(verdict, leader, units));
    parts.join(" ")
}

/// What stands behind the answer.
fn promise(selection: &Selection, years: &str) -> String {
    format!(
        "This was known after {years}; of 100 such answers at least {} are right.",
        hundredths(selection.rules.confidence)
    )
}
