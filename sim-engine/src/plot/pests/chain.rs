//! A stage as a chain of boxes: what enters stays for a time with a spread about its mean, and part of it dies.
//!
//! # Formulas
//!
//! ```text
//! of each box r + m leaves in a step, r/(r + m) of it to the next: r = 6 · degree-days / stage, m = death rate
//! where r + m is above 1, g = 2, 3 or 6 boxes go as one: min((r + m)/g, 1) leaves, (r/(r + m))ᵍ of it g boxes on
//! ```
//!
//! # Source
//!
//! Distributed delay: Manetsch 1976.
//!
//! # Limits
//!
//! Boxes moved in steps spread a stage less than the delay they stand for: its variance is 6(1 − r)/r² steps², not 6/r².
//! No stage is shorter than a step.
//!
//! # Parameters
//!
//! None of its own: rates are those of its callers.

use crate::ledger::flows::{Flow, Flows};
use crate::simd::{Mask, Real};
use crate::state::PEST_BOXES;

/// Moves a chain of boxes: total exit rate + death, of which rate/(rate + death) moves on. Survival and mean stay do
/// not depend on the step, down to a stay of one step. Returns what leaves; books what dies.
#[inline(always)]
pub fn chain<F: Real>(boxes: &mut [F; PEST_BOXES], rate: F, death: F, entering: F, flows: &mut Flows<F>) -> F {
    let (leaving, dead) = moved(boxes, rate, death, entering);
    flows.add(Flow::PestDeath, dead);
    leaving
}

/// As [`chain`], booking nothing: returns what leaves and what dies.
#[inline(always)]
pub(crate) fn moved<F: Real>(boxes: &mut [F; PEST_BOXES], rate: F, death: F, entering: F) -> (F, F) {
    let mut dead = rate.zero();
    let mut arriving = entering;
    if (rate + death).above(1.0).any() {
        for lane in 0..F::LANES {
            let mut of_lane = boxes.map(|stage| stage.lane(lane));
            let moved = moved_in_groups(&mut of_lane, rate.lane(lane), death.lane(lane), entering.lane(lane));
            boxes.iter_mut().zip(of_lane).for_each(|(stage, x)| stage.set_lane(lane, x));
            arriving.set_lane(lane, moved.0);
            dead.set_lane(lane, moved.1);
        }
    } else {
        for stage in boxes.iter_mut() {
            let leaving = *stage * rate;
            let dying = *stage * death;
            dead += dying;
            *stage += arriving - leaving - dying;
            arriving = leaving;
        }
    }
    (arriving, dead)
}

/// As [`moved`] for a stay shorter than the boxes have steps: as many boxes go as one as keep the mean stay.
fn moved_in_groups(boxes: &mut [f64; PEST_BOXES], rate: f64, death: f64, entering: f64) -> (f64, f64) {
    let total = rate + death;
    // Divisors of six, so that whole groups make up the chain.
    let group = [1, 2, 3].into_iter().find(|&group| total <= group as f64).unwrap_or(PEST_BOXES);
    let (mut moves, mut dies) = (rate, death);
    if group > 1 {
        let survive = (1..group).fold(rate / total, |share, _| share * (rate / total));
        let leave = (total / group as f64).min(1.0);
        (moves, dies) = (leave * survive, leave * (1.0 - survive));
    }
    let before = *boxes;
    let (mut out, mut dead) = (0.0, 0.0);
    for (at, stage) in boxes.iter_mut().enumerate() {
        let leaving = before[at] * moves;
        let dying = before[at] * dies;
        dead += dying;
        let arriving = match at.checked_sub(group) {
            Some(from) => before[from] * moves,
            None if at == 0 => entering,
            None => 0.0,
        };
        *stage += arriving - leaving - dying;
        if at + group >= PEST_BOXES {
            out += leaving;
        }
    }
    (out, dead)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{near, same};

    /// A pulse of 1 through six boxes at rate r with death m (Manetsch 1976): mean 6/r, survivors (r/(r + m))⁶.
    #[test]
    fn boxes_delay_by_their_mean_and_let_survivors_through() {
        for (rate, death) in [
            (0.3, 0.0),
            (0.3, 0.02),
            (0.9, 0.3),
            (1.5, 0.0),
            (1.5, 0.2),
            (2.0, 0.5),
            (3.0, 0.0),
            (4.0, 0.5),
            (6.0, 0.0),
        ] {
            let (mut boxes, mut flows) = ([0.0; PEST_BOXES], Flows::default());
            let (mut out, mut time) = (0.0, 0.0);
            for step in 0..3000 {
                let leaving = chain(&mut boxes, rate, death, if step == 0 { 1.0 } else { 0.0 }, &mut flows);
                assert!(boxes.iter().all(|&stage| stage >= -1e-15));
                out += leaving;
                time += leaving * f64::from(step);
            }
            let survival = libm::pow(rate / (rate + death), 6.0);
            near(out, survival, 1e-12);
            near(flows.get(Flow::PestDeath), 1.0 - survival, 1e-12);
            near(time / out, 6.0 / (rate + death), 1e-9);
        }
        // Beyond 1 two boxes go as one: of 0.9 and 0.6, 0.75 leaves, 0.6² of it two boxes on.
        let (mut boxes, mut flows) = ([10.0, 0.0, 0.0, 0.0, 0.0, 5.0], Flows::default());
        same(chain(&mut boxes, 0.9, 0.6, 2.0, &mut flows), 5.0 * 0.75 * 0.36);
        for (stage, want) in boxes.iter().zip([4.5, 0.0, 2.7, 0.0, 0.0, 1.25]) {
            near(*stage, want, 1e-12);
        }
        same(flows.get(Flow::PestDeath), 15.0 * 0.75 * 0.64);
        // A stay of less than a step is a step.
        let mut boxes = [1.0; PEST_BOXES];
        same(chain(&mut boxes, 9.0, 0.0, 0.0, &mut Flows::default()), 6.0);
        assert_eq!(boxes, [0.0; PEST_BOXES]);
    }
}
