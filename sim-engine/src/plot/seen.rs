//! What is seen of a whole plot at the end of a step.

use crate::lanes::Real;
use crate::plot::look::Surroundings;
use crate::plot::water::wetness;
use crate::state::Zone;

/// Sums over the zones of a plot, then means by area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen<F = f64> {
    /// Ground cover outside the beds (of the beds where there is nothing else), 0 to 1.
    pub cover: F,
    /// Cover of weeds as a keeper judges it, 0 to 1.
    pub weeds: F,
    /// How far above field capacity the ground is, 0 to 1 at saturation.
    pub wetness: F,
}

impl<F: Real> Seen<F> {
    /// Before any zone was looked at.
    #[inline(always)]
    #[must_use]
    pub fn nothing(zero: F) -> Self {
        Self { cover: zero, weeds: zero, wetness: zero }
    }

    /// Adds a zone.
    #[inline(always)]
    pub fn add(&mut self, zone: &Zone<F>, around: &Surroundings<F>) {
        let here = around.here;
        if here.seen {
            self.cover += here.area_m2 * zone.seen_cover;
        }
        let mass = zone.seen_weeds + zone.seen_shoots;
        self.weeds += here.area_m2 * (around.process.weed_visible * mass).lost();
        self.wetness += here.area_m2 * wetness(zone, here);
    }

    /// The means of a plot of `area_m2`, of which the cover of `seen_area_m2` counts.
    #[inline(always)]
    #[must_use]
    pub fn means(&self, area_m2: F, seen_area_m2: F) -> Self {
        Self { cover: self.cover / seen_area_m2, weeds: self.weeds / area_m2, wetness: self.wetness / area_m2 }
    }
}
