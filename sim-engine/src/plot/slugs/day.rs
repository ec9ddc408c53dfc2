//! A day as slugs and snails feel it: how mild its night is, how warm the soil of their eggs, what frost kills.
//!
//! # Formulas
//!
//! ```text
//! night    = tmin + (tmax − tmin) / 3                                                   C
//! warmth   = beta response of the night at base, best and ceiling temperature, 0 under lying snow and on frozen ground
//! hatching = max(0, soil temperature − hatch_base)                                      C d a day
//! ageing   = 2^((soil temperature − 12) / ageing_doubles)                               of the death of active ones, 12 C = 1
//! frost    = 1 − exp(−frost_kill · degrees below −4 C · step), none under lying snow      share
//! ```
//!
//! # Source
//!
//! Out at night from 4 to 21 C, best at about 16 C, in humid air: Oregon State University's pages on slugs. *Arion* feeds from 6
//! to 25 C: Honek & Martinkova 2007, Malacologia 49:273. *Deroceras laeve* lives 21.9 weeks at 20 C and 54.4 at 12 C: Faberi et
//! al. Eggs hatch in 16.3 days at 20 C and 39.8 at 12 C: Clemente et al. 2008 (base and sum worked out from the two points).
//!
//! # Limits
//!
//! Wind, floods and the moon keep nobody in.
//!
//! # Parameters
//!
//! ```text
//! SlugParams  base_temperature [C], best_temperature [C], ceiling_temperature [C], hatch_base [C], ageing_doubles [C],
//!              frost_kill [1/(C d)]
//! ```

use crate::math::{beta_response, exp, hazard_to_prob};
use crate::simd::soa::soa;
use crate::species::SlugParams;

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

#[cfg(test)]
mod tests {
    use super::super::tests::field_slug;
    use super::*;
    use crate::testing::{near, same};

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
}
