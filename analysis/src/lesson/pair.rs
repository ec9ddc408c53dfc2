//! Which two strategies a group learns most from.
//!
//! The rule, where the leader names none: the first is the strategy of the site that the others
//! are set against. The second is the one whose loss of ground cover differs most from it
//! among those that move gates about as often (within [`ALIKE`]), on the draw of the lesson;
//! where no strategy moves gates alike, among all. So the group sees what the *choice* of gate
//! does, not the amount of work. Ties go to the strategy written first in the site file.

use super::play::SharedDraw;
use super::topic::cover_lost;
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// Two strategies move gates alike if their moves differ by no more than this share of the larger
/// number (a choice of ours, no source).
pub const ALIKE: f64 = 0.25;

/// The strategy played on `draw` to hold against the `first`; `None` if there is no other.
#[must_use]
pub fn partner(model: &SiteModel, draw: &SharedDraw, first: usize) -> Option<usize> {
    let moves = |strategy: usize| draw.strategies[strategy].measures.get(Measure::GateMoves);
    let alike = |strategy: usize| {
        let (a, b) = (moves(first), moves(strategy));
        (a - b).abs() <= ALIKE * a.max(b)
    };
    let lost = |strategy: usize| cover_lost(model, draw, strategy);
    let apart = |strategy: usize| (lost(first) - lost(strategy)).abs();
    let others: Vec<usize> = (0..draw.strategies.len()).filter(|&strategy| strategy != first).collect();
    let same_work: Vec<usize> = others.iter().copied().filter(|&strategy| alike(strategy)).collect();
    let among = if same_work.is_empty() { others } else { same_work };
    // `rev`: of equals `max_by` takes the last, and the first in the file is wanted.
    among.into_iter().rev().max_by(|&a, &b| apart(a).total_cmp(&apart(b)))
}
