//! Some draws with their run without birds, on which arms are run.

use crate::draw_sampler::Draw;
use scenarios::SiteModel;
use sim_engine::gates::Strategy;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::measures::{Measure, Measures};
use sim_engine::run::plot_sums::Baseline;
use sim_engine::run::recorder::Recorder;
use sim_engine::run::world::RunError;
use sim_engine::run::{Batch, Realization, RunOptions, simulate};
use sim_engine::site::Site;
use sim_engine::summary::{BaselineRecorder, PlotSummary, Summary};
use std::sync::Arc;

/// What is run on every draw.
#[derive(Clone, Copy, Debug)]
pub struct Arm<'s> {
    strategies: &'s [StrategySpec],
    which: usize,
    options: RunOptions,
}

/// Every gate shut.
static SHUT: [StrategySpec; 1] =
    [StrategySpec { name: String::new(), kind: StrategyKind::AllShut, hours: None, birds: None }];

impl<'s> Arm<'s> {
    /// No birds, usual care: the run all others are measured against.
    #[must_use]
    fn no_birds() -> Self {
        Self { strategies: &SHUT, which: 0, options: RunOptions::no_birds() }
    }

    /// Nothing: no birds and no care.
    #[must_use]
    pub fn nothing() -> Self {
        Self { strategies: &SHUT, which: 0, options: RunOptions::nothing() }
    }

    /// Strategy `which` of several.
    #[must_use]
    pub fn strategy(strategies: &'s [StrategySpec], which: usize) -> Self {
        Self { strategies, which, options: RunOptions::default() }
    }

    /// The same with one decision inverted: day of the run and plot.
    #[must_use]
    pub fn counterfactual(self, decision: (usize, usize)) -> Self {
        Self { options: RunOptions { counterfactual: Some(decision), ..self.options }, ..self }
    }
}

/// A run as it is judged, and what else was recorded of it.
#[derive(Clone, Debug)]
pub struct Judged<R> {
    /// Its measures.
    pub measures: Measures,
    /// By plot.
    pub plots: Vec<PlotSummary>,
    /// What else listened.
    pub recorder: R,
}

impl<R> Judged<R> {
    fn of((summary, recorder): (Summary, R)) -> Self {
        Self { measures: summary.measures, plots: summary.plots, recorder }
    }
}

/// Draws made ready for many runs, with what their run without birds left.
pub struct Trial {
    draws: Vec<Draw>,
    batch: Batch,
    baselines: Vec<Arc<Baseline>>,
    cover_line: f64,
    pest_weights: Vec<f64>,
}

impl Trial {
    /// Makes draws of a model ready and runs them without birds; `recorder` makes what else listens to
    /// the run of each draw (by place).
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run.
    pub fn new<R: Recorder>(
        draws: Vec<Draw>,
        model: &SiteModel,
        recorder: impl Fn(usize) -> R,
    ) -> Result<(Self, Vec<Judged<R>>), RunError> {
        let realizations = realizations(&draws);
        let batch = Batch::new(&realizations);
        let fresh = |draw| ((Summary::new(None, model.limits.cover_line), BaselineRecorder::default()), recorder(draw));
        let mut recorders: Vec<_> = (0..draws.len()).map(fresh).collect();
        let arm = Arm::no_birds();
        batch.run(&realizations, arm.strategies, arm.which, arm.options, &mut recorders)?;
        let mut baselines = Vec::with_capacity(draws.len());
        let mut judged = Vec::with_capacity(draws.len());
        for ((summary, baseline), recorder) in recorders {
            baselines.push(Arc::new(baseline.baseline));
            let run = Judged::of((summary, recorder));
            judged.push(Judged { measures: against_itself(run.measures), ..run });
        }
        let (cover_line, pest_weights) = (model.limits.cover_line, model.compare.pest_weights.clone());
        Ok((Self { draws, batch, baselines, cover_line, pest_weights }, judged))
    }

    /// The draws.
    #[must_use]
    pub fn draws(&self) -> &[Draw] {
        &self.draws
    }

    /// What the run without birds left, by draw.
    #[must_use]
    pub fn baselines(&self) -> &[Arc<Baseline>] {
        &self.baselines
    }

    /// Runs an arm on every draw.
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run.
    pub fn run<R: Recorder>(&self, arm: Arm<'_>, recorder: impl Fn(usize) -> R) -> Result<Vec<Judged<R>>, RunError> {
        self.run_on(&realizations(&self.draws), arm, recorder)
    }

    /// The same on `sites`, which are those of the draws but for their flocks.
    ///
    /// # Errors
    /// [`RunError::OtherRealizations`] if there are fewer sites than draws; [`RunError::TooLittleWeather`] if a
    /// draw has fewer days of weather than its run.
    pub fn run_with_flocks(&self, sites: &[Site], arm: Arm<'_>) -> Result<Vec<Measures>, RunError> {
        let realizations: Vec<Realization<'_>> =
            sites.iter().zip(&self.draws).map(|(site, draw)| (site, &draw.drivers)).collect();
        Ok(self.run_on(&realizations, arm, |_| ())?.into_iter().map(|judged| judged.measures).collect())
    }

    /// Runs a strategy of any make, for example one that asks another program, on one draw.
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run.
    pub fn run_given<R: Recorder>(
        &self,
        draw: usize,
        strategy: &mut dyn Strategy,
        recorder: R,
    ) -> Result<Judged<R>, RunError> {
        let (site, drivers) = realization(&self.draws[draw]);
        let mut recorders = (self.summary(draw), recorder);
        simulate(site, drivers, strategy, RunOptions::default(), &mut recorders)?;
        Ok(Judged::of(recorders))
    }

    fn run_on<R: Recorder>(
        &self,
        realizations: &[Realization<'_>],
        arm: Arm<'_>,
        recorder: impl Fn(usize) -> R,
    ) -> Result<Vec<Judged<R>>, RunError> {
        let fresh = |draw| (self.summary(draw), recorder(draw));
        let mut recorders: Vec<_> = (0..realizations.len()).map(fresh).collect();
        self.batch.run(realizations, arm.strategies, arm.which, arm.options, &mut recorders)?;
        Ok(recorders.into_iter().map(Judged::of).collect())
    }

    fn summary(&self, draw: usize) -> Summary {
        let baseline = Some(Arc::clone(&self.baselines[draw]));
        Summary::new(baseline, self.cover_line).weighing_pests(&self.pest_weights)
    }
}

fn realization(draw: &Draw) -> Realization<'_> {
    (&draw.site, &draw.drivers)
}

fn realizations(draws: &[Draw]) -> Vec<Realization<'_>> {
    draws.iter().map(realization).collect()
}

/// The no-birds run loses no cover and suppresses no pests, by definition.
fn against_itself(mut measures: Measures) -> Measures {
    measures.set(Measure::CoverLoss, 0.0);
    measures.set(Measure::WeedingSaved, 0.0);
    measures.set(Measure::PestSuppression, if measures.get(Measure::Emerged).is_nan() { f64::NAN } else { 0.0 });
    measures
}
