//! One row of a sweep: what is kept of a cell and strategy.

use super::SweepPlan;
use super::tally::Tally;
use crate::stats::Estimate;
use crate::stats::LEVEL;
use sim_engine::measures::Measure;

/// What is kept in memory of a cell and strategy.
#[derive(Clone, Debug, PartialEq)]
pub struct SweepRow {
    /// Number of the cell.
    pub cell: u64,
    /// Position of the strategy in the plan.
    pub strategy: usize,
    /// Values of the axes.
    pub values: Vec<f64>,
    /// Worth over birds shut in, in `aim_unit`: mean and 95 % interval.
    pub aim: Estimate,
    /// Mean cover lost, points.
    pub cover_loss: Estimate,
    /// What the cover buys (see [`super::rows::SweepView::bought`]): mean; NaN if blank.
    pub bought: f64,
    /// Share of draws in which each limit held.
    pub held: Vec<f64>,
    /// Every limit held often enough.
    pub holds: bool,
}

impl SweepRow {
    /// What a tally says of a cell and strategy, by their numbers; what the cover buys is left blank.
    pub fn of(plan: &SweepPlan, (cell, strategy): (u64, usize), values: &[f64], tally: &Tally) -> Self {
        Self {
            cell,
            strategy,
            values: values.to_vec(),
            aim: tally.aim.interval(LEVEL),
            cover_loss: tally.of(Measure::CoverLoss).interval(LEVEL),
            bought: f64::NAN,
            held: tally.held.iter().map(|&held| held as f64 / tally.draws as f64).collect(),
            holds: tally.holds(plan.required_reliability),
        }
    }
}
