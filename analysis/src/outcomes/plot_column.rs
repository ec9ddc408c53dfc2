//! What is kept of a plot in every possible year, as it is shown.

use sim_engine::summary::PlotSummary;

/// A figure of a plot that every possible year has; shares in percent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlotColumn {
    /// Days open a year.
    DaysOpen,
    /// Bird-days per m² a year.
    BirdDays,
    /// Least cover, %.
    LeastCover,
    /// Mean cover, %.
    MeanCover,
    /// Days a year under the cover limit.
    DaysUnder,
    /// Longest run of bare days because of the birds.
    BareDays,
    /// Mean weed cover, %.
    WeedCover,
    /// Hours of work a year.
    Work,
    /// Hours of work a year less than with the birds shut in.
    WorkSaved,
    /// Nitrogen load, kg/ha.
    Nitrogen,
    /// Phosphorus load, kg/ha.
    Phosphorus,
    /// Nitrogen leached, kg/ha a year.
    Leached,
    /// Infective worm eggs at the end, relative.
    WormEggs,
}

impl PlotColumn {
    /// All, in their order.
    pub const ALL: [PlotColumn; 13] = [
        PlotColumn::DaysOpen,
        PlotColumn::BirdDays,
        PlotColumn::LeastCover,
        PlotColumn::MeanCover,
        PlotColumn::DaysUnder,
        PlotColumn::BareDays,
        PlotColumn::WeedCover,
        PlotColumn::Work,
        PlotColumn::WorkSaved,
        PlotColumn::Nitrogen,
        PlotColumn::Phosphorus,
        PlotColumn::Leached,
        PlotColumn::WormEggs,
    ];

    /// Of one run.
    #[must_use]
    pub fn of(self, plot: &PlotSummary) -> f64 {
        match self {
            PlotColumn::DaysOpen => plot.days_open,
            PlotColumn::BirdDays => plot.bird_days,
            PlotColumn::LeastCover => 100.0 * plot.least_cover,
            PlotColumn::MeanCover => 100.0 * plot.mean_cover,
            PlotColumn::DaysUnder => plot.days_under,
            PlotColumn::BareDays => plot.bare_days,
            PlotColumn::WeedCover => 100.0 * plot.weed_cover,
            PlotColumn::Work => plot.work_h,
            PlotColumn::WorkSaved => plot.work_saved_h,
            PlotColumn::Nitrogen => plot.nitrogen,
            PlotColumn::Phosphorus => plot.phosphorus,
            PlotColumn::Leached => plot.leached,
            PlotColumn::WormEggs => plot.worm_eggs,
        }
    }
}
