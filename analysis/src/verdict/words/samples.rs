//! Verdicts made up for tests.

use crate::stats::Estimate;
use crate::stats::wilson::wilson;
use crate::verdict::{LimitStanding, Settle, Standing, Verdict, VerdictRules};
use scenarios::model::{Limit, Sense};
use sim_engine::measures::Measure;

pub(super) fn estimate(mean: f64, low: f64, high: f64) -> Estimate {
    Estimate { mean, low, high }
}

pub(super) fn standing(name: &str, aim: Estimate) -> Standing {
    Standing { name: name.into(), aim, holds: true, limits: Vec::new() }
}

pub(super) fn names(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}

/// The verdict on three that hold, of which the second is `lead` behind the first.
pub(super) fn verdict(best: Option<&str>, lead: Estimate, also_close: &[&str]) -> Verdict {
    Verdict {
        rules: VerdictRules::default(),
        best: best.map(str::to_owned),
        leader: Some("by eye".into()),
        leader_stability: Some(0.87),
        confidence: None,
        runner_up: Some("turn".into()),
        difference: Some(lead),
        indifference_hours: 1.5,
        also_close: names(also_close),
        nearest: None,
        settle: Settle::MoreYears(400),
        draws: 200,
        standings: ["by eye", "turn", "open"].map(|name| standing(name, estimate(30.0, 28.0, 32.0))).to_vec(),
    }
}

pub(super) fn limit(measure: Measure, bound: f64, held: usize, draws: usize) -> LimitStanding {
    let chance = wilson(held, draws, 0.95);
    let limit = Limit { name: "limit", measure, sense: Sense::AtLeast, bound, source: None };
    LimitStanding { limit, held, draws, chance, enough: false }
}
