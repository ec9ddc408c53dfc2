//! Whose days are kept: every plant of the site under every mix of canopies it grows under, once.

use crate::site::Plot;

/// A plant under the canopies of a plot, or under the open sky: what its day depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grower {
    /// The plant.
    pub plant: Plant,
    /// What stands over it, by index among the mixes of canopies of the site.
    pub mix: usize,
}

/// A plant of the site, by index into its list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plant {
    /// Of [`Site::covers`](crate::site::Site::covers).
    Cover(usize),
    /// Of [`Site::weeds`](crate::site::Site::weeds).
    Weed(usize),
    /// Of [`Site::creepers`](crate::site::Site::creepers).
    Creeper(usize),
    /// Of [`Site::crops`](crate::site::Site::crops).
    Crop(usize),
}

/// Where the plants of a plot find their day among [`Drivers::plants`](super::Drivers::plants).
#[derive(Clone, Debug, PartialEq)]
pub struct PlotSlots {
    /// Of the cover.
    pub cover: usize,
    /// Of each annual weed of the plot.
    pub weeds: Vec<usize>,
    /// Of each creeping weed of the plot.
    pub creepers: Vec<usize>,
    /// Crop (index into [`Site::crops`](crate::site::Site::crops)) and slot of every kind of crop in the plot's plan.
    crops: Vec<(usize, usize)>,
}

impl PlotSlots {
    /// Finds a plot's slots; what grows nowhere yet joins `growers`.
    pub(super) fn new(plot: &Plot, mix: usize, growers: &mut Vec<Grower>) -> Self {
        let mut slot = |plant: Plant| {
            let grower = Grower { plant, mix };
            growers.iter().position(|&known| known == grower).unwrap_or_else(|| {
                growers.push(grower);
                growers.len() - 1
            })
        };
        let crops = plot.grounds.iter().flat_map(|ground| ground.crops.iter().map(|plan| plan.crop));
        Self {
            cover: slot(Plant::Cover(plot.cover)),
            weeds: plot.weeds.iter().map(|&(kind, _)| slot(Plant::Weed(kind))).collect(),
            creepers: plot.creepers.iter().map(|&(kind, _)| slot(Plant::Creeper(kind))).collect(),
            crops: crops.map(|kind| (kind, slot(Plant::Crop(kind)))).collect(),
        }
    }

    /// Slot of a kind of crop of the plot's plan; the cover's for any other.
    #[inline]
    #[must_use]
    pub fn crop(&self, kind: usize) -> usize {
        self.crops.iter().find(|(crop, _)| *crop == kind).map_or(self.cover, |&(_, slot)| slot)
    }
}
