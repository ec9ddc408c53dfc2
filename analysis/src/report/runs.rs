//! What is told of one strategy on the page of a comparison and on that of a season alike: its runs beside those of the
//! same birds shut in, and a season of it day by day.

use super::compared::CompareView;
use crate::compare::Comparison;
use crate::draw_sampler::Draw;
use crate::experiment::{ArmId, gain};
use crate::harvests::{PlotHarvest, harvests_of};
use crate::outcomes::{PlotColumn, PlotSpread};
use crate::run_detail::RunDetail;
use crate::season::Season;
use crate::stats::Estimate;
use crate::units::Units;
use scenarios::SiteModel;
use sim_engine::measures::Measure;
use std::borrow::Cow;
use std::slice::from_ref;

/// Which of the two runs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Run {
    /// Under the strategy.
    Strategy,
    /// The same birds shut in.
    ShutIn,
}

/// A strategy's runs and those of the same birds shut in.
pub(super) struct StrategyRuns<'a> {
    pub model: &'a SiteModel,
    pub units: Units,
    /// Index of the strategy in the model.
    pub which: usize,
    /// The season told day by day, and its draw.
    pub draw: &'a Draw,
    pub season: &'a Season,
    /// Over many possible years; else the season is all there is.
    over: Option<&'a Comparison>,
}

impl<'a> From<&CompareView<'a>> for StrategyRuns<'a> {
    fn from(view: &CompareView<'a>) -> Self {
        let (draw, season) = (&view.likely.draw, &view.likely.season);
        let over = Some(view.comparison);
        Self { model: view.model, units: view.units, which: view.leading(), draw, season, over }
    }
}

impl<'a> StrategyRuns<'a> {
    /// Those of a season alone: a strategy by its index, in a draw.
    pub fn of_season((model, which): (&'a SiteModel, usize), draw: &'a Draw, season: &'a Season, units: Units) -> Self {
        Self { model, units, which, draw, season, over: None }
    }

    /// Name of the strategy.
    pub fn name(&self) -> &'a str {
        super::pictures::strategy_name(self.model, self.which)
    }

    /// Whether one possible year is all that is told.
    pub fn one_year(&self) -> bool {
        self.over.is_none()
    }

    /// One words for a single possible year, the other for many.
    pub fn words(&self, one: &'static str, many: &'static str) -> &'static str {
        if self.one_year() { one } else { many }
    }

    /// Mean of a measure; `None` where it is blank.
    pub fn mean(&self, run: Run, measure: Measure) -> Option<f64> {
        let measures = match run {
            Run::Strategy => &self.season.measures,
            Run::ShutIn => &self.season.measures_shut_in,
        };
        match self.over {
            Some(c) => c.mean(arm(c, run), measure),
            None => Some(measures.get(measure)).filter(|value| !value.is_nan()),
        }
    }

    /// Change of a measure's mean against birds shut in; `None` where it is blank.
    pub fn change(&self, measure: Measure) -> Option<f64> {
        Some(self.mean(Run::Strategy, measure)? - self.mean(Run::ShutIn, measure).unwrap_or(0.0))
    }

    /// What the strategy is worth by the aims; of one year without a range.
    pub fn aim(&self) -> Estimate {
        let one = || gain(&self.model.aims, &self.season.measures, &self.season.measures_shut_in);
        self.over.map_or_else(|| Estimate { mean: one(), low: f64::NAN, high: f64::NAN }, |c| c.aim[c.leading()])
    }

    /// The runs looked at closely.
    pub fn details(&self, run: Run) -> &'a [RunDetail] {
        match (self.over, run) {
            (Some(c), _) => c.detail(arm(c, run)),
            (None, Run::Strategy) => from_ref(&self.season.detail),
            (None, Run::ShutIn) => from_ref(&self.season.detail_shut_in),
        }
    }

    /// What each plot bears, by crop and fruit.
    pub fn harvests(&self, run: Run) -> Cow<'a, [PlotHarvest]> {
        match (self.over, run) {
            (Some(c), _) => Cow::Borrowed(c.harvests(arm(c, run))),
            (None, Run::Strategy) => Cow::Owned(harvests_of(&self.season.plots)),
            (None, Run::ShutIn) => Cow::Owned(harvests_of(&self.season.plots_shut_in)),
        }
    }

    /// A figure of a plot under the strategy.
    pub fn plot(&self, plot: usize, column: PlotColumn) -> PlotSpread {
        match self.over {
            Some(c) => c.plot(arm(c, Run::Strategy), plot, column),
            None => PlotSpread::of(&[column.of(&self.season.plots[plot])]),
        }
    }
}

/// The leading strategy is the one that is told.
fn arm(c: &Comparison, run: Run) -> ArmId {
    match run {
        Run::Strategy => ArmId::Strategy(c.leading()),
        Run::ShutIn => ArmId::ShutIn,
    }
}
