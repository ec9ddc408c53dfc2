//! What a question of a lesson is about, and what its answer can be.

use super::play::SharedDraw;
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// Ground cover lost: [`cover_lost`].
    Cover,
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

/// Points of cover out of 100 below the same day with the birds shut in, mean over the ground of all plots with a sward and the days.
/// What is greener than that makes up for nothing.
#[must_use]
pub fn cover_lost(model: &SiteModel, draw: &SharedDraw, strategy: usize) -> f64 {
    let (mut lost, mut ground) = (0.0, 0.0);
    let covers = draw.strategies[strategy].ground.cover.by_plot.iter().zip(&draw.shut_in.cover.by_plot);
    for ((cover, shut_in), plot) in covers.zip(&model.base.plots).filter(|(_, plot)| plot.has_sward()) {
        lost +=
            plot.area_m2 * cover.iter().zip(shut_in).map(|(cover, shut_in)| (shut_in - cover).max(0.0)).sum::<f64>();
        ground += plot.area_m2 * cover.len() as f64;
    }
    if ground > 0.0 { 100.0 * lost / ground } else { 0.0 }
}
