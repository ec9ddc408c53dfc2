//! Sentences on how single strategies stand: what one gains, what is out, what comes nearest.

use super::figures::{in_100, out_of, range, yearly};
use super::remedy::remedy;
use crate::stats::Estimate;
use crate::units::Units;
use crate::verdict::{LimitStanding, Standing, Verdict};
use crate::wording::{limit_in_words, possible_years};
use scenarios::money::AimUnit;

/// What a strategy gains over birds shut in.
pub(super) fn gain(best: &Standing, aims: &AimUnit) -> String {
    let Estimate { mean, low, high } = best.aim;
    let range = range(best.aim);
    if mean < 0.0 {
        format!(
            "Nothing here is better than keeping the birds in the yard: even {} loses {}{range}.",
            best.name,
            yearly(-mean, mean, aims)
        )
    } else if mean == 0.0 {
        format!("{} gains nothing over keeping the birds shut in.", best.name)
    } else if low < 0.0 && low.is_finite() && high.is_finite() {
        format!(
            "{} gains {} over birds shut in{range}, so it is not certain to gain anything.",
            best.name,
            yearly(mean, mean, aims)
        )
    } else {
        format!("{} gains {} over birds shut in{range}.", best.name, yearly(mean, mean, aims))
    }
}

/// The highest-scoring strategy that was left out because a limit gives way.
pub(super) fn excluded(verdict: &Verdict, leader: usize, units: Units, aims: &AimUnit) -> Option<String> {
    let best = verdict.standings[leader].aim.mean;
    let out = verdict.standings.iter().filter(|standing| !standing.holds && standing.aim.mean > best).reduce(
        |top, next| {
            if next.aim.mean > top.aim.mean { next } else { top }
        },
    )?;
    let limit = out.weakest()?;
    Some(format!(
        "{} scores higher ({}) but is out: \"{}\" held in only {} of {}.",
        out.name,
        yearly(out.aim.mean, out.aim.mean, aims),
        limit_in_words(&limit.limit, units),
        limit.held,
        possible_years(limit.draws)
    ))
}

/// Text when no strategy holds; `nearest` is an index into the standings, and `shut_in` how the limits fare with the
/// birds shut in.
pub(super) fn nothing_holds(verdict: &Verdict, nearest: usize, shut_in: &[LimitStanding], units: Units) -> String {
    let standings = &verdict.standings;
    let near = &standings[nearest];
    let opening = match standings.len() {
        1 => format!("{} does not keep every limit", near.name),
        _ => "No strategy keeps every limit".to_owned(),
    };
    let weakest = near.weakest().map_or_else(String::new, |limit| {
        let subject = if standings.len() == 1 {
            "The one that fails first".to_owned()
        } else {
            format!("{} comes nearest; what fails first", near.name)
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
        "{opening} in {} possible years.{weakest} {}",
        out_of(verdict.rules.required_reliability),
        remedy(near, shut_in, units)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::words::samples::{estimate, limit, standing, verdict};
    use sim_engine::measures::Measure;

    /// A gain is told as one, as doubtful where its interval reaches under nought, and a loss as a loss.
    #[test]
    fn a_gain_is_called_what_it_is() {
        let told = |mean, low, high| gain(&standing("by eye", estimate(mean, low, high)), &AimUnit::Hours);
        assert_eq!(told(12.0, 10.0, 14.0), "by eye gains 12.0 hours a year over birds shut in (10.0 to 14.0).");
        assert_eq!(told(12.0, 0.0, 24.0), "by eye gains 12.0 hours a year over birds shut in (0.0 to 24.0).");
        assert!(told(2.0, -1.0, 5.0).ends_with("(−1.00 to 5.00), so it is not certain to gain anything."));
        assert_eq!(told(2.0, f64::NEG_INFINITY, f64::INFINITY), "by eye gains 2.00 hours a year over birds shut in.");
        assert_eq!(told(0.0, -1.0, 1.0), "by eye gains nothing over keeping the birds shut in.");
        let loss = "Nothing here is better than keeping the birds in the yard: even by eye loses 2.00 hours a year (−3.00 to −1.00).";
        assert_eq!(told(-2.0, -3.0, -1.0), loss);
    }

    /// Of those that score higher but break a limit the highest is named, with its weakest limit.
    #[test]
    fn the_highest_that_is_out_is_named_with_its_weakest_limit() {
        let mut verdict = verdict(Some("by eye"), estimate(3.0, 2.0, 4.0), &[]);
        assert_eq!(excluded(&verdict, 0, Units::Metric, &AimUnit::Hours), None);
        let mut out = |at: usize, mean: f64, held: usize| {
            let limits = vec![limit(Measure::LeastCover, 0.6, 190, 200), limit(Measure::BareDays, 20.0, held, 200)];
            verdict.standings[at] =
                Standing { holds: false, limits, ..standing(["", "turn", "open"][at], estimate(mean, mean, mean)) };
            excluded(&verdict, 0, Units::Metric, &AimUnit::Hours)
        };
        assert_eq!(out(1, 30.0, 150), None, "it does not score higher");
        let want = |name: &str, points: &str, held: usize| {
            Some(format!(
                "{name} scores higher ({points} hours a year) but is out: \"no plot lies under half cover because of the birds for more than 20 days\" held in only {held} of 200 possible years."
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
        let of = |standings: Vec<Standing>| {
            let verdict = Verdict { standings, ..verdict(None, estimate(0.0, 0.0, 0.0), &[]) };
            nothing_holds(&verdict, 0, &[], Units::Metric)
        };
        let told = of(vec![near("turn"), near("open")]);
        let chance = "it held in 85 of 100 possible years (chance 77 to 91 in 100).";
        let advice = "Fewer birds, shorter stays or a looser limit would be the things to try.";
        let want = format!(
            "No strategy keeps every limit in 9 of 10 possible years. turn comes nearest; what fails first is \"no plot's cover falls below 60 %\": {chance} {advice}"
        );
        // Wilson's interval of 85 in 100: 0.767 to 0.907.
        assert_eq!(told, want);
        let alone = of(vec![near("turn")]);
        assert!(
            alone.starts_with("turn does not keep every limit in 9 of 10 possible years. The one that fails first is")
        );
    }
}
