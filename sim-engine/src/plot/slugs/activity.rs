//! How many slugs and snails are out in a night: warm and damp enough, and under what shelter.
//!
//! # Formulas
//!
//! ```text
//! night    = tmin + (tmax − tmin) / 3                                                   C
//! warmth   = beta response of the night at base, best and ceiling temperature, 0 under lying snow and on frozen ground
//! wet      = clamp((W/W_max − slug_dry_soil) / (1 − slug_dry_soil), 0, 1)               of the root zone
//! damp     = 1 − (1 − wet) · exp(−liquid / slug_wetting)                                a shower wets the surface
//! activity = warmth · damp · (slug_bare_ground + (1 − slug_bare_ground) · cover)         0 to 1
//! hatching = max(0, soil temperature − hatch_base)                                      C d a day
//! ageing   = 2^((soil temperature − 12) / ageing_doubles)                               of the death of active ones, 12 C = 1
//! frost    = 1 − exp(−frost_kill · degrees below −4 C · step), none under lying snow      share
//! ```
//!
//! W is water in the root zone, cover that of the ground by plants and dead matter, 0 to 1.
//!
//! # Source
//!
//! Out at night from 4 to 21 C, best at about 16 C, in humid air: Oregon State University's pages on slugs. *Arion* feeds from 6
//! to 25 C: Honek & Martinkova 2007, Malacologia 49:273. *Deroceras laeve* lives 21.9 weeks at 20 C and 54.4 at 12 C: Faberi et
//! al. Eggs hatch in 16.3 days at 20 C and 39.8 at 12 C: Clemente et al. 2008 (base and sum worked out from the two points).
//! Damp ground and shelter: common practice, no source; forms ours.
//!
//! # Limits
//!
//! Wind, floods and the moon keep nobody in. Dew is part of damp ground. How deep they hide is not followed: who is not out is out
//! of reach.
//!
//! # Parameters
//!
//! ```text
//! SlugParams     base_temperature [C], best_temperature [C], ceiling_temperature [C], hatch_base [C], ageing_doubles [C],
//!                 frost_kill [1/(C d)]
//! ProcessParams  slug_dry_soil [-], slug_wetting [mm], slug_bare_ground [-]
//! ```

use crate::drivers::beta_response;
use crate::math::{exp, hazard_to_prob};
use crate::plot::context::ZoneContext;
use crate::simd::Real;
use crate::simd::soa::soa;
use crate::species::SlugParams;
use crate::state::Zone;

/// Temperature at which `ageing` is 1, C (definition).
const AGEING_REFERENCE_C: f64 = 12.0;

/// A day as one kind of slug or snail of the site feels it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SlugDay<F = f64> {
    /// Of its activity, by the night's temperature, 0 to 1.
    pub warmth: F,
    /// Of its eggs, C d.
    pub hatching: F,
    /// Factor on the death of active ones.
    pub ageing: F,
    /// Share that frost kills in a step.
    pub frost: F,
}

soa! { SlugDay { warmth, hatching, ageing, frost } }

/// What the weather of a day is to slugs.
#[derive(Clone, Copy, Debug)]
pub struct SlugWeather {
    /// Lowest air temperature, C.
    pub tmin_c: f64,
    /// Highest air temperature, C.
    pub tmax_c: f64,
    /// Soil temperature at 5 cm, C.
    pub soil_c: f64,
    /// Degrees below the killing frost.
    pub frost_degrees: f64,
    /// Snow lies.
    pub snow: bool,
    /// The ground is frozen.
    pub frozen: bool,
}

impl SlugDay {
    /// Of a kind, in steps of so many days.
    #[must_use]
    pub fn of(params: &SlugParams, weather: &SlugWeather, step: f64) -> Self {
        let night_c = weather.tmin_c + (weather.tmax_c - weather.tmin_c) / 3.0;
        let shut = weather.snow || weather.frozen;
        let out =
            || beta_response(night_c, params.base_temperature, params.best_temperature, params.ceiling_temperature);
        let frost_degrees = if weather.snow { 0.0 } else { weather.frost_degrees };
        Self {
            warmth: if shut { 0.0 } else { out() },
            hatching: (weather.soil_c - params.hatch_base).max(0.0),
            ageing: exp(core::f64::consts::LN_2 * (weather.soil_c - AGEING_REFERENCE_C) / params.ageing_doubles),
            frost: hazard_to_prob(params.frost_kill * frost_degrees * step),
        }
    }
}

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
    use super::super::tests::field_slug;
    use super::*;
    use crate::testing::{Garden, SWARD, near, same};

    fn weather(tmin_c: f64, tmax_c: f64) -> SlugWeather {
        SlugWeather { tmin_c, tmax_c, soil_c: 12.0, frost_degrees: 0.0, snow: false, frozen: false }
    }

    /// Oregon State University: out from 4 to 21 C, most at about 16 C.
    #[test]
    fn they_are_out_on_mild_nights() {
        let warmth = |night_c: f64| SlugDay::of(&field_slug(), &weather(night_c, night_c), 1.0).warmth;
        assert_eq!((warmth(3.9), warmth(21.1)), (0.0, 0.0));
        same(warmth(16.0), 1.0);
        assert!(warmth(8.0) < warmth(12.0) && warmth(12.0) < 1.0 && warmth(20.0) < 1.0);
        // A night of a day from 8 to 20 C has 12.
        same(SlugDay::of(&field_slug(), &weather(8.0, 20.0), 1.0).warmth, warmth(12.0));
        let snowed_in = SlugWeather { snow: true, ..weather(16.0, 16.0) };
        let frozen = SlugWeather { frozen: true, ..weather(16.0, 16.0) };
        assert_eq!([snowed_in, frozen].map(|day| SlugDay::of(&field_slug(), &day, 1.0).warmth), [0.0; 2]);
    }

    /// Clemente et al. 2008: 16.3 days at 20 C, 39.8 at 12 C, within a day by base and sum.
    #[test]
    fn eggs_hatch_by_the_warmth_of_the_soil() {
        let params = field_slug();
        for (soil_c, days) in [(20.0, 16.3), (12.0, 39.8)] {
            let day = SlugDay::of(&params, &SlugWeather { soil_c, ..weather(10.0, 10.0) }, 1.0);
            near(params.hatch / day.hatching, days, 1.0);
        }
        let cold = SlugDay::of(&params, &SlugWeather { soil_c: 5.0, ..weather(5.0, 5.0) }, 1.0);
        assert_eq!(cold.hatching, 0.0);
    }

    /// Faberi et al.: 21.9 weeks of life at 20 C against 54.4 at 12 C, 2.5 times the death within a tenth.
    #[test]
    fn warmth_shortens_their_life() {
        let ageing = |soil_c: f64| SlugDay::of(&field_slug(), &SlugWeather { soil_c, ..weather(9.0, 9.0) }, 1.0).ageing;
        same(ageing(12.0), 1.0);
        near(ageing(20.0) / (54.4 / 21.9), 1.0, 0.1);
    }

    /// Hard frost kills by its degrees, under snow none.
    #[test]
    fn frost_kills_where_no_snow_lies() {
        let params = SlugParams { frost_kill: 0.02, ..field_slug() };
        let hard = SlugWeather { frost_degrees: 5.0, frozen: true, ..weather(-9.0, -1.0) };
        same(SlugDay::of(&params, &hard, 0.5).frost, -libm::expm1(-0.05));
        assert_eq!(SlugDay::of(&params, &SlugWeather { snow: true, ..hard }, 0.5).frost, 0.0);
    }

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
