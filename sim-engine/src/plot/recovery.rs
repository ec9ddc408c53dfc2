//! Recovery of bitten sward.
//!
//! # Formulas
//!
//! ```text
//! recovery = rested + Σ x_j (j/4)²,  j = 0 … 3        x_j: shares of the surface by time since the last bite
//! moves on = 4/recovery_days/0.6        of every box a day, per growth factor
//! ```
//!
//! # Source
//!
//! Form ours, calibrated; recovery in three to five weeks of good growth is common practice, no source.
//!
//! # Limits
//!
//! Kept as shares of the surface and not as a mean reserve: a mean cannot tell two bites on one tiller from
//! one bite on two. All shares recover alike, whatever was left of them.
//!
//! # Parameters
//!
//! ```text
//! CoverParams  recovery_days [d]
//! ```

use crate::simd::Real;
use crate::state::BOXES;

/// Growth (against the best) at which bitten sward recovers in `recovery_days` (calibrated).
pub const GOOD_GROWTH: f64 = 0.6;

/// Share of a box that moves on in a day, per growth factor, for sward that recovers in this
/// many days of good growth.
#[must_use]
pub fn recovery_per_growth(recovery_days: f64) -> f64 {
    BOXES as f64 / recovery_days / GOOD_GROWTH
}

/// How far a sward has recovered: rested share plus boxes weighted by (j/4)².
#[inline(always)]
#[must_use]
pub fn recovery<F: Real>(bitten: &[F; 4], rested: F) -> F {
    rested + (bitten[1] + bitten[2] * 4.0 + bitten[3] * 9.0) * (1.0 / 16.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::same;

    /// Box j of four counts (j/4)²: 0, 1/16, 1/4, 9/16; what is rested counts whole.
    #[test]
    fn recovery_rises_with_the_square_of_time_since_the_bite() {
        for (j, want) in [0.0, 0.0625, 0.25, 0.5625].into_iter().enumerate() {
            let mut bitten = [0.0; 4];
            bitten[j] = 1.0;
            same(recovery(&bitten, 0.0), want);
        }
        same(recovery(&[0.0; 4], 1.0), 1.0);
        same(recovery(&[0.2; 4], 0.2), 0.2 * 1.875);
    }
}
