//! A strategy on the open problem set: its aim, its limits, its share of the best known.

use crate::compare::{CompareError, ComparePlan, Comparison, compare, finish};
use crate::draw_sampler::DrawSampler;
use crate::experiment::{Job, outcome_given};
use crate::outcomes::Outcomes;
use crate::season::check_books;
use scenarios::SiteModel;
use sim_engine::gates::Strategy;

/// Draws whose weather and ranks go into the digest of a problem's draws.
const DIGESTED: u64 = 3;

/// How a problem is played: all its possible years, one strategy.
#[must_use]
pub fn plan(model: &SiteModel, seed: u64, which: usize) -> ComparePlan {
    ComparePlan {
        seed,
        draws: model.draws as usize,
        which: vec![which],
        against: 0,
        required_reliability: model.compare.required_reliability,
        indifference_share: model.compare.indifference_share,
    }
}

/// Plays strategy `which` of the model.
///
/// # Errors
/// See [`CompareError`].
pub fn play(model: &SiteModel, seed: u64, which: usize, job: &Job<'_>) -> Result<Comparison, CompareError> {
    compare(model, &plan(model, seed, which), None, job)
}

/// Plays a strategy of any make, year after year in order; `go_on` is asked before each year.
/// `None` if it said no.
///
/// # Errors
/// See [`CompareError`].
pub fn play_given<S: Strategy>(
    model: &SiteModel,
    seed: u64,
    strategy: &mut S,
    go_on: &mut dyn FnMut(&mut S) -> bool,
) -> Result<Option<Comparison>, CompareError> {
    let plan = plan(model, seed, 0);
    // Those of the ground at least: what the program will do is not known yet.
    check_books(model, seed, None, &[0])?;
    let mut outcomes = Outcomes::new(model, 1);
    for number in 1..=plan.draws as u64 {
        if !go_on(strategy) {
            return Ok(None);
        }
        let draw = DrawSampler { seed }.draw(model, number);
        outcomes.push(model, outcome_given(draw, model, strategy)?, &[0])?;
    }
    finish(model, &plan, outcomes, None).map(Some)
}

/// Points of a mean aim as a share of the best known; blank where the best gains nothing.
#[must_use]
pub fn share(aim: f64, best: f64) -> Option<f64> {
    (best > 0.0).then(|| aim / best)
}

/// Digest of the draws: weather and rank of every unknown in the first possible years. It
/// changes when a climate, the generator or the list of unknowns does.
#[must_use]
pub fn draws_digest(model: &SiteModel, seed: u64) -> String {
    let sampler = DrawSampler { seed };
    let mut bytes = Vec::new();
    for number in 1..=DIGESTED {
        for day in model.weather.draw(seed, number, model.base.start, model.base.days) {
            [day.tmin_c, day.tmax_c, day.rain_mm].iter().for_each(|v| bytes.extend(v.to_bits().to_le_bytes()));
        }
        sampler.ranks(model, number).iter().for_each(|rank| bytes.extend(rank.to_bits().to_le_bytes()));
    }
    crate::provenance::input_digest(&[("luck", &bytes)])
}
