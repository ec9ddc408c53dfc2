//! Constants of a plot: its size as birds and keepers see it, its zones and its canopies.
//!
//! # Formulas
//!
//! ```text
//! sward area    = area outside beds                                 m²
//! edge per area = 4 / √area                                         1/m, as of a square
//! ```
//!
//! # Source
//!
//! Follows from what areas and shares are. How size and nearness draw birds: `flock/foraging.rs`.
//!
//! # Limits
//!
//! Constants hold for a draw. Plots are squares, their edges nobody else's; what comes over the edge spreads over the plot evenly.
//!
//! # Parameters
//!
//! None.

use crate::flock::foraging::reach_m;
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
    /// Edge for each m² of it, 1/m.
    pub edge_per_area: f64,
    /// How far it reaches in from its gate, m.
    pub into_m: f64,
    /// Metres of ground by the yard that it is worth to birds.
    pub reach_m: f64,
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
            edge_per_area: edge_per_area(plot.area_m2),
            into_m: plot.area_m2.sqrt(),
            reach_m: reach_m(&site.process, plot.distance_m, plot.area_m2.sqrt()),
        }
    }
}

/// Edge of a square plot for each m² of it, 1/m.
pub(super) fn edge_per_area(area_m2: f64) -> f64 {
    4.0 / area_m2.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{same, two_plots};

    #[test]
    fn a_plot_is_known_by_its_size_its_beds_its_way_and_its_trees() {
        let site = two_plots(1);
        let (garden, far) = (PlotConstants::new(&site, 0, 0..4, 0..1), PlotConstants::new(&site, 1, 4..5, 1..1));
        assert_eq!(
            (garden.zones.clone(), garden.area_m2, garden.sward_area_m2, garden.beds),
            (0..4, 100.0, 75.0, 0.25)
        );
        assert_eq!((far.zones.clone(), far.area_m2, far.sward_area_m2, far.beds), (4..5, 50.0, 0.0, 1.0));
        // 10 m from 5 m on, at a scale of 20 m: 15/1.75 less 5/1.25.
        same(garden.into_m, 10.0);
        same(garden.reach_m, 15.0 / 1.75 - 4.0);
        same(far.reach_m, reach_m(&site.process, 40.0, libm::sqrt(50.0)));
        assert_eq!((garden.canopies, far.canopies), (0..1, 1..1));
    }
}
