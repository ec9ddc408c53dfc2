//! Constants of a zone: its soil, roots and use, and its place in the lists.
//!
//! # Formulas
//!
//! ```text
//! available water  = 1000 · (field_capacity − wilting_point) · deepest rooting_depth of cover and crops     mm
//! depletion        = least depletion_fraction of cover and crops                                        share
//! drained          = 1 − exp(−drainage_rate · drainage factor of the plot · step)                       share a step
//! slow release     = nitrogen_supply / organic_nitrogen                                                 1/d at 15 C
//! use of a ring    ∝ reach of the ring from where its birds come (flock/foraging.rs), mean 1 over the plot's rings
//! ```
//!
//! # Source
//!
//! Available water and depletion: FAO-56 eq. 82 and Table 22.
//!
//! # Limits
//!
//! Constants hold for a draw: a soil does not grow deeper, a crop's roots reach their depth the day it is planted.
//!
//! # Parameters
//!
//! ```text
//! SoilParams    field_capacity [m3/m3], wilting_point [m3/m3], saturation_room [mm], drainage_rate [1/d],
//!                soft_at_field_capacity [-],
//!                curve_number_good [-], curve_number_bare [-], nitrogen_supply [kg/ha/d], organic_nitrogen [kg/ha]
//! CoverParams   rooting_depth [m], depletion_fraction [-], capacity [g/m2], recovery_days [d]
//! CropParams    rooting_depth [m], depletion_fraction [-]
//! ProcessParams distance_scale [m]
//! ```

use crate::flock::foraging::reach_m;
use crate::plot::recovery::recovery_per_growth;
use crate::simd::soa::soa;
use crate::site::Site;
use core::ops::Range;

/// Constants of a zone.
#[derive(Clone, Debug, PartialEq)]
pub struct ZoneConstants<F = f64> {
    /// Index into `Site::plots`.
    pub plot: usize,
    /// Index into the plot's grounds.
    pub ground: usize,
    /// Bed, not sward.
    pub bed: bool,
    /// m².
    pub area_m2: F,
    /// Its share of the plot.
    pub share: F,
    /// Its share of what of the plot is seen over the gate.
    pub seen_share: F,
    /// Share of what is seen of its ring.
    pub ring_share: F,
    /// Bird-days per m² here against the plot's mean.
    pub use_factor: F,
    /// Water between wilting and field capacity in the root zone, mm.
    pub available_water: F,
    /// Room above field capacity, mm.
    pub saturation_room: F,
    /// 1 over that room, 1/mm.
    pub per_saturation_room: F,
    /// How soft the ground is at field capacity, against saturated = 1.
    pub soft: F,
    /// Share of water above field capacity that drains in a step.
    pub drained: F,
    /// Depletion fraction of the plants here.
    pub depletion: F,
    /// SCS curve number under good cover.
    pub curve_good: F,
    /// SCS curve number bare.
    pub curve_bare: F,
    /// Share rate of slow nitrogen released a day at 15 C.
    pub slow_release: F,
    /// 1 over the plant mass at which weeds and cover stop, m²/g.
    pub per_capacity: F,
    /// Share of a box of bitten sward that moves on in a step, per growth factor.
    pub recovery: F,
    /// Its weeds in the world's list.
    pub weeds: Range<usize>,
    /// Its creeping weeds.
    pub creepers: Range<usize>,
    /// Its pests.
    pub pests: Range<usize>,
    /// Its slugs and snails.
    pub slugs: Range<usize>,
    /// Counts in the cover a keeper sees over the gate: sward, or everything where all is bed.
    pub seen: bool,
    /// The last zone of its ring.
    pub ends_ring: bool,
}

soa! {
    ZoneConstants {
        area_m2, share, seen_share, ring_share, use_factor, available_water, saturation_room, per_saturation_room, soft, drained, depletion,
        curve_good, curve_bare, slow_release, per_capacity, recovery,
    }
    plain {
        plot, ground, bed, weeds, creepers, pests, slugs, seen, ends_ring,
    }
}

impl ZoneConstants {
    /// Ground `ground` of plot `index` in a ring of that use, in steps of so many days; `last` is the zone before it.
    pub(super) fn new(
        site: &Site,
        (index, ground): (usize, usize),
        use_factor: f64,
        step: f64,
        last: Option<&Self>,
    ) -> Self {
        let plot = &site.plots[index];
        let here = &plot.grounds[ground];
        let soil = &site.soils[plot.soil].params;
        let cover = &site.covers[plot.cover].params;
        let crops = || here.crops.iter().map(|c| &site.crops[c.crop].params);
        let rooting = crops().map(|c| c.rooting_depth).fold(cover.rooting_depth, f64::max);
        let depletion = crops().map(|c| c.depletion_fraction).fold(cover.depletion_fraction, f64::min);
        let ring = 1.0 / plot.rings as f64;
        let seen = !here.bed || !plot.has_sward();
        let all_seen: f64 = if here.bed { 1.0 } else { plot.grounds.iter().filter(|g| !g.bed).map(|g| g.share).sum() };
        let next = |range: Option<&Range<usize>>, count: usize| {
            let start = range.map_or(0, |r| r.end);
            start..start + count
        };
        Self {
            plot: index,
            ground,
            bed: here.bed,
            area_m2: plot.area_m2 * here.share * ring,
            share: here.share * ring,
            seen_share: if seen { here.share * ring / all_seen } else { 0.0 },
            ring_share: if seen { here.share / all_seen } else { 0.0 },
            use_factor,
            available_water: 1000.0 * (soil.field_capacity - soil.wilting_point) * rooting,
            saturation_room: soil.saturation_room,
            per_saturation_room: 1.0 / soil.saturation_room,
            soft: soil.soft_at_field_capacity,
            drained: 1.0 - libm::exp(-soil.drainage_rate * plot.drainage_factor * step),
            depletion,
            curve_good: soil.curve_number_good,
            curve_bare: soil.curve_number_bare,
            slow_release: soil.nitrogen_supply / soil.organic_nitrogen.max(1e-9),
            per_capacity: 1.0 / cover.capacity,
            recovery: recovery_per_growth(cover.recovery_days) * step,
            weeds: next(last.map(|z| &z.weeds), plot.weeds.len()),
            creepers: next(last.map(|z| &z.creepers), plot.creepers.len()),
            pests: next(last.map(|z| &z.pests), plot.pests.len()),
            slugs: next(last.map(|z| &z.slugs), plot.slugs.len()),
            seen,
            ends_ring: ground + 1 == plot.grounds.len(),
        }
    }
}

/// Use per m² of each ring against the plot's mean: birds thin out with distance from the gate, unless a house that moves with
/// them is shifted about the plot.
pub(super) fn ring_use(site: &Site, index: usize) -> Vec<f64> {
    let plot = &site.plots[index];
    if site.house.mobile {
        return vec![1.0; plot.rings];
    }
    let rings = plot.rings as f64;
    let ring_m = plot.area_m2.sqrt() / rings;
    let weight = |ring: usize| reach_m(&site.process, plot.distance_m + ring as f64 * ring_m, ring_m);
    let weights: Vec<f64> = (0..plot.rings).map(weight).collect();
    let mean = weights.iter().sum::<f64>() / rings;
    weights.iter().map(|w| w / mean).collect()
}

#[cfg(test)]
mod tests {
    use crate::plot::constants::SiteConstants;
    use crate::testing::{hazard_to_prob, near, same, two_plots};

    /// FAO-56 eq. 82: tomato on silt, 0.32 and 0.12 m³/m³, roots to 0.8 m: 160 mm; p of the most thirsty plant.
    #[test]
    fn the_deepest_roots_decide_how_much_water_there_is() {
        let mut site = two_plots(1);
        (site.soils[0].params.field_capacity, site.soils[0].params.wilting_point) = (0.32, 0.12);
        site.crops[0].params.rooting_depth = 0.8;
        let zones = SiteConstants::new(&site).zones;
        near(zones[1].available_water, 160.0, 1e-9);
        near(zones[0].available_water, 120.0, 1e-9);
        assert_eq!((zones[1].depletion, zones[0].depletion), (0.3, 0.5));
        // A crop with shallow roots leaves the cover's.
        site.crops[0].params.rooting_depth = 0.4;
        site.crops[0].params.depletion_fraction = 0.6;
        let zones = SiteConstants::new(&site).zones;
        near(zones[1].available_water, 120.0, 1e-9);
        assert_eq!(zones[1].depletion, 0.5);
    }

    /// Drainage said to be half as fast drains less a day, by the hazard.
    #[test]
    fn slow_drainage_drains_slower() {
        let zones = SiteConstants::new(&two_plots(1)).zones;
        same(zones[0].drained, hazard_to_prob(0.5));
        same(zones[4].drained, hazard_to_prob(0.25));
    }

    #[test]
    fn a_soils_numbers_are_its_zones() {
        let mut site = two_plots(1);
        let here = &SiteConstants::new(&site).zones[0];
        same(here.slow_release * 4500.0, 0.4);
        same(here.per_capacity * 300.0, 1.0);
        same(here.per_saturation_room * 45.0, 1.0);
        assert_eq!((here.saturation_room, here.curve_good, here.curve_bare), (45.0, 67.0, 88.0));
        // A soil without organic nitrogen supplies from nothing, finitely.
        site.soils[0].params.organic_nitrogen = 0.0;
        assert!(SiteConstants::new(&site).zones[0].slow_release.is_finite());
    }

    /// Rings from 5 to 10 m and from there to 15 m of the yard, at a scale of 20 m: 20/3 − 4 against 60/7 − 20/3; over the
    /// plot all is 1.
    #[test]
    fn the_ring_by_the_gate_is_used_most() {
        let constants = SiteConstants::new(&two_plots(1));
        let used = |zone: usize| constants.zones[zone].use_factor;
        same(used(2) / used(0), (60.0 / 7.0 - 20.0 / 3.0) / (20.0 / 3.0 - 4.0));
        same(used(0) + used(2), 2.0);
        assert_eq!((used(0), used(2), used(4)), (used(1), used(3), 1.0));
    }
}
