//! Figures as documents carry them: what is not finite is blank.

use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::outcomes::Against;
use crate::stats::Estimate;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::measures::Measure;
use std::collections::BTreeMap;

/// A finite number, or blank. A negative zero is written 0.
pub(super) fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value + 0.0)
}

/// A mean with its 95 % interval; `null` where blank, the ends also with a single draw.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Interval {
    /// Mean.
    pub mean: Option<f64>,
    /// Lower end.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

impl From<Estimate> for Interval {
    fn from(e: Estimate) -> Self {
        Self { mean: finite(e.mean), low: finite(e.low), high: finite(e.high) }
    }
}

/// A measure over the draws of a run without strategy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlainFigures {
    /// Unit.
    pub unit: String,
    /// Mean.
    pub mean: Option<f64>,
    /// Median.
    pub median: Option<f64>,
    /// 5 % quantile.
    pub p05: Option<f64>,
    /// 95 % quantile.
    pub p95: Option<f64>,
}

/// A measure over the draws of a strategy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MeasureFigures {
    /// Unit.
    pub unit: String,
    /// Mean.
    pub mean: Option<f64>,
    /// Median.
    pub median: Option<f64>,
    /// 5 % quantile.
    pub p05: Option<f64>,
    /// 95 % quantile.
    pub p95: Option<f64>,
    /// Paired difference to the strategy the others are set against.
    pub difference: Interval,
    /// Paired difference to the run of birds shut in.
    pub difference_to_shut_in: Interval,
    /// Paired difference to the run with neither birds nor care.
    pub difference_to_nothing: Interval,
}

/// All measures of a run without strategy.
pub(super) fn plain(c: &Comparison, run: ArmId) -> BTreeMap<String, PlainFigures> {
    Measure::ALL.iter().map(|&m| (m.name().to_owned(), plain_one(c, run, m))).collect()
}

fn plain_one(c: &Comparison, run: ArmId, measure: Measure) -> PlainFigures {
    let figure = c.figure(run, measure);
    let spread = figure.as_ref().map(|f| &f.spread);
    PlainFigures {
        unit: measure.unit().to_owned(),
        mean: figure.as_ref().and_then(|f| finite(f.mean.mean)),
        median: spread.and_then(|s| finite(s.median)),
        p05: spread.and_then(|s| finite(s.p05)),
        p95: spread.and_then(|s| finite(s.p95)),
    }
}

/// All measures of a strategy.
pub(super) fn of_strategy(c: &Comparison, run: ArmId) -> BTreeMap<String, MeasureFigures> {
    let one = |&measure: &Measure| {
        let PlainFigures { unit, mean, median, p05, p95 } = plain_one(c, run, measure);
        let to = |against| c.difference(run, against, measure).map(Interval::from).unwrap_or_default();
        let figures = MeasureFigures {
            unit,
            mean,
            median,
            p05,
            p95,
            difference: to(Against::Reference),
            difference_to_shut_in: to(Against::ShutIn),
            difference_to_nothing: to(Against::Nothing),
        };
        (measure.name().to_owned(), figures)
    };
    Measure::ALL.iter().map(one).collect()
}
