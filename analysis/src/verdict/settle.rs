//! What would settle a close call: more possible years, or something to measure.

use crate::stats::Estimate;
use crate::stats::LEVEL;
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
pub(super) fn what_settles(
    lead: Estimate,
    spread: f64,
    indifference_hours: f64,
    draws: usize,
    contenders: usize,
) -> Settle {
    if draws < 2 {
        return Settle::MoreYears(USUAL_DRAWS);
    }
    if lead.high < indifference_hours || (lead.low == lead.high && lead.high <= indifference_hours) {
        return Settle::EitherWillDo;
    }
    let level = level_per_pair(contenders, LEVEL);
    match draws_needed((lead.mean - indifference_hours).abs(), spread, level) {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn lead(mean: f64, reach: f64) -> Estimate {
        Estimate { mean, low: mean - reach, high: mean + reach }
    }

    /// As many draws as make the interval's half width, t × spread / √n, the margin, and no tenth fewer.
    #[test]
    fn draws_needed_make_the_interval_as_narrow_as_the_margin() {
        let half_width = |draws: f64, spread: f64| t_quantile(0.975, blocks::freedom(draws)) * spread / draws.sqrt();
        for spread in [3.0, 10.0, 20.0] {
            let needed = draws_needed(1.0, spread, 0.95).unwrap() as f64;
            assert!(half_width(needed, spread) <= 1.0 + 1e-3, "{needed} for {spread}");
            assert!(half_width(0.9 * needed, spread) > 1.0, "{needed} for {spread}");
        }
        // Without spread the fewest that make an interval; without a margin, or with far too little, none.
        assert_eq!(draws_needed(1.0, 0.0, 0.95), Some(3));
        assert_eq!(draws_needed(0.0, 1.0, 0.95), None);
        assert_eq!(draws_needed(1.0, 1e6, 0.95), None);
    }

    #[test]
    fn an_estimate_looks_like_one() {
        let rounded = [1, 10, 41, 991, 999, 1_000, 1_001, 1_950].map(round_up);
        assert_eq!(rounded, [10, 10, 50, 1_000, 1_000, 1_000, 1_100, 2_000]);
    }

    #[test]
    fn what_would_settle_it_by_lead_spread_and_worth() {
        let settles = |lead, spread, draws| what_settles(lead, spread, 2.0, draws, 2);
        assert_eq!(settles(lead(3.0, 5.0), 1.0, 1), Settle::MoreYears(USUAL_DRAWS), "one tells nothing of a spread");
        assert_eq!(settles(lead(1.0, 0.9), 1.0, 200), Settle::EitherWillDo, "surely less than worth");
        assert_eq!(settles(lead(2.0, 0.0), 0.0, 200), Settle::EitherWillDo, "exactly what is worth, in every year");
        assert_ne!(settles(lead(1.0, 1.0), 1.0, 200), Settle::EitherWillDo, "may be as much as is worth");
        // A margin of 1 or of −1 on a spread of 3 asks for the same, and for more than there were.
        let needed = round_up(draws_needed(1.0, 3.0, LEVEL).unwrap());
        assert_eq!(settles(lead(3.0, 2.0), 3.0, 20), Settle::MoreYears(needed));
        assert_eq!(settles(lead(1.0, 2.0), 3.0, 20), Settle::MoreYears(needed));
        assert_eq!(settles(lead(3.0, 2.0), 3.0, 300), Settle::MoreYears(310));
        assert_eq!(settles(lead(3.0, 2.0), 300.0, 20), Settle::Measure);
        // More contenders ask for a higher level, so for more years.
        let Settle::MoreYears(of_five) = what_settles(lead(3.0, 2.0), 3.0, 2.0, 20, 5) else { panic!() };
        assert!(of_five > needed);
    }
}
