//! Gut worms in the birds: infection follows uptake and fades; a background never goes away.
//!
//! # Formulas
//!
//! ```text
//! target    = worm_background + 2u / (u + worm_half_uptake)                  u: infective eggs taken up per bird-day
//! infection += (target − infection) · (1 − 2^(−1/worm_half_life))            a day; an ordinary flock is about 1
//! ```
//!
//! # Source
//!
//! Form ours, calibrated; half-life from memory.
//!
//! # Limits
//!
//! A relative index of a party, not worms in a bird: it diagnoses nothing and prescribes nothing. No immunity, no season, no
//! treatment.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  worm_half_life [d], worm_half_uptake [1/bird-day], worm_background [-]
//! ```

use crate::species::ProcessParams;

/// How much of the way to its target an infection goes in a day.
#[must_use]
pub fn follow(p: &ProcessParams) -> f64 {
    1.0 - libm::exp(-core::f64::consts::LN_2 / p.worm_half_life)
}

/// A day of infection: goes by [`follow`] towards 2u/(u + half) plus the background; `uptake` is
/// infective eggs taken per bird-day.
#[must_use]
pub fn next(infection: f64, uptake: f64, follow: f64, p: &ProcessParams) -> f64 {
    let driven = 2.0 * uptake / (uptake + p.worm_half_uptake);
    infection + (p.worm_background + driven - infection) * follow
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{ample, near, same};

    fn worms() -> ProcessParams {
        ProcessParams { worm_half_life: 60.0, worm_half_uptake: 3.0, worm_background: 0.02, ..ample(60.0) }
    }

    fn after(days: usize, start: f64, uptake: f64) -> f64 {
        let p = worms();
        (0..days).fold(start, |infection, _| next(infection, uptake, follow(&p), &p))
    }

    /// On clean ground half of what is above the background is gone after 60 days, three quarters after 120.
    #[test]
    fn infection_fades_by_its_half_life() {
        near(after(60, 1.02, 0.0), 0.52, 1e-12);
        near(after(15, 1.02, 0.0), 0.02 + libm::pow(0.5, 0.25), 1e-12);
        near(after(120, 1.02, 0.0), 0.27, 1e-12);
        near(after(5000, 1.02, 0.0), 0.02, 1e-9);
        near(after(5000, 0.0, 0.0), 0.02, 1e-9);
    }

    /// Uptake drives it to half of the most, 1 of 2, at `worm_half_uptake`, and never beyond 2 and the background.
    #[test]
    fn infection_saturates_with_uptake() {
        near(after(5000, 0.0, 3.0), 1.02, 1e-9);
        near(after(5000, 0.0, 9.0), 1.52, 1e-9);
        assert!(after(5000, 0.0, 1e9) < 2.02);
        same(next(0.4, 3.0, 0.25, &worms()), 0.4 + (1.02 - 0.4) * 0.25);
    }
}
