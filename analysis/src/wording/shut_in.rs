//! Limits that do not hold with every gate shut either, in a paragraph.

use crate::compare::Comparison;
use crate::units::Units;
use crate::wording::{limit_in_words, possible_years};

/// Says which limits hold too seldom with the birds shut in; nothing where each holds often enough.
#[must_use]
pub fn limits_shut_in(c: &Comparison, units: Units) -> Option<String> {
    let broken = c.limits_shut_in.iter().filter(|limit| !limit.enough);
    let told = broken.map(|limit| {
        let words = limit_in_words(&limit.limit, units);
        format!("\"{words}\" holds in {} of {}", limit.held, possible_years(limit.draws))
    });
    let told: Vec<String> = told.collect();
    match told.as_slice() {
        [] => None,
        told => Some(format!("With the birds shut in not every limit holds either: {}.", told.join("; "))),
    }
}
