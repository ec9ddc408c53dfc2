//! The verdict in a keeper's words.

mod figures;
mod lead;
mod remedy;
#[cfg(test)]
mod samples;
mod selected;
mod standing;

use super::{LimitStanding, Verdict};
use crate::select::Selection;
use crate::units::Units;
use crate::wording::possible_years;
use lead::{alone, clear, close};
use scenarios::money::AimUnit;
use selected::tell_selected;
use standing::{excluded, gain, nothing_holds};

/// A verdict in words; `selection` is what led to it, with `--until-sure`, and `shut_in` how the limits fare with the
/// birds shut in.
#[must_use]
pub fn verdict_words(
    verdict: &Verdict,
    selection: Option<&Selection>,
    shut_in: &[LimitStanding],
    units: Units,
    aims: &AimUnit,
) -> String {
    let place = |name: &Option<String>| verdict.standings.iter().position(|s| Some(&s.name) == name.as_ref());
    match (place(&verdict.leader), place(&verdict.nearest), selection) {
        (Some(leader), _, Some(selection)) => tell_selected(verdict, leader, selection, units, aims),
        (Some(leader), _, None) => tell(verdict, leader, units, aims),
        (None, Some(nearest), _) => nothing_holds(verdict, nearest, shut_in, units),
        (None, None, _) => String::new(),
    }
}

/// Text of a verdict with a leader (by index into the standings).
fn tell(verdict: &Verdict, leader: usize, units: Units, aims: &AimUnit) -> String {
    let best = &verdict.standings[leader];
    let years = possible_years(verdict.draws);
    let mut parts = vec![gain(best, aims)];
    parts.push(match (&verdict.best, &verdict.runner_up, verdict.difference) {
        (Some(name), Some(next), Some(lead)) => clear((name, next, lead), verdict, &years, aims),
        (None, Some(next), Some(lead)) => close((&best.name, next, lead), verdict, &years, aims),
        _ => alone(&best.name, verdict),
    });
    parts.extend(excluded(verdict, leader, units, aims));
    parts.join(" ")
}

#[cfg(test)]
mod tests {
    use super::samples::{estimate, verdict};
    use super::*;
    use crate::verdict::Settle;

    #[test]
    fn a_best_one_is_told_with_its_lead_and_how_sure() {
        let told = |also_close: &[&str]| {
            tell(&verdict(Some("by eye"), estimate(3.0, 2.0, 4.0), also_close), 0, Units::Metric, &AimUnit::Hours)
        };
        let want = "by eye gains 30.0 hours a year over birds shut in (28.0 to 32.0). It is the best that keeps every limit: \
                    3.00 hours a year ahead of turn (2.00 to 4.00) in 200 possible years. If all possible years are drawn again, \
                    by eye is best 87 times in 100.";
        assert_eq!(told(&[]), want);
        assert_eq!(told(&["open"]), format!("{want} Less sure against open."));
    }

    #[test]
    fn a_close_call_tells_the_lead_the_bar_and_what_would_settle_it() {
        let told = |verdict: &Verdict| tell(verdict, 0, Units::Metric, &AimUnit::Hours);
        let mut close = verdict(None, estimate(3.0, -1.0, 7.0), &["open"]);
        let want = "Too close to call between by eye and turn (and open): by eye is 3.00 hours a year ahead in 200 possible \
                    years, but that could be anything from −1.00 to 7.00. A lead under 1.50 hours a year (5 in 100 of the \
                    gain) is not worth a change of strategy. About 400 possible years should settle it.";
        assert!(told(&close).ends_with(want), "{}", told(&close));
        close.also_close.clear();
        close.indifference_hours = 0.0;
        close.settle = Settle::Measure;
        close.difference = Some(estimate(3.0, f64::NEG_INFINITY, f64::INFINITY));
        let want = "between by eye and turn: by eye is 3.00 hours a year ahead in 200 possible years, which tells little. \
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
        let told = |verdict: &Verdict| tell(verdict, 0, Units::Metric, &AimUnit::Hours);
        assert!(told(&only).ends_with(
            "the only one that keeps every limit. If all possible years are drawn again, it is best 87 times in 100."
        ));
        only.standings.truncate(1);
        assert!(told(&only).ends_with("It keeps every limit. Name another strategy to compare by eye with."));
    }
}
