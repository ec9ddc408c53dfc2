//! The verdict in a keeper's words.

use super::{Settle, Standing, Verdict, VerdictRules};
use crate::select::{Selection, SelectionEnd};
use crate::stats::Estimate;
use crate::units::Units;
use crate::wording::limit_in_words;

/// A verdict in words; `selection` is what led to it, with `--until-sure`.
#[must_use]
pub fn verdict_words(verdict: &Verdict, selection: Option<&Selection>, units: Units) -> String {
    let place = |name: &Option<String>| verdict.standings.iter().position(|s| Some(&s.name) == name.as_ref());
    match (place(&verdict.leader), place(&verdict.nearest), selection) {
        (Some(leader), _, Some(selection)) => tell_selected(verdict, leader, selection, units),
        (Some(leader), _, None) => tell(verdict, leader, units),
        (None, Some(nearest), _) => nothing_holds(&verdict.standings, nearest, &verdict.rules, units),
        (None, None, _) => String::new(),
    }
}

/// Text of a verdict with a leader (by index into the standings).
fn tell(verdict: &Verdict, leader: usize, units: Units) -> String {
    let best = &verdict.standings[leader];
    let years = possible_years(verdict.draws);
    let mut parts = vec![gain(best)];
    parts.push(match (&verdict.best, &verdict.runner_up, verdict.difference) {
        (Some(name), Some(next), Some(lead)) => clear(name, next, lead, verdict, &years),
        (None, Some(next), Some(lead)) => close(&best.name, next, lead, verdict, &years),
        _ => alone(&best.name, verdict),
    });
    parts.extend(excluded(verdict, leader, units));
    parts.join(" ")
}

/// Text of a verdict that a selection led to.
fn tell_selected(verdict: &Verdict, leader: usize, selection: &Selection, units: Units) -> String {
    let left: Vec<String> = selection.left().iter().map(|&s| verdict.standings[s].name.clone()).collect();
    let years = possible_years(selection.draws);
    let worth = points(selection.worth, selection.worth);
    let mut parts = vec![gain(&verdict.standings[leader])];
    parts.push(match selection.answer {
        SelectionEnd::Best => {
            let ahead = match (&verdict.runner_up, verdict.difference) {
                (Some(next), Some(lead)) => {
                    format!(": {} points ahead of {next}{}", points(lead.mean, lead.mean), range(lead))
                }
                _ => String::new(),
            };
            format!("It is the best that keeps every limit{ahead}. {}", promise(selection, &years))
        }
        SelectionEnd::NoWorthwhileDifference => format!(
            "No worthwhile difference between {}: none leads another by {worth} points. {} Take the one that is less work.",
            and(&left),
            promise(selection, &years)
        ),
        _ if left.len() == 1 => format!(
            "Only {} is still in after {years}, but whether it keeps every limit often enough is not known yet.",
            left[0]
        ),
        _ => format!(
            "Not settled in {years}: {} are still in, and a lead of {worth} points would be worth a change. Measure something on your ground instead, such as the pests and weed seeds in the soil, or allow more years with --most-draws.",
            and(&left)
        ),
    });
    parts.extend(excluded(verdict, leader, units));
    parts.join(" ")
}

/// What stands behind the answer.
fn promise(selection: &Selection, years: &str) -> String {
    format!(
        "This was known after {years}; of 100 such answers at least {} are right.",
        whole_percent(selection.rules.sure)
    )
}

/// "a, b and c".
fn and(names: &[String]) -> String {
    match names {
        [all @ .., last] if !all.is_empty() => format!("{} and {last}", list(all)),
        _ => list(names),
    }
}

/// A share in hundredths with as many decimals as it needs.
fn whole_percent(share: f64) -> String {
    let text = format!("{:.2}", 100.0 * share);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Text when no strategy holds; `nearest` is an index into `standings`.
fn nothing_holds(standings: &[Standing], nearest: usize, rules: &VerdictRules, units: Units) -> String {
    let near = &standings[nearest];
    let opening = match standings.len() {
        1 => format!("{} does not keep every limit", near.name),
        _ => "No strategy keeps every limit".to_owned(),
    };
    let weakest = near.weakest().map_or_else(String::new, |limit| {
        let subject = if standings.len() == 1 {
            "The one that gives way first".to_owned()
        } else {
            format!("{} comes nearest; what gives way first", near.name)
        };
        format!(
            " {subject} is \"{}\": it held in {} of {} (chance {} to {} in 100).",
            limit_in_words(&limit.limit, units),
            limit.held,
            possible_years(limit.draws),
            percent(limit.chance.low),
            percent(limit.chance.high),
        )
    });
    format!(
        "{opening} in {} possible years.{weakest} Fewer birds, shorter stays or a looser limit would be the things to try.",
        out_of(rules.sure)
    )
}

fn gain(best: &Standing) -> String {
    let Estimate { mean, low, high } = best.aim;
    let range = range(best.aim);
    if mean < 0.0 {
        format!(
            "Nothing here gains on having no birds: even {} loses {} points{range}.",
            best.name,
            points(-mean, mean)
        )
    } else if mean == 0.0 {
        format!("{} gains nothing over having no birds.", best.name)
    } else if low < 0.0 && low.is_finite() && high.is_finite() {
        format!(
            "{} gains {} points over no birds{range}, so it is not certain to gain anything.",
            best.name,
            points(mean, mean)
        )
    } else {
        format!("{} gains {} points over no birds{range}.", best.name, points(mean, mean))
    }
}

fn clear(name: &str, next: &str, lead: Estimate, verdict: &Verdict, years: &str) -> String {
    let also = if verdict.also_close.is_empty() {
        String::new()
    } else {
        format!(" Less sure against {}.", list(&verdict.also_close))
    };
    format!(
        "It is the best that keeps every limit: {} points ahead of {next}{} in {years}. With the years drawn again, {name} stays best {} times in 100.{also}",
        points(lead.mean, lead.mean),
        range(lead),
        percent(verdict.sure),
    )
}

fn close(name: &str, next: &str, lead: Estimate, verdict: &Verdict, years: &str) -> String {
    let others =
        if verdict.also_close.is_empty() { String::new() } else { format!(" (and {})", list(&verdict.also_close)) };
    let ahead = if lead.mean == 0.0 {
        format!("they come out equal in {years}")
    } else if lead.low.is_finite() {
        format!(
            "{name} is {} points ahead in {years}, but that could be anything from {} to {}",
            points(lead.mean, lead.mean),
            points(lead.low, lead.high),
            points(lead.high, lead.high),
        )
    } else {
        format!("{name} is {} points ahead in {years}, which tells little", points(lead.mean, lead.mean))
    };
    let bar = if verdict.worth > 0.0 {
        format!(
            " A lead under {} points ({} in 100 of the gain) is not worth a change of strategy.",
            points(verdict.worth, verdict.worth),
            percent(verdict.rules.worth_share)
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

fn alone(name: &str, verdict: &Verdict) -> String {
    if verdict.standings.len() == 1 {
        format!("It keeps every limit. Name another strategy to compare {name} with.")
    } else {
        format!(
            "It is the only one that keeps every limit. With the years drawn again, it stays best {} times in 100.",
            percent(verdict.sure)
        )
    }
}

/// The highest-scoring strategy that was left out because a limit gives way.
fn excluded(verdict: &Verdict, leader: usize, units: Units) -> Option<String> {
    let best = verdict.standings[leader].aim.mean;
    let out = verdict.standings.iter().filter(|standing| !standing.holds && standing.aim.mean > best).reduce(
        |top, next| {
            if next.aim.mean > top.aim.mean { next } else { top }
        },
    )?;
    let limit = out.weakest()?;
    Some(format!(
        "{} scores higher ({} points) but is out: \"{}\" held in only {} of {}.",
        out.name,
        points(out.aim.mean, out.aim.mean),
        limit_in_words(&limit.limit, units),
        limit.held,
        possible_years(limit.draws)
    ))
}

/// "1 possible year", "200 possible years".
fn possible_years(count: usize) -> String {
    format!("{count} possible year{}", if count == 1 { "" } else { "s" })
}

/// " (3.1 to 4.5)", or nothing when the ends are unknown or equal.
fn range(estimate: Estimate) -> String {
    if estimate.low.is_finite() && estimate.low < estimate.high {
        let scale = estimate.mean;
        format!(" ({} to {})", points(estimate.low, scale), points(estimate.high, scale))
    } else {
        String::new()
    }
}

/// A number of points with decimals fit for the size of `scale`; never "-0".
fn points(value: f64, scale: f64) -> String {
    let decimals = match scale.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        _ => 2,
    };
    let text = format!("{value:.decimals$}");
    let nought = text.chars().all(|c| "-0.".contains(c));
    if nought { text.replace('-', "") } else { text.replace('-', "−") }
}

/// Whole percent, but never 100 or 0 unless it is.
fn percent(share: f64) -> u32 {
    let whole = (share * 100.0).round() as u32;
    match whole {
        100 if share < 1.0 => 99,
        0 if share > 0.0 => 1,
        _ => whole,
    }
}

/// "9 of 10", "19 of 20", "87 of 100".
fn out_of(share: f64) -> String {
    let whole = |of: f64| ((share * of).round() - share * of).abs() < 1e-9;
    let of = [10.0, 20.0, 100.0].into_iter().find(|&of| whole(of)).unwrap_or(1_000.0);
    format!("{} of {of}", (share * of).round())
}

fn list(names: &[String]) -> String {
    names.join(", ")
}
