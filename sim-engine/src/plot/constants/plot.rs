//! Constants of a plot: its size as birds and keepers see it, and its shade.
//!
//! # Formulas
//!
//! ```text
//! seen area = area outside beds; of a plot that is all bed, its area                                    m²
//! shade     = share of light its canopy holds back, bare and in leaf                                    share
//! ```
//!
//! # Source
//!
//! Follows from what areas and shares are. How size and nearness draw birds: `flock/foraging.rs`.
//!
//! # Limits
//!
//! A canopy shades all of its plot alike, in leaf from one day to the next.
//!
//! # Parameters
//!
//! ```text
//! CanopyParams  shade_bare [-], shade_in_leaf [-]
//! ```

use crate::flock::foraging::{depth_m, nearness};
use crate::site::{Plot, Site};
use core::ops::Range;

/// Constants of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotConstants {
    /// Its zones.
    pub zones: Range<usize>,
    /// m².
    pub area_m2: f64,
    /// Area outside beds, m²; for a plot that is all bed, its area.
    pub seen_area_m2: f64,
    /// Share of it under beds.
    pub beds: f64,
    /// How far it reaches in, as far as birds are drawn by it, m.
    pub depth_m: f64,
    /// Nearness to the yard, 0 to 1.
    pub nearness: f64,
    /// Share of light its canopy holds back, bare and in leaf.
    pub shades: [f64; 2],
}

impl PlotConstants {
    /// Of plot `index`, which has these zones.
    pub(super) fn new(site: &Site, index: usize, zones: Range<usize>) -> Self {
        let plot = &site.plots[index];
        let share = |bed: bool| plot.grounds.iter().filter(|g| g.bed == bed).map(|g| g.share).sum::<f64>();
        let sward = share(false);
        Self {
            zones,
            area_m2: plot.area_m2,
            seen_area_m2: plot.area_m2 * if sward > 0.0 { sward } else { 1.0 },
            beds: share(true),
            depth_m: depth_m(&site.process, plot.area_m2),
            nearness: nearness(&site.process, plot.distance_m),
            shades: shades(site, plot),
        }
    }
}

fn shades(site: &Site, plot: &Plot) -> [f64; 2] {
    plot.canopy.map_or([0.0; 2], |canopy| {
        let params = &site.canopies[canopy].params;
        [params.shade_bare, params.shade_in_leaf]
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{hazard_to_prob, same, two_plots};

    #[test]
    fn a_plot_is_known_by_its_size_its_beds_its_way_and_its_trees() {
        let site = two_plots(1);
        let (garden, far) = (PlotConstants::new(&site, 0, 0..4), PlotConstants::new(&site, 1, 4..5));
        assert_eq!((garden.zones.clone(), garden.area_m2, garden.seen_area_m2, garden.beds), (0..4, 100.0, 75.0, 0.25));
        assert_eq!((far.zones.clone(), far.area_m2, far.seen_area_m2, far.beds), (4..5, 50.0, 50.0, 1.0));
        same(garden.depth_m, 20.0 * hazard_to_prob(0.5));
        same(garden.nearness, 1.0 - hazard_to_prob(5.0 / 20.0));
        same(far.nearness, 1.0 - hazard_to_prob(2.0));
        assert_eq!((garden.shades, far.shades), ([0.2, 0.55], [0.0, 0.0]));
    }
}
