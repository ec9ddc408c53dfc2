//! Birds search the layer of soil they scratch.
//!
//! # Formulas
//!
//! ```text
//! near   = reach · what enters the soil                       pests that stay where they came to rest: searched out, not filled up
//! near   = reach · pool, each step anew                       pests that move; reach of the day (day.rs)
//! caught = near · exposed · (1 − exp(−searched)),  or Rogers of near where handling_time is above 0
//! Rogers : Ne = N₀ · (1 − exp(handling · Ne − searched))      handling = handling_time · search_soil
//! ```
//!
//! # Source
//!
//! Random search: Nicholson and Bailey (from memory); with handling time: Rogers 1972.
//!
//! # Limits
//!
//! Neither digging nor frost brings still pests up. Pests that move spread out again in a step. No other prey.
//!
//! # Parameters
//!
//! ```text
//! PestParams  down_below [C], resting_from [d], handling_time [bird-day], search_soil [m2/bird-day]
//! ```

use super::day::PestDay;
use crate::ledger::flows::{Flow, Flows};
use crate::simd::{Mask, Real};
use crate::state::PestHere;

/// From here on `down_below` says that a pest stays where it came to rest: no soil is so warm, C (definition).
pub const STAYS: f64 = 60.0;

/// Pests that move take their depth of today.
#[inline(always)]
pub(super) fn settle<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>) {
    let moves = day.params.down_below.below(STAYS);
    if !moves.any() {
        return;
    }
    let reach = day.reach_today();
    pest.overwintered_near = F::select(moves, pest.overwintered * reach, pest.overwintered_near);
    pest.dropped_near = F::select(moves, pest.dropped * reach, pest.dropped_near);
    if day.params.resting_from.above(0.0).any() {
        for (near, all) in pest.summer_near.iter_mut().zip(&pest.summer) {
            *near = F::select(moves, *all * reach, *near);
        }
    }
}

/// Birds search the layer they scratch.
#[inline(always)]
pub(super) fn search<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let (old, new) = (caught(pest.overwintered_near, day), caught(pest.dropped_near, day));
    pest.overwintered_near -= old;
    pest.overwintered -= old;
    pest.dropped_near -= new;
    pest.dropped -= new;
    let mut eaten = old + new;
    if day.params.resting_from.above(0.0).any() {
        let share = day.exposed * day.search.soil.hazard_to_prob();
        for (near, all) in pest.summer_near.iter_mut().zip(&mut pest.summer) {
            let found = *near * share;
            *near -= found;
            *all -= found;
            eaten += found;
        }
    }
    flows.add(Flow::PestCaught, eaten);
}

/// Caught of what lies near, in the part birds can reach.
#[inline(always)]
fn caught<F: Real>(near: F, day: &PestDay<F>) -> F {
    let search = day.search.soil;
    let at_once = near * day.exposed * search.hazard_to_prob();
    let slow = day.params.handling_time.above(0.0);
    if !slow.any() {
        return at_once;
    }
    let handling = day.params.handling_time * day.params.search_soil;
    let handled = near.by_lane(|i| rogers(near.lane(i), search.lane(i), handling.lane(i)));
    F::select(slow, day.exposed * handled, at_once)
}

/// Rogers' random predator equation (1972): prey eaten of `prey` by search `search`
/// (attack × predator time) with handling time `handling` per prey (in units of search).
///
/// Solves Ne = N₀ (1 − exp(handling·Ne − search)) by Newton's method from the
/// no-handling end; monotone, so it converges from there.
#[must_use]
pub fn rogers(prey: f64, search: f64, handling: f64) -> f64 {
    if prey <= 0.0 || search <= 0.0 {
        return 0.0;
    }
    if handling <= 0.0 {
        return prey * search.hazard_to_prob();
    }
    // In x = search − handling·Ne: x + handling·N₀·(1 − e^−x) = search, left side rising and concave.
    let load = handling * prey;
    let mut x = search / (1.0 + load);
    for _ in 0..60 {
        let e = libm::exp(-x);
        let next = x - (x + load * (1.0 - e) - search) / (1.0 + load * e);
        let done = (next - x).abs() <= 1e-15 * x.abs();
        x = next;
        if done {
            break;
        }
    }
    prey * -libm::expm1(-x)
}

#[cfg(test)]
mod tests {
    use super::super::depth::Reach;
    use super::super::tests::{day, followed, in_soil, undying};
    use super::super::{Search, advance};
    use super::*;
    use crate::plot::constants::PestStep;
    use crate::species::PestParams;
    use crate::state::PEST_BOXES;
    use crate::testing::{hazard_to_prob, near, same};

    /// Birds empty the layer they scratch and no more, however long they stay.
    #[test]
    fn still_pests_below_the_scratched_layer_are_safe() {
        let params = undying();
        let mut pest = PestHere { overwintered_near: 10.0, ..in_soil(100.0) };
        let search = Search { soil: 2.0, ..Search::default() };
        let flows = followed(&mut pest, &params, 0.001, 0.2, search);
        near(flows.get(Flow::PestCaught), 10.0, 1e-6);
        near(pest.overwintered, 90.0, 1e-6);
        // What enters the soil lies near by its share, and is searched the next day.
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (PestHere { dropped: 40.0, dropped_near: 8.0, ..in_soil(0.0) }, Flows::default());
        search_of_a_day(&mut pest, &params, &of_step, 0.5, &mut flows);
        same(flows.get(Flow::PestCaught), 8.0 * 0.5 * hazard_to_prob(2.0));
        same(pest.dropped, 40.0 - flows.get(Flow::PestCaught));
    }

    fn search_of_a_day(pest: &mut PestHere, params: &PestParams, of_step: &PestStep, exposed: f64, flows: &mut Flows) {
        let search = Search { soil: 2.0, ..Search::default() };
        super::search(pest, &PestDay { search, exposed, ..day(params, of_step) }, flows);
    }

    /// A summer generation near the surface is searched box by box, dies and moves on with the rest of it.
    #[test]
    fn birds_search_the_summer_generation_too() {
        let params = PestParams { resting_from: 242.0, death_soil: 0.01, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (in_soil(0.0), Flows::default());
        (pest.summer, pest.summer_near) = ([10.0; PEST_BOXES], [4.0; PEST_BOXES]);
        let search = Search { soil: 0.5, ..Search::default() };
        advance(&mut pest, &PestDay { search, exposed: 0.5, ..day(&params, &of_step) }, &mut flows);
        let found = 4.0 * 0.5 * hazard_to_prob(0.5);
        same(flows.get(Flow::PestCaught), 6.0 * found);
        same(flows.get(Flow::PestDeath), 6.0 * (10.0 - found) * 0.01);
        pest.summer.iter().for_each(|stage| same(*stage, (10.0 - found) * 0.99));
        pest.summer_near.iter().for_each(|stage| same(*stage, (4.0 - found) * 0.99));
    }

    /// Grubs come up while the soil is warmer than `down_below` and go down when it is not; they fill the layer again.
    #[test]
    fn pests_that_move_are_near_in_warm_soil() {
        let params = PestParams { down_below: 15.5, resting_from: 242.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let reach = Reach { resting: 0.1, active: 0.6 };
        for (soil_c, share) in [(15.4, 0.1), (15.5, 0.1), (15.6, 0.6)] {
            let mut pest = PestHere { dropped: 20.0, ..in_soil(50.0) };
            pest.summer = [3.0; PEST_BOXES];
            settle(&mut pest, &PestDay { soil_c, reach, ..day(&params, &of_step) });
            same(pest.overwintered_near, 50.0 * share);
            same(pest.dropped_near, 20.0 * share);
            pest.summer_near.iter().for_each(|&stage| same(stage, 3.0 * share));
        }
        // A still pest stays where it lies, whatever the soil.
        let still = PestParams { down_below: STAYS, ..params };
        let mut pest = PestHere { overwintered_near: 4.0, ..in_soil(50.0) };
        settle(&mut pest, &PestDay { soil_c: 30.0, reach, ..day(&still, &of_step) });
        assert_eq!(pest.overwintered_near, 4.0);
    }

    /// Rogers' equation holds for what it returns, and is random search where handling takes no time.
    #[test]
    fn rogers_solves_his_equation() {
        for (prey, search, handling) in
            [(50.0, 0.5, 0.01), (0.5, 0.5, 0.1), (200.0, 1.0, 0.01), (5.0, 3.0, 0.2), (1e3, 8.0, 0.5)]
        {
            let eaten = rogers(prey, search, handling);
            near(eaten, prey * hazard_to_prob(search - handling * eaten), 1e-9 * prey);
            assert!(eaten > 0.0 && eaten < rogers(prey, search, 0.0));
        }
        same(rogers(50.0, 0.7, 0.0), 50.0 * hazard_to_prob(0.7));
        near(rogers(50.0, 0.7, 1e-9), 50.0 * hazard_to_prob(0.7), 1e-5);
        assert_eq!((rogers(0.0, 1.0, 0.1), rogers(10.0, 0.0, 0.1)), (0.0, 0.0));
        // Rogers 1972 by Lambert's W: N₀ 50, a 0.5, h 0.02, P 1: 14.826629, in the soil within reach, half of it under guards.
        let params = PestParams { handling_time: 0.02, search_soil: 0.5, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let search = Search { soil: 0.5, ..Search::default() };
        near(caught(50.0, &PestDay { search, exposed: 0.5, ..day(&params, &of_step) }), 0.5 * 14.826_629, 1e-6);
    }
}
