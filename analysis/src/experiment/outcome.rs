//! All runs of a draw: the three references, and every strategy.

use super::{Arm, Judged, Trial};
use crate::draw_sampler::Draw;
use crate::run_detail::RunDetail;
use scenarios::SiteModel;
use sim_engine::gates::Strategy;
use sim_engine::measures::{Measure, Measures};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::world::RunError;
use sim_engine::summary::PlotSummary;

/// Outcome of one run.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// What the run is judged by.
    pub measures: Measures,
    /// By plot.
    pub plots: Vec<PlotSummary>,
    /// Least plot cover outside beds, day by day, in thousandths (kept small for the fans); no days where no plot has a sward.
    pub least_cover: Vec<u16>,
    /// The run looked at closely, if it was.
    pub detail: Option<RunDetail>,
}

impl Outcome {
    /// Of no run: everything blank.
    fn blank() -> Self {
        Self { measures: Measures::blank(), plots: Vec::new(), least_cover: Vec::new(), detail: None }
    }

    fn of(run: Judged<Kept>) -> Self {
        let (least, detail) = run.recorder;
        Self { measures: run.measures, plots: run.plots, least_cover: least.days, detail }
    }
}

/// Outcomes of a draw.
#[derive(Clone, Debug)]
pub struct DrawOutcome {
    /// Birds shut in: the flock, its heap and usual care, and no gate opened. Strategies are measured against it.
    pub shut_in: Outcome,
    /// No birds, usual care.
    pub no_birds: Outcome,
    /// Nothing: no birds and no care.
    pub nothing: Outcome,
    /// By strategy.
    pub strategies: Vec<Outcome>,
}

/// Which run a figure is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArmId {
    /// Birds shut in, usual care.
    ShutIn,
    /// No birds, usual care.
    NoBirds,
    /// No birds, no care.
    Nothing,
    /// A strategy, by position among those compared.
    Strategy(usize),
}

impl DrawOutcome {
    /// Outcome of one run.
    #[must_use]
    pub fn of(&self, run: ArmId) -> &Outcome {
        match run {
            ArmId::ShutIn => &self.shut_in,
            ArmId::NoBirds => &self.no_birds,
            ArmId::Nothing => &self.nothing,
            ArmId::Strategy(s) => &self.strategies[s],
        }
    }
}

/// Runs all of some draws side by side, the first `detail` of them looked at closely. `which` picks
/// strategies of the model by index.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if a draw has fewer days of weather than its run.
pub fn outcomes(
    draws: Vec<Draw>,
    model: &SiteModel,
    which: &[usize],
    detail: usize,
) -> Result<Vec<DrawOutcome>, RunError> {
    let kept = |draw: usize| kept(draw < detail);
    let (trial, shut_in) = Trial::new(draws, model, kept)?;
    let no_birds = trial.run(Arm::no_birds(), kept)?;
    let nothing = trial.run(Arm::nothing(), kept)?;
    let mut by_strategy = which
        .iter()
        .map(|&s| Ok(trial.run(Arm::strategy(&model.strategies, s), kept)?.into_iter()))
        .collect::<Result<Vec<_>, RunError>>()?;
    let of_draw = |((shut_in, no_birds), nothing)| DrawOutcome {
        shut_in: Outcome::of(shut_in),
        no_birds: Outcome::of(no_birds),
        nothing: Outcome::of(nothing),
        strategies: by_strategy.iter_mut().filter_map(Iterator::next).map(Outcome::of).collect(),
    };
    Ok(shut_in.into_iter().zip(no_birds).zip(nothing).map(of_draw).collect())
}

/// Runs all of a draw under a strategy of any make, for example one that asks another program.
///
/// # Errors
/// [`RunError::TooLittleWeather`] if the draw has fewer days of weather than its run.
pub fn outcome_given(draw: Draw, model: &SiteModel, strategy: &mut dyn Strategy) -> Result<DrawOutcome, RunError> {
    let kept = |_: usize| kept(false);
    let (trial, shut_in) = Trial::new(vec![draw], model, kept)?;
    let no_birds = trial.run(Arm::no_birds(), kept)?;
    let nothing = trial.run(Arm::nothing(), kept)?;
    let given = trial.run_given(0, strategy, kept(0))?;
    let one = |runs: Vec<Judged<Kept>>| runs.into_iter().next().map_or_else(Outcome::blank, Outcome::of);
    Ok(DrawOutcome {
        shut_in: one(shut_in),
        no_birds: one(no_birds),
        nothing: one(nothing),
        strategies: vec![Outcome::of(given)],
    })
}

/// What is kept of a run's days.
type Kept = (LeastCover, Option<RunDetail>);

fn kept(detail: bool) -> Kept {
    (LeastCover::default(), detail.then(RunDetail::default))
}

/// Least plot cover of each day.
#[derive(Clone, Debug, Default)]
struct LeastCover {
    days: Vec<u16>,
}

impl Recorder for LeastCover {
    fn start(&mut self, run: &RunView) {
        self.days.reserve(run.world.site.days);
    }

    fn day(&mut self, view: &DayView) {
        let plots = 0..view.world.site.plots.len();
        let covers = plots.map(|plot| view.world.barest_cover(plot)).filter(|cover| !cover.is_nan());
        self.days.extend(covers.reduce(f64::min).map(|least| (least.min(1.0) * 1000.0).round() as u16));
    }
}

/// What a run is worth, in the unit of the aims, over the same draw with the birds shut in; blank measures count 0.
#[must_use]
pub fn gain(aims: &[(Measure, f64)], measures: &Measures, shut_in: &Measures) -> f64 {
    let worth = |of: &Measures| {
        let one = |&(measure, rate): &(Measure, f64)| {
            let value = of.get(measure);
            if value.is_nan() { 0.0 } else { rate * value }
        };
        aims.iter().map(one).sum::<f64>()
    };
    worth(measures) - worth(shut_in)
}
