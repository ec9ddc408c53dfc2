//! What a pest's step reads of its day: its numbers, the soil's warmth, its hosts, the birds.
//!
//! # Formulas
//!
//! ```text
//! reach today = reach at depth_active where the soil is warmer than down_below, else at depth
//! ```
//!
//! # Source
//!
//! Grubs go down in soil colder than 15.5 C (Illinois extension), leatherjackets are near the surface above 5 C.
//!
//! # Limits
//!
//! A pest that moves is at the one depth or at the other, by the soil temperature at 5 cm under cover; drought drives
//! none down.
//!
//! # Parameters
//!
//! ```text
//! PestParams  down_below [C]
//! ```

use super::depth::Reach;
use crate::plot::constants::PestStep;
use crate::simd::Real;
use crate::species::PestParams;

/// Search of birds for one pest in one zone, area per area.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Search<F = f64> {
    /// In the layer they scratch, this step.
    pub soil: F,
    /// For adults leaving the soil, whole day: who crosses meets the day's birds, whatever the step.
    pub emerging_day: F,
    /// For larvae dropping, whole day.
    pub dropping_day: F,
    /// Share of the fallen fruit they eat this step.
    pub fruit: F,
}

/// What a pest's step reads besides its state.
#[derive(Clone, Copy, Debug)]
pub struct PestDay<'a, F: Real = f64> {
    /// Its numbers.
    pub params: &'a PestParams<F>,
    /// What of them is resolved for a step.
    pub of_step: &'a PestStep<F>,
    /// Share of it that lies in the layer birds scratch here.
    pub reach: Reach<F>,
    /// Soil temperature, C.
    pub soil_c: F,
    /// How birds search for it.
    pub search: Search<F>,
    /// Degree-days of the step on this ground; 0 outside the season.
    pub degree_days: F,
    /// Days since the winter solstice.
    pub since_solstice: f64,
    /// A host stands here.
    pub host: F::Mask,
    /// Adults per m² over all host zones, at the start of the step.
    pub mean_adults: F,
    /// Adults round about, against 'few' = 1, times the plot's edge per area, 1/m.
    pub neighbours: F,
    /// Share of the ground its hosts have.
    pub host_share: F,
    /// Share of the zone birds can reach.
    pub exposed: F,
    /// Share of the zone that is under no net.
    pub open: F,
}

impl<F: Real> PestDay<'_, F> {
    /// Share within the layer that birds scratch, of what enters the soil or moves in it today.
    #[inline(always)]
    pub(super) fn reach_today(&self) -> F {
        F::select(self.soil_c.gt(self.params.down_below), self.reach.active, self.reach.resting)
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{day, undying};
    use super::*;
    use crate::testing::same;

    /// Above `down_below` they are up, at it and below they are down.
    #[test]
    fn warm_soil_brings_pests_up() {
        let params = PestParams { down_below: 15.5, ..undying() };
        let of_step = PestStep::new(&params, 1.0);
        let reach = Reach { resting: 0.1, active: 0.6 };
        for (soil_c, share) in [(15.4, 0.1), (15.5, 0.1), (15.6, 0.6)] {
            same(PestDay { soil_c, reach, ..day(&params, &of_step) }.reach_today(), share);
        }
    }
}
