//! Gut-worm eggs on the ground: shed, ripening, infective, decaying, taken up.
//!
//! Ripening time follows ln days = a − b·T (log-linear fit to Tarbiat et al. 2015 and a
//! Heterakis series; facts topic 12). A relative index; it diagnoses nothing.

use crate::lanes::Real;
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
    let eaten = *infective * area.lost();
    *infective -= eaten;
    eaten
}

/// Days to ripen at a temperature, from the two numbers of the fit.
#[must_use]
pub fn days_to_ripen(intercept: f64, slope: f64, temperature_c: f64) -> f64 {
    crate::math::exp(intercept - slope * temperature_c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ripening_meets_the_log_linear_fit() {
        // Facts topic 12: d = exp(5.995906 − 0.1421248 T) at 15, 20, 25, 30 C.
        for (t, want) in [(15.0, 47.7), (20.0, 23.4), (25.0, 11.5), (30.0, 5.65)] {
            let got = days_to_ripen(5.995_906, 0.142_124_8, t);
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
}
