//! What is not known exactly, and a site with each unknown somewhere in its range.
//!
//! Each unknown has a least, a likely and a most value. A rank from 0 to 1 picks a
//! value: 0.5 is the likely one, and on each side values run evenly to the end of
//! the range; on a scale of logarithms where the most is over ten times the least.

use crate::library::{Evidence, Kind};
use crate::model::SiteModel;
use sim_engine::math;
use sim_engine::site::Site;
use std::collections::BTreeMap;

/// Over this ratio of most to least, a range is run through in logarithms.
const WIDE_RATIO: f64 = 10.0;

/// What an unknown sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// A number of an entry: kind, index in the engine's table, field.
    Number(Kind, usize, usize),
    /// Pests per m² in the soil at the start: plot, position in the plot's pests.
    PestStart(usize, usize),
    /// Seeds per m² at the start: plot, position in the plot's weeds.
    WeedSeeds(usize, usize),
    /// Reserve of a creeping weed at the start: plot, position.
    CreeperReserve(usize, usize),
    /// Ground cover at the start: plot.
    CoverStart(usize),
    /// Share of droppings that fall in the house.
    NightShare,
}

/// A number that is not known exactly.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// Name, for example `pest.plum sawfly.search_soil`; stable.
    pub name: String,
    /// Unit.
    pub unit: &'static str,
    /// Least.
    pub low: f64,
    /// Likely.
    pub value: f64,
    /// Most.
    pub high: f64,
    /// Tie: unknowns of one tie share a rank.
    pub tie: Option<String>,
    /// Where the range comes from.
    pub source: String,
    /// How well it is known.
    pub evidence: Evidence,
    /// What it sets.
    pub target: Target,
}

impl Unknown {
    /// The value at a rank from 0 to 1; ranks outside count as the nearer end.
    #[must_use]
    pub fn at(&self, rank: f64) -> f64 {
        let rank = rank.clamp(0.0, 1.0);
        let wide = self.low > 0.0 && self.high / self.low > WIDE_RATIO;
        if rank == 0.5 {
            self.value
        } else if rank < 0.5 {
            between(self.low, self.value, rank / 0.5, wide)
        } else {
            between(self.value, self.high, (rank - 0.5) / 0.5, wide)
        }
    }
}

/// A value between two, exact at both ends.
fn between(from: f64, to: f64, share: f64, wide: bool) -> f64 {
    if share <= 0.0 {
        from
    } else if share >= 1.0 {
        to
    } else if wide {
        from * math::pow(to / from, share)
    } else {
        from + (to - from) * share
    }
}

/// The site with its unknowns at these ranks, one per unknown of the model; missing
/// ranks count as 0.5. Unknowns of a tie take the rank of the first of them.
#[must_use]
pub fn at(model: &SiteModel, ranks: &[f64]) -> Site {
    let mut site = model.base.clone();
    let leaders = leaders(&model.unknowns);
    for (unknown, leader) in model.unknowns.iter().zip(leaders) {
        let rank = ranks.get(leader).copied().unwrap_or(0.5);
        set(&mut site, unknown.target, unknown.at(rank));
    }
    site
}

/// For every unknown the position of the one whose rank it takes: the first of its tie, or itself.
#[must_use]
pub fn leaders<'u>(unknowns: &'u [Unknown]) -> Vec<usize> {
    let mut first_of: BTreeMap<&'u str, usize> = BTreeMap::new();
    let mut leader = |(own, unknown): (usize, &'u Unknown)| match unknown.tie.as_deref() {
        Some(tie) => *first_of.entry(tie).or_insert(own),
        None => own,
    };
    unknowns.iter().enumerate().map(&mut leader).collect()
}

/// Sets one unknown of a site.
pub fn set(site: &mut Site, target: Target, value: f64) {
    match target {
        Target::Number(kind, index, field) => set_number(site, kind, index, field, value),
        Target::PestStart(plot, pest) => {
            if let Some(pest) = site.plots.get_mut(plot).and_then(|plot| plot.pests.get_mut(pest)) {
                pest.start_per_m2 = value;
            }
        }
        Target::WeedSeeds(plot, weed) => {
            if let Some(weed) = site.plots.get_mut(plot).and_then(|plot| plot.weeds.get_mut(weed)) {
                weed.1 = value;
            }
        }
        Target::CreeperReserve(plot, creeper) => {
            if let Some(creeper) = site.plots.get_mut(plot).and_then(|plot| plot.creepers.get_mut(creeper)) {
                creeper.1 = value;
            }
        }
        Target::CoverStart(plot) => {
            if let Some(plot) = site.plots.get_mut(plot) {
                plot.cover_start = value;
            }
        }
        Target::NightShare => site.house.night_share = value,
    }
}

fn set_number(site: &mut Site, kind: Kind, index: usize, field: usize, value: f64) {
    macro_rules! put {
        ($table:ident) => {
            if let Some(entry) = site.$table.get_mut(index) {
                entry.numbers.set(field, value);
            }
        };
    }
    match kind {
        Kind::Soil => put!(soils),
        Kind::Cover => put!(covers),
        Kind::Weed => put!(weeds),
        Kind::Creeper => put!(creepers),
        Kind::Crop => put!(crops),
        Kind::Canopy => put!(canopies),
        Kind::Pest => put!(pests),
        Kind::Bird => put!(birds),
        Kind::Process => site.process.set(field, value),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unknown(low: f64, value: f64, high: f64) -> Unknown {
        let source = String::new();
        let target = Target::NightShare;
        Unknown {
            name: "x".into(),
            unit: "-",
            low,
            value,
            high,
            tie: None,
            source,
            evidence: Evidence::FromMemory,
            target,
        }
    }

    #[test]
    fn ranks_run_evenly_on_each_side_of_the_likely_value() {
        let narrow = unknown(1.0, 2.0, 6.0);
        let ranks = [0.0, 0.25, 0.5, 0.75, 1.0, 7.0];
        assert_eq!(ranks.map(|rank| narrow.at(rank)), [1.0, 1.5, 2.0, 4.0, 6.0, 6.0]);
    }

    #[test]
    fn wide_ranges_run_in_logarithms() {
        let wide = unknown(1.0, 4.0, 64.0);
        assert!((wide.at(0.25) - 2.0).abs() < 1e-12);
        assert!((wide.at(0.75) - 16.0).abs() < 1e-12);
        assert_eq!(wide.at(0.5), 4.0);
        assert_eq!(unknown(0.0, 1.0, 100.0).at(0.75), 50.5);
    }
}
