//! Waiting rules of countries in words: days, whom they bind, and how well they are known.

use crate::wording::list;
use scenarios::library::WaitingRule;

/// What stands before them wherever they are listed.
pub(super) const BEFORE: &str = "Days between birds' last day in and a harvest, by country. None of these rules binds a household; a country that is not listed is unknown, not without a rule.";

/// "120 days where the edible part touches the soil, else 90".
pub(super) fn days(rule: &WaitingRule) -> String {
    match rule.days {
        Some((touching, other)) if touching == other => format!("{touching} days"),
        Some((touching, other)) => format!("{touching} days where the edible part touches the soil, else {other}"),
        None => "no number of days known".to_owned(),
    }
}

/// Heading, and what is known under it.
pub(super) fn told(rule: &WaitingRule) -> (String, [String; 3]) {
    let also = if rule.also.is_empty() { String::new() } else { format!("; also {}", list(&rule.also)) };
    let lines = [
        format!("{}: {} ({}).", rule.rule, days(rule), rule.clause),
        format!("It binds {}.", rule.binds),
        format!("Source: {} ({})", rule.source, rule.status),
    ];
    (format!("{} (waiting rule of a country{also})", rule.country), lines)
}
