//! Constants of a plot: its size as birds and keepers see it, its zones and its canopies.
//!
//! # Formulas
//!
//! ```text
//! sward area = area outside beds                                    m²
//! ```
//!
//! # Source
//!
//! Follows from what areas and shares are. How size and nearness draw birds: `flock/foraging.rs`.
//!
//! # Limits
//!
//! Constants hold for a draw.
//!
//! # Parameters
//!
//! None.

use crate::flock::foraging::{depth_m, nearness};
use crate::site::Site;
use core::ops::Range;

/// Constants of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotConstants {
    /// Its zones.
    pub zones: Range<usize>,
    /// Its canopies among those of all plots.
    pub canopies: Range<usize>,
    /// m².
    pub area_m2: f64,
    /// Area outside beds, m²; none in a plot that is all beds.
    pub sward_area_m2: f64,
    /// Share of it under beds.
    pub beds: f64,
    /// How far it reaches in, as far as birds are drawn by it, m.
    pub depth_m: f64,
    /// Nearness to the yard, 0 to 1.
    pub nearness: f64,
}

impl PlotConstants {
    /// Of plot `index`, which has these zones.
    pub(super) fn new(site: &Site, index: usize, zones: Range<usize>, canopies: Range<usize>) -> Self {
        let plot = &site.plots[index];
        let share = |bed: bool| plot.grounds.iter().filter(|g| g.bed == bed).map(|g| g.share).sum::<f64>();
        Self {
            zones,
            canopies,
            area_m2: plot.area_m2,
            sward_area_m2: plot.area_m2 * share(false),
            beds: share(true),
            depth_m: depth_m(&site.process, plot.area_m2),
            nearness: nearness(&site.process, plot.distance_m),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{hazard_to_prob, same, two_plots};

    #[test]
    fn a_plot_is_known_by_its_size_its_beds_its_way_and_its_trees() {
        let site = two_plots(1);
        let (garden, far) = (PlotConstants::new(&site, 0, 0..4, 0..1), PlotConstants::new(&site, 1, 4..5, 1..1));
        assert_eq!(
            (garden.zones.clone(), garden.area_m2, garden.sward_area_m2, garden.beds),
            (0..4, 100.0, 75.0, 0.25)
        );
        assert_eq!((far.zones.clone(), far.area_m2, far.sward_area_m2, far.beds), (4..5, 50.0, 0.0, 1.0));
        same(garden.depth_m, 20.0 * hazard_to_prob(0.5));
        same(garden.nearness, 1.0 - hazard_to_prob(5.0 / 20.0));
        same(far.nearness, 1.0 - hazard_to_prob(2.0));
        assert_eq!((garden.canopies, far.canopies), (0..1, 1..1));
    }
}
