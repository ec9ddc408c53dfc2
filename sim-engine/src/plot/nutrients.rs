//! Nitrogen and phosphorus of the ground: manure, turnover, uptake, losses.
//!
//! Soil organic matter supplies, legumes fix, rain deposits, wet soil denitrifies:
//! without these the plot without birds starves and the birds look like a miracle.

use crate::flows::Flow;
use crate::kinds::ProcessNumbers;
use crate::lanes::{Mask, Real};
use crate::plot::look::Surroundings;
use crate::plot::water::wetness;
use crate::state::{KG_HA, Zone};

/// What growth asks of the soil, kg/ha.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Need<F = f64> {
    /// Nitrogen.
    pub n: F,
    /// Phosphorus.
    pub p: F,
    /// Nitrogen a legume could fix, if the soil is short.
    pub can_fix: F,
    /// Dry matter, g/m².
    pub mass: F,
}

impl<F: Real> Need<F> {
    /// Adds `mass` g/m² of growth with these contents.
    #[inline(always)]
    pub fn add(&mut self, mass: F, n_content: F, p_content: F) {
        self.mass += mass;
        self.n += mass * n_content * KG_HA;
        self.p += mass * p_content * KG_HA;
    }
}

/// Takes nitrogen and phosphorus for the growth proposed; returns the factor by which
/// *all* growth is scaled when nitrogen is short. Legumes fix only what the soil lacks.
#[inline(always)]
pub fn feed_growth<F: Real>(zone: &mut Zone<F>, need: &Need<F>, uptake_share: F) -> F {
    let available = zone.mineral_n * uptake_share;
    let enough = available.ge(need.n);
    let (mut factor, mut taken) = (available.of(1.0), need.n);
    if (!enough).any() {
        let fixed = need.can_fix.min(need.n - available).where_(!enough);
        factor = F::choose(enough, factor, (available + fixed) / need.n);
        taken = F::choose(enough, taken, available);
        zone.flows.add(Flow::FixedN, fixed);
    }
    zone.mineral_n -= taken;
    let p = need.p * factor;
    let weathered = (p - zone.soil_p).or_zero();
    zone.soil_p += weathered - p;
    zone.flows.add(Flow::SupplyP, weathered);
    zone.flows.add(Flow::Growth, need.mass * factor);
    factor
}

/// Droppings of `n_kg_ha` and `p_kg_ha` fall on the zone: part of the uric nitrogen goes
/// into the air, the rest of it is mineral within days, the organic part is fresh.
#[inline(always)]
pub fn receive_droppings<F: Real>(zone: &mut Zone<F>, n_kg_ha: F, p_kg_ha: F, process: &ProcessNumbers<F>) {
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
pub fn advance<F: Real>(zone: &mut Zone<F>, drained_mm: F, around: &Surroundings<F>) {
    let (p, step) = (around.process, around.step());
    let released = zone.slow_n * (around.here.slow_release * around.day.q10_15 * step).up_to_one();
    let decayed = around.day.fresh_keep.rest();
    let (fresh_n, fresh_p) = (zone.fresh_n * decayed, zone.fresh_p * decayed);
    let rain = p.rain_nitrogen * step;
    zone.slow_n -= released;
    zone.fresh_n -= fresh_n;
    zone.fresh_p -= fresh_p;
    zone.soil_p += fresh_p;
    zone.mineral_n += released + fresh_n + rain;
    zone.flows.add(Flow::RainN, rain);
    lose(zone, drained_mm, around);
}

/// Denitrification from wet soil and leaching from a well-mixed root zone.
#[inline(always)]
fn lose<F: Real>(zone: &mut Zone<F>, drained_mm: F, around: &Surroundings<F>) {
    let wet = wetness(zone, around.here);
    if wet.above(0.0).any() {
        let gone = zone.mineral_n * around.day.denitrified * wet;
        zone.mineral_n -= gone;
        zone.flows.add(Flow::DenitrifiedN, gone);
    }
    if drained_mm.above(0.0).any() {
        let mobile = zone.mineral_n * around.process.nitrate_share;
        let gone = leached(mobile, drained_mm * around.plan.per_nitrate_water);
        zone.mineral_n -= gone;
        zone.flows.add(Flow::LeachedN, gone);
    }
}

/// Leaching from a well-mixed layer: N (1 − exp(−drainage/water held)).
#[inline(always)]
#[must_use]
pub fn leached<F: Real>(mobile_kg_ha: F, drained_per_held: F) -> F {
    mobile_kg_ha * drained_per_held.lost()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::lost;

    #[test]
    fn leaching_and_decay_meet_the_worked_values() {
        // Facts topic 10: N 80, 40 mm through 90 mm: 28.7056 kg.
        assert!((leached(80.0, 40.0 / 90.0) - 28.7056).abs() < 1e-4);
        // First-order mineralisation: k .01, .02, .005 over 30, 60, 100 d.
        for (k, t, want) in [(0.01, 30.0, 25.9182), (0.02, 60.0, 69.8806), (0.005, 100.0, 39.3469)] {
            assert!((100.0 * lost(k * t) - want).abs() < 1e-4);
        }
    }

    #[test]
    fn layers_per_hectare_at_the_farm_area_rule() {
        // Arithmetic, no evidence: 170 kg N/ha by 0.739 (889/2008 Annex IV, from memory)
        // and by 0.0016 kg/d x 365 = 0.584 kg a year (ASAE D384.2, from memory).
        assert_eq!((170.0_f64 / 0.739).floor(), 230.0);
        assert_eq!((170.0_f64 / (0.0016 * 365.0)).floor(), 291.0);
    }
}
