//! Harvests by plot and plant.

use crate::harvests::PlotHarvest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::site::Site;

/// Harvest of a crop or fruit on a plot, kg fresh a year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HarvestFigures {
    /// Name of the plot.
    pub plot: String,
    /// Name of the crop or canopy.
    pub plant: String,
    /// Carried home.
    #[schemars(range(min = 0))]
    pub kept_kg: f64,
    /// Not grown because of weeds.
    #[schemars(range(min = 0))]
    pub lost_to_weeds_kg: f64,
    /// Spoilt by pests.
    #[schemars(range(min = 0))]
    pub lost_to_pests_kg: f64,
    /// Fruit that birds picked.
    #[schemars(range(min = 0))]
    pub lost_to_birds_kg: f64,
}

pub(super) fn harvest(site: &Site, harvests: &[PlotHarvest]) -> Vec<HarvestFigures> {
    let one = |of: &PlotHarvest| HarvestFigures {
        plot: site.plots[of.plot].name.clone(),
        plant: site.harvest_name(of.place).to_owned(),
        kept_kg: of.harvest.kept_kg,
        lost_to_weeds_kg: of.harvest.lost_to_weeds_kg,
        lost_to_pests_kg: of.harvest.lost_to_pests_kg,
        lost_to_birds_kg: of.harvest.taken_by_birds_kg,
    };
    harvests.iter().map(one).collect()
}
