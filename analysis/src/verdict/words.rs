//! The verdict in a keeper's words.

use super::{Settle, Standing, Verdict, VerdictRules};
use crate::select::{Selection, SelectionEnd};
use crate::stats::Estimate;
use crate::units::Units;
use crate::wording::{limit_in_words, list, number, possible_years};

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
    let worth = points(selection.indifference_points, selection.indifference_points);
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
            list(&left),
            promise(selection, &years)
        ),
        _ if left.len() == 1 => format!(
            "Only {} is still in after {years}, but whether it keeps every limit often enough is not known yet.",
            left[0]
        ),
        _ => format!(
            "Not settled in {years}: {} are still in, and a lead of {worth} points would be worth a change. Measure something on your ground instead, such as the pests and weed seeds in the soil, or allow more years with --most-draws.",
            list(&left)
        ),
    });
    parts.extend(excluded(verdict, leader, units));
    parts.join(" ")
}

/// What stands behind the answer.
fn promise(selection: &Selection, years: &str) -> String {
    format!(
        "This was known after {years}; of 100 such answers at least {} are right.",
        whole_percent(selection.rules.confidence)
    )
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
            in_100(limit.chance.low),
            in_100(limit.chance.high),
        )
    });
    format!(
        "{opening} in {} possible years.{weakest} Fewer birds, shorter stays or a looser limit would be the things to try.",
        out_of(rules.required_reliability)
    )
}

fn gain(best: &Standing) -> String {
    let Estimate { mean, low, high } = best.aim;
    let range = range(best.aim);
    if mean < 0.0 {
        format!(
            "Nothing here gains on keeping the birds shut in: even {} loses {} points{range}.",
            best.name,
            points(-mean, mean)
        )
    } else if mean == 0.0 {
        format!("{} gains nothing over keeping the birds shut in.", best.name)
    } else if low < 0.0 && low.is_finite() && high.is_finite() {
        format!(
            "{} gains {} points over birds shut in{range}, so it is not certain to gain anything.",
            best.name,
            points(mean, mean)
        )
    } else {
        format!("{} gains {} points over birds shut in{range}.", best.name, points(mean, mean))
    }
}

fn clear(name: &str, next: &str, lead: Estimate, verdict: &Verdict, years: &str) -> String {
    let also = if verdict.also_close.is_empty() {
        String::new()
    } else {
        format!(" Less sure against {}.", verdict.also_close.join(", "))
    };
    format!(
        "It is the best that keeps every limit: {} points ahead of {next}{} in {years}. With the years drawn again, {name} stays best {} times in 100.{also}",
        points(lead.mean, lead.mean),
        range(lead),
        in_100(verdict.leader_stability),
    )
}

fn close(name: &str, next: &str, lead: Estimate, verdict: &Verdict, years: &str) -> String {
    let others =
        if verdict.also_close.is_empty() { String::new() } else { format!(" (and {})", verdict.also_close.join(", ")) };
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
    let bar = if verdict.indifference_points > 0.0 {
        format!(
            " A lead under {} points ({} in 100 of the gain) is not worth a change of strategy.",
            points(verdict.indifference_points, verdict.indifference_points),
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

fn alone(name: &str, verdict: &Verdict) -> String {
    if verdict.standings.len() == 1 {
        format!("It keeps every limit. Name another strategy to compare {name} with.")
    } else {
        format!(
            "It is the only one that keeps every limit. With the years drawn again, it stays best {} times in 100.",
            in_100(verdict.leader_stability)
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
    number(value, decimals)
}

/// Whole percent, but never 100 or 0 unless it is.
fn in_100(share: f64) -> u32 {
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

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::model::{Limit, Sense};
    use sim_engine::measures::Measure;

    fn estimate(mean: f64, low: f64, high: f64) -> Estimate {
        Estimate { mean, low, high }
    }

    fn standing(name: &str, aim: Estimate) -> Standing {
        Standing { name: name.into(), aim, holds: true, limits: Vec::new() }
    }

    fn names(names: &[&str]) -> Vec<String> {
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    /// Three figures or so: decimals by size, and the sign a minus, which nought has none of.
    #[test]
    fn points_have_decimals_by_size() {
        assert_eq!([points(123.4, 100.0), points(-45.67, -10.0), points(3.456, 9.99)], ["123", "−45.7", "3.46"]);
        assert_eq!([points(3.456, -250.0), points(-0.004, 1.0), points(-0.005, 1.0)], ["3", "0.00", "−0.01"]);
        assert_eq!(points(-10.0, 10.0), "−10.0");
    }

    /// Certain is said of what is certain only.
    #[test]
    fn percent_is_whole_but_never_certain_unless_it_is() {
        assert_eq!([0.0, 0.001, 0.004, 0.456, 0.996, 0.9999, 1.0].map(in_100), [0, 1, 1, 46, 99, 99, 100]);
    }

    #[test]
    fn shares_are_told_in_the_smallest_round_number() {
        assert_eq!([0.9, 0.95, 0.87, 0.999].map(out_of), ["9 of 10", "19 of 20", "87 of 100", "999 of 1000"]);
        assert_eq!([0.95, 0.9, 0.975, 0.9].map(whole_percent), ["95", "90", "97.5", "90"]);
        assert_eq!(whole_percent(1.0), "100");
    }

    #[test]
    fn a_range_is_told_where_it_has_two_ends() {
        assert_eq!(range(estimate(12.0, 10.0, 14.0)), " (10.0 to 14.0)");
        assert_eq!(range(estimate(12.0, 12.0, 12.0)), "");
        assert_eq!(range(estimate(12.0, f64::NEG_INFINITY, f64::INFINITY)), "");
    }

    /// A gain is told as one, as doubtful where its interval reaches under nought, and a loss as a loss.
    #[test]
    fn a_gain_is_called_what_it_is() {
        let told = |mean, low, high| gain(&standing("by eye", estimate(mean, low, high)));
        assert_eq!(told(12.0, 10.0, 14.0), "by eye gains 12.0 points over birds shut in (10.0 to 14.0).");
        assert_eq!(told(12.0, 0.0, 24.0), "by eye gains 12.0 points over birds shut in (0.0 to 24.0).");
        assert!(told(2.0, -1.0, 5.0).ends_with("(−1.00 to 5.00), so it is not certain to gain anything."));
        assert_eq!(told(2.0, f64::NEG_INFINITY, f64::INFINITY), "by eye gains 2.00 points over birds shut in.");
        assert_eq!(told(0.0, -1.0, 1.0), "by eye gains nothing over keeping the birds shut in.");
        let loss = "Nothing here gains on keeping the birds shut in: even by eye loses 2.00 points (−3.00 to −1.00).";
        assert_eq!(told(-2.0, -3.0, -1.0), loss);
    }

    /// The verdict on three that hold, of which the second is `lead` behind the first.
    fn verdict(best: Option<&str>, lead: Estimate, also_close: &[&str]) -> Verdict {
        Verdict {
            rules: VerdictRules::default(),
            best: best.map(str::to_owned),
            leader: Some("by eye".into()),
            leader_stability: 0.87,
            runner_up: Some("turn".into()),
            difference: Some(lead),
            indifference_points: 1.5,
            also_close: names(also_close),
            nearest: None,
            settle: Settle::MoreYears(400),
            draws: 200,
            standings: ["by eye", "turn", "open"].map(|name| standing(name, estimate(30.0, 28.0, 32.0))).to_vec(),
        }
    }

    #[test]
    fn a_best_one_is_told_with_its_lead_and_how_sure() {
        let told =
            |also_close: &[&str]| tell(&verdict(Some("by eye"), estimate(3.0, 2.0, 4.0), also_close), 0, Units::Metric);
        let want = "by eye gains 30.0 points over birds shut in (28.0 to 32.0). It is the best that keeps every limit: \
                    3.00 points ahead of turn (2.00 to 4.00) in 200 possible years. With the years drawn again, \
                    by eye stays best 87 times in 100.";
        assert_eq!(told(&[]), want);
        assert_eq!(told(&["open"]), format!("{want} Less sure against open."));
    }

    #[test]
    fn a_close_call_tells_the_lead_the_bar_and_what_would_settle_it() {
        let told = |verdict: &Verdict| tell(verdict, 0, Units::Metric);
        let mut close = verdict(None, estimate(3.0, -1.0, 7.0), &["open"]);
        let want = "Too close to call between by eye and turn (and open): by eye is 3.00 points ahead in 200 possible \
                    years, but that could be anything from −1.00 to 7.00. A lead under 1.50 points (5 in 100 of the \
                    gain) is not worth a change of strategy. About 400 possible years should settle it.";
        assert!(told(&close).ends_with(want), "{}", told(&close));
        close.also_close.clear();
        close.indifference_points = 0.0;
        close.settle = Settle::Measure;
        close.difference = Some(estimate(3.0, f64::NEG_INFINITY, f64::INFINITY));
        let want = "between by eye and turn: by eye is 3.00 points ahead in 200 possible years, which tells little. \
                    More possible years will hardly settle it: measure something on your ground instead, such as \
                    the pests and weed seeds in the soil.";
        assert!(told(&close).ends_with(want), "{}", told(&close));
        close.difference = Some(estimate(0.0, 0.0, 0.0));
        close.settle = Settle::EitherWillDo;
        let want = "they come out equal in 200 possible years. Either will do: take the one that is less work.";
        assert!(told(&close).ends_with(want), "{}", told(&close));
    }

    #[test]
    fn one_that_is_alone_is_told_so() {
        let mut only = verdict(Some("by eye"), estimate(3.0, 2.0, 4.0), &[]);
        (only.runner_up, only.difference) = (None, None);
        let told = |verdict: &Verdict| tell(verdict, 0, Units::Metric);
        assert!(told(&only).ends_with(
            "the only one that keeps every limit. With the years drawn again, it stays best 87 times in 100."
        ));
        only.standings.truncate(1);
        assert!(told(&only).ends_with("It keeps every limit. Name another strategy to compare by eye with."));
    }

    fn limit(measure: Measure, bound: f64, held: usize, draws: usize) -> crate::verdict::LimitStanding {
        let chance = crate::stats::wilson::wilson(held, draws, 0.95);
        let limit = Limit { name: "limit", measure, sense: Sense::AtLeast, bound };
        crate::verdict::LimitStanding { limit, held, draws, chance, enough: false }
    }

    /// Of those that score higher but break a limit the highest is named, with its weakest limit.
    #[test]
    fn the_highest_that_is_out_is_named_with_its_weakest_limit() {
        let mut verdict = verdict(Some("by eye"), estimate(3.0, 2.0, 4.0), &[]);
        assert_eq!(excluded(&verdict, 0, Units::Metric), None);
        let mut out = |at: usize, mean: f64, held: usize| {
            let limits = vec![limit(Measure::LeastCover, 0.6, 190, 200), limit(Measure::BareDays, 20.0, held, 200)];
            verdict.standings[at] =
                Standing { holds: false, limits, ..standing(["", "turn", "open"][at], estimate(mean, mean, mean)) };
            excluded(&verdict, 0, Units::Metric)
        };
        assert_eq!(out(1, 30.0, 150), None, "it does not score higher");
        let want = |name: &str, points: &str, held: usize| {
            Some(format!(
                "{name} scores higher ({points} points) but is out: \"no plot lies under half cover because of the birds for more than 20 days\" held in only {held} of 200 possible years."
            ))
        };
        assert_eq!(out(1, 41.0, 150), want("turn", "41.0", 150));
        assert_eq!(out(2, 40.0, 120), want("turn", "41.0", 150));
        assert_eq!(out(2, 50.0, 120), want("open", "50.0", 120));
    }

    #[test]
    fn where_nothing_holds_the_nearest_is_told_with_what_gives_way() {
        let near = |name: &str| Standing {
            holds: false,
            limits: vec![limit(Measure::LeastCover, 0.6, 85, 100)],
            ..standing(name, estimate(1.0, 0.0, 2.0))
        };
        let told = nothing_holds(&[near("turn"), near("open")], 0, &VerdictRules::default(), Units::Metric);
        let chance = "it held in 85 of 100 possible years (chance 77 to 91 in 100).";
        let advice = "Fewer birds, shorter stays or a looser limit would be the things to try.";
        let want = format!(
            "No strategy keeps every limit in 9 of 10 possible years. turn comes nearest; what gives way first is \"no plot's cover falls below 60 %\": {chance} {advice}"
        );
        // Wilson's interval of 85 in 100: 0.767 to 0.907.
        assert_eq!(told, want);
        let alone = nothing_holds(&[near("turn")], 0, &VerdictRules::default(), Units::Metric);
        assert!(
            alone.starts_with(
                "turn does not keep every limit in 9 of 10 possible years. The one that gives way first is"
            )
        );
    }
}
