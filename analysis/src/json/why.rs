//! The answer to `--why`, as the document of a season carries it.

use crate::season::{LATER_DAYS, Why};
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::measures::Measure;
use std::collections::BTreeMap;

/// Why a gate stood as it did on a day, and what the other way would have done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WhyFigures {
    /// The strategy asked for this gate.
    pub asked: bool,
    /// Asked the other way the gate would have stood the other way; else a rule holds it.
    #[serde(rename = "could_be_turned_round")]
    pub could_be_inverted: bool,
    /// Cover of the plot outside beds in the evening, 0 to 1; `null` if it is all beds.
    pub cover: Option<f64>,
    /// Cover some days on.
    pub cover_later: CoverLater,
    /// The day, `YYYY-MM-DD`.
    pub date: String,
    /// The measures by name, at the end of the run.
    pub measures: BTreeMap<String, Inverted>,
    /// Open to the flock.
    pub open: bool,
    /// Name of the plot.
    pub plot: String,
    /// Why the strategy asked for what it did, in words.
    pub reason: String,
    /// The rule that kept it shut, in words; `null` if none did.
    pub rule: Option<String>,
}

/// Cover of the plot outside beds some days on, 0 to 1; `null` if it is all beds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CoverLater {
    /// Days on.
    pub days: usize,
    /// As it was.
    pub was: Option<f64>,
    /// As it would have been.
    pub would_be: Option<f64>,
}

/// A measure with the decision as it was and turned round.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(rename = "Turned")]
pub struct Inverted {
    /// Unit.
    pub unit: String,
    /// As it was; `null` if blank.
    pub was: Option<f64>,
    /// As it would have been.
    pub would_be: Option<f64>,
}

/// Makes the answer for a plot of this name on this day.
#[must_use]
pub fn why_figures(plot: &str, date: Date, why: &Why) -> WhyFigures {
    let inverted = |&(measure, was, would): &(Measure, f64, f64)| {
        let figures = Inverted { unit: measure.unit().to_owned(), was: known(was), would_be: known(would) };
        (measure.name().to_owned(), figures)
    };
    let (was, would) = why.cover_later;
    WhyFigures {
        asked: why.state.asked,
        could_be_inverted: why.could_be_inverted,
        cover: known(why.state.cover),
        cover_later: CoverLater { days: LATER_DAYS, was: known(was), would_be: known(would) },
        date: date.to_string(),
        measures: why.measures.iter().map(inverted).collect(),
        open: why.state.open,
        plot: plot.to_owned(),
        reason: why.state.reason.to_string(),
        rule: why.state.rule.map(|rule| rule.to_string()),
    }
}

/// A finite number as it is, or blank.
fn known(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
