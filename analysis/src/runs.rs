//! All runs of a draw: the two without birds, and every strategy.

use crate::closely::Closely;
use crate::luck::Draw;
use scenarios::SiteModel;
use sim_engine::drivers::Drivers;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::gates::{Strategy, build};
use sim_engine::measures::{Measure, Measures};
use sim_engine::season::{DayView, Recorder, RunOptions, run, run_with};
use sim_engine::site::Site;
use sim_engine::summary::{PlotSummary, ReferenceRecorder, Summary};
use sim_engine::world::{RunError, World};

/// Outcome of one run.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// What the run is judged by.
    pub measures: Measures,
    /// By plot.
    pub plots: Vec<PlotSummary>,
    /// Least plot cover outside beds, day by day, in thousandths (kept small for the fans).
    pub least_cover: Vec<u16>,
    /// The run looked at closely, if it was.
    pub closely: Option<Closely>,
}

impl Outcome {
    /// Of a strategy that was not run: everything blank.
    #[must_use]
    pub fn blank() -> Self {
        Self { measures: Measures::blank(), plots: Vec::new(), least_cover: Vec::new(), closely: None }
    }
}

/// Outcomes of a draw.
#[derive(Clone, Debug)]
pub struct DrawOutcome {
    /// No birds, usual care: every gate shut, hands work as always. Strategies are held against it.
    pub no_birds: Outcome,
    /// Nothing: no birds and no care.
    pub nothing: Outcome,
    /// By strategy.
    pub strategies: Vec<Outcome>,
}

/// Runs all of a draw. `which` picks strategies by index.
///
/// # Errors
/// If a run cannot start.
pub fn run_all(draw: &Draw, model: &SiteModel, which: &[usize]) -> Result<DrawOutcome, RunError> {
    run_looking(draw, model, which, false)
}

/// The same, with every run looked at closely where that is asked for.
///
/// # Errors
/// If a run cannot start.
pub fn run_looking(draw: &Draw, model: &SiteModel, which: &[usize], closely: bool) -> Result<DrawOutcome, RunError> {
    let mut built: Vec<_> = which.iter().map(|&s| build(&draw.site, &model.strategies, s)).collect();
    let mut given: Vec<&mut dyn Strategy> = built.iter_mut().map(|strategy| strategy.as_mut() as _).collect();
    run_given(draw, model, &mut given, closely)
}

/// The same for strategies of any make, for example one that asks another program.
///
/// # Errors
/// If a run cannot start.
pub fn run_given(
    draw: &Draw,
    model: &SiteModel,
    given: &mut [&mut dyn Strategy],
    closely: bool,
) -> Result<DrawOutcome, RunError> {
    let shut = [shut()];
    let mut reference = ReferenceRecorder::default();
    let (mut summary, mut days) = (Summary::new(None, model.limits.cover_line), kept(closely));
    let no_birds = RunOptions { birds: false, ..RunOptions::default() };
    run(&draw.site, &draw.drivers, &shut, 0, no_birds, &mut (&mut reference, (&mut summary, &mut days)))?;
    let no_birds = held_against_itself(summary, days);
    let nothing = RunOptions { birds: false, hands: false, ..RunOptions::default() };
    let nothing = one(draw, model, build(&draw.site, &shut, 0).as_mut(), nothing, &reference, closely)?;
    let strategies = given
        .iter_mut()
        .map(|strategy| one(draw, model, *strategy, RunOptions::default(), &reference, closely))
        .collect::<Result<_, _>>()?;
    Ok(DrawOutcome { no_birds, nothing, strategies })
}

fn held_against_itself(summary: Summary, days: Kept) -> Outcome {
    outcome(without_loss(summary.measures), summary.plots, days)
}

/// The no-birds run loses no cover and suppresses no pests, by definition.
fn without_loss(mut measures: Measures) -> Measures {
    measures.set(Measure::CoverLoss, 0.0);
    measures.set(Measure::WeedingSaved, 0.0);
    measures.set(Measure::PestSuppression, if measures.get(Measure::Emerged).is_nan() { f64::NAN } else { 0.0 });
    measures
}

/// The no-birds run of a draw: what all others are held against.
#[derive(Clone, Debug)]
pub struct Baseline {
    reference: ReferenceRecorder,
    /// Its measures.
    pub measures: Measures,
}

/// Runs a draw without birds, for its measures alone.
///
/// # Errors
/// If the run cannot start.
pub fn baseline(draw: &Draw, model: &SiteModel) -> Result<Baseline, RunError> {
    let shut = [shut()];
    let (mut reference, mut summary) = (ReferenceRecorder::default(), Summary::new(None, model.limits.cover_line));
    let no_birds = RunOptions { birds: false, ..RunOptions::default() };
    run(&draw.site, &draw.drivers, &shut, 0, no_birds, &mut (&mut reference, &mut summary))?;
    Ok(Baseline { reference, measures: without_loss(summary.measures) })
}

/// Runs strategy `which` of a model on a site, for its measures alone.
///
/// # Errors
/// If the run cannot start.
pub fn measured(
    site: &Site,
    drivers: &Drivers,
    model: &SiteModel,
    which: usize,
    baseline: &Baseline,
) -> Result<Measures, RunError> {
    let summary = Summary::new(Some(&baseline.reference.reference), model.limits.cover_line);
    let mut summary = summary.weighing_pests(&model.compare.pest_weights);
    run(site, drivers, &model.strategies, which, RunOptions::default(), &mut summary)?;
    Ok(summary.measures)
}

fn shut() -> StrategySpec {
    StrategySpec { name: String::new(), kind: StrategyKind::AllShut, hours: None, birds: None }
}

fn one(
    draw: &Draw,
    model: &SiteModel,
    strategy: &mut dyn Strategy,
    options: RunOptions,
    reference: &ReferenceRecorder,
    closely: bool,
) -> Result<Outcome, RunError> {
    let summary = Summary::new(Some(&reference.reference), model.limits.cover_line);
    let mut recorders = (summary.weighing_pests(&model.compare.pest_weights), kept(closely));
    run_with(&draw.site, &draw.drivers, strategy, options, &mut recorders)?;
    let (summary, days) = recorders;
    Ok(outcome(summary.measures, summary.plots, days))
}

/// What is kept of a run's days.
type Kept = (LeastCover, Option<Closely>);

fn kept(closely: bool) -> Kept {
    (LeastCover::default(), closely.then(Closely::default))
}

fn outcome(measures: Measures, plots: Vec<PlotSummary>, (least, closely): Kept) -> Outcome {
    Outcome { measures, plots, least_cover: least.days, closely }
}

/// Least plot cover of each day.
#[derive(Clone, Debug, Default)]
struct LeastCover {
    days: Vec<u16>,
}

impl Recorder for LeastCover {
    fn start(&mut self, world: &World) {
        self.days.reserve(world.site.days);
    }

    fn day(&mut self, view: &DayView) {
        let plots = 0..view.world.site.plots.len();
        let least = plots.map(|p| view.world.cover_outside_beds(p)).fold(1.0, f64::min);
        self.days.push((least * 1000.0).round() as u16);
    }
}

/// Points of a run over the no-birds run of the same draw; blank measures count 0.
#[must_use]
pub fn gain(aims: &[(Measure, f64)], measures: &Measures, no_birds: &Measures) -> f64 {
    let points = |of: &Measures| {
        let one = |&(measure, points): &(Measure, f64)| {
            let value = of.get(measure);
            if value.is_nan() { 0.0 } else { points * value }
        };
        aims.iter().map(one).sum::<f64>()
    };
    points(measures) - points(no_birds)
}
