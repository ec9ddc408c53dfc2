//! Gut-worm eggs on the ground: shed, ripening, infective, decaying, taken up.
//!
//! # Formulas
//!
//! ```text
//! two pools  : worm_hardy_share of what is shed is hardy, the rest frail
//! boxes      : four to ripe; of each `rate` = 4/days to ripe · step moves on, `keep` of the rest and of these lives
//! days to ripe = exp(worm_ripen_intercept − worm_ripen_slope · T)                  d at T °C in the soil; none ripen below
//!                                                                                  worm_ripen_above
//! keep       = exp(−worm_decay · worm_q10^((T − 15)/10) · step) frail, exp(−worm_hardy_decay · step) hardy   share a step
//! taken up   = infective · (1 − exp(−searched))                                    searched m² per m², of both pools
//! ```
//!
//! Rate and keep come with the day (`drivers.rs`).
//!
//! # Source
//!
//! Ripening: log-linear fit of our own to a laboratory series of Heterakis gallinarum at 15–30 °C (abstract read through an
//! aggregator; 56, 18, 12, 6 days), in line with Tarbiat et al. 2015 on Ascaridia galli; none at 2.5–8 °C: J. Exp. Med. 34:259
//! (1921). Death: Thapa et al. 2017, about 90 % lost in 23 weeks from spring and in 38 over winter; of the same trial the hardy
//! pool. That there are two: form ours.
//!
//! # Limits
//!
//! Eggs are counted per m², relative to `worm_shed`, what an ordinary flock sheds in a bird-day: an index that diagnoses
//! nothing and prescribes nothing. No drought, no sun, no earthworms that carry eggs. Eggs shed in a step do not die in it.
//! Eggs that lie there at the start are as many hardy as those shed, whatever their age.
//!
//! # Parameters
//!
//! ```text
//! by the day (drivers.rs): worm_ripen_intercept [-], worm_ripen_slope [1/C], worm_ripen_above [C], worm_decay [1/d],
//!                          worm_q10 [-], worm_hardy_decay [1/d]
//! by the step and by the birds (step.rs, birds_day.rs): worm_hardy_share [-], worm_shed [1/bird-day],
//!                          worm_uptake [m2/bird-day]
//! ```

use crate::simd::Real;
use crate::state::{EggPool, WormEggs};

/// One step of a patch of ground: eggs shed per m², of which a share is hardy; rate per step, shares kept of the frail and of
/// the hardy.
#[inline(always)]
pub fn advance<F: Real>(eggs: &mut WormEggs<F>, shed: F, hardy_share: F, rate: F, keep: [F; 2]) {
    ripen(&mut eggs.frail, shed * hardy_share.one_minus(), rate, keep[0]);
    ripen(&mut eggs.hardy, shed * hardy_share, rate, keep[1]);
}

#[inline(always)]
fn ripen<F: Real>(pool: &mut EggPool<F>, shed: F, rate: F, keep: F) {
    let mut arriving = shed;
    for eggs in &mut pool.ripening {
        let leaving = *eggs * rate;
        *eggs = (*eggs - leaving) * keep + arriving;
        arriving = leaving * keep;
    }
    pool.infective = pool.infective * keep + arriving;
}

/// Eggs per m² taken up by birds searching `area` (m² per m²).
#[inline(always)]
pub fn uptake<F: Real>(eggs: &mut WormEggs<F>, area: F) -> F {
    let found = area.hazard_to_prob();
    let mut eaten = found.zero();
    for pool in [&mut eggs.frail, &mut eggs.hardy] {
        let taken = pool.infective * found;
        pool.infective -= taken;
        eaten += taken;
    }
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

    fn all(eggs: &WormEggs) -> f64 {
        eggs.ripening() + eggs.infective()
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
        let mut eggs = WormEggs::default();
        for day in 0..50 {
            advance(&mut eggs, if day < 10 { 1.0 } else { 0.0 }, 0.06, 0.2, [1.0; 2]);
        }
        near(all(&eggs), 10.0, 1e-12);
        near(all(&WormEggs { frail: EggPool::default(), ..eggs }), 0.6, 1e-12);
    }

    /// Days from shedding to infective at 20 C, 23.4 by the fit, are the mean stay in four boxes at a rate of 4/days.
    #[test]
    fn eggs_ripen_in_the_days_of_the_fit() {
        let days = days_to_ripen(20.0);
        let (mut eggs, mut waited) = (WormEggs::default(), 0.0);
        advance(&mut eggs, 1.0, 0.06, 4.0 / days, [1.0; 2]);
        for _ in 0..2000 {
            waited += 1.0 - eggs.infective();
            advance(&mut eggs, 0.0, 0.06, 4.0 / days, [1.0; 2]);
        }
        near(waited, days, 1e-6);
    }

    /// Thapa et al. 2017: nine of ten are dead after 161 days from spring, near 15 C, and after 266 over winter, near 5 C, ripe
    /// or not.
    #[test]
    fn eggs_die_ripe_or_not() {
        for (days, degrees) in [(161, 0.0), (266, -10.0)] {
            let hazards = [0.018 * libm::pow(1.65, degrees / 10.0), 0.0012];
            for rate in [0.0, 0.2, 1.0] {
                let mut eggs = WormEggs::lying(6.0, 0.06);
                advance(&mut eggs, 4.0, 0.06, 0.0, [1.0; 2]);
                for _ in 0..days {
                    advance(&mut eggs, 0.0, 0.06, rate, hazards.map(|hazard| 1.0 - hazard_to_prob(hazard)));
                }
                near(all(&eggs), 1.0, 0.05);
            }
        }
        // Those shed today are counted whole; the rest of the step's death is of what lay there.
        let mut eggs =
            WormEggs { frail: EggPool { ripening: [10.0, 0.0, 0.0, 4.0], infective: 5.0 }, ..WormEggs::default() };
        advance(&mut eggs, 3.0, 0.0, 0.5, [0.9, 1.0]);
        assert_eq!(eggs.frail.ripening, [7.5, 4.5, 0.0, 1.8]);
        same(eggs.infective(), 4.5 + 1.8);
    }

    /// Birds find 1 − exp(−searched) of the infective eggs, of both pools.
    #[test]
    fn birds_take_up_what_they_search() {
        let mut eggs = WormEggs::lying(20.0, 0.25);
        let eaten = uptake(&mut eggs, 0.15);
        same(eaten, 20.0 * hazard_to_prob(0.15));
        same(eggs.infective(), 20.0 - eaten);
        same(eggs.hardy.infective, 0.25 * (20.0 - eaten));
    }
}
