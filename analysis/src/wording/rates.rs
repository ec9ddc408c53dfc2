//! Over which rates of the aims the answer holds, in words.

use super::numbers::number;
use crate::rates::{RateRange, Rates, Turn};
use crate::units::Units;
use scenarios::money::AimUnit;
use sim_engine::measures::Measure;

/// A rate is known to half or twice itself at best (common practice, no source).
const KNOWN_WITHIN: f64 = 2.0;

/// One sentence; nothing where there is nothing to choose.
#[must_use]
pub fn rates(rates: Option<&Rates>, names: &[String], leader: usize, units: Units, aims: &AimUnit) -> Option<String> {
    let rates = rates?;
    let name = &names[leader];
    if rates.whatever {
        return Some(format!(
            "{name} is better on every measure you value, or as good, whatever each of them is worth."
        ));
    }
    let Some((range, turn)) = rates.nearest() else {
        return Some(format!("{name} stays ahead whatever any one of your rates is."));
    };
    let (other, where_so) = (&names[turn.strategy], turning(range, turn, units, aims));
    Some(if (1.0 / KNOWN_WITHIN..=KNOWN_WITHIN).contains(&turn.factor) {
        format!("It depends on what you value: where {where_so}, {other} comes first.")
    } else {
        format!("{name} stays ahead unless {where_so}; then {other} comes first.")
    })
}

/// "a kilogram of harvest kept is worth more than 0.45 h (you say 0.3 h)".
fn turning(range: &RateRange, turn: Turn, units: Units, aims: &AimUnit) -> String {
    let side = if turn.factor > 1.0 { "more" } else { "less" };
    let verb = if range.rate > 0.0 { "is worth" } else { "costs" };
    format!(
        "{} {verb} {side} than {} (you say {})",
        one_of(range.measure, units),
        worth(range, turn.factor, units, aims),
        worth(range, 1.0, units, aims)
    )
}

/// So many times a rate as printed, without its sign: "0.45 h".
#[must_use]
pub fn worth(range: &RateRange, times: f64, units: Units, aims: &AimUnit) -> String {
    let rate = range.rate.abs() * times / units.value(1.0, range.measure.unit());
    // Two figures at least: a kilogram of feed is worth some hundredths of an hour.
    let decimals = if rate < 0.095 { 3 } else { 2 };
    aims.amount(&number(rate, decimals))
}

/// One unit of a measure: "a kilogram of harvest kept", "an hour of work saved".
#[must_use]
pub fn one_of(measure: Measure, units: Units) -> String {
    let unit = units.unit(measure.unit());
    let unit = match unit.trim_end_matches("/yr") {
        "h" => "an hour",
        "kg" => "a kilogram",
        "lb" => "a pound",
        "points" => "a point",
        "%" => "a per cent",
        "d" => "a day",
        "moves" => "one",
        "share" => "the whole",
        "index" => "a unit",
        other => return format!("each {other} of {}", said(measure)),
    };
    format!("{unit} of {}", said(measure))
}

fn said(measure: Measure) -> String {
    match measure {
        Measure::CoverLoss => "ground cover lost".to_owned(),
        other => other.name().replace('_', " "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_is_told_with_its_rate_and_yours() {
        let range = |measure, rate| RateRange { measure, rate, below: None, above: None };
        let told = |measure, rate, factor, units| {
            turning(&range(measure, rate), Turn { factor, strategy: 1 }, units, &AimUnit::Hours)
        };
        let harvest = told(Measure::HarvestKept, 0.3, 4.0, Units::Metric);
        assert_eq!(harvest, "a kilogram of harvest kept is worth more than 1.20 h (you say 0.30 h)");
        let cover = told(Measure::CoverLoss, -0.4, 0.5, Units::Us);
        assert_eq!(cover, "a point of ground cover lost costs less than 0.20 h (you say 0.40 h)");
        // 0.05 h a kg is 0.0227 h a lb (NIST SP 811).
        let feed = told(Measure::FeedSaved, 0.05, 2.0, Units::Us);
        assert_eq!(feed, "a pound of feed saved is worth more than 0.045 h (you say 0.023 h)");
    }
}
