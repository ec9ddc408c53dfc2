//! What would settle a close call: more possible years, or something to measure.

use super::LEVEL;
use crate::stats::Estimate;
use crate::stats::blocks;
use crate::stats::distributions::t_quantile;
use crate::stats::simultaneous::level_per_pair;

/// Draws beyond which measuring beats computing: ten times the usual run (our own judgement).
pub const MOST_DRAWS: usize = 2_000;
/// Draws of a usual run, suggested when a single one was made.
pub const USUAL_DRAWS: usize = 200;
/// Rounds of "draws needed" against "t quantile at that many draws"; it settles in three.
const ROUNDS: usize = 8;

/// What would settle it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Settle {
    /// It is settled.
    Settled,
    /// About this many possible years in all, judging by the paired spread so far.
    MoreYears(usize),
    /// Surely less apart than is worth having: either will do.
    EitherWillDo,
    /// More years than is sensible: the unknowns themselves need measuring.
    Measure,
    /// Nothing holds: ease a limit, keep fewer birds, or change a strategy.
    EaseLimitOrChange,
}

/// Judges from the lead, the spread of paired differences and what is worth having.
pub(super) fn what_settles(lead: Estimate, spread: f64, worth: f64, draws: usize, contenders: usize) -> Settle {
    if draws < 2 {
        return Settle::MoreYears(USUAL_DRAWS);
    }
    if lead.high < worth || (lead.low == lead.high && lead.high <= worth) {
        return Settle::EitherWillDo;
    }
    let level = level_per_pair(contenders, LEVEL);
    match draws_needed((lead.mean - worth).abs(), spread, level) {
        Some(needed) if needed <= MOST_DRAWS => Settle::MoreYears(round_up(needed.max(draws + 1))),
        _ => Settle::Measure,
    }
}

/// Draws at which the interval's half width equals `margin`; `None` if out of all reason.
fn draws_needed(margin: f64, spread: f64, level: f64) -> Option<usize> {
    let mut needed = MOST_DRAWS as f64;
    for _ in 0..ROUNDS {
        let reach = t_quantile(0.5 + 0.5 * level, blocks::freedom(needed)) * spread / margin;
        needed = (reach * reach).ceil().max(3.0);
        if !needed.is_finite() || needed > 1e6 {
            return None;
        }
    }
    Some(needed as usize)
}

/// Up to the next ten, or hundred from a thousand on: it is an estimate and should look it.
fn round_up(draws: usize) -> usize {
    let step = if draws < 1_000 { 10 } else { 100 };
    draws.div_ceil(step) * step
}
