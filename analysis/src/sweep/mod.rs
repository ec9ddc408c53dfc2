//! Sweeps: numbers of a site varied over many cells, each strategy tried in each cell.
//!
//! Every cell sees the same possible years as a comparison of the same site would: cell
//! and comparison agree to the last bit. What follows from the weather alone, and the run
//! without birds, is computed once per draw for all cells of a block that share the ground.
//!
//! - [`axis`], [`design`]: what is varied and which cells there are; [`given`]: on which weather, if not generated;
//! - [`work`]: runs a block of cells; [`tally`]: running sums, so that memory does not hang
//!   on the number of draws;
//! - [`part`]: the file finished blocks are kept in, safe against a crash at any moment;
//! - [`merge`]: parts of one run, found whole; [`rows`]: what is told of a cell;
//!   [`columns`]: its table; [`pictures`]: its charts.

pub mod axis;
pub mod columns;
pub mod design;
pub mod given;
pub mod merge;
#[cfg(feature = "parquet")]
pub mod parquet;
pub mod part;
pub mod pictures;
pub mod row;
pub mod rows;
pub mod same_runs;
pub mod tally;
pub mod work;

use crate::output::OutputError;
use crate::units::Units;
use crate::wording::limit_in_words;
use axis::Axis;
use design::{Cells, Design};
use given::GivenWeather;
use scenarios::model::Limit;
use scenarios::{Fault, Faults, SiteModel};
use serde::{Deserialize, Serialize};
use sim_engine::run::world::RunError;

/// Why a sweep failed.
#[derive(Debug, thiserror::Error)]
pub enum SweepError {
    /// What was asked or given cannot be used.
    #[error(transparent)]
    Input(#[from] Faults),
    /// A run could not start.
    #[error(transparent)]
    Run(#[from] RunError),
    /// A file could not be written.
    #[error(transparent)]
    Output(#[from] OutputError),
    /// Our own document could not be written as JSON.
    #[error(transparent)]
    Json(#[from] serde_json::Error),
    /// Stopped by the user; finished blocks are kept.
    #[error("stopped")]
    Stopped,
}

impl SweepError {
    /// One fault of an argument or a file: its name, what is wrong, what would be right.
    #[must_use]
    pub fn argument(name: &str, fault: impl Into<String>, remedy: &str) -> Self {
        Self::Input(Faults::one(Fault::of_file(name, fault, remedy)))
    }
}

/// A limit as a sweep tells of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LimitName {
    /// Key in the site file.
    pub name: String,
    /// In words, with the bound of the site file.
    pub words: String,
}

impl LimitName {
    /// Every limit of a site, its bounds in these units.
    #[must_use]
    pub fn all(model: &SiteModel, units: Units) -> Vec<Self> {
        let name = |limit: &Limit| Self { name: limit.name.to_owned(), words: limit_in_words(limit, units) };
        model.limits.all.iter().map(name).collect()
    }
}

/// All that decides the results of a sweep, and what is needed to tell of them. It stands at
/// the head of every part, so that parts of different runs can be told apart.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SweepPlan {
    /// Version of the program.
    pub version: String,
    /// Digest of the inputs' bytes.
    pub input_digest: String,
    /// Seed of all luck.
    pub seed: u64,
    /// Name of the site.
    pub site: String,
    /// Whole years of a run.
    pub years: u32,
    /// Possible years.
    pub draws: u64,
    /// Chance with which every limit must hold.
    pub sure: f64,
    /// What is varied: what needs the ground computed anew first, since it runs slowest.
    pub axes: Vec<Axis>,
    /// How cells are laid out.
    pub design: Design,
    /// Names of the strategies.
    pub strategies: Vec<String>,
    /// The limits.
    pub limits: Vec<LimitName>,
    /// Measures that aims give points for, and whether more is wanted.
    pub aims: Vec<(String, bool)>,
    /// The weather, where it is given and not generated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<GivenWeather>,
}

impl SweepPlan {
    /// The cells.
    #[must_use]
    pub fn cells(&self) -> Cells {
        Cells::new(&self.axes, self.design, self.seed)
    }

    /// What differs from another plan, in words; `None` if nothing does.
    #[must_use]
    pub fn difference(&self, other: &Self) -> Option<String> {
        let told =
            |what: &str, one: &dyn std::fmt::Display, two: &dyn std::fmt::Display| format!("{what}: {one} and {two}");
        if self.version != other.version {
            Some(told("the version of the program", &self.version, &other.version))
        } else if self.site != other.site {
            Some(told("the site", &self.site, &other.site))
        } else if let Some(weather) = GivenWeather::difference(self.weather.as_ref(), other.weather.as_ref()) {
            Some(weather)
        } else if self.input_digest != other.input_digest {
            Some("the site file, or a file it names, was changed".to_owned())
        } else if self.seed != other.seed {
            Some(told("the seed", &self.seed, &other.seed))
        } else if self.draws != other.draws {
            Some(told("the number of possible years", &self.draws, &other.draws))
        } else if self.axes != other.axes || self.design != other.design {
            Some("what is varied".to_owned())
        } else if self.strategies != other.strategies {
            Some("the strategies".to_owned())
        } else if self != other {
            Some("an option such as --sure".to_owned())
        } else {
            None
        }
    }
}

/// One part of a run that is shared out: `number` of `of`, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shard {
    /// Which, from 1.
    pub number: u64,
    /// Of how many.
    pub of: u64,
}

impl Shard {
    /// The whole run as one part.
    pub const WHOLE: Self = Self { number: 1, of: 1 };

    /// First cell and the cell after the last, of `cells`.
    #[must_use]
    pub fn span(&self, cells: u64) -> (u64, u64) {
        let cut = |number: u64| (u128::from(cells) * u128::from(number) / u128::from(self.of.max(1))) as u64;
        (cut(self.number - 1), cut(self.number))
    }

    /// Parses `2/4`.
    ///
    /// # Errors
    /// Not of this form, or no such part.
    pub fn parse(text: &str) -> Result<Self, String> {
        let parts = text.split_once('/').and_then(|(number, of)| Some((number.parse().ok()?, of.parse().ok()?)));
        match parts {
            Some((number, of)) if (1..=of).contains(&number) => Ok(Self { number, of }),
            _ => Err("write which part of how many, from 1, for example 2/4".to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shards_cover_every_cell_once() {
        for (cells, of) in [(10, 3), (2, 5), (0, 2), (7, 7)] {
            let mut next = 0;
            for number in 1..=of {
                let (first, end) = Shard { number, of }.span(cells);
                assert_eq!(first, next);
                next = end;
            }
            assert_eq!(next, cells);
        }
        assert_eq!(Shard::parse("2/4"), Ok(Shard { number: 2, of: 4 }));
        assert!(["0/4", "5/4", "2", "a/b", "1/0"].iter().all(|text| Shard::parse(text).is_err()));
    }
}
