//! All runs of a draw: the two without birds, and every strategy.

use crate::closely::Closely;
use crate::luck::Draw;
use scenarios::SiteModel;
use sim_engine::abreast::{Abreast, Year};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::gates::{Strategy, build};
use sim_engine::measures::{Measure, Measures};
use sim_engine::recorder::FromTheGate;
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

/// Runs all of some draws abreast, the first `closely` of them looked at closely: the same as
/// [`run_given`] of each, to the bit. `which` picks strategies by index.
///
/// # Errors
/// If a run cannot start.
pub fn run_abreast(
    draws: &[Draw],
    model: &SiteModel,
    which: &[usize],
    closely: usize,
) -> Result<Vec<DrawOutcome>, RunError> {
    let years = years(draws);
    let abreast = Abreast::new(&years);
    let shut = [shut()];
    let fresh = |draw: usize| {
        (ReferenceRecorder::default(), (Summary::new(None, model.limits.cover_line), kept(draw < closely)))
    };
    let mut no_birds: Vec<_> = (0..draws.len()).map(fresh).collect();
    abreast.run(&years, &shut, 0, RunOptions { birds: false, ..RunOptions::default() }, &mut no_birds)?;
    let (references, no_birds): (Vec<_>, Vec<_>) = no_birds.into_iter().unzip();
    let run = |strategies: &[StrategySpec], which: usize, options: RunOptions| {
        let fresh = |(draw, reference)| (held_against(reference, model), kept(draw < closely));
        let mut recorders: Vec<_> = references.iter().enumerate().map(fresh).collect();
        abreast.run(&years, strategies, which, options, &mut recorders)?;
        let done = recorders.into_iter().map(|(summary, days)| outcome(summary.measures, summary.plots, days));
        Ok(done.collect::<Vec<Outcome>>())
    };
    let nothing = run(&shut, 0, RunOptions { birds: false, hands: false, ..RunOptions::default() })?;
    let mut by_strategy = which
        .iter()
        .map(|&s| Ok(run(&model.strategies, s, RunOptions::default())?.into_iter()))
        .collect::<Result<Vec<_>, RunError>>()?;
    let of_draw = |((summary, days), nothing): ((Summary, Kept), Outcome)| DrawOutcome {
        no_birds: held_against_itself(summary, days),
        nothing,
        strategies: by_strategy.iter_mut().filter_map(Iterator::next).collect(),
    };
    Ok(no_birds.into_iter().zip(nothing).map(of_draw).collect())
}

fn years(draws: &[Draw]) -> Vec<Year<'_>> {
    draws.iter().map(|draw| (&draw.site, &draw.drivers)).collect()
}

/// Runs all of a draw under strategies of any make, for example one that asks another program.
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

/// Draws made ready for many runs, for their measures alone, with their runs without birds.
pub struct Trials {
    draws: Vec<Draw>,
    abreast: Abreast,
    /// The no-birds run of each draw.
    pub baselines: Vec<Baseline>,
}

impl Trials {
    /// Runs the draws without birds.
    ///
    /// # Errors
    /// If a run cannot start.
    pub fn new(draws: Vec<Draw>, model: &SiteModel) -> Result<Self, RunError> {
        let years = years(&draws);
        let abreast = Abreast::new(&years);
        let fresh = || (ReferenceRecorder::default(), Summary::new(None, model.limits.cover_line));
        let mut recorders: Vec<_> = draws.iter().map(|_| fresh()).collect();
        let no_birds = RunOptions { birds: false, ..RunOptions::default() };
        abreast.run(&years, &[shut()], 0, no_birds, &mut recorders)?;
        let baseline =
            |(reference, summary): (_, Summary)| Baseline { reference, measures: without_loss(summary.measures) };
        let baselines = recorders.into_iter().map(baseline).collect();
        Ok(Self { draws, abreast, baselines })
    }

    /// The sites of the draws.
    #[must_use]
    pub fn sites(&self) -> Vec<Site> {
        self.draws.iter().map(|draw| draw.site.clone()).collect()
    }

    /// Runs strategy `which` of a model on `sites`, which are those of the draws but for their flocks.
    ///
    /// # Errors
    /// If a run cannot start.
    pub fn measured(&self, sites: &[Site], model: &SiteModel, which: usize) -> Result<Vec<Measures>, RunError> {
        let years: Vec<Year<'_>> = sites.iter().zip(&self.draws).map(|(site, draw)| (site, &draw.drivers)).collect();
        let mut recorders: Vec<Summary<'_>> =
            self.baselines.iter().map(|baseline| held_against(&baseline.reference, model)).collect();
        self.abreast.run(&years, &model.strategies, which, RunOptions::default(), &mut recorders)?;
        Ok(recorders.into_iter().map(|summary| summary.measures).collect())
    }
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
    let mut recorders = (held_against(reference, model), kept(closely));
    run_with(&draw.site, &draw.drivers, strategy, options, &mut recorders)?;
    let (summary, days) = recorders;
    Ok(outcome(summary.measures, summary.plots, days))
}

/// The summary of a run held against the no-birds run.
fn held_against<'r>(reference: &'r ReferenceRecorder, model: &'r SiteModel) -> Summary<'r> {
    Summary::new(Some(&reference.reference), model.limits.cover_line).weighing_pests(&model.compare.pest_weights)
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

impl FromTheGate for LeastCover {}

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
