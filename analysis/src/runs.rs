//! All runs of a draw: the two without birds, and every strategy.

use crate::luck::Draw;
use scenarios::SiteModel;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::measures::Measures;
use sim_engine::season::{DayView, Recorder, RunOptions, run};
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
    let shut = [StrategySpec { name: String::new(), kind: StrategyKind::AllShut, hours: None, birds: None }];
    let mut reference = ReferenceRecorder::default();
    let (mut summary, mut least) = (Summary::new(None, model.limits.cover_line), LeastCover::default());
    let no_birds = RunOptions { birds: false, ..RunOptions::default() };
    run(&draw.site, &draw.drivers, &shut, 0, no_birds, &mut (&mut reference, (&mut summary, &mut least)))?;
    let no_birds = held_against_itself(summary, least);
    let nothing = RunOptions { birds: false, hands: false, ..RunOptions::default() };
    let nothing = one(draw, model, (&shut, 0), nothing, &reference)?;
    let strategies = which
        .iter()
        .map(|&s| one(draw, model, (&model.strategies, s), RunOptions::default(), &reference))
        .collect::<Result<_, _>>()?;
    Ok(DrawOutcome { no_birds, nothing, strategies })
}

/// The no-birds run loses no cover and suppresses no pests, by definition.
fn held_against_itself(summary: Summary, least: LeastCover) -> Outcome {
    use sim_engine::measures::Measure;
    let mut measures = summary.measures;
    measures.set(Measure::CoverLoss, 0.0);
    measures.set(Measure::WeedingSaved, 0.0);
    measures.set(Measure::PestSuppression, if measures.get(Measure::Emerged).is_nan() { f64::NAN } else { 0.0 });
    Outcome { measures, plots: summary.plots, least_cover: least.days }
}

fn one(
    draw: &Draw,
    model: &SiteModel,
    (specs, which): (&[StrategySpec], usize),
    options: RunOptions,
    reference: &ReferenceRecorder,
) -> Result<Outcome, RunError> {
    let summary = Summary::new(Some(&reference.reference), model.limits.cover_line);
    let mut recorders = (summary.weighing_pests(&model.compare.pest_weights), LeastCover::default());
    run(&draw.site, &draw.drivers, specs, which, options, &mut recorders)?;
    let (summary, least) = recorders;
    Ok(Outcome { measures: summary.measures, plots: summary.plots, least_cover: least.days })
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
