//! Over which rates of the aims an answer holds.

use super::figures::finite;
use crate::compare::Comparison;
use crate::rates::{RateRange, Turn};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Over which rates of the aims the answer holds, one changed at a time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RatesFigures {
    /// The strategy that is ahead.
    pub leader: String,
    /// It is at least as good on every measure the aims name, whatever each is worth.
    pub better_on_every_measure: bool,
    /// By aim, in the order of the site file.
    pub aims: Vec<RateFigures>,
}

/// How far one rate may go.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RateFigures {
    /// Measure.
    pub measure: String,
    /// What a rate is counted in: hours or money for one unit of the measure.
    pub unit: String,
    /// The rate of the site file; below 0 for what is not wanted.
    pub rate: f64,
    /// The rate nearer to 0 at which another draws level; `null`: it holds down to 0.
    pub least: Option<f64>,
    /// Who draws level there.
    pub least_by: Option<String>,
    /// The rate further from 0 at which another draws level; `null`: it holds however much.
    pub most: Option<f64>,
    /// Who draws level there.
    pub most_by: Option<String>,
}

pub(super) fn rates(c: &Comparison) -> Option<RatesFigures> {
    let rates = c.rates.as_ref()?;
    let one = |range: &RateRange| {
        let at = |turn: Option<Turn>| turn.and_then(|turn| finite(range.rate * turn.factor));
        let by = |turn: Option<Turn>| turn.map(|turn| c.names[turn.strategy].clone());
        RateFigures {
            measure: range.measure.name().to_owned(),
            unit: format!("{} per {}", c.aim_unit.short(), range.measure.unit()),
            rate: range.rate,
            least: at(range.below),
            least_by: by(range.below),
            most: at(range.above),
            most_by: by(range.above),
        }
    };
    Some(RatesFigures {
        leader: c.names[c.leading()].clone(),
        better_on_every_measure: rates.whatever,
        aims: rates.ranges.iter().map(one).collect(),
    })
}
