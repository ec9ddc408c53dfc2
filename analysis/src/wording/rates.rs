//! Over which rates of the aims the answer holds, in words.

use super::numbers::number;
use crate::compare::Comparison;
use crate::rates::{Rates, TurningRate, rates as over};
use scenarios::SiteModel;

/// A rate is known to half or twice itself at best (common practice, no source).
const KNOWN_WITHIN: f64 = 2.0;

/// One sentence; nothing where there is nothing to choose.
#[must_use]
pub fn rates(model: &SiteModel, c: &Comparison) -> Option<String> {
    let name = &c.names[c.leading()];
    Some(match over(model, c)? {
        Rates::Any => format!("{name} is at least as good in all you aim at, whatever each of it is worth to you."),
        Rates::Turns(None) => format!("{name} stays ahead whatever any one of your rates is."),
        Rates::Turns(Some(turn)) => {
            let other = &c.names[turn.strategy];
            if (1.0 / KNOWN_WITHIN..=KNOWN_WITHIN).contains(&turn.factor) {
                format!("It depends on what you value: {other} draws level with {name} where {}.", said(&turn))
            } else {
                format!(
                    "{name} stays ahead with any one of your rates halved or doubled; it takes one where {} for {other} to draw level.",
                    said(&turn)
                )
            }
        }
    })
}

/// "harvest kept is worth 0.45 h a kg instead of 0.3".
fn said(turn: &TurningRate) -> String {
    let (rate, now) = (number(turn.rate.abs() * turn.factor, 2), number(turn.rate.abs(), 2));
    format!("\"{}\" counts {rate} h for each {} instead of {now}", turn.measure.plain(), one(turn.measure.unit()))
}

fn one(unit: &str) -> &str {
    match unit {
        "points" => "point",
        other => other.trim_end_matches("/yr"),
    }
}
