//! How many slugs and snails are out in a night: warm and damp enough, and under what shelter.
//!
//! # Formulas
//!
//! ```text
//! wet      = clamp((W/W_max − slug_dry_soil) / (1 − slug_dry_soil), 0, 1)               of the root zone
//! damp     = 1 − (1 − wet) · exp(−liquid / slug_wetting)                                a shower wets the surface
//! activity = warmth · damp · (slug_bare_ground + (1 − slug_bare_ground) · cover)         0 to 1
//! ```
//!
//! W is water in the root zone, cover that of the ground by plants and dead matter, 0 to 1; warmth comes with the day (`day.rs`).
//!
//! # Source
//!
//! Damp ground and shelter: common practice, no source; forms ours.
//!
//! # Limits
//!
//! Dew is part of damp ground. How deep they hide is not followed: who is not out is out of reach.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  slug_dry_soil [-], slug_wetting [mm], slug_bare_ground [-]
//! ```

use crate::plot::context::ZoneContext;
use crate::simd::Real;
use crate::state::Zone;

/// How damp the ground is to them, and how dry to their young and eggs, each 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Moisture<F> {
    /// On the surface, in shelter as the ground gives it.
    pub out: F,
    /// In the soil.
    pub dry: F,
}

impl<F: Real> Moisture<F> {
    /// That of a zone of this cover.
    #[inline(always)]
    pub(super) fn of(zone: &Zone<F>, cover: F, context: &ZoneContext<F>) -> Self {
        let p = context.process;
        let held = zone.water / context.here.available_water;
        let wet = ((held - p.slug_dry_soil) / p.slug_dry_soil.one_minus()).clamp_min_zero().clamp_max_one();
        let showered = (context.day.liquid_mm / p.slug_wetting).hazard_to_prob();
        let damp = (wet.one_minus() * showered.one_minus()).one_minus();
        let shelter = p.slug_bare_ground + p.slug_bare_ground.one_minus() * cover;
        Self { out: damp * shelter, dry: wet.one_minus() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, SWARD, near};

    /// Soil at field capacity is wet, at `slug_dry_soil` of it dry; a shower wets the surface of dry soil; bare ground shelters few.
    #[test]
    fn damp_and_sheltered_ground_lets_them_out() {
        let mut garden = Garden::new();
        let process = &mut garden.constants.species.process;
        (process.slug_dry_soil, process.slug_wetting, process.slug_bare_ground) = (0.4, 2.0, 0.5);
        garden.day.liquid_mm = 0.0;
        let on = |garden: &Garden, held: f64, cover: f64| {
            let context = garden.zone_context(SWARD);
            Moisture::of(&Zone { water: held * context.here.available_water, ..Zone::default() }, cover, &context)
        };
        for (held, dry) in [(1.0, 0.0), (1.2, 0.0), (0.7, 0.5), (0.4, 1.0), (0.1, 1.0)] {
            let moisture = on(&garden, held, 1.0);
            near(moisture.dry, dry, 1e-12);
            near(moisture.out, 1.0 - dry, 1e-12);
            near(on(&garden, held, 0.0).out, 0.5 * (1.0 - dry), 1e-12);
        }
        garden.day.liquid_mm = 2.0;
        let showered = on(&garden, 0.1, 1.0);
        near(showered.out, 1.0 - libm::exp(-1.0), 1e-12);
        assert_eq!(showered.dry, 1.0);
    }
}
