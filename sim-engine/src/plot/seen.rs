//! What is seen of a whole plot: after a step, and after an event worked there.

use crate::lanes::laned::laned;
use crate::lanes::{Mask, Real};
use crate::plot::plan::ZonePlan;
use crate::plot::water::wetness;
use crate::state::Zone;

/// 1 g in kg.
const KG_PER_G: f64 = 1e-3;

/// Means over the zones of a plot by area, gathered zone by zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Seen<F = f64> {
    /// Ground cover outside the beds (of the beds where there is nothing else), 0 to 1.
    pub cover: F,
    /// Cover of weeds as a keeper judges it, 0 to 1.
    pub weeds: F,
    /// How far above field capacity the ground is, 0 to 1 at saturation.
    pub wetness: F,
    /// Green that draws birds: ground cover and annual weeds, g/m².
    pub green: F,
    /// Infective worm eggs, per m².
    pub worms: F,
    /// Standing residue of crops on the whole plot, kg DM.
    pub residue_kg: F,
}

laned! { Seen { cover, weeds, wetness, green, worms, residue_kg } }

impl<F: Real> Seen<F> {
    /// Before any zone was looked at.
    #[inline(always)]
    #[must_use]
    pub fn nothing(zero: F) -> Self {
        Self { cover: zero, weeds: zero, wetness: zero, green: zero, worms: zero, residue_kg: zero }
    }

    /// Adds a zone; `weed_visible` is the weeds' cover per mass, m²/g.
    #[inline(always)]
    pub fn add(&mut self, zone: &Zone<F>, here: &ZonePlan<F>, weed_visible: F) {
        if here.seen {
            self.cover += here.seen_share * zone.seen_cover;
        }
        let weeds = zone.seen_weeds + zone.seen_shoots;
        if weeds.above(0.0).any() {
            self.weeds += here.share * (weed_visible * weeds).lost();
        }
        self.wetness += here.share * wetness(zone, here);
        self.green += here.share * (zone.cover + zone.seen_weeds);
        self.worms += here.share * zone.worms;
        self.residue_kg += zone.residue * here.area_m2 * KG_PER_G;
    }
}
