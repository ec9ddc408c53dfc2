//! The verdict of a comparison that went on until the best was known.

use super::{Contender, Settle, Standing, Verdict, VerdictError, VerdictRules};
use super::{bootstrap, by_aim, check_one, nothing_holds, standing, winners};
use crate::select::{Selection, SelectionEnd};
use crate::stats::LEVEL;
use crate::stats::simultaneous::level_per_pair;
use crate::stats::{Estimate, blocks};

/// The verdict a selection led to. Contenders may have different numbers of possible years:
/// always the first ones.
///
/// # Errors
/// [`VerdictError`] for an empty list, no possible years or an aim that is no number.
pub fn of_selection(
    contenders: &[Contender],
    rules: &VerdictRules,
    selection: &Selection,
) -> Result<Verdict, VerdictError> {
    check(contenders)?;
    let standings: Vec<Standing> = contenders.iter().map(|c| standing(c, rules.required_reliability)).collect();
    let left = selection.left();
    let order = by_aim(&standings);
    let leader = order.iter().copied().find(|s| left.contains(s));
    let Some(leader) = leader.or_else(|| left.first().copied()) else {
        return Ok(nothing_holds(standings, selection.draws, rules));
    };
    // Those that were in the race longest come first among the rest.
    let rest = order.iter().copied().filter(|&s| s != leader);
    let runner_up =
        rest.max_by_key(|&s| (left.contains(&s), selection.ended[s].draws, std::cmp::Reverse(place(&order, s))));
    let best = selection.answer == SelectionEnd::Best;
    let name = |s: usize| contenders[s].name.clone();
    Ok(Verdict {
        rules: *rules,
        best: best.then(|| name(leader)),
        leader: Some(name(leader)),
        leader_stability: (!best).then(|| staying(contenders, &left, leader, rules)),
        confidence: best.then_some(selection.rules.confidence),
        runner_up: runner_up.map(name),
        difference: runner_up.map(|other| ahead(contenders, leader, other)),
        indifference_hours: selection.indifference_hours,
        also_close: left.iter().copied().filter(|&s| s != leader && Some(s) != runner_up).map(name).collect(),
        nearest: None,
        settle: settle(selection.answer),
        draws: selection.draws,
        standings,
    })
}

fn check(contenders: &[Contender]) -> Result<(), VerdictError> {
    if contenders.is_empty() {
        return Err(VerdictError::NoContenders);
    }
    contenders.iter().try_for_each(|contender| match contender.aim.len() {
        0 => Err(VerdictError::NoDraws(contender.name.clone())),
        wants => check_one(contender, wants),
    })
}

fn place(order: &[usize], s: usize) -> usize {
    order.iter().position(|&other| other == s).unwrap_or(order.len())
}

/// Leader minus other over the possible years both have.
fn ahead(contenders: &[Contender], leader: usize, other: usize) -> Estimate {
    let level = level_per_pair(contenders.len(), LEVEL);
    let shared = contenders[leader].aim.len().min(contenders[other].aim.len());
    blocks::paired(&contenders[leader].aim[..shared], &contenders[other].aim[..shared], level).estimate
}

/// Share of bootstraps in which the leader stays first among those left.
fn staying(contenders: &[Contender], left: &[usize], leader: usize, rules: &VerdictRules) -> f64 {
    let among: Vec<&Contender> = left.iter().map(|&s| &contenders[s]).collect();
    let draws = among.iter().map(|c| c.aim.len()).min().unwrap_or(0);
    let chosen = left.iter().position(|&s| s == leader).unwrap_or(0);
    bootstrap::share_staying(rules.seed, rules.bootstraps, draws, chosen, |places| {
        winners(&among, places, rules.required_reliability)
    })
}

fn settle(answer: SelectionEnd) -> Settle {
    match answer {
        SelectionEnd::Best => Settle::Settled,
        SelectionEnd::NoWorthwhileDifference => Settle::EitherWillDo,
        SelectionEnd::NothingHolds => Settle::EaseLimitOrChange,
        SelectionEnd::OutOfYears | SelectionEnd::Stopped => Settle::Measure,
    }
}
