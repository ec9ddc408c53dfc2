//! Strategies on the same luck: outcomes, statistics, the verdict.

use crate::closely::{Closely, draws_looked_at};
use crate::luck::Luck;
use crate::runs::{DrawOutcome, Outcome, gain, run_abreast};
use crate::select::Selection;
use crate::stats::Estimate;
use crate::stats::blocks::{mean_interval, paired};
use crate::stats::front::not_beaten;
use crate::stats::quantiles::{Spread, spread};
use crate::units::Units;
use crate::verdict::{Contender, LEVEL, LimitOutcome, Verdict, VerdictError, VerdictRules, decide, of_selection};
use rayon::prelude::*;
use scenarios::SiteModel;
use scenarios::model::{Limit, Sense};
use sim_engine::abreast::lanes;
use sim_engine::measures::Measure;
use sim_engine::weather::DayWeather;
use sim_engine::world::RunError;
use std::ops::Range;

/// Possible years each thread computes between two looks at the stop sign.
const BATCH: usize = 16;
/// Bootstraps of the verdict.
const BOOTSTRAPS: usize = 1000;

/// What is compared, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Seed of all luck.
    pub seed: u64,
    /// Possible years.
    pub draws: usize,
    /// Strategies, by index into the model's.
    pub which: Vec<usize>,
    /// Position in `which` of the strategy the others are set against.
    pub against: usize,
    /// Chance with which every limit must hold.
    pub sure: f64,
    /// Difference worth telling apart, as a share of the best's gain.
    pub worth: f64,
}

/// Why a comparison failed.
#[derive(Debug, thiserror::Error)]
pub enum CompareError {
    /// A run could not start.
    #[error(transparent)]
    Run(#[from] RunError),
    /// The verdict could not be reached.
    #[error(transparent)]
    Verdict(#[from] VerdictError),
    /// Stopped before the first possible years were done.
    #[error("stopped before any possible year was finished; nothing to tell")]
    Stopped,
}

/// A finished comparison.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// What was asked.
    pub plan: Plan,
    /// Names of the strategies, in the order of `plan.which`.
    pub names: Vec<String>,
    /// Outcomes of draw 1, 2, …
    pub outcomes: Vec<DrawOutcome>,
    /// How many of them each strategy has, the first ones; all, unless `--until-sure` took it out.
    pub counted: Vec<usize>,
    /// Points over the no-birds run, by strategy and draw.
    pub aims: Vec<Vec<f64>>,
    /// Points by strategy: mean and 95 % interval.
    pub aim: Vec<Estimate>,
    /// Not beaten on everything the aims name.
    pub undominated: Vec<bool>,
    /// The verdict.
    pub verdict: Verdict,
    /// How it was reached by adding possible years, with `--until-sure`.
    pub selection: Option<Selection>,
}

/// Runs a comparison. `progress` hears how many possible years are done; `stop` is asked
/// between batches, and what is finished by then is kept.
///
/// # Errors
/// See [`CompareError`].
pub fn compare(
    model: &SiteModel,
    plan: &Plan,
    weather: Option<&[DayWeather]>,
    progress: &(dyn Fn(usize) + Sync),
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<Comparison, CompareError> {
    let mut outcomes: Vec<DrawOutcome> = Vec::with_capacity(plan.draws);
    while outcomes.len() < plan.draws && !stop() {
        let first = outcomes.len();
        let last = (first + BATCH * rayon::current_num_threads()).min(plan.draws);
        outcomes.extend(possible_years(model, plan, &plan.which, weather, first..last)?);
        progress(outcomes.len());
    }
    if outcomes.is_empty() {
        return Err(CompareError::Stopped);
    }
    let counted = vec![outcomes.len(); plan.which.len()];
    finish(model, plan, outcomes, counted, None)
}

/// Runs the strategies `which` on the possible years of a range, counted from 0.
pub(crate) fn possible_years(
    model: &SiteModel,
    plan: &Plan,
    which: &[usize],
    weather: Option<&[DayWeather]>,
    range: Range<usize>,
) -> Result<Vec<DrawOutcome>, RunError> {
    let luck = Luck { seed: plan.seed };
    let closely = draws_looked_at(model, plan.which.len());
    let draw = |i: usize| luck.draw_under(model, i as u64 + 1, weather);
    let some = |years: Range<usize>| {
        let closely = closely.saturating_sub(years.start);
        run_abreast(&years.map(draw).collect::<Vec<_>>(), model, which, closely)
    };
    // Collected in the order of draws, so that sums do not depend on threads.
    let years: Vec<Result<Vec<DrawOutcome>, RunError>> = parts(range).into_par_iter().map(some).collect();
    let mut all = Vec::new();
    for some in years {
        all.extend(some?);
    }
    Ok(all)
}

/// Parts a range of draws into so many as run abreast, or fewer where only then all threads
/// have work.
fn parts(range: Range<usize>) -> Vec<Range<usize>> {
    let size = range.len().div_ceil(rayon::current_num_threads()).clamp(1, lanes());
    range.clone().step_by(size).map(|first| first..(first + size).min(range.end)).collect()
}

/// Statistics and verdict of outcomes; `counted` is how many of them each strategy has.
pub(crate) fn finish(
    model: &SiteModel,
    plan: &Plan,
    outcomes: Vec<DrawOutcome>,
    counted: Vec<usize>,
    selection: Option<Selection>,
) -> Result<Comparison, CompareError> {
    let names: Vec<String> = plan.which.iter().map(|&s| model.strategies[s].name.clone()).collect();
    let aims: Vec<Vec<f64>> = (0..names.len())
        .map(|s| {
            let seen = &outcomes[..counted[s]];
            seen.iter().map(|o| gain(&model.aims, &o.strategies[s].measures, &o.no_birds.measures)).collect()
        })
        .collect();
    let found = Found { names: &names, aims: &aims, outcomes: &outcomes, counted: &counted };
    let verdict = reach(model, plan, &found, selection.as_ref(), Units::Metric)?;
    let aim = aims.iter().map(|a| mean_interval(a, LEVEL)).collect();
    let undominated = undominated(model, &outcomes, names.len());
    Ok(Comparison { plan: plan.clone(), names, outcomes, counted, aims, aim, undominated, verdict, selection })
}

/// What a verdict rests on.
struct Found<'a> {
    names: &'a [String],
    aims: &'a [Vec<f64>],
    outcomes: &'a [DrawOutcome],
    counted: &'a [usize],
}

impl Found<'_> {
    /// The possible years strategy `s` was tried in.
    fn of(&self, s: usize) -> &[DrawOutcome] {
        &self.outcomes[..self.counted[s]]
    }
}

/// The verdict, its limits said in these units.
fn reach(
    model: &SiteModel,
    plan: &Plan,
    found: &Found<'_>,
    selection: Option<&Selection>,
    units: Units,
) -> Result<Verdict, VerdictError> {
    let contenders: Vec<Contender> = found
        .names
        .iter()
        .enumerate()
        .map(|(s, name)| Contender {
            name: name.clone(),
            aim: found.aims[s].clone(),
            limits: model.limits.all.iter().map(|l| limit_outcome(l, found.of(s), s, units)).collect(),
        })
        .collect();
    let rules = VerdictRules { sure: plan.sure, worth_share: plan.worth, seed: plan.seed, bootstraps: BOOTSTRAPS };
    match selection {
        Some(selection) => of_selection(&contenders, &rules, selection),
        None => decide(&contenders, &rules),
    }
}

fn limit_outcome(limit: &Limit, outcomes: &[DrawOutcome], strategy: usize, units: Units) -> LimitOutcome {
    LimitOutcome {
        name: limit.name.to_owned(),
        plain: in_words(limit, units),
        held: outcomes.iter().map(|o| limit.holds(o.strategies[strategy].measures.get(limit.measure))).collect(),
    }
}

/// A limit as a clause: "ground cover never falls below 70 %".
#[must_use]
pub fn in_words(limit: &Limit, units: Units) -> String {
    let bound = limit.bound;
    let said = || units.plain(bound, limit.measure.unit());
    match (limit.measure, limit.sense) {
        (Measure::LeastCover, _) => format!("no plot's cover falls below {:.0} %", 100.0 * bound),
        (Measure::DaysUnder, _) => format!("plots spend at most {bound:.0} days a year under the cover line"),
        (Measure::BareDays, _) => format!("no plot lies under half cover for more than {bound:.0} days"),
        (Measure::Space, _) => format!("every bird has at least {} outdoors", units.area(bound)),
        (m, Sense::AtLeast) => format!("{} is at least {}", m.plain(), said()),
        (m, Sense::AtMost) => format!("{} is at most {}", m.plain(), said()),
    }
}

/// Which strategies no other beats on every measure the aims give points for (on means).
fn undominated(model: &SiteModel, outcomes: &[DrawOutcome], strategies: usize) -> Vec<bool> {
    let points: Vec<Vec<f64>> = (0..strategies)
        .map(|s| {
            let of = |&(m, points): &(Measure, f64)| {
                let values: Vec<f64> =
                    outcomes.iter().map(|o| o.strategies[s].measures.get(m)).filter(|v| !v.is_nan()).collect();
                // Small is good to the front.
                if values.is_empty() { 0.0 } else { -points.signum() * crate::stats::mean(&values) }
            };
            model.aims.iter().filter(|(_, p)| *p != 0.0).map(of).collect()
        })
        .collect();
    not_beaten(&points)
}

/// Which run a figure is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// No birds, usual care.
    NoBirds,
    /// No birds, no care.
    Nothing,
    /// A strategy, by position in the plan.
    Strategy(usize),
}

impl Comparison {
    /// The same comparison with its verdict said in other units: for screens and pages, never
    /// for data.
    ///
    /// # Errors
    /// None that making the comparison did not have.
    pub fn said_in(&mut self, model: &SiteModel, units: Units) -> Result<(), VerdictError> {
        let found = Found { names: &self.names, aims: &self.aims, outcomes: &self.outcomes, counted: &self.counted };
        self.verdict = reach(model, &self.plan, &found, self.selection.as_ref(), units)?;
        Ok(())
    }

    /// Values of a measure over the draws of one run.
    #[must_use]
    pub fn values(&self, run: Run, measure: Measure) -> Vec<f64> {
        self.outcomes.iter().map(|o| o.of(run).measures.get(measure)).collect()
    }

    /// The runs looked at closely, draw by draw.
    #[must_use]
    pub fn closely(&self, run: Run) -> Vec<&Closely> {
        self.outcomes.iter().filter_map(|o| o.of(run).closely.as_ref()).collect()
    }

    /// Mean, median and range of a measure; `None` where it is blank in every draw.
    #[must_use]
    pub fn figure(&self, run: Run, measure: Measure) -> Option<Figure> {
        let values = self.values(run, measure);
        let spread = spread(&values)?;
        Some(Figure { mean: mean_interval(&values, LEVEL), spread })
    }

    /// Paired difference of a strategy to another run, mean and 95 % interval.
    #[must_use]
    pub fn difference(&self, run: Run, other: Run, measure: Measure) -> Option<Estimate> {
        let difference = paired(&self.values(run, measure), &self.values(other, measure), LEVEL).estimate;
        (!difference.mean.is_nan()).then_some(difference)
    }

    /// The strategy the others are set against.
    #[must_use]
    pub fn reference(&self) -> Run {
        Run::Strategy(self.plan.against)
    }
}

impl DrawOutcome {
    /// Outcome of one run.
    #[must_use]
    pub fn of(&self, run: Run) -> &Outcome {
        match run {
            Run::NoBirds => &self.no_birds,
            Run::Nothing => &self.nothing,
            Run::Strategy(s) => &self.strategies[s],
        }
    }
}

/// A measure over the draws.
#[derive(Clone, Debug)]
pub struct Figure {
    /// Mean and its 95 % interval.
    pub mean: Estimate,
    /// Median and the range nine of ten draws fall in.
    pub spread: Spread,
}
