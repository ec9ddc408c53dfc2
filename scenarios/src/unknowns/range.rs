//! A number that is not known exactly, and its value at a rank.

use crate::library::{EntryKind, Evidence};
use sim_engine::domain::Domain;
use sim_engine::math;

/// Over this ratio of most to least, a range is run through in logarithms.
const WIDE_RATIO: f64 = 10.0;

/// What an unknown sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// A number of an entry: kind, index in the engine's table, field.
    Number(EntryKind, usize, usize),
    /// Pests per m² in the soil at the start: plot, position in the plot's pests.
    PestStart(usize, usize),
    /// Adults round about, against 'few' = 1: plot, position in the plot's pests.
    Neighbours(usize, usize),
    /// Seeds per m² at the start: plot, position in the plot's weeds.
    WeedSeeds(usize, usize),
    /// Reserve of a creeping weed at the start: plot, position.
    CreeperReserve(usize, usize),
    /// Slugs or snails per m² at the start: plot, position in the plot's slugs.
    SlugStart(usize, usize),
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
    /// What the three may be.
    pub domain: Domain,
    /// Least.
    pub low: f64,
    /// Likely.
    pub value: f64,
    /// Most.
    pub high: f64,
    /// Tie: unknowns of one tie share a rank, and so does the one whose name the tie is.
    pub tie: Option<String>,
    /// Drawn against its tie: high where that is low.
    pub against: bool,
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
        range_at(self.low, self.value, self.high, rank)
    }
}

/// The value of a range at a rank.
pub(crate) fn range_at(low: f64, value: f64, high: f64, rank: f64) -> f64 {
    let rank = rank.clamp(0.0, 1.0);
    let wide = low > 0.0 && high / low > WIDE_RATIO;
    if rank == 0.5 {
        value
    } else if rank < 0.5 {
        between(low, value, rank / 0.5, wide)
    } else {
        between(value, high, (rank - 0.5) / 0.5, wide)
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

#[cfg(test)]
mod tests {
    use super::*;

    fn unknown(low: f64, value: f64, high: f64) -> Unknown {
        let source = String::new();
        let target = Target::NightShare;
        Unknown {
            name: "x".into(),
            unit: "-",
            domain: Domain::UpTo(100.0),
            low,
            value,
            high,
            tie: None,
            against: false,
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
