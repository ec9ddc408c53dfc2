//! Eggs and larvae above ground, what of them drops with the fruit, and what enters the soil.
//!
//! # Formulas
//!
//! ```text
//! laid        = adults · eggs_per_adult / adult_life · s         per m² a day, where a host stands; s: share of the ground its hosts have
//! crowded out = laid · (1 − 1 / (1 + crowding · (all above ground + laid) / s))
//! grown       = what leaves the six boxes above ground           egg_to_drop; chain.rs
//! in fruit   += grown · drops_in_fruit − eaten − leaving         leaving = in fruit · (1 − exp(−step / fruit_stay))
//! eaten       = in fruit · share of the fallen fruit that birds eat
//! caught      = (grown · (1 − drops_in_fruit) + leaving) · exposed · (1 − exp(−searched))
//! damage      = 1 − exp(−damage_per_larva · larvae grown this season / s)   share of the crop, or of the hosts' fruit
//! ```
//!
//! Larvae that drop before `resting_from` are a summer generation; from then on they stay for the winter.
//!
//! # Source
//!
//! Birds under trees while fruitlets and larvae lie there cut damage by 25-40 % in one year (Kellogg station 1991,
//! preliminary). Crowding, fruit and damage: forms ours, calibrated.
//!
//! # Limits
//!
//! A pest of several canopies finds them by their share of the ground: where its hosts have half of it, half of the
//! eggs are laid. Larvae in fallen fruit are one box, and do not die in it. Fruitlets that fall in June are none of the fallen fruit
//! a zone holds: birds eat of them the share they would eat of it. No parasites.
//!
//! # Parameters
//!
//! ```text
//! PestParams  crowding [m2], resting_from [d], drops_in_fruit [-], damage_per_larva [m2]
//!              by the step (plot/constants/species.rs): eggs_per_adult [1], adult_life [d], egg_to_drop [C d],
//!              death_above_ground [1/d], fruit_stay [d]
//! ```

use super::chain::chain;
use super::day::PestDay;
use crate::ledger::flows::{Flow, Flows};
use crate::simd::{Mask, Real};
use crate::species::PestParams;
use crate::state::PestHere;

/// Eggs and larvae: laid by adults of the start of the step, leaving for the soil.
#[inline(always)]
pub(super) fn above_ground<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let laid = (pest.adults * day.of_step.eggs * day.host_share).select_or_zero(day.host);
    let mut crowd = laid.zero();
    for stage in &pest.above {
        crowd += *stage;
    }
    crowd += laid;
    if !(crowd + pest.in_fruit).above(0.0).any() {
        return;
    }
    let mut crowded_out = laid.zero();
    if laid.above(0.0).any() {
        crowded_out = laid * (laid.splat(1.0) / (day.params.crowding * crowd / day.host_share + 1.0)).one_minus();
    }
    flows.add(Flow::EggsLaid, laid);
    flows.add(Flow::PestDeath, crowded_out);
    let rate = day.degree_days * day.of_step.above_per_degree_day;
    let grown = chain(&mut pest.above, rate, day.of_step.death_above_ground, laid - crowded_out, flows);
    pest.grown_this_season += grown;
    let crossing = in_fruit(pest, day, grown, flows);
    enter_soil(pest, day, crossing, flows);
}

/// Of `grown` larvae part falls with the fruit, in which birds eat them; returns what crosses the ground to the soil.
#[inline(always)]
fn in_fruit<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, grown: F, flows: &mut Flows<F>) -> F {
    let falling = grown * day.params.drops_in_fruit;
    let eaten = pest.in_fruit * day.search.fruit;
    let leaving = (pest.in_fruit - eaten) * day.of_step.leaves_fruit;
    pest.in_fruit += falling - eaten - leaving;
    flows.add(Flow::PestCaught, eaten);
    grown - falling + leaving
}

/// Birds meet what crosses the ground; the rest lies in the soil.
#[inline(always)]
fn enter_soil<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, crossing: F, flows: &mut Flows<F>) {
    let mut eaten = crossing.zero();
    if day.search.dropping_day.above(0.0).any() {
        eaten = crossing * day.exposed * day.search.dropping_day.hazard_to_prob();
    }
    flows.add(Flow::PestCaught, eaten);
    let summer = day.params.resting_from.above(day.since_solstice);
    let left = crossing - eaten;
    let near = left * day.reach_today();
    pest.summer[0] += left.select_or_zero(summer);
    pest.summer_near[0] += near.select_or_zero(summer);
    pest.dropped += left.select_or_zero(!summer);
    pest.dropped_near += near.select_or_zero(!summer);
}

/// Share of the crop, or of the fruit of its hosts on this share of the ground, damaged by this season's larvae so far;
/// it saturates.
#[must_use]
pub fn damage(pest: &PestHere, params: &PestParams, host_share: f64) -> f64 {
    (params.damage_per_larva * pest.grown_this_season / host_share).hazard_to_prob()
}

#[cfg(test)]
mod tests {
    use super::super::tests::{day, undying};
    use super::super::{PestDay, Search, advance};
    use super::*;
    use crate::plot::constants::PestStep;
    use crate::state::PEST_BOXES;
    use crate::testing::{hazard_to_prob, near, same, sawfly};

    /// Eggs of a full life spread over it; they need a host, and crowd each other out by 1/(1 + a · all).
    #[test]
    fn adults_lay_on_their_host_and_eggs_crowd() {
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        let laid = |day: &PestDay, adults: f64, crowd: f64| {
            let mut pest = PestHere { adults, ..PestHere::default() };
            pest.above[3] = crowd;
            let mut flows = Flows::default();
            above_ground(&mut pest, day, &mut flows);
            (flows.get(Flow::EggsLaid), flows.get(Flow::PestDeath), pest.above[0])
        };
        let (eggs, crowded, in_first) = laid(&day(&params, &of_step), 4.0, 20.0);
        same(eggs, 4.0 * 25.0 / 10.0);
        same(in_first, 10.0 / (1.0 + 0.04 * 30.0));
        same(crowded, 10.0 - in_first);
        assert_eq!(laid(&PestDay { host: false, ..day(&params, &of_step) }, 4.0, 20.0), (0.0, 0.0, 0.0));
        // A few eggs on bare leaves are laid and crowd too.
        let (eggs, crowded, in_first) = laid(&day(&params, &of_step), 0.1, 0.0);
        same(eggs, 0.25);
        same(in_first, 0.25 / 1.01);
        same(crowded, 0.25 - in_first);
    }

    /// Larvae leave the last box by degree-days; birds meet them dropping; then they stay for the winter.
    #[test]
    fn grown_larvae_drop_and_birds_meet_them() {
        let params = PestParams { death_above_ground: 0.035, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        for (dropping_day, exposed) in [(0.5, 1.0), (0.5, 0.25), (0.0, 1.0)] {
            let (mut pest, mut flows) = (PestHere::default(), Flows::default());
            pest.above[5] = 100.0;
            let search = Search { dropping_day, ..Search::default() };
            advance(&mut pest, &PestDay { degree_days: 13.0, search, exposed, ..day(&params, &of_step) }, &mut flows);
            let dropping = 100.0 * 13.0 * 6.0 / 260.0;
            let caught = dropping * exposed * hazard_to_prob(dropping_day);
            same(pest.above[5], 100.0 - dropping - 3.5);
            same(pest.grown_this_season, dropping);
            same(pest.dropped, dropping - caught);
            same(flows.get(Flow::PestCaught), caught);
            assert_eq!(pest.summer, [0.0; PEST_BOXES]);
        }
    }

    /// Of larvae in fallen fruit birds eat the share they eat of the fruit; the rest leaves it by a mean stay and is met then.
    #[test]
    fn larvae_in_fallen_fruit_are_eaten_with_it() {
        let params = PestParams { drops_in_fruit: 0.4, fruit_stay: 4.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (PestHere { in_fruit: 50.0, ..PestHere::default() }, Flows::default());
        pest.above[5] = 100.0;
        let search = Search { fruit: 0.2, dropping_day: 0.5, ..Search::default() };
        advance(&mut pest, &PestDay { degree_days: 13.0, search, ..day(&params, &of_step) }, &mut flows);
        let grown = 100.0 * 13.0 * 6.0 / 260.0;
        let leaving = 50.0 * 0.8 * hazard_to_prob(0.25);
        same(pest.in_fruit, 50.0 * 0.8 - leaving + 0.4 * grown);
        let crossing = 0.6 * grown + leaving;
        near(pest.dropped, crossing * (1.0 - hazard_to_prob(0.5)), 1e-9);
        near(flows.get(Flow::PestCaught), 10.0 + crossing * hazard_to_prob(0.5), 1e-9);
        same(pest.grown_this_season, grown);
    }

    /// On hosts over a quarter of the ground a quarter of the eggs is laid, as dense as elsewhere: as much of their fruit
    /// is spoilt.
    #[test]
    fn a_pest_goes_by_the_share_of_its_hosts() {
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        let grown = |host_share: f64| {
            let (mut pest, mut flows) = (PestHere { adults: 8.0, ..PestHere::default() }, Flows::default());
            for _ in 0..60 {
                above_ground(
                    &mut pest,
                    &PestDay { degree_days: 8.0, host_share, ..day(&params, &of_step) },
                    &mut flows,
                );
            }
            (pest.dropped, damage(&pest, &params, host_share))
        };
        let (whole, quarter) = (grown(1.0), grown(0.25));
        assert!(whole.0 > 0.0 && whole.1 > 0.0);
        near(quarter.0, 0.25 * whole.0, 1e-9 * whole.0);
        near(quarter.1, whole.1, 1e-9);
    }

    /// Damage saturates: none without larvae, half at ln 2/0.01 of them, never all.
    #[test]
    fn damage_saturates() {
        let params = sawfly();
        let of = |larvae: f64| damage(&PestHere { grown_this_season: larvae, ..PestHere::default() }, &params, 1.0);
        assert_eq!(of(0.0), 0.0);
        near(of(69.314_718), 0.5, 1e-8);
        assert!(of(1e4) <= 1.0);
    }
}
