//! Root-zone water: FAO-56 bucket with SCS runoff.
//!
//! # Formulas
//!
//! ```text
//! order of a step: rain and melt less runoff, overflow above saturation, evaporation, drainage, drip refill
//! runoff     = (P − 0.2 S)² / (P + 0.8 S) where P > 0.2 S, else 0;  S = 25400/CN − 254     mm of a day's P mm
//! CN         = CN bare − (CN bare − CN good) · cover · (1 − firm);  98 where frozen
//! overflow   = W − TAW − saturation_room, where above 0; runs off too                        mm
//! evaporated = min(W, ETc · Ks)                                                              mm a day
//! drained    = (W − TAW) · (1 − exp(−drainage_rate))                                         mm a day, where above 0
//! refill     = TAW − W where (TAW − W) > p · TAW, on drip and under a crop           mm
//! wetness    = (W − TAW) / saturation_room, kept in 0 to 1
//! softness   = s · max(0, 1 − (TAW − W)/firm_deficit) + (1 − s) · wetness, the first term s from field capacity on; 0 where frozen
//! ```
//!
//! s is `soft_at_field_capacity`; W is water above wilting, TAW that between wilting and field capacity, both mm; cover is that of plants and dead
//! material, firm the share trodden firm; ETc, mm, Ks and p are those of the start of the step (`context.rs`). A finer step
//! takes its share of the day's runoff.
//!
//! # Source
//!
//! Bucket, crop coefficients, Ks: FAO-56, Allen et al. 1998. Runoff: SCS, USDA NRCS TR-55 (1986) eq. 2-1 to 2-4. Curve
//! number by cover and firm ground: form ours; of frozen ground: from memory. Ground is harmed from about field capacity on
//! (Drewry, Cameron & Buchan 2008, Aust. J. Soil Res. 46:237), and bears stock again some millimetres below (Piwowarczyk, Giuliani
//! & Holden 2011, Soil Use Manage. 27:255; from memory); form ours. Drainage and overflow: textbook forms, from
//! memory.
//!
//! # Limits
//!
//! One layer, no water from below, no flow between zones. Runoff is gone, it does not run on to the next plot. The runoff
//! formula is for a day's rain, whatever its hours.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams    firm_deficit [mm]
//! by zone (constants/zone.rs): soft_at_field_capacity [-], available water and saturation_room [mm], drainage_rate [1/d], curve_number_good [-],
//!                 curve_number_bare [-]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::constants::ZoneConstants;
use crate::plot::context::{ZoneContext, ZoneRates};
use crate::simd::{Mask, Real};
use crate::state::Zone;

/// Curve number of frozen ground: nearly everything runs off (from memory).
const FROZEN_CURVE: f64 = 98.0;

/// SCS runoff of a day, mm (TR-55 eq. 2-1 to 2-4, initial abstraction 0.2 S).
#[inline(always)]
#[must_use]
pub fn runoff_mm<F: Real>(rain_mm: F, curve_number: F) -> F {
    // All heights times the curve number: most rain runs nowhere, and needs no division then.
    let retention = curve_number.splat(25_400.0) - curve_number * 254.0;
    let above = rain_mm * curve_number - retention * 0.2;
    let runs = above.above(0.0);
    if !runs.any() {
        return rain_mm.zero();
    }
    (above * above / ((above + retention) * curve_number)).select_or_zero(runs)
}

/// Water of a step; returns drainage, mm.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, rates: &ZoneRates<F>, context: &ZoneContext<F>) -> F {
    let (here, step) = (context.here, context.step());
    let liquid = context.day.liquid_mm * step;
    let falling = liquid.above(0.0);
    if falling.any() {
        let runoff = runoff_mm(context.day.liquid_mm, curve_number(zone, context)) * step;
        zone.water += liquid - runoff;
        let overflow =
            (zone.water - here.available_water - here.saturation_room).clamp_min_zero().select_or_zero(falling);
        zone.water -= overflow;
        zone.flows.add(Flow::Liquid, liquid);
        zone.flows.add(Flow::Runoff, runoff + overflow);
    }
    let evaporated = (rates.crop_evaporation_mm * rates.water_factor * step).min(zone.water);
    zone.water -= evaporated;
    zone.flows.add(Flow::Evaporation, evaporated);
    let drained = (zone.water - here.available_water).clamp_min_zero() * here.drained;
    zone.water -= drained;
    zone.flows.add(Flow::Drainage, drained);
    if let (true, Some(crop)) = (context.plot.drip, &context.crop) {
        refill(zone, crop.stands, rates.depletion, context.here);
    }
    drained
}

/// Between good cover and bare, by cover and by how much is trodden firm.
#[inline(always)]
fn curve_number<F: Real>(zone: &Zone<F>, context: &ZoneContext<F>) -> F {
    let here = context.here;
    let open = here.curve_bare - (here.curve_bare - here.curve_good) * zone.seen_cover * zone.firm.one_minus();
    F::select(context.day.frozen.above(0.0), open.splat(FROZEN_CURVE), open)
}

/// Drip lines bring the root zone back to field capacity at the day's depletion fraction.
#[inline(always)]
fn refill<F: Real>(zone: &mut Zone<F>, dripped: F::Mask, depletion: F, here: &ZoneConstants<F>) {
    let depleted = here.available_water - zone.water;
    let dry = depleted.gt(depletion * here.available_water) & dripped;
    let refilled = depleted.select_or_zero(dry);
    zone.water += refilled;
    zone.flows.add(Flow::Irrigation, refilled);
}

/// How soft the ground is underfoot, 0 to 1 at saturation.
#[inline(always)]
#[must_use]
pub fn softness<F: Real>(zone: &Zone<F>, context: &ZoneContext<F>) -> F {
    let here = context.here;
    let missing = (here.available_water - zone.water).clamp_min_zero();
    let moist = (missing / context.process.firm_deficit).one_minus().clamp_min_zero();
    let soft = here.soft * moist + here.soft.one_minus() * wetness(zone, here);
    soft * context.day.frozen.one_minus()
}

/// How far above field capacity the ground is, 0 to 1 at saturation.
#[inline(always)]
#[must_use]
pub fn wetness<F: Real>(zone: &Zone<F>, here: &ZoneConstants<F>) -> F {
    ((zone.water - here.available_water) * here.per_saturation_room).clamp_min_zero().clamp_max_one()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::testing::{BED, Garden, SWARD, at_ease, hazard_to_prob, net, same};

    #[test]
    fn runoff_meets_tr55() {
        // NRCS TR-55 (1986), worked values recomputed in millimetres.
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

    /// A garden in which this falls in a day, of a soil with one curve number.
    fn raining(liquid_mm: f64, curve_number: f64, step: f64) -> Garden {
        let mut garden = Garden::new();
        garden.day.liquid_mm = liquid_mm;
        garden.constants.step = step;
        for zone in &mut garden.constants.zones {
            (zone.curve_good, zone.curve_bare) = (curve_number, curve_number);
        }
        garden
    }

    /// TR-55: of 50 mm on curve number 74, 8.515 run off; half a day sees half of both.
    #[test]
    fn rain_runs_off_or_goes_into_the_ground() {
        for step in [1.0, 0.5] {
            let garden = raining(50.0, 74.0, step);
            let mut zone = Zone { water: 10.0, ..Zone::default() };
            assert_eq!(advance(&mut zone, &at_ease(), &garden.zone_context(SWARD)), 0.0);
            let runoff = zone.flows.get(Flow::Runoff);
            assert!((runoff - 8.515 * step).abs() < 1e-3);
            same(zone.flows.get(Flow::Liquid), 50.0 * step);
            same(zone.water, 10.0 + 50.0 * step - runoff);
        }
    }

    /// Nothing runs off up to 0.2 S, 17.85 mm at curve number 74; a drizzle goes into the ground whole.
    #[test]
    fn runoff_begins_at_the_initial_abstraction() {
        let abstraction = 0.2 * (25_400.0 / 74.0 - 254.0);
        assert_eq!(runoff_mm(abstraction - 0.005, 74.0), 0.0);
        assert!(runoff_mm(abstraction + 0.005, 74.0) > 0.0);
        let mut zone = Zone { water: 10.0, ..Zone::default() };
        advance(&mut zone, &at_ease(), &raining(0.4, 74.0, 1.0).zone_context(SWARD));
        same(zone.water, 10.4);
    }

    /// 78 mm to field capacity, 45 above it: what falls beyond runs off, half of the 45 mm drain (rate 0.5 a day).
    #[test]
    fn water_overflows_above_saturation_and_drains_above_field_capacity() {
        let garden = raining(80.0, 40.0, 1.0);
        let soaked = Zone { water: 78.0 + 20.0, ..Zone::default() };
        let mut zone = soaked.clone();
        let drained = advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
        same(drained, 45.0 * hazard_to_prob(0.5));
        same(zone.water, 78.0 + 45.0 - drained);
        same(zone.flows.get(Flow::Runoff), 80.0 - 25.0);
        same(zone.flows.get(Flow::Drainage), drained);
        // Dry weather only drains, below field capacity not even that.
        for (water, drains) in [(98.0, 20.0 * hazard_to_prob(0.5)), (78.0, 0.0), (30.0, 0.0)] {
            let mut zone = Zone { water, ..Zone::default() };
            same(advance(&mut zone, &at_ease(), &raining(0.0, 40.0, 1.0).zone_context(SWARD)), drains);
            same(zone.water, water - drains);
            assert_eq!(zone.flows.get(Flow::Runoff), 0.0);
        }
    }

    /// Kc 0.3 bare to 0.97 covered (FAO-56 Table 12), more under trees, times ET0 and Ks, and never more than there is.
    #[test]
    fn plants_and_bare_ground_evaporate_by_their_coefficients() {
        let evaporated = |seen_cover: f64, canopy_water: f64, water_factor: f64, step: f64, water: f64| {
            let mut garden = raining(0.0, 74.0, step);
            garden.day.et0_mm = 5.0;
            let context = ZoneContext { canopy_water, ..garden.zone_context(SWARD) };
            let mut zone = Zone { water, seen_cover, ..Zone::default() };
            let rates = ZoneRates { water_factor, ..ZoneRates::at(&zone, &context) };
            advance(&mut zone, &rates, &context);
            same(water - zone.water, zone.flows.get(Flow::Evaporation));
            water - zone.water
        };
        same(evaporated(0.0, 0.0, 1.0, 1.0, 60.0), 1.5);
        same(evaporated(1.0, 0.0, 1.0, 1.0, 60.0), 4.85);
        same(evaporated(0.5, 0.2, 1.0, 1.0, 60.0), (0.3 + 0.335 + 0.2) * 5.0);
        same(evaporated(1.0, 0.0, 0.5, 1.0, 60.0), 2.425);
        same(evaporated(1.0, 0.0, 1.0, 0.5, 60.0), 2.425);
        same(evaporated(1.0, 0.0, 1.0, 1.0, 2.0), 2.0);
    }

    /// Good cover holds rain back, bare or trodden ground does not, and frozen ground hardly anything.
    #[test]
    fn the_curve_number_lies_between_bare_and_good_cover() {
        let mut garden = Garden::new();
        let number = |garden: &Garden, seen_cover: f64, firm: f64| {
            curve_number(&Zone { seen_cover, firm, ..Zone::default() }, &garden.zone_context(SWARD))
        };
        same(number(&garden, 0.0, 0.0), 88.0);
        same(number(&garden, 1.0, 0.0), 67.0);
        same(number(&garden, 0.5, 0.0), 77.5);
        same(number(&garden, 1.0, 0.5), 77.5);
        same(number(&garden, 1.0, 1.0), 88.0);
        garden.day.frozen = 1.0;
        assert_eq!(number(&garden, 1.0, 0.0), 98.0);
    }

    /// Drip lines fill a crop's root zone to field capacity once more than p of it is used (0.3 of 78 mm here), and
    /// sooner on a day of more evaporation.
    #[test]
    fn drip_lines_refill_at_the_depletion_fraction() {
        let filled = |drip: bool, water: f64, crop: bool| {
            let mut garden = raining(0.0, 74.0, 1.0);
            garden.site.plots[0].drip = drip;
            let context = if crop { garden.with_crop() } else { garden.zone_context(BED) };
            let mut zone = Zone { water, ..Zone::default() };
            advance(&mut zone, &ZoneRates { depletion: 0.3, ..at_ease() }, &context);
            same(zone.water - water, zone.flows.get(Flow::Irrigation));
            zone.water - water
        };
        same(filled(true, 50.0, true), 28.0);
        same(filled(true, 54.0, true), 24.0);
        assert_eq!(filled(true, 55.0, true), 0.0);
        assert_eq!((filled(false, 50.0, true), filled(true, 50.0, false)), (0.0, 0.0));
        let garden = raining(0.0, 74.0, 1.0);
        for (water, depletion, dripped, want) in
            [(50.0, 0.3, false, 50.0), (55.0, 0.3, true, 55.0), (55.0, 0.25, true, 78.0)]
        {
            let mut zone = Zone { water, ..Zone::default() };
            refill(&mut zone, dripped, depletion, garden.zone_context(BED).here);
            assert_eq!(zone.water, want);
        }
    }

    #[test]
    fn wetness_runs_from_field_capacity_to_saturation() {
        let garden = Garden::new();
        for (water, want) in [(0.0, 0.0), (78.0, 0.0), (87.0, 0.2), (123.0, 1.0), (150.0, 1.0)] {
            same(wetness(&Zone { water, ..Zone::default() }, &garden.constants.zones[SWARD]), want);
        }
    }

    /// Firm 10 mm below field capacity, half way to `soft_at_field_capacity` = 0.4 at 5, from there on to 1 at saturation; firm
    /// where frozen.
    #[test]
    fn softness_begins_below_field_capacity() {
        let mut garden = Garden::new();
        garden.constants.zones[SWARD].soft = 0.4;
        let soft =
            |garden: &Garden, water: f64| softness(&Zone { water, ..Zone::default() }, &garden.zone_context(SWARD));
        for (water, want) in
            [(0.0, 0.0), (68.0, 0.0), (73.0, 0.2), (78.0, 0.4), (87.0, 0.52), (123.0, 1.0), (150.0, 1.0)]
        {
            same(soft(&garden, water), want);
        }
        garden.day.frozen = 1.0;
        assert_eq!(soft(&garden, 123.0), 0.0);
    }

    #[test]
    fn all_water_is_booked() {
        let mut garden = Garden::new();
        garden.day.et0_mm = 3.0;
        let mut zone = Zone { water: 78.0, seen_cover: 0.6, firm: 0.2, ..Zone::default() };
        for rain in [0.0, 60.0, 5.0, 0.0, 120.0, 30.0] {
            garden.day.liquid_mm = rain;
            let context = garden.zone_context(SWARD);
            let rates = ZoneRates::at(&zone, &context);
            advance(&mut zone, &rates, &context);
            same(zone.water - 78.0, net(&zone.flows, Currency::Water));
        }
    }
}
