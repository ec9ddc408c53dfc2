//! Ground cover: growth, recovery from bites, ageing, crowns.
//!
//! # Formulas
//!
//! ```text
//! growth   = T · Ks · rooting · max(N, fixed_share) · crowns · (leaves + from crowns)             g/m² a day
//! leaves   = growth_rate · [g₀ + (1 − g₀) · v] · C · max(0, 1 − Σlive / capacity)
//! from crowns = crown_regrowth · v · max(0, 1 − C/100)
//! v        = rested + Σ x_j (j/4)²,  j = 0 … 3             x_j: shares of the surface by time since the last bite
//! falls    = 1 − exp(−(bite_spread · share of C lost + touch_setback · scratched))      of every share, to x₀
//! moves on = 4/recovery_days · min(T · Ks, 1.3 · 0.6)/0.6  of every box a day; the last box moves to rested
//! crowns  += crowns · [(1 − crowns) · crown_recovery · T · Ks · seen cover − crown_death · (1 − v)]    a day
//! crowns  ·= exp(−crown_scratch_loss · scratched · x₀)     where birds scratch
//! stubble  = min(C, out_of_reach · crowns) · share of crowns that die          becomes dead cover
//! aged     = (C − out_of_reach · crowns/2) · (1 − exp(−(ageing_rate · T + ageing_rate_base)))    becomes dead cover
//! ```
//!
//! C is the live mass, g/m², T the temperature response × light, Ks water, N nitrogen, rooting what firm ground leaves
//! (`context.rs`), each 0 to 1; g₀ is
//! `bitten_growth`. T and the share that ages come with the day (`drivers.rs`); every rate is taken
//! from the state before birds ate.
//!
//! # Source
//!
//! Logistic growth under grazing: Noy-Meir 1975, J. Ecol. 63:459. T: beta response, Yan & Hunt 1999, Annals of Botany
//! 84:607. Ks: FAO-56 eq. 84. Recovery as shares of the surface, crowns, regrowth and ageing: forms ours,
//! calibrated (rest of three to five weeks: common practice, no source).
//!
//! # Limits
//!
//! One cover stands for a mixed sward: its species do not change under birds. A sward above capacity does not
//! shrink by the logistic, it ages. Seed of the cover itself is not followed; crowns that are gone stay gone.
//!
//! # Parameters
//!
//! ```text
//! CoverParams  growth_rate [1/d], capacity [g/m2], bitten_growth [-], recovery_days [d], bite_spread [-],
//!               touch_setback [-], crown_regrowth [g/m2/d], crown_scratch_loss [-], crown_death [1/d],
//!               crown_recovery [1/d], fixed_share [-], out_of_reach [g/m2], nitrogen_content [g/g],
//!               phosphorus_content [g/g]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::{ZoneContext, ZoneRates};
use crate::plot::dead_cover;
use crate::plot::recovery::GOOD_GROWTH;
use crate::simd::Real;
use crate::species::CoverParams;
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// Fastest recovery against that (calibrated).
const FASTEST_RECOVERY: f64 = 1.3;
/// Cover mass at which regrowth from crowns ends, g/m² (calibrated).
const CROWN_GROWTH_ENDS: f64 = 100.0;

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline(always)]
#[must_use]
pub fn growth<F: Real>(zone: &Zone<F>, rates: &ZoneRates<F>, context: &ZoneContext<F>) -> F {
    let params = context.cover;
    let nitrogen = rates.nitrogen_factor.max(params.fixed_share);
    let conditions =
        context.cover_day().growth * rates.water_factor * rates.rooting * nitrogen * zone.crowns * context.step();
    let vigour = params.bitten_growth + params.bitten_growth.one_minus() * rates.rested;
    let room = (rates.live * context.here.per_capacity).one_minus().clamp_min_zero();
    let from_leaves = params.growth_rate * vigour * zone.cover_mass * room;
    let low = (zone.cover_mass * (1.0 / CROWN_GROWTH_ENDS)).one_minus().clamp_min_zero();
    conditions * (from_leaves + params.crown_regrowth * rates.rested * low)
}

/// Surface bitten and scratched in this step falls back, whatever its state:
/// `lost_share` of the cover was taken, `scratched` is searched area per area.
#[inline(always)]
pub fn set_back<F: Real>(zone: &mut Zone<F>, lost_share: F, scratched: F, params: &CoverParams<F>) {
    let just_bitten = zone.bitten[0];
    let falls = (params.bite_spread * lost_share + params.touch_setback * scratched).hazard_to_prob();
    for share in &mut zone.bitten {
        *share *= falls.one_minus();
    }
    zone.rested *= falls.one_minus();
    zone.bitten[0] += falls;
    let dying = (params.crown_scratch_loss * scratched * just_bitten).hazard_to_prob();
    lose_stubble(zone, dying, params);
    zone.crowns *= dying.one_minus();
}

/// The living mass that a share of the crowns held out of reach dies with them.
#[inline(always)]
fn lose_stubble<F: Real>(zone: &mut Zone<F>, dying: F, params: &CoverParams<F>) {
    let stubble = zone.cover_mass.min(params.out_of_reach * zone.crowns) * dying;
    zone.cover_mass -= stubble;
    dead_cover::add(zone, stubble, params.nitrogen_content, params.phosphorus_content);
}

/// Recovery, ageing and crowns of a step.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, rates: &ZoneRates<F>, context: &ZoneContext<F>) {
    let params = context.cover;
    let step = context.step();
    recover(zone, rates, context);
    let dying = (params.crown_death * rates.rested.one_minus() * step).clamp_max_one();
    let regained = params.crown_recovery * context.cover_day().growth * rates.water_factor * zone.seen_cover * step;
    lose_stubble(zone, dying, params);
    zone.crowns += zone.crowns * (zone.crowns.one_minus() * regained.clamp_max_one() - dying);
    let above_stubble = (zone.cover_mass - params.out_of_reach * zone.crowns * 0.5).clamp_min_zero();
    let aged = above_stubble * context.cover_day().dies;
    zone.cover_mass -= aged;
    dead_cover::add(zone, aged, params.nitrogen_content, params.phosphorus_content);
}

/// Boxes advance with good growth.
#[inline(always)]
fn recover<F: Real>(zone: &mut Zone<F>, rates: &ZoneRates<F>, context: &ZoneContext<F>) {
    let growth = context.cover_day().growth * rates.water_factor;
    let growth = growth.min(growth.splat(FASTEST_RECOVERY * GOOD_GROWTH));
    let moving = (context.here.recovery * growth).clamp_max_one();
    let mut arriving = context.zero();
    for share in &mut zone.bitten {
        let leaving = *share * moving;
        *share += arriving - leaving;
        arriving = leaving;
    }
    zone.rested += arriving;
}

/// Puts `mass` g/m² of the cover, contents and all, into the soil.
#[inline(always)]
pub fn into_soil<F: Real>(zone: &mut Zone<F>, mass: F, params: &CoverParams<F>) {
    zone.fresh_n += mass * params.nitrogen_content * KG_HA_PER_G_M2;
    zone.fresh_p += mass * params.phosphorus_content * KG_HA_PER_G_M2;
    zone.flows.add(Flow::MixedIn, mass);
}

/// Digging and clearing: everything live becomes dead matter in the soil, crowns die.
/// Returns the mass dug in, g/m².
pub fn dig_in(zone: &mut Zone, params: &CoverParams) -> f64 {
    let mass = zone.cover_mass;
    into_soil(zone, mass, params);
    zone.cover_mass = 0.0;
    zone.crowns = 0.0;
    zone.bitten = [1.0, 0.0, 0.0, 0.0];
    zone.rested = 0.0;
    mass
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drivers::PlantDay;
    use crate::plot::recovery::recovery_per_growth;
    use crate::testing::{Garden, SWARD, at_ease, hazard_to_prob, near, same};

    /// A garden on a day of this growth for all plants.
    fn on_a_day_of(growth: f64) -> Garden {
        let mut garden = Garden::new();
        garden.plants.fill(PlantDay { growth, ..PlantDay::default() });
        garden
    }

    fn sward(cover_mass: f64) -> Zone {
        Zone { cover_mass, rested: 1.0, crowns: 1.0, ..Zone::default() }
    }

    /// Noy-Meir 1975, g 0.06 a day, K 300 g/m²: g V (1 − V/K), 4.5 g/m² at K/2, none from K on.
    #[test]
    fn rested_sward_grows_by_the_logistic() {
        let garden = on_a_day_of(1.0);
        for (mass, want) in [(150.0, 4.5), (200.0, 4.0), (300.0, 0.0), (330.0, 0.0)] {
            let rates = ZoneRates { live: mass, ..at_ease() };
            near(growth(&sward(mass), &rates, &garden.zone_context(SWARD)), want, 1e-12);
        }
        // All plants crowd it, not cover alone.
        let rates = ZoneRates { live: 250.0, ..at_ease() };
        near(growth(&sward(150.0), &rates, &garden.zone_context(SWARD)), 0.06 * 150.0 * 50.0 / 300.0, 1e-12);
    }

    /// Closed form of the logistic at the same g and K: 30 g/m² are 120.59380 after 30 d.
    #[test]
    fn fine_steps_follow_the_logistic_curve() {
        let mut garden = on_a_day_of(1.0);
        garden.constants.step = 1e-3;
        garden.constants.species.covers[0].crown_regrowth = 0.0;
        let mut zone = sward(30.0);
        for _ in 0..30_000 {
            let rates = ZoneRates { live: zone.cover_mass, ..at_ease() };
            zone.cover_mass += growth(&zone, &rates, &garden.zone_context(SWARD));
        }
        near(zone.cover_mass, 120.593_80, 0.005);
    }

    /// Every factor of 0.5 halves growth; a legume's share of nitrogen comes from the air.
    #[test]
    fn growth_is_the_product_of_its_factors() {
        let grow = |garden: &Garden, zone: &Zone, rates: ZoneRates| growth(zone, &rates, &garden.zone_context(SWARD));
        let (garden, zone, rates) = (on_a_day_of(1.0), sward(150.0), ZoneRates { live: 150.0, ..at_ease() });
        let best = grow(&garden, &zone, rates);
        same(grow(&on_a_day_of(0.5), &zone, rates), 0.5 * best);
        same(grow(&garden, &zone, ZoneRates { water_factor: 0.5, ..rates }), 0.5 * best);
        same(grow(&garden, &zone, ZoneRates { nitrogen_factor: 0.5, ..rates }), 0.5 * best);
        same(grow(&garden, &Zone { crowns: 0.5, ..zone.clone() }, rates), 0.5 * best);
        let mut halves = on_a_day_of(1.0);
        halves.constants.step = 0.5;
        same(grow(&halves, &zone, rates), 0.5 * best);
        let mut clover = on_a_day_of(1.0);
        clover.constants.species.covers[0].fixed_share = 0.35;
        same(grow(&clover, &zone, ZoneRates { nitrogen_factor: 0.1, ..rates }), 0.35 * best);
        same(grow(&clover, &zone, ZoneRates { nitrogen_factor: 0.5, ..rates }), 0.5 * best);
    }

    /// Just bitten it grows at `bitten_growth` = 0.2 of rested sward, half recovered at 0.6.
    #[test]
    fn bitten_sward_grows_slower() {
        let garden = on_a_day_of(1.0);
        let best = 0.06 * 150.0 * 0.5;
        for (rested, want) in [(1.0, 1.0), (0.5, 0.6), (0.0, 0.2)] {
            let rates = ZoneRates { live: 150.0, rested, ..at_ease() };
            near(growth(&sward(150.0), &rates, &garden.zone_context(SWARD)), want * best, 1e-12);
        }
    }

    /// Half a gram a day from crowns where nothing stands, none from 100 g/m² on, none where just bitten.
    #[test]
    fn crowns_bring_bare_ground_back() {
        let garden = on_a_day_of(1.0);
        let from_crowns = |mass: f64, rested: f64| {
            let rates = ZoneRates { live: 300.0, rested, ..at_ease() };
            growth(&sward(mass), &rates, &garden.zone_context(SWARD))
        };
        for (mass, rested, want) in
            [(0.0, 1.0, 0.5), (40.0, 1.0, 0.3), (100.0, 1.0, 0.0), (150.0, 1.0, 0.0), (0.0, 0.5, 0.25)]
        {
            near(from_crowns(mass, rested), want, 1e-12);
        }
    }

    /// Of every share of the surface 1 − exp(−(2 · lost + 0.3 · scratched)) falls back; the whole stays the whole.
    #[test]
    fn bitten_surface_falls_back_whatever_its_state() {
        let garden = Garden::new();
        let mut zone = Zone { bitten: [0.1, 0.15, 0.2, 0.25], rested: 0.3, crowns: 0.8, ..sward(100.0) };
        set_back(&mut zone, 0.2, 1.5, &garden.constants.species.covers[0]);
        let falls = hazard_to_prob(2.0 * 0.2 + 0.3 * 1.5);
        let stays = 1.0 - falls;
        for (share, want) in zone.bitten.iter().zip([0.1 * stays + falls, 0.15 * stays, 0.2 * stays, 0.25 * stays]) {
            same(*share, want);
        }
        same(zone.rested, 0.3 * stays);
        same(zone.bitten.iter().sum::<f64>() + zone.rested, 1.0);
        // Crowns die where scratched while just bitten: on the tenth that was, not on what was bitten now.
        same(zone.crowns, 0.8 * (1.0 - hazard_to_prob(0.03 * 1.5 * 0.1)));
    }

    /// Mean days to rested of a surface bitten at once, in steps of a day.
    fn mean_days_to_rest(growth: f64, water_factor: f64) -> f64 {
        let garden = on_a_day_of(growth);
        let mut zone = Zone { bitten: [1.0, 0.0, 0.0, 0.0], rested: 0.0, ..sward(100.0) };
        let rates = ZoneRates { water_factor, ..at_ease() };
        let mut days = 0.0;
        for _ in 0..2000 {
            days += 1.0 - zone.rested;
            recover(&mut zone, &rates, &garden.zone_context(SWARD));
            same(zone.bitten.iter().sum::<f64>() + zone.rested, 1.0);
        }
        days
    }

    /// `recovery_days` = 22 at good growth (0.6 of the best), in proportion below, 1.3 times as fast at most. A
    /// chain of boxes delays by its mean, the sum of its boxes' means (Manetsch 1976).
    #[test]
    fn a_bite_recovers_in_its_days_of_good_growth() {
        near(mean_days_to_rest(0.6, 1.0), 22.0, 1e-6);
        near(mean_days_to_rest(0.3, 1.0), 44.0, 1e-6);
        near(mean_days_to_rest(0.6, 0.5), 44.0, 1e-6);
        near(mean_days_to_rest(0.78, 1.0), 22.0 / 1.3, 1e-6);
        near(mean_days_to_rest(1.0, 1.0), 22.0 / 1.3, 1e-6);
        same(recovery_per_growth(22.0) * 0.6, 4.0 / 22.0);
        // One that recovers within a step moves on one box a step.
        let mut garden = on_a_day_of(0.6);
        garden.constants.zones[SWARD].recovery = 9.0;
        let mut zone = Zone { bitten: [1.0, 0.0, 0.0, 0.0], rested: 0.0, ..sward(100.0) };
        advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
        assert_eq!(zone.bitten, [0.0, 1.0, 0.0, 0.0]);
    }

    /// Crowns spread where cover is full, by the logistic; they die where nothing is rested.
    #[test]
    fn crowns_come_back_under_cover_and_die_where_nothing_rests() {
        let crowns_after = |crowns: f64, growth: f64, rates: ZoneRates, seen_cover: f64, step: f64| {
            let mut garden = on_a_day_of(growth);
            garden.constants.step = step;
            let mut zone = Zone { crowns, seen_cover, ..sward(100.0) };
            advance(&mut zone, &rates, &garden.zone_context(SWARD));
            zone.crowns
        };
        let rested = at_ease();
        same(crowns_after(0.5, 1.0, rested, 1.0, 1.0), 0.5 + 0.02 * 0.5 * 0.5);
        same(crowns_after(0.5, 0.5, rested, 1.0, 1.0), 0.5 + 0.01 * 0.5 * 0.5);
        same(crowns_after(0.5, 1.0, ZoneRates { water_factor: 0.5, ..rested }, 1.0, 1.0), 0.5 + 0.01 * 0.5 * 0.5);
        same(crowns_after(0.5, 1.0, rested, 0.5, 0.5), 0.5 + 0.005 * 0.5 * 0.5);
        same(crowns_after(0.5, 1.0, rested, 0.0, 1.0), 0.5);
        same(crowns_after(1.0, 1.0, rested, 1.0, 1.0), 1.0);
        same(crowns_after(0.5, 0.0, ZoneRates { rested: 0.0, ..rested }, 1.0, 1.0), 0.5 * (1.0 - 0.002));
        same(crowns_after(0.5, 0.0, ZoneRates { rested: 0.25, ..rested }, 1.0, 0.5), 0.5 * (1.0 - 0.002 * 0.75 * 0.5));
        // However fast, no more than all die.
        let mut garden = on_a_day_of(0.0);
        garden.constants.species.covers[0].crown_death = 7.0;
        let mut zone = sward(100.0);
        advance(&mut zone, &ZoneRates { rested: 0.0, ..rested }, &garden.zone_context(SWARD));
        assert_eq!(zone.crowns, 0.0);
        // Nor do more than the room there is come back.
        let mut garden = on_a_day_of(1.0);
        garden.constants.species.covers[0].crown_recovery = 7.0;
        let mut zone = Zone { crowns: 0.5, seen_cover: 1.0, ..sward(100.0) };
        advance(&mut zone, &rested, &garden.zone_context(SWARD));
        assert_eq!(zone.crowns, 0.75);
    }

    /// The day's share of what stands above half the stubble (10 g/m²) dies and lies on the ground, contents and all.
    #[test]
    fn old_leaf_dies_and_stays_on_the_ground() {
        let mut garden = on_a_day_of(0.0);
        garden.plants.fill(PlantDay { dies: 0.02, ..PlantDay::default() });
        for (mass, aged) in [(110.0, 2.0), (10.0, 0.0), (4.0, 0.0)] {
            let mut zone = sward(mass);
            advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
            same(zone.cover_mass, mass - aged);
            same(zone.dead, aged);
            same(zone.dead_n, aged * 0.25);
            same(zone.dead_p, aged * 0.032);
        }
    }

    /// A dug sward is gone with its crowns, and begins anew as bitten to the ground; its contents are in the soil.
    #[test]
    fn digging_in_leaves_nothing_alive() {
        let garden = Garden::new();
        let mut zone = Zone { bitten: [0.0, 0.2, 0.0, 0.0], rested: 0.8, fresh_n: 3.0, fresh_p: 0.4, ..sward(100.0) };
        same(dig_in(&mut zone, &garden.constants.species.covers[0]), 100.0);
        assert_eq!((zone.cover_mass, zone.crowns, zone.bitten, zone.rested), (0.0, 0.0, [1.0, 0.0, 0.0, 0.0], 0.0));
        same(zone.fresh_n, 3.0 + 25.0);
        same(zone.fresh_p, 0.4 + 3.2);
        same(zone.flows.get(Flow::MixedIn), 100.0);
    }
}
