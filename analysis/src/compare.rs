//! Strategies on the same draws: outcomes, statistics, the verdict.

use crate::experiment::{ArmId, DrawOutcome, Job, draws_of, outcomes, over_draws};
use crate::harvests::{HarvestSums, PlotHarvest};
use crate::outcomes::columns::SpillError;
use crate::outcomes::{Against, Figure, Figures, KeptYears, Outcomes, PlotColumn, PlotSpread, arm_place};
use crate::rates::{Rates, rates};
use crate::run_detail::{RunDetail, detailed_draws};
use crate::season::check_books;
use crate::select::Selection;
use crate::stats::Estimate;
use crate::stats::LEVEL;
use crate::stats::blocks::mean_interval;
use crate::stats::front::not_beaten;
use crate::stats::quantiles::Spread;
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
use std::sync::Arc;

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
    /// What is too much for memory could not be kept or read back.
    #[error(transparent)]
    Spill(#[from] SpillError),
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
    /// Possible years that were finished: draws 1, 2, …
    pub finished: usize,
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
    /// How the limits fare with the birds shut in.
    pub limits_shut_in: Vec<LimitStanding>,
    figures: Figures,
    /// By run.
    harvests: Vec<Vec<PlotHarvest>>,
    /// By run.
    details: Arc<Vec<Vec<RunDetail>>>,
    kept: Arc<KeptYears>,
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
    let mut outcomes = Outcomes::new(model, plan.which.len());
    let all: Vec<usize> = (0..plan.which.len()).collect();
    while outcomes.years() < plan.draws && !job.stopped() {
        let first = outcomes.years();
        let last = (first + BATCH * rayon::current_num_threads()).min(plan.draws);
        for year in run_draws(model, plan, &plan.which, weather, first..last)? {
            outcomes.push(model, year, &all)?;
        }
        job.come_to(outcomes.years());
    }
    if outcomes.years() == 0 {
        return Err(CompareError::Stopped);
    }
    finish(model, plan, outcomes, None)
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

/// Statistics and verdict of outcomes.
pub(crate) fn finish(
    model: &SiteModel,
    plan: &ComparePlan,
    outcomes: Outcomes,
    selection: Option<Selection>,
) -> Result<Comparison, CompareError> {
    let Outcomes { mut kept, aims, held, harvests, details } = outcomes;
    kept.close()?;
    let names: Vec<String> = plan.which.iter().map(|&s| model.strategies[s].name.clone()).collect();
    let (verdict, aims) = reach(model, plan, &names, (aims, held), selection.as_ref())?;
    let counted: Vec<usize> = aims.iter().map(Vec::len).collect();
    let figures = Figures::of(&kept, model, names.len(), plan.against)?;
    let holds: Vec<bool> = verdict.standings.iter().map(|standing| standing.holds).collect();
    let column = |s, measure| kept.values(ArmId::Strategy(s), measure);
    Ok(Comparison {
        plan: plan.clone(),
        finished: kept.years(),
        aim_unit: model.aim_unit.clone(),
        aim: aims.iter().map(|a| mean_interval(a, LEVEL)).collect(),
        undominated: undominated(model, &figures, names.len()),
        rates: rates(&model.aims, leading(&verdict, &names), &holds, &counted, column)?,
        limits_shut_in: limits_shut_in(model, plan, &kept)?,
        names,
        counted,
        aims,
        verdict,
        selection,
        figures,
        harvests: harvests.iter().map(HarvestSums::means).collect(),
        details: Arc::new(details),
        kept: Arc::new(kept),
    })
}

/// What strategies are worth and whether limits held, by strategy.
type Evidence = (Vec<Vec<f64>>, Vec<Vec<Vec<bool>>>);

/// The verdict; gives back what strategies are worth.
fn reach(
    model: &SiteModel,
    plan: &ComparePlan,
    names: &[String],
    (aims, held): Evidence,
    selection: Option<&Selection>,
) -> Result<(Verdict, Vec<Vec<f64>>), VerdictError> {
    let outcomes = |held: Vec<Vec<bool>>| {
        let limits = model.limits.all.iter().cloned().zip(held);
        limits.map(|(limit, held)| LimitOutcome { limit, held }).collect()
    };
    let contenders = names.iter().zip(aims).zip(held);
    let contenders: Vec<Contender> =
        contenders.map(|((name, aim), held)| Contender { name: name.clone(), aim, limits: outcomes(held) }).collect();
    let rules = VerdictRules {
        required_reliability: plan.required_reliability,
        indifference_share: plan.indifference_share,
        seed: plan.seed,
        bootstraps: BOOTSTRAPS,
    };
    let verdict = match selection {
        Some(selection) => of_selection(&contenders, &rules, selection),
        None => decide(&contenders, &rules),
    }?;
    Ok((verdict, contenders.into_iter().map(|contender| contender.aim).collect()))
}

/// Which strategies no other beats on every measure the aims give a worth (on means).
fn undominated(model: &SiteModel, figures: &Figures, strategies: usize) -> Vec<bool> {
    let points: Vec<Vec<f64>> = (0..strategies)
        .map(|s| {
            // Small is good to the front.
            let of = |&(measure, rate): &(Measure, f64)| {
                figures.mean(ArmId::Strategy(s), measure).map_or(0.0, |mean| -rate.signum() * mean)
            };
            model.aims.iter().filter(|(_, p)| *p != 0.0).map(of).collect()
        })
        .collect();
    not_beaten(&points)
}

fn limits_shut_in(model: &SiteModel, plan: &ComparePlan, kept: &KeptYears) -> Result<Vec<LimitStanding>, SpillError> {
    let fares = |limit: &Limit| {
        let held = kept.values(ArmId::ShutIn, limit.measure)?.into_iter().map(|value| limit.holds(value)).collect();
        Ok(LimitStanding::of(&LimitOutcome { limit: limit.clone(), held }, plan.required_reliability))
    };
    model.limits.all.iter().map(fares).collect()
}

/// The verdict's leader, else what comes nearest, else the first.
fn leading(verdict: &Verdict, names: &[String]) -> usize {
    let name = verdict.leader.as_ref().or(verdict.nearest.as_ref());
    name.and_then(|name| names.iter().position(|other| other == name)).unwrap_or(0)
}

impl Comparison {
    /// The verdict in a keeper's words, and over which rates it holds.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        let verdict =
            verdict_words(&self.verdict, self.selection.as_ref(), &self.limits_shut_in, units, &self.aim_unit);
        std::iter::once(verdict)
            .chain(rates_in_words(self.rates.as_ref(), &self.names, self.leading(), units, &self.aim_unit))
            .collect::<Vec<_>>()
            .join(" ")
    }

    /// Values of a measure over the draws of one run.
    ///
    /// # Errors
    /// What is not in memory could not be read back.
    pub fn values(&self, run: ArmId, measure: Measure) -> Result<Vec<f64>, SpillError> {
        self.kept.values(run, measure)
    }

    /// The measures of every run, draw by draw.
    #[must_use]
    pub fn kept(&self) -> &KeptYears {
        &self.kept
    }

    /// The runs looked at closely, draw by draw.
    #[must_use]
    pub fn detail(&self, run: ArmId) -> &[RunDetail] {
        &self.details[arm_place(run)]
    }

    /// What each plot bears in a run, by crop and fruit: means over the possible years it was tried in.
    #[must_use]
    pub fn harvests(&self, run: ArmId) -> &[PlotHarvest] {
        &self.harvests[arm_place(run)]
    }

    /// Mean, median and range of a measure; `None` where it is blank in every draw.
    #[must_use]
    pub fn figure(&self, run: ArmId, measure: Measure) -> Option<Figure> {
        self.figures.figure(run, measure)
    }

    /// Its mean alone, as tables print it.
    #[must_use]
    pub fn mean(&self, run: ArmId, measure: Measure) -> Option<f64> {
        self.figures.mean(run, measure)
    }

    /// A figure of a plot; blank in the run without birds.
    #[must_use]
    pub fn plot(&self, run: ArmId, plot: usize, column: PlotColumn) -> PlotSpread {
        self.figures.plot(run, plot, column)
    }

    /// Cover of the barest plot day by day, %; blank in the runs without birds.
    #[must_use]
    pub fn least_cover(&self, run: ArmId) -> &[Option<Spread>] {
        self.figures.least_cover(run)
    }

    /// Mean of a measure of a strategy as it is told against birds shut in: itself where it is measured against them,
    /// else the difference; `None` where it is blank.
    #[must_use]
    pub fn gained(&self, strategy: usize, measure: Measure) -> Option<f64> {
        let mean = |run| self.figure(run, measure).map(|figure| figure.mean.mean);
        let from = if measure == Measure::HarvestKept { mean(ArmId::ShutIn)? } else { 0.0 };
        Some(mean(ArmId::Strategy(strategy))? - from)
    }

    /// Paired difference of a run to another, mean and 95 % interval.
    #[must_use]
    pub fn difference(&self, run: ArmId, against: Against, measure: Measure) -> Option<Estimate> {
        self.figures.difference(run, against, measure)
    }

    /// The strategy looked at closely, by position in the plan: the verdict's leader, else what comes
    /// nearest, else the first.
    #[must_use]
    pub fn leading(&self) -> usize {
        leading(&self.verdict, &self.names)
    }

    /// The strategy the others are set against.
    #[must_use]
    pub fn reference(&self) -> ArmId {
        ArmId::Strategy(self.plan.against)
    }
}
