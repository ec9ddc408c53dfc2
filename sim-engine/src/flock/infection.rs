//! Gut worms in the birds: infection follows uptake and fades; a background never goes away.

use crate::kinds::ProcessNumbers;

/// How much of the way to its target an infection goes in a day.
#[must_use]
pub fn follow(p: &ProcessNumbers) -> f64 {
    1.0 - libm::exp(-core::f64::consts::LN_2 / p.worm_half_life)
}

/// A day of infection: goes by [`follow`] towards 2u/(u + half) plus the background; `uptake` is
/// infective eggs taken per bird-day.
#[must_use]
pub fn next(infection: f64, uptake: f64, follow: f64, p: &ProcessNumbers) -> f64 {
    let driven = 2.0 * uptake / (uptake + p.worm_half_uptake);
    infection + (p.worm_background + driven - infection) * follow
}
