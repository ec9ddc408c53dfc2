//! Nitrogen and phosphorus of the ground: manure, turnover, uptake, losses.
//!
//! # Formulas
//!
//! ```text
//! fixed      = can fix · fixing_half / (fixing_half + N)   kg/ha, of a legume's growth, whatever the soil has
//! taken      = min(N · uptake_share, need − fixed)         kg/ha
//! factor     = (taken + fixed) / need                      of all growth, where nitrogen is short; else 1
//! droppings  : uric = n · uric_share;  to air uric · volatilised, the rest of it mineral at once;
//!              n − uric is fresh organic; phosphorus is fresh
//! released   = slow N · min(1, supply/organic N · Q10₁₅ · Ks)   kg/ha a day, slow to mineral; Q10 against 15 C
//! decayed    = fresh · (1 − exp(−organic_decay · Q10₂₀))   kg/ha a day: of the N humus_share to slow, the rest mineral; P to soil
//! rain       = rain_nitrogen                               kg/ha a day
//! denitrified = N · (1 − exp(−denitrification · Q10₂₀)) · wetness
//! leached    = N · nitrate_share · (1 − exp(−drained / leaching_depth_water))
//! ```
//!
//! N is mineral nitrogen, kg/ha; Ks the moisture of the ground, 0 to 1; need is what growth would take at its contents; drained is the day's drainage, mm. Rates
//! that hang on warmth alone come with the day (`drivers.rs`), the supply of a soil with the zone (`constants/zone.rs`).
//!
//! # Source
//!
//! Uric share of droppings: Nahm 2003, World's Poultry Science Journal. Humus from manure: Sluijsmans & Kolenbrander 1977, of
//! poultry manure 10 to 20 % of the nitrogen is resistant (from memory); that is 0.3 to 0.6 of the organic third here. First-order turnover with Q10 and leaching from a
//! well-mixed layer: textbook forms, from memory. Denitrification by wetness, one factor on all growth and the
//! weathering of phosphorus: forms ours, calibrated. A legume's share from the air: 28 kg N a tonne of clover dry matter,
//! Lucas et al. 2010 (N.Z. Grassland Association), and 50 to 60 %, Widdup et al.; less where mineral nitrogen is high: form ours.
//!
//! # Limits
//!
//! The root zone is one layer, wet or dry alike throughout, and nitrate and ammonium are one. Phosphorus is never short:
//! what growth takes beyond the pool is booked as weathering.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  fixing_half [kg/ha], humus_share [-], uric_share [-], volatilised [-], rain_nitrogen [kg/ha/d], nitrate_share [-]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::{ZoneContext, ZoneRates};
use crate::plot::water::wetness;
use crate::simd::{Mask, Real};
use crate::species::ProcessParams;
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// What growth asks of the soil, kg/ha.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Need<F = f64> {
    /// Nitrogen.
    pub n: F,
    /// Phosphorus.
    pub p: F,
    /// Nitrogen a legume fixes where the soil has none.
    pub can_fix: F,
    /// Dry matter, g/m².
    pub mass: F,
}

impl<F: Real> Need<F> {
    /// Adds `mass` g/m² of growth with these contents.
    #[inline(always)]
    pub fn add(&mut self, mass: F, n_content: F, p_content: F) {
        self.mass += mass;
        self.n += mass * n_content * KG_HA_PER_G_M2;
        self.p += mass * p_content * KG_HA_PER_G_M2;
    }
}

/// Takes nitrogen and phosphorus for the growth proposed; returns the factor by which
/// *all* growth is scaled when nitrogen is short. Legumes take their share from the air first, less of it the more
/// mineral nitrogen the soil has.
#[inline(always)]
pub fn feed_growth<F: Real>(zone: &mut Zone<F>, need: &Need<F>, uptake_share: F, fixing_half: F) -> F {
    let fixed = if need.can_fix.above(0.0).any() {
        need.can_fix * fixing_half / (fixing_half + zone.mineral_n)
    } else {
        need.can_fix
    };
    let available = zone.mineral_n * uptake_share;
    let asked = need.n - fixed;
    let enough = available.ge(asked);
    let mut factor = available.splat(1.0);
    if (!enough).any() {
        factor = F::select(enough, factor, (available + fixed) / need.n);
    }
    zone.mineral_n -= F::select(enough, asked, available);
    zone.flows.add(Flow::FixedN, fixed);
    let p = need.p * factor;
    let weathered = (p - zone.soil_p).clamp_min_zero();
    zone.soil_p += weathered - p;
    zone.flows.add(Flow::SupplyP, weathered);
    zone.flows.add(Flow::Growth, need.mass * factor);
    factor
}

/// Droppings of `n_kg_ha` and `p_kg_ha` fall on the zone: part of the uric nitrogen goes
/// into the air, the rest of it is mineral within days, the organic part is fresh.
#[inline(always)]
pub fn receive_droppings<F: Real>(zone: &mut Zone<F>, n_kg_ha: F, p_kg_ha: F, process: &ProcessParams<F>) {
    let uric = n_kg_ha * process.uric_share;
    let to_air = uric * process.volatilised;
    zone.mineral_n += uric - to_air;
    zone.fresh_n += n_kg_ha - uric;
    zone.fresh_p += p_kg_ha;
    zone.flows.add(Flow::ManureN, n_kg_ha);
    zone.flows.add(Flow::ManureP, p_kg_ha);
    zone.flows.add(Flow::VolatilisedN, to_air);
}

/// Turnover and losses of a step, after `drained_mm` of drainage.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, drained_mm: F, rates: &ZoneRates<F>, context: &ZoneContext<F>) {
    let (p, step) = (context.process, context.step());
    let life = context.day.q10_15 * rates.water_factor;
    let released = zone.slow_n * (context.here.slow_release * life * step).clamp_max_one();
    let decayed = context.day.fresh_keep.one_minus();
    let (fresh_n, fresh_p) = (zone.fresh_n * decayed, zone.fresh_p * decayed);
    let rain = p.rain_nitrogen * step;
    let humus = fresh_n * p.humus_share;
    zone.slow_n += humus - released;
    zone.fresh_n -= fresh_n;
    zone.fresh_p -= fresh_p;
    zone.soil_p += fresh_p;
    zone.mineral_n += released + (fresh_n - humus) + rain;
    zone.flows.add(Flow::RainN, rain);
    lose(zone, drained_mm, context);
}

/// Denitrification from wet soil and leaching from a well-mixed root zone.
#[inline(always)]
fn lose<F: Real>(zone: &mut Zone<F>, drained_mm: F, context: &ZoneContext<F>) {
    let wet = wetness(zone, context.here);
    if wet.above(0.0).any() {
        let gone = zone.mineral_n * context.day.denitrified * wet;
        zone.mineral_n -= gone;
        zone.flows.add(Flow::DenitrifiedN, gone);
    }
    if drained_mm.above(0.0).any() {
        let mobile = zone.mineral_n * context.process.nitrate_share;
        let gone = leached(mobile, drained_mm * context.constants.per_nitrate_water);
        zone.mineral_n -= gone;
        zone.flows.add(Flow::LeachedN, gone);
    }
}

/// Leaching from a well-mixed layer: N (1 − exp(−drainage/water held)).
#[inline(always)]
#[must_use]
pub fn leached<F: Real>(mobile_kg_ha: F, drained_per_held: F) -> F {
    mobile_kg_ha * drained_per_held.hazard_to_prob()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::testing::{Garden, SWARD, at_ease, hazard_to_prob, near, net, same};

    #[test]
    fn leaching_and_decay_meet_the_worked_values() {
        // A well-mixed layer, recomputed: N 80, 40 mm through 90 mm: 28.7056 kg.
        assert!((leached(80.0, 40.0 / 90.0) - 28.7056).abs() < 1e-4);
        // First-order mineralisation: k .01, .02, .005 over 30, 60, 100 d.
        for (k, t, want) in [(0.01, 30.0, 25.9182), (0.02, 60.0, 69.8806), (0.005, 100.0, 39.3469)] {
            assert!((100.0 * hazard_to_prob(k * t) - want).abs() < 1e-4);
        }
    }

    /// The same layer in a step: 80 kg N, 40 mm through 90 mm leach 28.7056; a share of it does not move.
    #[test]
    fn drainage_leaches_nitrate() {
        let mut garden = Garden::new();
        garden.constants.per_nitrate_water = 1.0 / 90.0;
        garden.constants.species.process.rain_nitrogen = 0.0;
        for (share, drained, want) in [
            (1.0, 40.0, 28.7056),
            (0.5, 40.0, 0.5 * 28.7056),
            (1.0, 0.4, 80.0 * hazard_to_prob(0.4 / 90.0)),
            (1.0, 0.0, 0.0),
        ] {
            garden.constants.species.process.nitrate_share = share;
            let mut zone = Zone { mineral_n: 80.0, ..Zone::default() };
            advance(&mut zone, drained, &at_ease(), &garden.zone_context(SWARD));
            near(zone.flows.get(Flow::LeachedN), want, 1e-4);
            same(zone.mineral_n, 80.0 - zone.flows.get(Flow::LeachedN));
        }
    }

    /// Growth takes at most 0.6 of the mineral nitrogen a day; short of it, all growth falls by one factor.
    #[test]
    fn growth_takes_what_it_needs_or_shrinks_to_what_there_is() {
        let mut need = Need::default();
        need.add(100.0, 0.025, 0.003);
        need.add(50.0, 0.03, 0.004);
        assert_eq!((need.mass, need.n, need.p), (150.0, 40.0, 5.0));
        for (mineral_n, want) in [(100.0, 1.0), (40.0 / 0.6, 1.0), (50.0, 0.75), (0.0, 0.0)] {
            let mut zone = Zone { mineral_n, soil_p: 60.0, ..Zone::default() };
            near(feed_growth(&mut zone, &need, 0.6, 60.0), want, 1e-12);
            same(zone.mineral_n, mineral_n - 40.0 * want);
            same(zone.soil_p, 60.0 - 5.0 * want);
            same(zone.flows.get(Flow::Growth), 150.0 * want);
            assert_eq!((zone.flows.get(Flow::FixedN), zone.flows.get(Flow::SupplyP)), (0.0, 0.0));
        }
    }

    /// Legumes fix whatever the soil has, half as much at 60 kg/ha of mineral nitrogen, and grow on it where the soil is short.
    #[test]
    fn legumes_fix_less_where_nitrogen_is_plenty() {
        for (mineral_n, can_fix, fixed, factor) in
            [(60.0, 4.0, 2.0, 0.95), (0.0, 10.0, 10.0, 0.25), (180.0, 20.0, 5.0, 1.0), (20.0, 0.0, 0.0, 0.3)]
        {
            let need = Need { n: 40.0, p: 5.0, can_fix, mass: 150.0 };
            let mut zone = Zone { mineral_n, soil_p: 60.0, ..Zone::default() };
            near(feed_growth(&mut zone, &need, 0.6, 60.0), factor, 1e-12);
            same(zone.flows.get(Flow::FixedN), fixed);
            // What growth holds came from the soil or the air.
            same(mineral_n - zone.mineral_n + fixed, 40.0 * factor);
        }
    }

    #[test]
    fn phosphorus_beyond_the_pool_weathers() {
        let need = Need { n: 4.0, p: 5.0, can_fix: 0.0, mass: 100.0 };
        let mut zone = Zone { mineral_n: 50.0, soil_p: 2.0, ..Zone::default() };
        feed_growth(&mut zone, &need, 0.6, 60.0);
        assert_eq!((zone.soil_p, zone.flows.get(Flow::SupplyP)), (0.0, 3.0));
    }

    /// Of 10 kg, 0.65 uric (Nahm 2003: 60–70 %), of that 0.35 to the air; the organic rest is fresh. Nothing is lost.
    #[test]
    fn droppings_are_split_into_air_mineral_and_fresh() {
        let garden = Garden::new();
        let mut zone = Zone { mineral_n: 1.0, fresh_n: 2.0, fresh_p: 3.0, ..Zone::default() };
        receive_droppings(&mut zone, 10.0, 3.0, &garden.constants.species.process);
        same(zone.flows.get(Flow::VolatilisedN), 2.275);
        same(zone.mineral_n, 1.0 + 4.225);
        same(zone.fresh_n, 2.0 + 3.5);
        assert_eq!((zone.fresh_p, zone.flows.get(Flow::ManureN), zone.flows.get(Flow::ManureP)), (6.0, 10.0, 3.0));
        same(net(&zone.flows, Currency::N), 7.725);
    }

    /// The soil of the garden frees 0.4 kg N/ha a day at 15 C, half as much in half a day, twice at Q10 2; of the
    /// nitrogen of decayed fresh matter 0.3 is humus.
    #[test]
    fn the_soil_supplies_and_fresh_matter_decays() {
        for (step, warmth) in [(1.0, 1.0), (0.5, 1.0), (1.0, 2.0)] {
            let mut garden = Garden::new();
            garden.constants.step = step;
            garden.day.q10_15 = warmth;
            garden.day.fresh_keep = 0.98;
            let mut zone =
                Zone { slow_n: 4500.0, fresh_n: 30.0, fresh_p: 5.0, mineral_n: 7.0, soil_p: 50.0, ..Zone::default() };
            advance(&mut zone, 0.0, &at_ease(), &garden.zone_context(SWARD));
            let (released, rain) = (0.4 * step * warmth, 0.03 * step);
            near(zone.slow_n, 4500.0 - released + 0.3 * 0.6, 1e-9);
            same(zone.fresh_n, 29.4);
            same(zone.fresh_p, 4.9);
            same(zone.soil_p, 50.1);
            near(zone.mineral_n, 7.0 + released + 0.7 * 0.6 + rain, 1e-9);
            same(zone.flows.get(Flow::RainN), rain);
            near(zone.slow_n + zone.fresh_n + zone.mineral_n - 4537.0, net(&zone.flows, Currency::N), 1e-9);
        }
        // However warm, no more than there is.
        let mut garden = Garden::new();
        garden.day.q10_15 = 1e9;
        let mut zone = Zone { slow_n: 10.0, ..Zone::default() };
        advance(&mut zone, 0.0, &at_ease(), &garden.zone_context(SWARD));
        assert_eq!(zone.slow_n, 0.0);
    }

    /// Only what stands above field capacity denitrifies, in proportion, all of the day's share at saturation.
    #[test]
    fn wet_soil_denitrifies() {
        let mut garden = Garden::new();
        garden.day.denitrified = 0.02;
        garden.constants.species.process.rain_nitrogen = 0.0;
        let context = garden.zone_context(SWARD);
        for (above_mm, gone) in [(-1.0, 0.0), (0.0, 0.0), (22.5, 0.5), (45.0, 1.0)] {
            let water = context.here.available_water + above_mm;
            let mut zone = Zone { water, mineral_n: 50.0, ..Zone::default() };
            advance(&mut zone, 0.0, &at_ease(), &context);
            same(zone.mineral_n, 50.0 - gone);
            same(zone.flows.get(Flow::DenitrifiedN), gone);
        }
    }
}
