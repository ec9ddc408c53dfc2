//! Which strategy is best, how sure that is, and what would settle it.
//!
//! The rule (design note "How the verdict is reached"): a strategy *holds* when
//! each of its limits held in at least a wanted share of the possible years; the
//! best is the one with the highest mean aim among those that hold; when its
//! paired lead over the runner-up, with an interval for all pairs together, may be
//! less than is worth a change of strategy, it is too close to call. The aim of
//! birds shut in are nought, so a mean aim *is* the gain over them.

mod selected;
mod settle;
mod words;

#[cfg(test)]
mod tests;

pub use selected::of_selection;
pub use settle::Settle;
pub use words::verdict_words;

use crate::stats::simultaneous::{Pair, all_pairs};
use crate::stats::wilson::{Chance, wilson};
use crate::stats::{Estimate, LEVEL, blocks, bootstrap, mean};
use scenarios::model::Limit;
use std::borrow::Borrow;
use thiserror::Error;

/// How one limit fared: one truth a draw.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitOutcome {
    /// The limit.
    pub limit: Limit,
    /// Whether it held, draw by draw.
    pub held: Vec<bool>,
}

/// One strategy with what it scored.
#[derive(Clone, Debug, PartialEq)]
pub struct Contender {
    /// Name on screens.
    pub name: String,
    /// Aim, draw by draw, as gain over the same draw with the birds shut in.
    pub aim: Vec<f64>,
    /// Its limits; all contenders share the draws.
    pub limits: Vec<LimitOutcome>,
}

/// What the person asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VerdictRules {
    /// Share of possible years in which every limit must hold, 0..1.
    pub required_reliability: f64,
    /// Share of the best's gain over birds shut in below which a lead is not worth having.
    pub indifference_share: f64,
    /// Seed of the bootstraps.
    pub seed: u64,
    /// Number of bootstraps.
    pub bootstraps: usize,
}

impl Default for VerdictRules {
    fn default() -> Self {
        Self { required_reliability: 0.90, indifference_share: 0.05, seed: 1, bootstraps: 1_000 }
    }
}

/// Why no verdict can be reached: faults of the caller, not of the site.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum VerdictError {
    /// An empty list.
    #[error("no strategy was given: name at least one to compare")]
    NoContenders,
    /// Columns without draws.
    #[error("strategy \"{0}\" has no possible years: run at least one")]
    NoDraws(String),
    /// Columns of different lengths.
    #[error(
        "strategy \"{name}\", {what}: {has} possible years where the first strategy has {wants}: run all on the same years"
    )]
    Unequal {
        /// The contender.
        name: String,
        /// "aim" or the limit's name.
        what: String,
        /// Its length.
        has: usize,
        /// The length wanted.
        wants: usize,
    },
    /// A blank or infinite aim.
    #[error(
        "strategy \"{name}\": the aim of possible year {draw} is not a number: give blank measures no worth before comparing"
    )]
    NotANumber {
        /// The contender.
        name: String,
        /// Index of the draw.
        draw: usize,
    },
}

/// A limit with the chance that it holds.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitStanding {
    /// The limit.
    pub limit: Limit,
    /// Draws in which it held.
    pub held: usize,
    /// Draws counted.
    pub draws: usize,
    /// Chance with its Wilson interval.
    pub chance: Chance,
    /// Whether that is often enough.
    pub enough: bool,
}

impl LimitStanding {
    /// Of an outcome, for a share of possible years in which it must hold.
    #[must_use]
    pub fn of(outcome: &LimitOutcome, required_reliability: f64) -> Self {
        let (held, draws) = (outcome.held.iter().filter(|&&held| held).count(), outcome.held.len());
        let chance = wilson(held, draws, LEVEL);
        Self { limit: outcome.limit.clone(), held, draws, chance, enough: chance.chance >= required_reliability }
    }
}

/// Where one strategy stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Name.
    pub name: String,
    /// Mean aim with its own 95 % interval.
    pub aim: Estimate,
    /// Whether every limit holds often enough.
    pub holds: bool,
    /// Each limit.
    pub limits: Vec<LimitStanding>,
}

impl Standing {
    /// The limit that holds least often; `None` without limits.
    #[must_use]
    pub fn weakest(&self) -> Option<&LimitStanding> {
        self.limits.iter().reduce(|worst, next| if next.held < worst.held { next } else { worst })
    }
}

/// The verdict: what is known, from which [`verdict_words`] makes the words.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// What was asked for.
    pub rules: VerdictRules,
    /// Name of the best; `None` when too close to call or nothing holds.
    pub best: Option<String>,
    /// Highest mean aim among those that hold, also when too close to call.
    pub leader: Option<String>,
    /// Share of bootstraps in which the leader stays best, of a selection the best of those still in.
    /// `None` when nothing holds, and where a selection found the best: of that there is `confidence`.
    pub leader_stability: Option<f64>,
    /// Least chance that the best is the right one, as asked for with `--until-sure`. `None` unless a
    /// selection found the best.
    pub confidence: Option<f64>,
    /// Second highest mean aim among those that hold.
    pub runner_up: Option<String>,
    /// Leader minus runner-up, 95 % together over all pairs.
    pub difference: Option<Estimate>,
    /// Lead that is worth having.
    pub indifference_hours: f64,
    /// Others that hold and whose difference from the leader may be worth nothing either.
    pub also_close: Vec<String>,
    /// When nothing holds: the strategy that comes nearest.
    pub nearest: Option<String>,
    /// What would settle it.
    pub settle: Settle,
    /// Possible years counted.
    pub draws: usize,
    /// Every contender, in the order given.
    pub standings: Vec<Standing>,
}

/// Reaches the verdict.
///
/// # Errors
/// [`VerdictError`] for an empty list, unequal columns or an aim that is no number.
pub fn decide(contenders: &[Contender], rules: &VerdictRules) -> Result<Verdict, VerdictError> {
    check(contenders)?;
    let standings: Vec<Standing> = contenders.iter().map(|c| standing(c, rules.required_reliability)).collect();
    let order = by_aim(&standings);
    let draws = contenders[0].aim.len();
    let Some(&leader) = order.first() else {
        return Ok(nothing_holds(standings, draws, rules));
    };
    let indifference_hours = rules.indifference_share * standings[leader].aim.mean.max(0.0);
    let columns: Vec<&[f64]> = contenders.iter().map(|c| c.aim.as_slice()).collect();
    let pairs = all_pairs(&columns, LEVEL);
    let close: Vec<usize> =
        order[1..].iter().copied().filter(|&other| lead(&pairs, leader, other).0.low < indifference_hours).collect();
    let runner_up = order.get(1).copied();
    let gap = runner_up.map(|other| lead(&pairs, leader, other));
    // A lead of exactly nothing is no lead, even where nothing is asked to be worth it.
    let tied = gap.is_some_and(|(gap, _)| gap.mean == 0.0);
    let too_close = tied || runner_up.is_some_and(|other| close.contains(&other));
    let name = |index: usize| standings[index].name.clone();
    Ok(Verdict {
        rules: *rules,
        best: (!too_close).then(|| name(leader)),
        leader: Some(name(leader)),
        leader_stability: Some(bootstrap::share_staying(rules.seed, rules.bootstraps, draws, leader, |places| {
            winners(contenders, places, rules.required_reliability)
        })),
        confidence: None,
        runner_up: runner_up.map(name),
        difference: gap.map(|(gap, _)| gap),
        indifference_hours,
        also_close: close.into_iter().filter(|&c| Some(c) != runner_up).map(name).collect(),
        nearest: None,
        settle: match gap {
            Some((gap, spread)) if too_close => {
                settle::what_settles(gap, spread, indifference_hours, draws, contenders.len())
            }
            _ => Settle::Settled,
        },
        draws,
        standings,
    })
}

fn check(contenders: &[Contender]) -> Result<(), VerdictError> {
    let first = contenders.first().ok_or(VerdictError::NoContenders)?;
    let wants = first.aim.len();
    if wants == 0 {
        return Err(VerdictError::NoDraws(first.name.clone()));
    }
    contenders.iter().try_for_each(|contender| check_one(contender, wants))
}

fn check_one(contender: &Contender, wants: usize) -> Result<(), VerdictError> {
    let limits = contender.limits.iter().map(|limit| (limit.limit.name, limit.held.len()));
    for (what, has) in std::iter::once(("aim", contender.aim.len())).chain(limits) {
        if has != wants {
            let (name, what) = (contender.name.clone(), what.to_owned());
            return Err(VerdictError::Unequal { name, what, has, wants });
        }
    }
    match contender.aim.iter().position(|aim| !aim.is_finite()) {
        Some(draw) => Err(VerdictError::NotANumber { name: contender.name.clone(), draw }),
        None => Ok(()),
    }
}

fn standing(contender: &Contender, required_reliability: f64) -> Standing {
    let limits: Vec<LimitStanding> =
        contender.limits.iter().map(|limit| LimitStanding::of(limit, required_reliability)).collect();
    Standing {
        name: contender.name.clone(),
        aim: blocks::mean_interval(&contender.aim, LEVEL),
        holds: limits.iter().all(|limit| limit.enough),
        limits,
    }
}

/// Indices of those that hold, highest mean aim first; equal aims in the order given.
fn by_aim(standings: &[Standing]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..standings.len()).filter(|&i| standings[i].holds).collect();
    order.sort_by(|&a, &b| standings[b].aim.mean.total_cmp(&standings[a].aim.mean));
    order
}

/// Leader minus other with its simultaneous interval, and the paired spread.
fn lead(pairs: &[Pair], leader: usize, other: usize) -> (Estimate, f64) {
    let (first, second) = (leader.min(other), leader.max(other));
    let Some(pair) = pairs.iter().find(|pair| (pair.first, pair.second) == (first, second)) else {
        let unknown = Estimate { mean: f64::NAN, low: f64::NEG_INFINITY, high: f64::INFINITY };
        return (unknown, f64::NAN);
    };
    let Estimate { mean, low, high } = pair.difference.estimate;
    let from_leader = if first == leader {
        Estimate { mean, low, high }
    } else {
        Estimate { mean: 0.0 - mean, low: 0.0 - high, high: 0.0 - low }
    };
    (from_leader, pair.difference.spread)
}

/// The rule applied to resampled draws: all that hold and share the highest mean aim.
fn winners<C: Borrow<Contender>>(contenders: &[C], places: &[usize], required_reliability: f64) -> Vec<usize> {
    let means: Vec<Option<f64>> = contenders
        .iter()
        .map(|contender| {
            let contender = contender.borrow();
            let often_enough = contender.limits.iter().all(|limit| {
                let held = places.iter().filter(|&&place| limit.held[place]).count();
                held as f64 / places.len() as f64 >= required_reliability
            });
            let picked: Vec<f64> = places.iter().map(|&place| contender.aim[place]).collect();
            often_enough.then(|| mean(&picked))
        })
        .collect();
    let top = means.iter().flatten().copied().reduce(f64::max);
    (0..means.len()).filter(|&i| means[i].is_some() && means[i] == top).collect()
}

fn nothing_holds(standings: Vec<Standing>, draws: usize, rules: &VerdictRules) -> Verdict {
    let nearest = (0..standings.len()).reduce(|best, next| {
        let key = |i: usize| {
            let held = standings[i].weakest().map_or(0, |limit| limit.held);
            (held as f64, standings[i].aim.mean)
        };
        if key(next) > key(best) { next } else { best }
    });
    Verdict {
        rules: *rules,
        best: None,
        leader: None,
        leader_stability: None,
        confidence: None,
        runner_up: None,
        difference: None,
        indifference_hours: 0.0,
        also_close: Vec::new(),
        nearest: nearest.map(|i| standings[i].name.clone()),
        settle: Settle::EaseLimitOrChange,
        draws,
        standings,
    }
}
