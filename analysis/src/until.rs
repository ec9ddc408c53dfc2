//! `--until-sure`: a comparison that adds possible years until the best is known.

use crate::compare::{CompareError, ComparePlan, Comparison, finish, run_draws};
use crate::experiment::{DrawOutcome, Job, Outcome, gain};
use crate::outcomes::Outcomes;
use crate::season::check_books;
use crate::select::{SelectionEnd, SelectionRules, YearSample, select};
use scenarios::SiteModel;
use sim_engine::weather::DayWeather;

/// Runs strategies until the best is known. `plan.draws` is the most possible years; `sure` the
/// chance that the answer is right. A strategy that is out has blanks from then on:
/// [`Comparison::counted`] says how many possible years it was tried in.
///
/// # Errors
/// See [`CompareError`].
pub fn compare_until(
    model: &SiteModel,
    plan: &ComparePlan,
    sure: f64,
    weather: Option<&[DayWeather]>,
    job: &Job<'_>,
) -> Result<Comparison, CompareError> {
    check_books(model, plan.seed, weather, &plan.which)?;
    let rules = SelectionRules {
        confidence: sure,
        indifference_share: plan.indifference_share,
        required_reliability: plan.required_reliability,
        most: plan.draws,
    };
    let mut outcomes = Outcomes::new(model, plan.which.len());
    let mut years = |first: usize, count: usize, live: &[usize]| -> Result<Vec<Vec<YearSample>>, CompareError> {
        if job.stopped() {
            return Ok(Vec::new());
        }
        let which: Vec<usize> = live.iter().map(|&s| plan.which[s]).collect();
        let block = run_draws(model, plan, &which, weather, first..first + count)?;
        let samples = block.iter().map(|year| samples(model, year)).collect();
        block.into_iter().try_for_each(|year| outcomes.push(model, year, live))?;
        job.come_to(outcomes.years());
        Ok(samples)
    };
    let selection = select(plan.which.len(), model.limits.all.len(), rules, &mut years)?;
    if outcomes.years() == 0 {
        return Err(CompareError::Stopped);
    }
    // What was allowed and not needed is not missing.
    let stopped = selection.answer == SelectionEnd::Stopped;
    let draws = if stopped { plan.draws } else { selection.draws };
    finish(model, &ComparePlan { draws, ..plan.clone() }, outcomes, Some(selection))
}

/// What the selection sees of a possible year.
fn samples(model: &SiteModel, year: &DrawOutcome) -> Vec<YearSample> {
    let of = |outcome: &Outcome| YearSample {
        aim: gain(&model.aims, &outcome.measures, &year.shut_in.measures),
        held: model.limits.all.iter().map(|l| l.holds(outcome.measures.get(l.measure))).collect(),
    };
    year.strategies.iter().map(of).collect()
}
