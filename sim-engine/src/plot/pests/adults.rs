//! Adults: who gets past the birds on leaving the soil, who flies in, goes to other plots and dies.
//!
//! # Formulas
//!
//! ```text
//! caught   = leaving the soil · exposed · in_soil · (1 − exp(−searched))
//! new      = risen + flown in            they wait in six boxes (before_laying; chain.rs), in which weather alone kills: death_adult a day
//! adults  += over their wait + mixing · open · (mean of all host zones − adults) − adults · (1 − exp(−(1/adult_life + death_adult)))
//! ```
//!
//! Adults fly in over the edge, `fly_in` per metre and day times the neighbours and the share of the zone that is open, under no
//! net; the edge of a plot is that of a square (plot/constants/site.rs), and who comes in spreads over the plot. They come while F (emergence.rs) is between 0.02 and 0.98, or to the end of the season where there are several generations.
//!
//! # Source
//!
//! How far a species moves and what comes in is its own: Daniel & Baker 2013, Hawkes 1972 and
//! 1974, Loosjes 1976. Waits before laying: per species in the library, among others AliNiazee 1979 and Kasana & AliNiazee 1997. Catch, mixing and
//! flying in: forms ours, calibrated.
//!
//! # Limits
//!
//! Under a net nothing flies in or out, and what rises there stays: the mean of the host zones is that of their open
//! shares; adults of a zone partly netted are one lot. Who waits neither grows old nor goes to other plots. Both sexes are one.
//!
//! # Parameters
//!
//! ```text
//! PestParams  resting_from [d], in_soil [-], before_laying [C d]
//!              by the step (plot/constants/species.rs): adult_life [d], death_adult [1/d], fly_in [1/m/d], mixing [1/d]
//! ```

use super::chain::chain;
use super::day::PestDay;
use crate::ledger::flows::{Flow, Flows};
use crate::simd::{Mask, Real};
use crate::state::PestHere;

/// Share of emergence between which a pest of one generation flies.
const FLIGHT: (f64, f64) = (0.02, 0.98);

/// Adults: those leaving the soil that got past the birds, flown in, mixed between plots, dying.
#[inline(always)]
pub(super) fn adults<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, rising: F, flows: &mut Flows<F>) {
    let mut eaten = rising.zero();
    if day.search.emerging_day.above(0.0).any() {
        eaten = rising * day.exposed * day.params.in_soil * day.search.emerging_day.hazard_to_prob();
    }
    let mut waiting = rising.zero();
    for stage in &pest.waiting {
        waiting += *stage;
    }
    let arrived = (day.neighbours * day.of_step.fly_in * day.open).select_or_zero(flying(pest, day));
    if !(pest.adults + waiting + day.mean_adults + rising + arrived).above(0.0).any() {
        return;
    }
    let dying = pest.adults * day.of_step.adult_death;
    // Exchange works on what is left, so that nothing goes below zero.
    let mixed = (day.mean_adults - pest.adults) * day.of_step.mixing * day.open;
    let mixed = mixed.max(dying - pest.adults);
    let inward = mixed.above(0.0);
    flows.add(Flow::PestCaught, eaten);
    flows.add(Flow::FlownIn, arrived);
    flows.add(Flow::PestDeath, dying);
    flows.add(Flow::MixedInPests, mixed.select_or_zero(inward));
    flows.add(Flow::MixedOutPests, (mixed * -1.0).select_or_zero(!inward));
    pest.risen += rising - eaten;
    pest.flown_in += arrived;
    let ready = ready_to_lay(pest, day, rising - eaten + arrived, flows);
    pest.adults += ready + mixed - dying;
}

/// Who leaves the soil or flies in waits before it lays; returns those whose wait is over.
#[inline(always)]
fn ready_to_lay<F: Real>(pest: &mut PestHere<F>, day: &PestDay<F>, new: F, flows: &mut Flows<F>) -> F {
    let waits = day.params.before_laying.above(0.0);
    if !waits.any() {
        return new;
    }
    let rate = day.degree_days * day.of_step.waiting_per_degree_day;
    let entering = new.select_or_zero(waits);
    let ready = chain(&mut pest.waiting, rate, day.of_step.death_waiting, entering, flows);
    F::select(waits, ready, new)
}

/// Whether adults fly: between the tails of emergence, or to the end of the season for
/// pests with several generations.
#[inline(always)]
fn flying<F: Real>(pest: &PestHere<F>, day: &PestDay<F>) -> F::Mask {
    let begun = day.degree_days.above(0.0) & pest.emerged_share.above(FLIGHT.0);
    begun & (day.params.resting_from.above(0.0) | pest.emerged_share.below(FLIGHT.1))
}

#[cfg(test)]
mod tests {
    use super::super::tests::{day, in_soil, undying};
    use super::super::{PestDay, Search, advance, end_season};
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::plot::constants::PestStep;
    use crate::species::PestParams;
    use crate::state::PEST_BOXES;
    use crate::testing::{hazard_to_prob, near, net, same};

    /// Birds take 1 − exp(−searched) of the adults that leave the soil, of the part guards leave open; with no birds none.
    #[test]
    fn birds_catch_adults_leaving_the_soil() {
        let params = PestParams { two_winter_share: 0.0, ..undying() };
        for (emerging_day, exposed) in [(0.7, 1.0), (0.7, 0.25), (0.0, 1.0)] {
            let mut pest = PestHere { age: 155.0, ..in_soil(100.0) };
            let (of_step, mut flows) = (PestStep::new(&params, 1.0), Flows::default());
            let search = Search { emerging_day, ..Search::default() };
            advance(&mut pest, &PestDay { degree_days: 5.0, search, exposed, ..day(&params, &of_step) }, &mut flows);
            near(pest.overwintered, 50.0, 1e-5);
            let rising = 100.0 - pest.overwintered;
            same(flows.get(Flow::PestCaught), rising * exposed * hazard_to_prob(emerging_day));
            same(pest.risen, rising * (1.0 - exposed * hazard_to_prob(emerging_day)));
            same(pest.adults, pest.risen);
        }
    }

    /// Who winters on bark leaves no soil: birds meet only the share that lies in the ground.
    #[test]
    fn adults_from_bark_are_not_met() {
        let params = PestParams { in_soil: 0.06, ..undying() };
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        let search = Search { emerging_day: 0.7, ..Search::default() };
        adults(&mut pest, &PestDay { search, ..day(&params, &PestStep::new(&params, 1.0)) }, 10.0, &mut flows);
        same(flows.get(Flow::PestCaught), 10.0 * 0.06 * hazard_to_prob(0.7));
    }

    /// Mean life 10 d and 0.02 a day to weather: exp(−0.12) live on.
    #[test]
    fn adults_die_by_age_and_weather() {
        let params = undying();
        let (mut pest, mut flows) = (PestHere { adults: 40.0, ..PestHere::default() }, Flows::default());
        adults(&mut pest, &day(&params, &PestStep::new(&params, 1.0)), 3.0, &mut flows);
        same(pest.adults, 40.0 * (1.0 - hazard_to_prob(0.12)) + 3.0);
        same(flows.get(Flow::PestDeath), 40.0 * hazard_to_prob(0.12));
        same(pest.risen, 3.0);
    }

    /// Adults wait `before_laying` degree-days before they lay: the first drop comes later by as much, and in it all.
    #[test]
    fn a_wait_before_laying_moves_the_drop_by_as_many_degree_days() {
        let mean_age = |before_laying: f64| {
            let params = PestParams { before_laying, death_adult: 0.0, crowding: 0.0, ..undying() };
            let (of_step, mut flows) = (PestStep::new(&params, 1.0), Flows::default());
            let (mut pest, mut sum, mut all) = (PestHere { age: 160.0, ..in_soil(0.0) }, 0.0, 0.0);
            adults(&mut pest, &PestDay { degree_days: 0.5, ..day(&params, &of_step) }, 1.0, &mut flows);
            for _ in 0..4000 {
                let before = pest.dropped;
                advance(&mut pest, &PestDay { degree_days: 0.5, ..day(&params, &of_step) }, &mut flows);
                sum += (pest.dropped - before) * pest.age;
                all += pest.dropped - before;
            }
            (sum / all, all)
        };
        let ((none, all), (wait, as_many)) = (mean_age(0.0), mean_age(80.0));
        near(wait - none, 80.0, 1.0);
        near(as_many, all, 0.03 * all);
    }

    /// Weather kills who waits; a season's end sets him among the others.
    #[test]
    fn adults_that_wait_die_by_weather_alone() {
        let params = PestParams { before_laying: 90.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (PestHere::default(), Flows::default());
        pest.waiting = [5.0; PEST_BOXES];
        adults(&mut pest, &day(&params, &of_step), 0.0, &mut flows);
        same(flows.get(Flow::PestDeath), 30.0 * 0.02);
        assert_eq!(pest.adults, 0.0);
        end_season(&mut pest, &params, 1.0);
        near(pest.adults, 30.0 * 0.98, 1e-12);
        assert_eq!(pest.waiting, [0.0; PEST_BOXES]);
    }

    /// Exchange draws zones together and makes no adults; where all leave, none is left over or owed.
    #[test]
    fn adults_mix_between_plots() {
        let params = PestParams { mixing: 0.05, adult_life: 1e12, death_adult: 0.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let moved = |here: f64| {
            let (mut pest, mut flows) = (PestHere { adults: here, ..PestHere::default() }, Flows::default());
            adults(&mut pest, &PestDay { mean_adults: 6.0, ..day(&params, &of_step) }, 0.0, &mut flows);
            near(pest.adults - here, net(&flows, Currency::Pests), 1e-9);
            (pest.adults, flows.get(Flow::MixedInPests), flows.get(Flow::MixedOutPests))
        };
        let ((many, none_in, out), (few, inward, none_out)) = (moved(10.0), moved(2.0));
        near(many, 9.8, 1e-9);
        near(few, 2.2, 1e-9);
        near(out, 0.2, 1e-9);
        near(inward, 0.2, 1e-9);
        assert_eq!((none_in, none_out), (0.0, 0.0));
        assert!(moved(0.0).0 > 0.29);
        let params = PestParams { mixing: 1.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let (mut pest, mut flows) = (PestHere { adults: 10.0, ..PestHere::default() }, Flows::default());
        adults(&mut pest, &day(&params, &of_step), 0.0, &mut flows);
        near(pest.adults, 0.0, 1e-12);
        near(flows.get(Flow::MixedOutPests), 10.0 * (1.0 - hazard_to_prob(0.12)), 1e-9);
    }

    /// Half under a net, half of those come that would: nothing of a net is left open by a share of 1.
    #[test]
    fn adults_do_not_pass_a_net() {
        let params = PestParams { fly_in: 0.008, mixing: 0.05, adult_life: 1e12, death_adult: 0.0, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let moved = |open: f64| {
            let (mut pest, mut flows) =
                (PestHere { adults: 10.0, emerged_share: 0.5, ..PestHere::default() }, Flows::default());
            let day = PestDay { open, degree_days: 4.0, neighbours: 10.0, mean_adults: 6.0, ..day(&params, &of_step) };
            adults(&mut pest, &day, 3.0, &mut flows);
            (pest.flown_in, flows.get(Flow::MixedOutPests), pest.adults)
        };
        let ((all, out, _), (half, half_out, _), (none, none_out, stay)) = (moved(1.0), moved(0.5), moved(0.0));
        same(all, 0.08);
        same(half, 0.04);
        near(out, 0.2, 1e-9);
        near(half_out, 0.1, 1e-9);
        assert_eq!((none, none_out), (0.0, 0.0));
        near(stay, 13.0, 1e-9);
    }

    /// Neighbours' adults come while the pest flies: between the tails, or to the season's end with more generations.
    #[test]
    fn adults_fly_in_while_the_pest_flies() {
        let one = PestParams { fly_in: 0.008, ..undying() };
        let several = PestParams { resting_from: 242.0, ..one.clone() };
        let flown = |params: &PestParams, emerged_share: f64, degree_days: f64| {
            let (mut pest, mut flows) = (PestHere { emerged_share, ..PestHere::default() }, Flows::default());
            let of_step = PestStep::new(params, 1.0);
            adults(&mut pest, &PestDay { degree_days, neighbours: 10.0, ..day(params, &of_step) }, 0.0, &mut flows);
            assert_eq!((pest.flown_in, flows.get(Flow::FlownIn)), (pest.adults, pest.adults));
            pest.adults
        };
        same(flown(&one, 0.5, 4.0), 0.08);
        same(flown(&several, 0.99, 4.0), 0.08);
        same(flown(&one, 0.03, 0.5), 0.08);
        for (params, emerged, degree_days) in
            [(&one, 0.99, 4.0), (&one, 0.01, 4.0), (&several, 0.01, 4.0), (&one, 0.5, 0.0)]
        {
            assert_eq!(flown(params, emerged, degree_days), 0.0);
        }
    }
}
