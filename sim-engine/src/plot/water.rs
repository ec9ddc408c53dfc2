//! Root-zone water: FAO-56 bucket with SCS runoff.
//!
//! Order of a step: rain and melt less runoff, overflow above saturation, evaporation,
//! drainage above field capacity, drip refill. SCS runoff is a formula for a
//! day; a finer step takes its share of the day's.

use crate::flows::Flow;
use crate::lanes::{Mask, Real};
use crate::plot::look::{Look, Surroundings};
use crate::plot::plan::ZonePlan;
use crate::state::Zone;

/// Curve number of frozen ground: nearly everything runs off (from memory).
const FROZEN_CURVE: f64 = 98.0;

/// SCS runoff of a day, mm (TR-55 eq. 2-1 to 2-4, initial abstraction 0.2 S).
#[inline(always)]
#[must_use]
pub fn runoff_mm<F: Real>(rain_mm: F, curve_number: F) -> F {
    // All heights times the curve number: most rain runs nowhere, and needs no division then.
    let retention = curve_number.of(25_400.0) - curve_number * 254.0;
    let above = rain_mm * curve_number - retention * 0.2;
    let runs = above.above(0.0);
    if !runs.any() {
        return rain_mm.zero();
    }
    (above * above / ((above + retention) * curve_number)).where_(runs)
}

/// Water of a step; returns drainage, mm.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, look: &Look<F>, around: &Surroundings<F>) -> F {
    let (here, step) = (around.here, around.step());
    let liquid = around.day.liquid_mm * step;
    let falling = liquid.above(0.0);
    if falling.any() {
        let runoff = runoff_mm(around.day.liquid_mm, curve_number(zone, around)) * step;
        zone.water += liquid - runoff;
        let overflow = (zone.water - here.available_water - here.saturation_room).or_zero().where_(falling);
        zone.water -= overflow;
        zone.flows.add(Flow::Liquid, liquid);
        zone.flows.add(Flow::Runoff, runoff + overflow);
    }
    let evaporated = (demand_mm(zone, around) * look.water_factor * step).min(zone.water);
    zone.water -= evaporated;
    zone.flows.add(Flow::Evaporation, evaporated);
    let drained = (zone.water - here.available_water).or_zero() * here.drained;
    zone.water -= drained;
    zone.flows.add(Flow::Drainage, drained);
    if let (true, Some(crop)) = (around.plot.drip, &around.crop) {
        refill(zone, crop.stands, around);
    }
    drained
}

/// Crop coefficient from cover and canopy, times reference evaporation, mm a day.
#[inline(always)]
fn demand_mm<F: Real>(zone: &Zone<F>, around: &Surroundings<F>) -> F {
    let p = around.process;
    let full = p.crop_coefficient_full - p.crop_coefficient_bare;
    (p.crop_coefficient_bare + full * zone.seen_cover + around.canopy_water) * around.day.et0_mm
}

/// Between good cover and bare, by cover and by how much is trodden firm.
#[inline(always)]
fn curve_number<F: Real>(zone: &Zone<F>, around: &Surroundings<F>) -> F {
    let here = around.here;
    let open = here.curve_bare - (here.curve_bare - here.curve_good) * zone.seen_cover * zone.firm.rest();
    F::choose(around.day.frozen.above(0.0), open.of(FROZEN_CURVE), open)
}

/// Drip lines bring the root zone back to field capacity at the depletion fraction.
#[inline(always)]
fn refill<F: Real>(zone: &mut Zone<F>, dripped: F::Mask, around: &Surroundings<F>) {
    let depleted = around.here.available_water - zone.water;
    let dry = depleted.gt(around.here.depletion * around.here.available_water) & dripped;
    let refilled = depleted.where_(dry);
    zone.water += refilled;
    zone.flows.add(Flow::Irrigation, refilled);
}

/// How far above field capacity the ground is, 0 to 1 at saturation.
#[inline(always)]
#[must_use]
pub fn wetness<F: Real>(zone: &Zone<F>, here: &ZonePlan<F>) -> F {
    ((zone.water - here.available_water) * here.per_saturation_room).or_zero().up_to_one()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runoff_meets_tr55() {
        // NRCS TR-55 (1986), worked values recomputed: facts topic 2, metric rows.
        let rows = [
            (50.0, 61.0, 1.706),
            (50.0, 74.0, 8.515),
            (50.0, 80.0, 13.802),
            (50.0, 86.0, 20.961),
            (50.0, 91.0, 28.858),
            (25.0, 61.0, 0.0),
            (25.0, 74.0, 0.531),
            (25.0, 80.0, 1.996),
            (25.0, 91.0, 8.848),
            (100.0, 39.0, 1.010),
            (100.0, 61.0, 19.830),
            (100.0, 74.0, 39.376),
            (100.0, 80.0, 50.539),
        ];
        for (rain, curve, want) in rows {
            assert!((runoff_mm(rain, curve) - want).abs() < 1e-3, "{rain} {curve}");
        }
    }

    #[test]
    fn tr55_example_2_1_and_table_2_1() {
        // Example 2-1: weighted curve number 70, 6.0 in: 2.81 in. Table 2-1 pattern in inches.
        let inches = |p: f64, cn: f64| runoff_mm(p * 25.4, cn) / 25.4;
        assert!((inches(6.0, 70.0) - 2.81).abs() < 0.01);
        assert!((inches(6.0, 75.0) - 3.28).abs() < 0.01);
        for (p, cn, want) in [
            (2.0, 70.0, 0.24),
            (3.0, 70.0, 0.71),
            (4.0, 70.0, 1.33),
            (5.0, 70.0, 2.04),
            (2.0, 80.0, 0.56),
            (3.0, 80.0, 1.25),
            (5.0, 80.0, 2.89),
            (1.0, 90.0, 0.32),
            (4.0, 90.0, 2.92),
        ] {
            assert!((inches(p, cn) - want).abs() < 0.0051, "{p} {cn}");
        }
    }
}
