//! What a report of a comparison is made from.

use crate::charts::Chart;
use crate::compare::Comparison;
use crate::provenance::Provenance;
use crate::season::LikelySeason;
use crate::units::Units;
use scenarios::{Library, SiteModel};

/// What a report of a comparison is made from.
#[derive(Clone, Copy)]
pub struct CompareView<'a> {
    /// The site.
    pub model: &'a SiteModel,
    /// The library, for plants that can harm birds.
    pub library: &'a Library,
    /// The comparison.
    pub comparison: &'a Comparison,
    /// A season under the leading strategy, every unknown at its likely value.
    pub likely: &'a LikelySeason,
    /// What it was made from.
    pub from: &'a Provenance,
    /// What a reader should know before the figures, as sentences.
    pub notes: &'a [String],
    /// Units of figures, words and axes.
    pub units: Units,
}

/// A page and its charts by name, for files beside it.
#[derive(Clone, Debug)]
pub struct Report {
    /// The page.
    pub html: String,
    /// Name without ending, chart.
    pub charts: Vec<(String, Chart)>,
}

impl CompareView<'_> {
    /// Index into the model of the strategy looked at closely.
    pub(super) fn leading(&self) -> usize {
        self.comparison.plan.which[self.comparison.leading()]
    }

    /// Its name.
    pub(super) fn leading_name(&self) -> &str {
        &self.comparison.names[self.comparison.leading()]
    }
}

/// A chart by its name, where there is one.
pub(super) type ByName<'c> = dyn Fn(&str) -> Option<&'c Chart> + 'c;
