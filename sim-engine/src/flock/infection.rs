//! Gut worms in the birds: infection follows uptake and fades; a background never goes away.

use crate::kinds::ProcessNumbers;

/// A day of infection: relaxes towards 2u/(u + half) plus the background, with the given
/// half-life; `uptake` is infective eggs taken per bird-day.
#[must_use]
pub fn next(infection: f64, uptake: f64, p: &ProcessNumbers) -> f64 {
    let driven = 2.0 * uptake / (uptake + p.worm_half_uptake);
    let follow = 1.0 - libm::exp(-core::f64::consts::LN_2 / p.worm_half_life);
    infection + (p.worm_background + driven - infection) * follow
}
