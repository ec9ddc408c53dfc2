//! How deep pests lie in the soil: the share of them within the layer that birds scratch.
//!
//! # Formulas
//!
//! ```text
//! reach = in_soil · Φ(ln(scratched layer / depth) / depth_spread)     share; by depth_active likewise
//! ```
//!
//! Φ is the normal distribution, depths in cm are lognormal: `depth` is their median, `depth_spread` the standard
//! deviation of ln(depth). The scratched layer is `scratch_depth_turf` in the sward, `scratch_depth_bed` in a bed.
//!
//! # Source
//!
//! Puparia and cocoons stay where they came to rest: taking off the top 2.5 cm of soil left emergence of the western cherry
//! fruit fly as it was, the top 15 cm took 99 % of it (AliNiazee 1974). The lognormal form is ours.
//!
//! # Limits
//!
//! The layer is as deep everywhere in a ground: no dust baths.
//!
//! # Parameters
//!
//! ```text
//! PestParams     depth [cm], depth_spread [-], depth_active [cm], in_soil [-]
//! ProcessParams  scratch_depth_turf [cm], scratch_depth_bed [cm]
//! ```

use crate::math::normal_cdf;
use crate::simd::soa::soa;
use crate::species::{PestParams, ProcessParams};

/// Share of a pest within the layer that birds scratch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reach<F = f64> {
    /// At its resting depth.
    pub resting: F,
    /// At the depth it comes up to in warm soil.
    pub active: F,
}

soa! { Reach { resting, active } }

impl Reach {
    /// That of a pest in a layer of so many cm.
    #[must_use]
    pub fn within(params: &PestParams, layer_cm: f64) -> Self {
        let share = |depth: f64| params.in_soil * normal_cdf(libm::log(layer_cm / depth) / params.depth_spread);
        Self { resting: share(params.depth), active: share(params.depth_active) }
    }

    /// That in the sward and that in a bed.
    #[must_use]
    pub fn by_ground(params: &PestParams, process: &ProcessParams) -> [Self; 2] {
        [process.scratch_depth_turf, process.scratch_depth_bed].map(|layer_cm| Self::within(params, layer_cm))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{near, sawfly};

    /// Half lies above the median; one spread of ln(depth) above it 0.158655, below it 0.841345.
    #[test]
    fn the_share_within_reach_is_that_of_a_lognormal_depth() {
        let params = PestParams { depth: 4.0, depth_spread: 0.5, depth_active: 2.0, ..sawfly() };
        let of = |layer_cm: f64| Reach::within(&params, layer_cm);
        for (spreads, want) in [(-1.0, 0.158_655), (0.0, 0.5), (1.0, 0.841_345)] {
            near(of(4.0 * libm::exp(0.5 * spreads)).resting, want, 1e-6);
            near(of(2.0 * libm::exp(0.5 * spreads)).active, want, 1e-6);
        }
        let part = PestParams { in_soil: 0.06, ..params.clone() };
        near(Reach::within(&part, 4.0).resting, 0.03, 1e-9);
    }

    /// AliNiazee 1974: puparia lie at 2.5 to 10 cm (here 5 and 95 in 100), next to none above 2.5 cm nor below 15 cm.
    #[test]
    fn puparia_of_the_western_cherry_fly_lie_below_what_is_scratched_in_turf() {
        let spread = libm::log(2.0) / 1.645;
        let params = PestParams { depth: 5.0, depth_spread: spread, ..sawfly() };
        let above = |layer_cm: f64| Reach::within(&params, layer_cm).resting;
        near(above(2.5), 0.05, 1e-3);
        near(above(10.0), 0.95, 1e-3);
        assert!(above(2.0) < 0.02 && above(15.0) > 0.99);
    }
}
