//! What is seen of a whole plot: after a step, and after an event worked there.
//!
//! # Formulas
//!
//! ```text
//! cover    = Σ share of what is seen · cover of the zone              0 to 1, the sward (the beds where there is no other)
//! barest   = least over its rings of the cover of a ring              0 to 1
//! weeds    = Σ share · (1 − exp(−weed_visible · weed and shoot mass))  0 to 1
//! wetness, green, worms = Σ share · that of the zone                  0 to 1; g/m²; per m², relative to `worm_shed`
//! residue  = Σ residue · area                                         kg
//! ```
//!
//! # Source
//!
//! Means by area. Weeds judged by eye: the form of cover of leaves (`context.rs`), its number from memory.
//!
//! # Limits
//!
//! A keeper's eye without error. A ring is at least a quarter of the plot: less than that is not seen by itself. Green counts cover and annual weeds, not crops or creeping weeds.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  weed_visible [m2/g]
//! ```

use crate::plot::constants::ZoneConstants;
use crate::plot::water::wetness;
use crate::simd::soa::soa;
use crate::simd::{Mask, Real};
use crate::state::Zone;
use crate::units::KG_PER_G;

/// Means over the zones of a plot by area, gathered zone by zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlotCondition<F = f64> {
    /// Ground cover outside the beds (of the beds where there is nothing else), 0 to 1.
    pub cover: F,
    /// The same of its barest ring, which is what a keeper judges a plot by.
    pub barest: F,
    /// Of the ring that is being gathered.
    ring: F,
    /// Cover of weeds as a keeper judges it, 0 to 1.
    pub weeds: F,
    /// How far above field capacity the ground is, 0 to 1 at saturation.
    pub wetness: F,
    /// Green that draws birds: ground cover and annual weeds, g/m².
    pub green: F,
    /// Infective worm eggs, per m², relative to `worm_shed`.
    pub worms: F,
    /// Standing residue of crops on the whole plot, kg DM.
    pub residue_kg: F,
}

soa! { PlotCondition { cover, barest, ring, weeds, wetness, green, worms, residue_kg } }

impl<F: Real> PlotCondition<F> {
    /// Before any zone was looked at.
    #[inline(always)]
    #[must_use]
    pub fn nothing(zero: F) -> Self {
        Self {
            cover: zero,
            barest: zero.splat(1.0),
            ring: zero,
            weeds: zero,
            wetness: zero,
            green: zero,
            worms: zero,
            residue_kg: zero,
        }
    }

    /// Adds a zone; `weed_visible` is the weeds' cover per mass, m²/g.
    #[inline(always)]
    pub fn add(&mut self, zone: &Zone<F>, here: &ZoneConstants<F>, weed_visible: F) {
        if here.seen {
            self.cover += here.seen_share * zone.seen_cover;
            self.ring += here.ring_share * zone.seen_cover;
        }
        if here.ends_ring {
            self.barest = self.barest.min(self.ring);
            self.ring = self.ring.zero();
        }
        if (zone.seen_weed_mass + zone.seen_shoot_mass).above(0.0).any() {
            self.weeds += here.share * weed_cover(zone, weed_visible);
        }
        self.wetness += here.share * wetness(zone, here);
        self.green += here.share * (zone.cover_mass + zone.seen_weed_mass);
        self.worms += here.share * zone.worms.infective();
        self.residue_kg += zone.residue * here.area_m2 * KG_PER_G;
    }

    /// Copies what one run sees; worm eggs and residue only where they are asked for.
    #[inline(always)]
    pub fn show(&self, lane: usize, seen: &mut PlotCondition, worms: bool, residue: bool) {
        // Every field is named: one that is left out would be that of an earlier day.
        let PlotCondition { cover, barest, ring: _, weeds, wetness, green, worms: eggs, residue_kg } = seen;
        *cover = self.cover.lane(lane);
        *barest = self.barest.lane(lane);
        *weeds = self.weeds.lane(lane);
        *wetness = self.wetness.lane(lane);
        *green = self.green.lane(lane);
        if worms {
            *eggs = self.worms.lane(lane);
        }
        if residue {
            *residue_kg = self.residue_kg.lane(lane);
        }
    }
}

/// Cover of weeds and their shoots as a keeper judges it, 0 to 1.
#[inline(always)]
#[must_use]
pub fn weed_cover<F: Real>(zone: &Zone<F>, weed_visible: F) -> F {
    (weed_visible * (zone.seen_weed_mass + zone.seen_shoot_mass)).hazard_to_prob()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::constants::SiteConstants;
    use crate::state::WormEggs;
    use crate::testing::{BED, Garden, SWARD, hazard_to_prob, same, two_plots};

    /// Sward of three quarters and a bed of one, 100 m² in all.
    fn condition_of(sward: Zone, bed: Zone) -> PlotCondition {
        let garden = Garden::new();
        let mut condition = PlotCondition::nothing(0.0);
        for (ground, zone) in [(SWARD, sward), (BED, bed)] {
            condition.add(&zone, &garden.constants.zones[ground], 0.018);
        }
        condition
    }

    /// Cover is that of the sward, residue all there is in kg; the rest are means by area.
    #[test]
    fn a_plot_is_seen_by_area() {
        let field_capacity = 78.0;
        let sward = Zone {
            seen_cover: 0.8,
            seen_weed_mass: 20.0,
            seen_shoot_mass: 10.0,
            cover_mass: 100.0,
            worms: WormEggs::lying(8.0, 0.25),
            water: field_capacity + 22.5,
            residue: 40.0,
            ..Zone::default()
        };
        let bed = Zone {
            seen_cover: 0.2,
            seen_weed_mass: 60.0,
            worms: WormEggs::lying(4.0, 0.5),
            residue: 200.0,
            ..Zone::default()
        };
        let condition = condition_of(sward, bed);
        same(condition.cover, 0.8);
        same(condition.barest, 0.8);
        same(condition.weeds, 0.75 * hazard_to_prob(0.018 * 30.0) + 0.25 * hazard_to_prob(0.018 * 60.0));
        same(condition.wetness, 0.75 * 0.5);
        same(condition.green, 0.75 * 120.0 + 0.25 * 60.0);
        same(condition.worms, 7.0);
        same(condition.residue_kg, (75.0 * 40.0 + 25.0 * 200.0) / 1000.0);
    }

    /// Of two rings the barer one is what the plot is judged by; a bed in it is not.
    /// Nothing but the ring that is gathered stays as it was seen before.
    #[test]
    fn all_that_is_seen_is_shown() {
        let today = PlotCondition {
            cover: 0.1,
            barest: 0.2,
            ring: 0.0,
            weeds: 0.3,
            wetness: 0.4,
            green: 0.5,
            worms: 0.6,
            residue_kg: 0.7,
        };
        let mut seen = PlotCondition::nothing(0.0);
        today.show(0, &mut seen, true, true);
        assert_eq!(seen, today);
        today.show(0, &mut seen, false, false);
        assert_eq!(seen, today);
    }

    #[test]
    fn a_plot_is_judged_by_its_barest_ring() {
        let site = two_plots(1);
        let constants = SiteConstants::new(&site);
        let mut condition = PlotCondition::nothing(0.0);
        for (zone, seen_cover) in [0.3, 0.0, 0.9, 1.0].into_iter().enumerate() {
            condition.add(&Zone { seen_cover, ..Zone::default() }, &constants.zones[zone], 0.018);
        }
        same(condition.cover, 0.6);
        same(condition.barest, 0.3);
    }

    #[test]
    fn a_few_weeds_are_seen() {
        let few = Zone { seen_weed_mass: 0.3, seen_shoot_mass: 0.1, ..Zone::default() };
        same(condition_of(few, Zone::default()).weeds, 0.75 * hazard_to_prob(0.018 * 0.4));
    }

    #[test]
    fn nothing_is_seen_of_bare_dry_ground() {
        let nothing = PlotCondition { barest: 0.0, ..PlotCondition::nothing(0.0) };
        assert_eq!(condition_of(Zone::default(), Zone::default()), nothing);
    }
}
