//! Sentences on the leader's lead over the runner-up.

use super::figures::{in_100, points, range, yearly};
use crate::stats::Estimate;
use crate::verdict::{Settle, Verdict};
use scenarios::money::AimUnit;

pub(super) fn clear(
    (name, next, lead): (&str, &str, Estimate),
    verdict: &Verdict,
    years: &str,
    aims: &AimUnit,
) -> String {
    let also = if verdict.also_close.is_empty() {
        String::new()
    } else {
        format!(" Less sure against {}.", verdict.also_close.join(", "))
    };
    format!(
        "It is the best that keeps every limit: {} ahead of {next}{} in {years}.{}{also}",
        yearly(lead.mean, lead.mean, aims),
        range(lead),
        drawn_again(name, verdict),
    )
}

pub(super) fn close(
    (name, next, lead): (&str, &str, Estimate),
    verdict: &Verdict,
    years: &str,
    aims: &AimUnit,
) -> String {
    let others =
        if verdict.also_close.is_empty() { String::new() } else { format!(" (and {})", verdict.also_close.join(", ")) };
    let ahead = if lead.mean == 0.0 {
        format!("they come out equal in {years}")
    } else if lead.low.is_finite() {
        format!(
            "{name} is {} ahead in {years}, but that could be anything from {} to {}",
            yearly(lead.mean, lead.mean, aims),
            points(lead.low, lead.high),
            points(lead.high, lead.high),
        )
    } else {
        format!("{name} is {} ahead in {years}, which tells little", yearly(lead.mean, lead.mean, aims))
    };
    let bar = if verdict.indifference_hours > 0.0 {
        format!(
            " A lead under {} ({} in 100 of the gain) is not worth a change of strategy.",
            yearly(verdict.indifference_hours, verdict.indifference_hours, aims),
            in_100(verdict.rules.indifference_share)
        )
    } else {
        String::new()
    };
    format!("Too close to call between {name} and {next}{others}: {ahead}.{bar} {}", settling(verdict.settle))
}

fn settling(settle: Settle) -> String {
    match settle {
        Settle::MoreYears(draws) => format!("About {draws} possible years should settle it."),
        Settle::EitherWillDo => "Either will do: take the one that is less work.".to_owned(),
        Settle::Measure => {
            "More possible years will hardly settle it: measure something on your ground instead, such as the pests and weed seeds in the soil."
                .to_owned()
        }
        Settle::Settled | Settle::EaseLimitOrChange => String::new(),
    }
}

pub(super) fn alone(name: &str, verdict: &Verdict) -> String {
    if verdict.standings.len() == 1 {
        format!("It keeps every limit. Name another strategy to compare {name} with.")
    } else {
        format!("It is the only one that keeps every limit.{}", drawn_again("it", verdict))
    }
}

/// " If all possible years are drawn again, turn is best 87 times in 100."
fn drawn_again(subject: &str, verdict: &Verdict) -> String {
    verdict.leader_stability.map_or_else(String::new, |share| {
        format!(" If all possible years are drawn again, {subject} is best {} times in 100.", in_100(share))
    })
}
