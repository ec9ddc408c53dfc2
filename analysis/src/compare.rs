//! Strategies on the same draws: outcomes, statistics, the verdict.

use crate::experiment::{ArmId, DrawOutcome, Job, draws_of, gain, outcomes, over_draws};
use crate::harvests::{PlotHarvest, mean_harvests};
use crate::rates::{Rates, rates};
use crate::run_detail::{RunDetail, detailed_draws};
use crate::season::check_books;
use crate::select::Selection;
use crate::stats::Estimate;
use crate::stats::LEVEL;
use crate::stats::blocks::{mean_interval, paired};
use crate::stats::front::not_beaten;
use crate::stats::quantiles::{Spread, spread};
use crate::units::Units;
use crate::verdict::{
    Contender, LimitOutcome, LimitStanding, Verdict, VerdictError, VerdictRules, decide, of_selection, verdict_words,
};
use crate::wording::rates as rates_in_words;
use scenarios::SiteModel;
use scenarios::model::Limit;
use scenarios::money::AimUnit;
use sim_engine::measures::Measure;
use sim_engine::run::world::RunError;
use sim_engine::weather::DayWeather;
use std::ops::Range;

/// Possible years each thread computes between two looks at the stop sign.
const BATCH: usize = 16;
/// Bootstraps of the verdict.
const BOOTSTRAPS: usize = 1000;

/// What is compared, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct ComparePlan {
    /// Seed of all random numbers.
    pub seed: u64,
    /// Possible years.
    pub draws: usize,
    /// Strategies, by index into the model's.
    pub which: Vec<usize>,
    /// Position in `which` of the strategy the others are set against.
    pub against: usize,
    /// Chance with which every limit must hold.
    pub required_reliability: f64,
    /// Difference worth telling apart, as a share of the best's gain.
    pub indifference_share: f64,
}

/// Why a comparison failed.
#[derive(Debug, thiserror::Error)]
pub enum CompareError {
    /// A run failed: see [`RunError`].
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
    pub plan: ComparePlan,
    /// Names of the strategies, in the order of `plan.which`.
    pub names: Vec<String>,
    /// Outcomes of draw 1, 2, …
    pub outcomes: Vec<DrawOutcome>,
    /// How many of them each strategy has, the first ones; all, unless `--until-sure` took it out.
    pub counted: Vec<usize>,
    /// What they are worth over the run of birds shut in, by strategy and draw.
    pub aims: Vec<Vec<f64>>,
    /// What they are counted in.
    pub aim_unit: AimUnit,
    /// The same by strategy: mean and 95 % interval.
    pub aim: Vec<Estimate>,
    /// Not beaten on everything the aims name.
    pub undominated: Vec<bool>,
    /// The verdict.
    pub verdict: Verdict,
    /// Over which rates of the aims it holds; `None` where there is nothing to choose.
    pub rates: Option<Rates>,
    /// How it was reached by adding possible years, with `--until-sure`.
    pub selection: Option<Selection>,
}

/// Runs a comparison; its progress is the possible years that are done, and it stops between
/// batches of them. The books of every strategy's likely season are audited first.
///
/// # Errors
/// See [`CompareError`].
pub fn compare(
    model: &SiteModel,
    plan: &ComparePlan,
    weather: Option<&[DayWeather]>,
    job: &Job<'_>,
) -> Result<Comparison, CompareError> {
    check_books(model, plan.seed, weather, &plan.which)?;
    let mut outcomes: Vec<DrawOutcome> = Vec::with_capacity(plan.draws);
    while outcomes.len() < plan.draws && !job.stopped() {
        let first = outcomes.len();
        let last = (first + BATCH * rayon::current_num_threads()).min(plan.draws);
        outcomes.extend(run_draws(model, plan, &plan.which, weather, first..last)?);
        job.come_to(outcomes.len());
    }
    if outcomes.is_empty() {
        return Err(CompareError::Stopped);
    }
    let counted = vec![outcomes.len(); plan.which.len()];
    finish(model, plan, outcomes, counted, None)
}

/// Runs the strategies `which` on the possible years of a range, counted from 0.
pub(crate) fn run_draws(
    model: &SiteModel,
    plan: &ComparePlan,
    which: &[usize],
    weather: Option<&[DayWeather]>,
    range: Range<usize>,
) -> Result<Vec<DrawOutcome>, RunError> {
    let detail = detailed_draws(model, plan.which.len());
    over_draws(range, |years| {
        let detail = detail.saturating_sub(years.start);
        outcomes(draws_of(model, plan.seed, weather, years), model, which, detail)
    })
}

/// Statistics and verdict of outcomes; `counted` is how many of them each strategy has.
pub(crate) fn finish(
    model: &SiteModel,
    plan: &ComparePlan,
    outcomes: Vec<DrawOutcome>,
    counted: Vec<usize>,
    selection: Option<Selection>,
) -> Result<Comparison, CompareError> {
    let names: Vec<String> = plan.which.iter().map(|&s| model.strategies[s].name.clone()).collect();
    let aims: Vec<Vec<f64>> = (0..names.len())
        .map(|s| {
            let seen = &outcomes[..counted[s]];
            seen.iter().map(|o| gain(&model.aims, &o.strategies[s].measures, &o.shut_in.measures)).collect()
        })
        .collect();
    let found = Evidence { names: &names, aims: &aims, outcomes: &outcomes, counted: &counted };
    let verdict = reach(model, plan, &found, selection.as_ref())?;
    let aim = aims.iter().map(|a| mean_interval(a, LEVEL)).collect();
    let undominated = undominated(model, &outcomes, names.len());
    let (plan, aim_unit) = (plan.clone(), model.aim_unit.clone());
    let mut comparison = Comparison {
        plan,
        names,
        outcomes,
        counted,
        aims,
        aim_unit,
        aim,
        undominated,
        verdict,
        rates: None,
        selection,
    };
    let holds: Vec<bool> = comparison.verdict.standings.iter().map(|standing| standing.holds).collect();
    let seen = (comparison.outcomes.as_slice(), comparison.counted.as_slice());
    comparison.rates = rates(&model.aims, comparison.leading(), &holds, seen);
    Ok(comparison)
}

/// What a verdict rests on.
struct Evidence<'a> {
    names: &'a [String],
    aims: &'a [Vec<f64>],
    outcomes: &'a [DrawOutcome],
    counted: &'a [usize],
}

impl Evidence<'_> {
    /// The possible years strategy `s` was tried in.
    fn of(&self, s: usize) -> &[DrawOutcome] {
        &self.outcomes[..self.counted[s]]
    }
}

/// The verdict.
fn reach(
    model: &SiteModel,
    plan: &ComparePlan,
    found: &Evidence<'_>,
    selection: Option<&Selection>,
) -> Result<Verdict, VerdictError> {
    let contenders: Vec<Contender> = found
        .names
        .iter()
        .enumerate()
        .map(|(s, name)| Contender {
            name: name.clone(),
            aim: found.aims[s].clone(),
            limits: model.limits.all.iter().map(|l| limit_outcome(l, found.of(s), s)).collect(),
        })
        .collect();
    let rules = VerdictRules {
        required_reliability: plan.required_reliability,
        indifference_share: plan.indifference_share,
        seed: plan.seed,
        bootstraps: BOOTSTRAPS,
    };
    match selection {
        Some(selection) => of_selection(&contenders, &rules, selection),
        None => decide(&contenders, &rules),
    }
}

fn limit_outcome(limit: &Limit, outcomes: &[DrawOutcome], strategy: usize) -> LimitOutcome {
    LimitOutcome {
        limit: limit.clone(),
        held: outcomes.iter().map(|o| limit.holds(o.strategies[strategy].measures.get(limit.measure))).collect(),
    }
}

/// Which strategies no other beats on every measure the aims give a worth (on means).
fn undominated(model: &SiteModel, outcomes: &[DrawOutcome], strategies: usize) -> Vec<bool> {
    let points: Vec<Vec<f64>> = (0..strategies)
        .map(|s| {
            let of = |&(m, rate): &(Measure, f64)| {
                let values: Vec<f64> =
                    outcomes.iter().map(|o| o.strategies[s].measures.get(m)).filter(|v| !v.is_nan()).collect();
                // Small is good to the front.
                if values.is_empty() { 0.0 } else { -rate.signum() * crate::stats::mean(&values) }
            };
            model.aims.iter().filter(|(_, p)| *p != 0.0).map(of).collect()
        })
        .collect();
    not_beaten(&points)
}

impl Comparison {
    /// The verdict in a keeper's words, and over which rates it holds.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        let shut_in = self.limits_shut_in();
        let verdict = verdict_words(&self.verdict, self.selection.as_ref(), &shut_in, units, &self.aim_unit);
        std::iter::once(verdict)
            .chain(rates_in_words(self.rates.as_ref(), &self.names, self.leading(), units, &self.aim_unit))
            .collect::<Vec<_>>()
            .join(" ")
    }

    /// Values of a measure over the draws of one run.
    #[must_use]
    pub fn values(&self, run: ArmId, measure: Measure) -> Vec<f64> {
        self.outcomes.iter().map(|o| o.of(run).measures.get(measure)).collect()
    }

    /// The runs looked at closely, draw by draw.
    #[must_use]
    pub fn detail(&self, run: ArmId) -> Vec<&RunDetail> {
        self.outcomes.iter().filter_map(|o| o.of(run).detail.as_ref()).collect()
    }

    /// What each plot bears in a run, by crop and fruit: means over the possible years it was tried in.
    #[must_use]
    pub fn harvests(&self, run: ArmId) -> Vec<PlotHarvest> {
        let counted = match run {
            ArmId::Strategy(s) => self.counted[s],
            _ => self.outcomes.len(),
        };
        mean_harvests(self.outcomes[..counted].iter().map(|outcome| outcome.of(run).plots.as_slice()))
    }

    /// Mean, median and range of a measure; `None` where it is blank in every draw.
    #[must_use]
    pub fn figure(&self, run: ArmId, measure: Measure) -> Option<Figure> {
        let values = self.values(run, measure);
        let spread = spread(&values)?;
        Some(Figure { mean: mean_interval(&values, LEVEL), spread })
    }

    /// Mean of a measure of a strategy as it is told against birds shut in: itself where it is measured against them,
    /// else the difference; `None` where it is blank.
    #[must_use]
    pub fn gained(&self, strategy: usize, measure: Measure) -> Option<f64> {
        let mean = |run| self.figure(run, measure).map(|figure| figure.mean.mean);
        let from = if measure == Measure::HarvestKept { mean(ArmId::ShutIn)? } else { 0.0 };
        Some(mean(ArmId::Strategy(strategy))? - from)
    }

    /// Paired difference of a strategy to another run, mean and 95 % interval.
    #[must_use]
    pub fn difference(&self, run: ArmId, other: ArmId, measure: Measure) -> Option<Estimate> {
        let difference = paired(&self.values(run, measure), &self.values(other, measure), LEVEL).estimate;
        (!difference.mean.is_nan()).then_some(difference)
    }

    /// The strategy looked at closely, by position in the plan: the verdict's leader, else what comes
    /// nearest, else the first.
    #[must_use]
    pub fn leading(&self) -> usize {
        let name = self.verdict.leader.as_ref().or(self.verdict.nearest.as_ref());
        name.and_then(|name| self.names.iter().position(|other| other == name)).unwrap_or(0)
    }

    /// How the limits fare with the birds shut in; none where there is no strategy that has them.
    #[must_use]
    pub fn limits_shut_in(&self) -> Vec<LimitStanding> {
        let Some(standing) = self.verdict.standings.first() else { return Vec::new() };
        let fares = |limit: &LimitStanding| {
            let measure = limit.limit.measure;
            let held = self.values(ArmId::ShutIn, measure).into_iter().map(|value| limit.limit.holds(value)).collect();
            LimitStanding::of(
                &LimitOutcome { limit: limit.limit.clone(), held },
                self.verdict.rules.required_reliability,
            )
        };
        standing.limits.iter().map(fares).collect()
    }

    /// The strategy the others are set against.
    #[must_use]
    pub fn reference(&self) -> ArmId {
        ArmId::Strategy(self.plan.against)
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
