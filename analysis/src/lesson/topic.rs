//! What a question of a lesson is about, and what its answer can be.

use super::play::SharedDraw;
use sim_engine::measures::Measure;

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// A measure of the whole site; the answer is the strategy with more of it.
    More(Measure),
    /// The strategy, plot and month of the barest ground.
    Barest,
    /// Which strategy keeps every plot above the site's cover line all year.
    Line,
    /// Which strategy leaves less of a pest, by index into the site's.
    Pest(usize),
}

/// The answer on one draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TopicAnswer {
    /// A plan: 0 for A, 1 for B.
    Plan(usize),
    /// The two are too close to be told apart.
    Even,
    /// The strategy and the plot with the barest day.
    Bare(usize, usize),
    /// Whether A and B keep above the line.
    Keeps(bool, bool),
}

/// Of a hundred of a pest left with the birds shut in, how many are left under a strategy.
#[must_use]
pub fn left(draw: &SharedDraw, strategy: usize, pest: usize) -> f64 {
    100.0 * draw.strategies[strategy].ground.pests[pest] / draw.shut_in.pests[pest]
}
