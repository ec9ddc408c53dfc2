//! The answer to `--why`, as the terminal shows it.

use super::wrapping::{paragraph, wrapped};
use crate::diary::{why_open, why_shut};
use crate::season::{LATER_DAYS, Why};
use crate::units::Units;
use crate::wording::{capital, figure, plain_date, signed};
use jiff::civil::Date;
use sim_engine::measures::{Better, Measure};

/// Why a gate stood as it did on a day, and what inverting it would have changed.
#[must_use]
pub fn why_text(plot: &str, date: Date, why: &Why, units: Units) -> String {
    let (stood, other) = if why.state.open { ("open", "shut") } else { ("shut", "open") };
    let day = plain_date(date);
    let reason = match (why.state.rule, why.state.open) {
        (Some(rule), false) if why.state.asked => {
            format!("it was asked for ({}), but a rule kept it shut: {rule}", why_open(why.state.reason, units))
        }
        (Some(rule), false) => {
            format!("{}, and a rule would have kept it shut anyway: {rule}", why_shut(why.state.reason, units))
        }
        (None, false) => format!("no rule shut it: {}", why_shut(why.state.reason, units)),
        (_, true) => why_open(why.state.reason, units),
    };
    let head = format!("Why was {plot} {stood} on {day}? {}.", capital(&reason));
    if !why.could_be_inverted {
        return paragraph(&format!("{head} It could not have been {other} that day: rules come before gates."));
    }
    let changes: Vec<String> =
        why.measures.iter().filter_map(|&(m, was, would)| change(m, was, would, units)).collect();
    let tail = if changes.is_empty() {
        format!(
            "Had it been {other} that day, nothing that is measured would have come out differently by the end of the run."
        )
    } else {
        format!("Had it been {other} that day, then by the end of the run:")
    };
    let mut out = paragraph(&format!("{head} {tail}"));
    for line in changes {
        out += &wrapped(&line, "  - ");
    }
    let (was, would) = why.cover_later;
    if was.is_finite() && would.is_finite() {
        let (was_text, would_text) = (figure(100.0 * was, 1), figure(100.0 * would, 1));
        out += &paragraph(&if was_text == would_text {
            format!("Cover of {plot} {LATER_DAYS} days later: {was_text} % either way.")
        } else {
            format!("Cover of {plot} {LATER_DAYS} days later: {would_text} % instead of {was_text} %.")
        });
    }
    out
}

/// Share of a measure below which one day's difference is not worth a line; our own judgement.
const WORTH_A_LINE: f64 = 1e-3;

/// "feed saved: 31.2 kg/yr instead of 31.9 (−0.7), worse"; `None` if it shows no difference.
fn change(measure: Measure, was: f64, would: f64, units: Units) -> Option<String> {
    // One decimal more than a table: a single day moves little.
    let decimals = units.decimals(measure.decimals() + 1, measure.unit());
    let (was, would) = (units.value(was, measure.unit()), units.value(would, measure.unit()));
    let (was_text, would_text) = (figure(was, decimals), figure(would, decimals));
    if was_text == would_text || (would - was).abs() < WORTH_A_LINE * was.abs() {
        return None;
    }
    let better = match (measure.better(), would > was) {
        (Better::Neither, _) => "",
        (Better::More, true) | (Better::Less, false) => ", better",
        _ => ", worse",
    };
    Some(format!(
        "{}: {would_text} {} instead of {was_text} ({}){better}",
        measure.plain(),
        units.unit(measure.unit()),
        signed(would - was, decimals)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diary::GateState;
    use sim_engine::gates::reason::{Reason, Veto};

    fn why(open: bool, rule: Option<Veto>, could_be_inverted: bool) -> Why {
        let state = GateState { open, reason: Reason::Turn { day: 3.0, stay: 14.0 }, rule, asked: open, cover: 0.8 };
        let measures =
            vec![(Measure::FeedSaved, 31.0, 30.5), (Measure::CoverLoss, 5.0, 5.0001), (Measure::GateMoves, 50.0, 52.0)];
        Why { state, could_be_inverted, measures, cover_later: (0.81, 0.84) }
    }

    #[test]
    fn why_says_reason_and_differences_with_sign_and_unit() {
        let date = jiff::civil::date(2027, 5, 12);
        let text = why_text("plum-slope", date, &why(true, None, true), Units::Metric);
        assert!(text.starts_with("Why was plum-slope open on"), "{text}");
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains("Its turn, day 3 of 14. Had it been shut that day"), "{text}");
        assert!(text.contains("feed saved: 30.50 kg/yr instead of 31.00 (−0.50), worse"), "{text}");
        assert!(!text.contains("ground cover lost"), "{text}");
        assert!(text.contains("84.0 % instead of 81.0 %"), "{text}");
    }

    #[test]
    fn why_says_when_a_rule_decides() {
        let date = jiff::civil::date(2027, 5, 12);
        let text = why_text("beds", date, &why(false, Some(Veto::Housing), false), Units::Metric).replace('\n', " ");
        assert!(text.contains("could not have been open"), "{text}");
    }
}
