//! Some draws with their run of birds shut in, on which arms are run.

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
    /// Birds shut in: the same flock, heap and care, and no gate opened by a strategy. All others are
    /// measured against it, for that is the choice at the gate. What the site file itself opens, newcomers
    /// kept apart on a plot or a gate set by an event, is as in every run.
    #[must_use]
    fn shut_in() -> Self {
        Self { strategies: &SHUT, which: 0, options: RunOptions::default() }
    }

    /// No birds, usual care: with the flock go its droppings and its heap.
    #[must_use]
    pub fn no_birds() -> Self {
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
    /// No answer stands on a run of which a figure is no number.
    fn of((summary, recorder): (Summary, R)) -> Result<Self, RunError> {
        summary.sound()?;
        Ok(Self { measures: summary.measures, plots: summary.plots, recorder })
    }
}

/// Draws made ready for many runs, with what their run of birds shut in left.
pub struct Trial {
    ready: Arc<ReadyDraws>,
    /// The sites of the draws, where their flock is another.
    other_flock: Option<Vec<Site>>,
    baselines: Vec<Arc<Baseline>>,
}

/// Draws, what they share, and how their runs are summed up.
struct ReadyDraws {
    draws: Vec<Draw>,
    batch: Batch,
    cover_line: f64,
    pest_weights: Vec<f64>,
}

impl Trial {
    /// Makes draws of a model ready and runs them with the birds shut in; `recorder` makes what else
    /// listens to the run of each draw (by place).
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run; [`RunError::NotFinite`].
    pub fn new<R: Recorder>(
        draws: Vec<Draw>,
        model: &SiteModel,
        recorder: impl Fn(usize) -> R,
    ) -> Result<(Self, Vec<Judged<R>>), RunError> {
        let batch = Batch::new(&draws.iter().map(realization).collect::<Vec<_>>());
        let (cover_line, pest_weights) = (model.limits.cover_line, model.compare.pest_weights.clone());
        let ready = Arc::new(ReadyDraws { draws, batch, cover_line, pest_weights });
        Self { ready, other_flock: None, baselines: Vec::new() }.shut_in(recorder)
    }

    /// The same draws with the flock of `site`, which has the same groups; and its measures, shut in.
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run; [`RunError::NotFinite`].
    pub fn with_flock(&self, site: &Site) -> Result<(Self, Vec<Measures>), RunError> {
        let with_flock = |draw: &Draw| {
            let mut other = draw.site.clone();
            other.groups.iter_mut().zip(&site.groups).for_each(|(group, of_site)| group.number = of_site.number);
            other
        };
        let other_flock = Some(self.ready.draws.iter().map(with_flock).collect());
        let trial = Self { ready: Arc::clone(&self.ready), other_flock, baselines: Vec::new() };
        let (trial, shut_in) = trial.shut_in(|_| ())?;
        Ok((trial, measures_of(shut_in)))
    }

    fn shut_in<R: Recorder>(mut self, recorder: impl Fn(usize) -> R) -> Result<(Self, Vec<Judged<R>>), RunError> {
        let cover_line = self.ready.cover_line;
        let fresh = |draw| ((Summary::new(None, cover_line), BaselineRecorder::default()), recorder(draw));
        let recorders = self.listened(Arm::shut_in(), fresh)?;
        let mut judged = Vec::with_capacity(recorders.len());
        for ((summary, baseline), recorder) in recorders {
            self.baselines.push(Arc::new(baseline.baseline));
            let run = Judged::of((summary, recorder))?;
            judged.push(Judged { measures: against_itself(run.measures), ..run });
        }
        Ok((self, judged))
    }

    /// What the run of birds shut in left, by draw.
    #[must_use]
    pub fn baselines(&self) -> &[Arc<Baseline>] {
        &self.baselines
    }

    /// Runs an arm on every draw.
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run; [`RunError::NotFinite`].
    pub fn run<R: Recorder>(&self, arm: Arm<'_>, recorder: impl Fn(usize) -> R) -> Result<Vec<Judged<R>>, RunError> {
        let recorders = self.listened(arm, |draw| (self.summary(draw), recorder(draw)))?;
        recorders.into_iter().map(Judged::of).collect()
    }

    /// The measures of an arm, by draw.
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run; [`RunError::NotFinite`].
    pub fn measures(&self, arm: Arm<'_>) -> Result<Vec<Measures>, RunError> {
        self.run(arm, |_| ()).map(measures_of)
    }

    /// Runs a strategy of any make, for example one that asks another program, on one draw.
    ///
    /// # Errors
    /// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run; [`RunError::NotFinite`].
    pub fn run_given<R: Recorder>(
        &self,
        draw: usize,
        strategy: &mut dyn Strategy,
        recorder: R,
    ) -> Result<Judged<R>, RunError> {
        let (site, drivers) = self.realization(draw);
        let mut recorders = (self.summary(draw), recorder);
        simulate(site, drivers, strategy, RunOptions::default(), &mut recorders)?;
        Judged::of(recorders)
    }

    fn listened<R: Recorder>(&self, arm: Arm<'_>, recorder: impl Fn(usize) -> R) -> Result<Vec<R>, RunError> {
        let realizations: Vec<Realization<'_>> =
            (0..self.ready.draws.len()).map(|draw| self.realization(draw)).collect();
        let mut recorders: Vec<R> = (0..realizations.len()).map(recorder).collect();
        self.ready.batch.run(&realizations, arm.strategies, arm.which, arm.options, &mut recorders)?;
        Ok(recorders)
    }

    fn realization(&self, draw: usize) -> Realization<'_> {
        let (site, drivers) = realization(&self.ready.draws[draw]);
        (self.other_flock.as_ref().map_or(site, |sites| &sites[draw]), drivers)
    }

    fn summary(&self, draw: usize) -> Summary {
        let baseline = Some(Arc::clone(&self.baselines[draw]));
        Summary::new(baseline, self.ready.cover_line).weighing_pests(&self.ready.pest_weights)
    }
}

fn realization(draw: &Draw) -> Realization<'_> {
    (&draw.site, &draw.drivers)
}

fn measures_of<R>(runs: Vec<Judged<R>>) -> Vec<Measures> {
    runs.into_iter().map(|run| run.measures).collect()
}

/// Birds shut in lose no cover and suppress no pests, by definition.
fn against_itself(mut measures: Measures) -> Measures {
    measures.set(Measure::CoverLoss, 0.0);
    measures.set(Measure::WorkSaved, 0.0);
    measures.set(Measure::PestSuppression, if measures.get(Measure::Emerged).is_nan() { f64::NAN } else { 0.0 });
    measures
}
