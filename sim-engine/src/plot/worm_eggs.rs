//! Gut-worm eggs on the ground: shed, ripening, infective, decaying, taken up.
//!
//! # Formulas
//!
//! ```text
//! boxes      : four to ripe; of each `rate` = 4/days to ripe · step moves on, `keep` of the rest and of these lives
//! days to ripe = exp(worm_ripen_intercept − worm_ripen_slope · T)                  d at T °C in the soil
//! keep       = exp(−worm_decay · worm_q10^((T − 5)/10) · step)                     share a step
//! taken up   = infective · (1 − exp(−searched))                                    searched m² per m²
//! ```
//!
//! Rate and keep come with the day (`drivers.rs`).
//!
//! # Source
//!
//! Ripening: log-linear fit of our own to a laboratory series of Heterakis gallinarum at 15–30 °C (abstract read through an
//! aggregator; 56, 18, 12, 6 days), in line with Tarbiat et al. 2015 on Ascaridia galli. Death: Thapa et al. 2017, about
//! 90 % lost in 23 weeks of summer and 38 of winter.
//!
//! # Limits
//!
//! Eggs are counted per m², relative to `worm_shed`, what an ordinary flock sheds in a bird-day: an index that diagnoses
//! nothing and prescribes nothing. No drought, no sun, no earthworms that carry eggs. Eggs shed in a step do not die in it.
//!
//! # Parameters
//!
//! ```text
//! by the day (drivers.rs): worm_ripen_intercept [-], worm_ripen_slope [1/C], worm_decay [1/d], worm_q10 [-]
//! by the birds (birds_day.rs): worm_shed [1/bird-day], worm_uptake [m2/bird-day]
//! ```

use crate::simd::Real;
use crate::state::BOXES;

/// One step of a patch of ground: eggs shed per m², rates per step. Returns nothing;
/// uptake by birds is booked by [`uptake`].
#[inline(always)]
pub fn advance<F: Real>(ripening: &mut [F; BOXES], infective: &mut F, shed: F, rate: F, keep: F) {
    let mut arriving = shed;
    for eggs in ripening.iter_mut() {
        let leaving = *eggs * rate;
        *eggs = (*eggs - leaving) * keep + arriving;
        arriving = leaving * keep;
    }
    *infective = *infective * keep + arriving;
}

/// Eggs per m² taken up by birds searching `area` (m² per m²).
#[inline(always)]
pub fn uptake<F: Real>(infective: &mut F, area: F) -> F {
    let eaten = *infective * area.hazard_to_prob();
    *infective -= eaten;
    eaten
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{hazard_to_prob, near, same};

    /// By the two numbers of the fit.
    fn days_to_ripen(temperature_c: f64) -> f64 {
        crate::math::exp(5.995_906 - 0.142_124_8 * temperature_c)
    }

    #[test]
    fn ripening_meets_the_log_linear_fit() {
        // d = exp(5.995906 − 0.1421248 T) at 15, 20, 25, 30 C; the series it was fitted to has 56, 18, 12 and 6 days.
        for (t, want) in [(15.0, 47.7), (20.0, 23.4), (25.0, 11.5), (30.0, 5.65)] {
            let got = days_to_ripen(t);
            assert!((got - want).abs() < 0.06, "{t}: {got}");
        }
    }

    #[test]
    fn eggs_are_kept_in_number_without_decay() {
        let (mut boxes, mut infective) = ([0.0; BOXES], 0.0);
        for day in 0..50 {
            advance(&mut boxes, &mut infective, if day < 10 { 1.0 } else { 0.0 }, 0.2, 1.0);
        }
        assert!((boxes.iter().sum::<f64>() + infective - 10.0).abs() < 1e-12);
    }

    /// Days from shedding to infective at 20 C, 23.4 by the fit, are the mean stay in four boxes at a rate of 4/days.
    #[test]
    fn eggs_ripen_in_the_days_of_the_fit() {
        let days = days_to_ripen(20.0);
        let (mut boxes, mut infective, mut waited) = ([0.0; BOXES], 0.0, 0.0);
        advance(&mut boxes, &mut infective, 1.0, 4.0 / days, 1.0);
        for _ in 0..2000 {
            waited += 1.0 - infective;
            advance(&mut boxes, &mut infective, 0.0, 4.0 / days, 1.0);
        }
        near(waited, days, 1e-6);
    }

    /// Thapa et al. 2017: nine of ten are dead after 161 days at 0.0143 a day, ripe or not.
    #[test]
    fn eggs_die_ripe_or_not() {
        let keep = 1.0 - hazard_to_prob(0.0143);
        for rate in [0.0, 0.2, 1.0] {
            let (mut boxes, mut infective) = ([1.0; BOXES], 6.0);
            for _ in 0..161 {
                advance(&mut boxes, &mut infective, 0.0, rate, keep);
            }
            near(boxes.iter().sum::<f64>() + infective, 1.0, 5e-3);
        }
        // Those shed today are counted whole; the rest of the step's death is of what lay there.
        let (mut boxes, mut infective) = ([10.0, 0.0, 0.0, 4.0], 5.0);
        advance(&mut boxes, &mut infective, 3.0, 0.5, 0.9);
        assert_eq!(boxes, [7.5, 4.5, 0.0, 1.8]);
        same(infective, 4.5 + 1.8);
    }

    /// Birds find 1 − exp(−searched) of the infective eggs.
    #[test]
    fn birds_take_up_what_they_search() {
        let mut infective = 20.0;
        let eaten = uptake(&mut infective, 0.15);
        same(eaten, 20.0 * hazard_to_prob(0.15));
        same(infective, 20.0 - eaten);
    }
}
