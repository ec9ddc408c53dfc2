//! What is run, and what is needed to tell of it.

use super::axis::Axis;
use super::design::{Cells, Design};
use super::weather_given::GivenWeather;
use crate::units::Units;
use crate::wording::limit_in_words;
use scenarios::SiteModel;
use scenarios::model::Limit;
use serde::{Deserialize, Serialize};

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
    /// Seed of all random numbers.
    pub seed: u64,
    /// Name of the site.
    pub site: String,
    /// Whole years of a run.
    pub years: u32,
    /// Possible years.
    pub draws: u64,
    /// Chance with which every limit must hold.
    #[serde(rename = "sure")]
    pub required_reliability: f64,
    /// What is varied: what needs the ground computed anew first, since it runs slowest.
    pub axes: Vec<Axis>,
    /// How cells are laid out.
    pub design: Design,
    /// Names of the strategies.
    pub strategies: Vec<String>,
    /// The limits.
    pub limits: Vec<LimitName>,
    /// Measures that aims give a worth, and whether more is wanted.
    pub aims: Vec<(String, bool)>,
    /// What aims are counted in.
    pub aim_unit: String,
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

    /// How many cells there are, without laying them out; `None` if more than can be counted.
    #[must_use]
    pub fn cell_count(&self) -> Option<u64> {
        self.design.count(&self.axes)
    }

    /// Whether a sweep may have written it: something is varied and run, and its cells can be counted.
    #[must_use]
    pub fn sound(&self) -> bool {
        let varied = !self.axes.is_empty() && self.axes.iter().all(|axis| axis.count() != Some(0));
        varied
            && self.design.fits(self.axes.len())
            && !self.strategies.is_empty()
            && self.cell_count().is_some_and(|count| count > 0)
    }

    /// What differs from another plan, in words; `None` if nothing does.
    #[must_use]
    pub fn difference(&self, other: &Self) -> Option<String> {
        let differs =
            |what: &str, one: &dyn std::fmt::Display, two: &dyn std::fmt::Display| format!("{what}: {one} and {two}");
        if self.version != other.version {
            Some(differs("the version of the program", &self.version, &other.version))
        } else if self.site != other.site {
            Some(differs("the site", &self.site, &other.site))
        } else if let Some(weather) = GivenWeather::difference(self.weather.as_ref(), other.weather.as_ref()) {
            Some(weather)
        } else if self.input_digest != other.input_digest {
            Some("the site file, or a file it names, was changed".to_owned())
        } else if self.seed != other.seed {
            Some(differs("the seed", &self.seed, &other.seed))
        } else if self.draws != other.draws {
            Some(differs("the number of possible years", &self.draws, &other.draws))
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
