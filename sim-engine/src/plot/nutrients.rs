//! Nitrogen and phosphorus of the ground: manure, turnover, uptake, losses.
//!
//! Soil organic matter supplies, legumes fix, rain deposits, wet soil denitrifies:
//! without these the plot without birds starves and the birds look like a miracle.

use crate::flows::Flow;
use crate::kinds::ProcessNumbers;
use crate::math::lost;
use crate::plot::look::Surroundings;
use crate::plot::water::wetness;
use crate::state::{KG_HA, Zone};

/// What growth asks of the soil, kg/ha.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Need {
    /// Nitrogen.
    pub n: f64,
    /// Phosphorus.
    pub p: f64,
    /// Nitrogen a legume could fix, if the soil is short.
    pub can_fix: f64,
    /// Dry matter, g/m².
    pub mass: f64,
}

impl Need {
    /// Adds `mass` g/m² of growth with these contents.
    #[inline(always)]
    pub fn add(&mut self, mass: f64, n_content: f64, p_content: f64) {
        self.mass += mass;
        self.n += mass * n_content * KG_HA;
        self.p += mass * p_content * KG_HA;
    }
}

/// Takes nitrogen and phosphorus for the growth proposed; returns the factor by which
/// *all* growth is scaled when nitrogen is short. Legumes fix only what the soil lacks.
#[inline]
pub fn feed_growth(zone: &mut Zone, need: &Need, uptake_share: f64) -> f64 {
    let available = zone.mineral_n * uptake_share;
    let (from_soil, fixed, factor) = if need.n <= available {
        (need.n, 0.0, 1.0)
    } else {
        let fixed = need.can_fix.min(need.n - available);
        (available, fixed, (available + fixed) / need.n)
    };
    zone.mineral_n -= from_soil;
    zone.flows.add(Flow::FixedN, fixed);
    let p = need.p * factor;
    let weathered = (p - zone.soil_p).max(0.0);
    zone.soil_p += weathered - p;
    zone.flows.add(Flow::SupplyP, weathered);
    zone.flows.add(Flow::Growth, need.mass * factor);
    factor
}

/// Droppings of `n_kg_ha` and `p_kg_ha` fall on the zone: part of the uric nitrogen goes
/// into the air, the rest of it is mineral within days, the organic part is fresh.
#[inline]
pub fn receive_droppings(zone: &mut Zone, n_kg_ha: f64, p_kg_ha: f64, process: &ProcessNumbers) {
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
#[inline]
pub fn advance(zone: &mut Zone, drained_mm: f64, around: &Surroundings) {
    let (p, step) = (around.process, around.step());
    let released = zone.slow_n * (around.here.slow_release * around.day.q10_15 * step).min(1.0);
    let decayed = 1.0 - around.day.fresh_keep;
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
#[inline]
fn lose(zone: &mut Zone, drained_mm: f64, around: &Surroundings) {
    let wet = wetness(zone, around.here);
    if wet > 0.0 {
        let gone = zone.mineral_n * around.day.denitrified * wet;
        zone.mineral_n -= gone;
        zone.flows.add(Flow::DenitrifiedN, gone);
    }
    if drained_mm > 0.0 {
        let mobile = zone.mineral_n * around.process.nitrate_share;
        let gone = leached(mobile, drained_mm * around.plan.per_nitrate_water);
        zone.mineral_n -= gone;
        zone.flows.add(Flow::LeachedN, gone);
    }
}

/// Leaching from a well-mixed layer: N (1 − exp(−drainage/water held)).
#[inline]
#[must_use]
pub fn leached(mobile_kg_ha: f64, drained_per_held: f64) -> f64 {
    mobile_kg_ha * lost(drained_per_held)
}

#[cfg(test)]
mod tests {
    use super::*;

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
