//! Pests with a soil stage: depth and birds' search for it, emergence by degree-days, adults, larvae above ground, back
//! into the soil. A file each tells what it is, its formulas and where they come from.

mod adults;
mod chain;
mod day;
mod depth;
mod emergence;
mod larvae;
mod search;

pub use chain::chain;
pub(crate) use chain::moved;
pub use day::{PestDay, Search};
pub use depth::Reach;
pub use larvae::damage;
pub use search::{STAYS, rogers};

use crate::ledger::flows::{Flow, Flows};
use crate::simd::{Mask, Real};
use crate::species::PestParams;
use crate::state::{PEST_BOXES, PestHere};

/// One step of one pest in one zone.
#[inline(always)]
pub fn advance<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let age = pest.age + day.degree_days;
    let (now, hazard) = emergence::rising(pest, day, age);
    die_in_soil(pest, day, flows);
    search::settle(pest, day);
    if day.search.soil.above(0.0).any() {
        search::search(pest, day, flows);
    }
    let emerging = pest.overwintered * hazard;
    pest.overwintered -= emerging;
    pest.overwintered_near *= hazard.one_minus();
    let summer = summer_generation(pest, day, flows);
    pest.age = age;
    pest.emerged_share = now;
    larvae::above_ground(pest, day, flows);
    adults::adults(pest, day, emerging + summer, flows);
}

/// Share of what is in the soil that dies in a step, besides what birds catch: `death_soil` a day, and `death_cold` more where it
/// is colder than `cold_below`.
#[inline(always)]
fn dying<F: Real>(day: &PestDay<F>) -> F {
    let cold = day.params.cold_below.gt(day.soil_c);
    (day.of_step.death_soil + day.of_step.death_cold.select_or_zero(cold)).clamp_max_one()
}

/// What dies in the soil of those that rest.
#[inline(always)]
fn die_in_soil<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) {
    let dying = dying(day);
    flows.add(Flow::PestDeath, (pest.overwintered + pest.dropped) * dying);
    let pools = [&mut pest.overwintered, &mut pest.overwintered_near, &mut pest.dropped, &mut pest.dropped_near];
    for pool in pools {
        *pool *= dying.one_minus();
    }
}

/// A summer generation's stage in the soil, `summer_soil` [C d]; returns adults leaving it.
#[inline(always)]
fn summer_generation<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, flows: &mut Flows<F>) -> F {
    let rests = day.params.resting_from.above(0.0);
    if !rests.any() {
        return day.degree_days.zero();
    }
    let rate = (day.degree_days * day.of_step.summer_per_degree_day).select_or_zero(rests);
    let dying = dying(day);
    chain::moved(&mut pest.summer_near, rate, dying, rate.zero());
    chain(&mut pest.summer, rate, dying, rate.zero(), flows)
}

/// Counting starts: this year's drop joins the overwintered pool.
pub fn start_season(pest: &mut PestHere) {
    pest.overwintered += pest.dropped + pest.summer.iter().sum::<f64>();
    pest.overwintered_near += pest.dropped_near + pest.summer_near.iter().sum::<f64>();
    (pest.dropped, pest.dropped_near) = (0.0, 0.0);
    (pest.summer, pest.summer_near) = ([0.0; PEST_BOXES], [0.0; PEST_BOXES]);
    pest.grown_this_season = 0.0;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
}

/// Too late in the season to begin counting: the pest stays in the soil for the next year.
pub fn rest_on(pest: &mut PestHere) {
    pest.dropped = core::mem::take(&mut pest.overwintered);
    pest.dropped_near = core::mem::take(&mut pest.overwintered_near);
}

/// The end of the season: physiological age is 0 until counting starts again.
pub fn end_season(pest: &mut PestHere, params: &PestParams, host_share: f64) {
    // Who has laid none by then lives and dies as the others do.
    pest.adults += core::mem::take(&mut pest.waiting).iter().sum::<f64>();
    pest.damage_sum += damage(pest, params, host_share);
    pest.seasons += 1.0;
    pest.age = 0.0;
    pest.emerged_share = 0.0;
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::ledger::flows::{Currency, Flows};
    use crate::plot::constants::PestStep;
    use crate::testing::{hazard_to_prob, near, net, same, sawfly};

    /// A sawfly that neither dies nor moves by itself, so that one process at a time is seen.
    pub(crate) fn undying() -> PestParams {
        PestParams { death_soil: 0.0, death_above_ground: 0.0, mixing: 0.0, fly_in: 0.0, ..sawfly() }
    }

    /// A day in April on which nothing is searched for, on open ground with a host.
    pub(crate) fn day<'a>(params: &'a PestParams, of_step: &'a PestStep) -> PestDay<'a> {
        PestDay {
            params,
            of_step,
            reach: Reach::default(),
            soil_c: 10.0,
            search: Search::default(),
            degree_days: 0.0,
            since_solstice: 120.0,
            host: true,
            mean_adults: 0.0,
            neighbours: 0.0,
            host_share: 1.0,
            exposed: 1.0,
            open: 1.0,
        }
    }

    pub(crate) fn in_soil(overwintered: f64) -> PestHere {
        PestHere { overwintered, ..PestHere::default() }
    }

    /// A pool followed to this age in steps of so many degree-days, each as `of_day` has it.
    pub(crate) fn followed(
        pest: &mut PestHere,
        params: &PestParams,
        degree_days: f64,
        to_age: f64,
        search: Search,
    ) -> Flows {
        let (of_step, mut flows) = (PestStep::new(params, 1.0), Flows::default());
        while pest.age < to_age - 1e-9 {
            advance(pest, &PestDay { degree_days, search, ..day(params, &of_step) }, &mut flows);
        }
        flows
    }

    /// What dies in the soil dies in both pools alike.
    #[test]
    fn the_soil_takes_its_share_of_both_pools() {
        let params = PestParams { death_soil: 0.004, ..undying() };
        let (mut pest, mut flows) = (PestHere { dropped: 50.0, ..in_soil(100.0) }, Flows::default());
        advance(&mut pest, &day(&params, &PestStep::new(&params, 1.0)), &mut flows);
        same(pest.overwintered, 99.6);
        same(pest.dropped, 49.8);
        same(flows.get(Flow::PestDeath), 0.6);
    }

    /// Below `cold_below` cold kills besides, in a summer generation too.
    #[test]
    fn cold_soil_kills_what_cannot_bear_it() {
        let params =
            PestParams { death_soil: 0.01, death_cold: 0.05, cold_below: 10.0, resting_from: 242.0, ..undying() };
        for (soil_c, left) in [(12.0, 0.99), (10.0, 0.99), (9.9, 0.94)] {
            let (mut pest, mut flows) = (PestHere { dropped: 50.0, ..in_soil(100.0) }, Flows::default());
            pest.summer[0] = 20.0;
            advance(&mut pest, &PestDay { soil_c, ..day(&params, &PestStep::new(&params, 1.0)) }, &mut flows);
            near(pest.overwintered, 100.0 * left, 1e-12);
            near(pest.dropped, 50.0 * left, 1e-12);
            near(pest.summer[0], 20.0 * left, 1e-12);
            near(flows.get(Flow::PestDeath), 170.0 * (1.0 - left), 1e-9);
        }
    }

    /// Before `resting_from` (day 242) they are a summer generation that rises the same year, from then on they rest.
    #[test]
    fn larvae_of_summer_rise_again_the_same_year() {
        let params = PestParams { resting_from: 242.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        for (since_solstice, summer, dropped) in [(241.0, 30.0, 0.0), (242.0, 0.0, 30.0), (250.0, 0.0, 30.0)] {
            let (mut pest, mut flows) = (PestHere::default(), Flows::default());
            pest.above[5] = 100.0;
            advance(&mut pest, &PestDay { degree_days: 13.0, since_solstice, ..day(&params, &of_step) }, &mut flows);
            same(pest.summer[0], summer);
            same(pest.dropped, dropped);
        }
        // 300 degree-days in the soil, six boxes: 15 move a pool by 0.3 of a box; adults that leave have risen.
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        pest.summer = [0.0, 0.0, 0.0, 0.0, 20.0, 50.0];
        advance(&mut pest, &PestDay { degree_days: 15.0, since_solstice: 200.0, ..day(&params, &of_step) }, &mut flows);
        same(pest.summer[4], 14.0);
        same(pest.summer[5], 41.0);
        same(pest.risen, 15.0);
        // A pest of one generation has no such stage.
        let one = undying();
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        pest.summer[5] = 50.0;
        assert_eq!(
            summer_generation(&mut pest, &PestDay { degree_days: 15.0, ..day(&one, &of_step) }, &mut flows),
            0.0
        );
    }

    /// When counting starts, last year's drop and what is left of its summer are this year's pool, and all counts from 0.
    #[test]
    fn the_seasons_turn_this_years_drop_into_next_years_pool() {
        let params = sawfly();
        let mut pest =
            PestHere { dropped: 30.0, grown_this_season: 50.0, age: 400.0, emerged_share: 1.0, ..in_soil(5.0) };
        pest.summer = [1.0; PEST_BOXES];
        (pest.overwintered_near, pest.dropped_near, pest.summer_near) = (0.5, 4.0, [0.25; PEST_BOXES]);
        let total = pest.total();
        end_season(&mut pest, &params, 1.0);
        assert_eq!((pest.age, pest.emerged_share, pest.seasons), (0.0, 0.0, 1.0));
        same(pest.damage_sum, hazard_to_prob(0.01 * 50.0));
        start_season(&mut pest);
        assert_eq!((pest.overwintered, pest.dropped, pest.summer), (41.0, 0.0, [0.0; PEST_BOXES]));
        assert_eq!((pest.overwintered_near, pest.dropped_near, pest.summer_near), (6.0, 0.0, [0.0; PEST_BOXES]));
        assert_eq!(pest.grown_this_season, 0.0);
        assert_eq!((pest.age, pest.emerged_share), (0.0, 0.0));
        same(pest.total(), total);
        // Counting that starts with the run, late in the season, starts at 0 too.
        let mut late = PestHere { age: 400.0, emerged_share: 0.7, ..PestHere::default() };
        start_season(&mut late);
        assert_eq!((late.age, late.emerged_share), (0.0, 0.0));
    }

    /// A year under birds with everything at work: every pest that comes or goes is booked, and no pool goes below zero.
    #[test]
    fn the_books_of_a_year_hold() {
        for resting_from in [0.0, 150.0] {
            let params = PestParams { resting_from, ..sawfly() };
            let (of_step, mut flows) = (PestStep::new(&params, 1.0), Flows::default());
            let mut pest = PestHere { dropped: 3.0, ..in_soil(40.0) };
            let start = pest.total();
            let search = Search { soil: 0.3, emerging_day: 0.1, dropping_day: 0.2, fruit: 0.1 };
            for since_solstice in 101..182 {
                let mean_adults = if since_solstice < 140 { 1.0 } else { 0.1 };
                let day = PestDay {
                    search,
                    degree_days: 8.0,
                    since_solstice: f64::from(since_solstice),
                    mean_adults,
                    neighbours: 1.0,
                    exposed: 0.8,
                    ..day(&params, &of_step)
                };
                advance(&mut pest, &day, &mut flows);
                let pools = [pest.overwintered, pest.dropped, pest.adults];
                assert!(pools.iter().chain(&pest.above).chain(&pest.summer).all(|&pool| pool >= 0.0));
            }
            near(pest.total() - start, net(&flows, Currency::Pests), 1e-9 * start);
            assert!(flows.get(Flow::EggsLaid) > 0.0 && flows.get(Flow::PestCaught) > 0.0);
        }
    }
}
