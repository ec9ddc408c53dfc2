//! What each plot bears, by crop and fruit: means over possible years.

use sim_engine::plot::harvest::Harvest;
use sim_engine::summary::PlotSummary;
use std::collections::BTreeMap;

/// Harvest of a crop or fruit of a plot, fresh, kg a year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlotHarvest {
    /// The plot.
    pub plot: usize,
    /// Place of the crop or fruit in the plot's harvests; [`Site::harvest_name`](sim_engine::site::Site::harvest_name) names it.
    pub place: usize,
    /// The harvest.
    pub harvest: Harvest,
}

/// Harvests of runs so far, summed up in their order.
#[derive(Clone, Debug, Default)]
pub struct HarvestSums {
    sums: BTreeMap<(usize, usize), Harvest>,
    runs: f64,
}

impl HarvestSums {
    /// Takes a run in, with its plots; one without a harvest counts as nought of it.
    pub fn add(&mut self, plots: &[PlotSummary]) {
        self.runs += 1.0;
        for (plot, summary) in plots.iter().enumerate() {
            for of in &summary.harvests {
                self.sums.entry((plot, of.place)).or_default().add(&of.harvest);
            }
        }
    }

    /// Means of the runs.
    #[must_use]
    pub fn means(&self) -> Vec<PlotHarvest> {
        let mean = |(&(plot, place), sum): (&(usize, usize), &Harvest)| PlotHarvest {
            plot,
            place,
            harvest: sum.times(1.0 / self.runs),
        };
        self.sums.iter().map(mean).collect()
    }
}

/// Harvests of a single run.
#[must_use]
pub fn harvests_of(plots: &[PlotSummary]) -> Vec<PlotHarvest> {
    let mut sums = HarvestSums::default();
    sums.add(plots);
    sums.means()
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_engine::summary::HarvestOf;

    #[test]
    fn a_year_without_a_harvest_counts() {
        let bears = |kept_kg: f64| PlotSummary {
            harvests: vec![HarvestOf { place: 2, harvest: Harvest { kept_kg, ..Harvest::default() } }],
            ..PlotSummary::default()
        };
        let runs = [vec![PlotSummary::default(), bears(9.0)], vec![bears(3.0), PlotSummary::default()], vec![]];
        let mut sums = HarvestSums::default();
        runs.iter().for_each(|plots| sums.add(plots));
        let means: Vec<_> = sums.means().iter().map(|m| (m.plot, m.place, m.harvest.kept_kg)).collect();
        assert_eq!(means, [(0, 2, 1.0), (1, 2, 3.0)]);
    }
}
