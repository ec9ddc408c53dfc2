//! What is reported of a plot.

use super::gathering::PlotSums;
use crate::flows::Flow;
use crate::world::World;

/// What is reported of one plot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlotSummary {
    /// Least cover outside beds on any day.
    pub least_cover: f64,
    /// Mean cover outside beds.
    pub mean_cover: f64,
    /// Days per year under the cover limit that the no-birds run held.
    pub days_under: f64,
    /// Longest run of bare days that the no-birds run did not have.
    pub bare_days: f64,
    /// Mean weed cover.
    pub weed_cover: f64,
    /// Days open per year.
    pub days_open: f64,
    /// Bird-days per m² and year.
    pub bird_days: f64,
    /// Manure nitrogen, kg/ha a year.
    pub nitrogen: f64,
    /// Manure phosphorus, kg/ha a year.
    pub phosphorus: f64,
    /// Nitrogen leached, kg/ha a year.
    pub leached: f64,
    /// Infective worm eggs at the end, relative.
    pub worm_eggs: f64,
}

impl PlotSummary {
    /// From what was gathered over `days`, which are so many `years`.
    pub(super) fn new(world: &World, plot: usize, sums: &PlotSums, days: f64, years: f64) -> Self {
        let plan = &world.plan.plots[plot];
        let mut summary = Self {
            least_cover: sums.least_cover,
            mean_cover: sums.cover / days,
            days_under: sums.under / years,
            bare_days: sums.most_bare,
            weed_cover: sums.weed / days,
            days_open: sums.open / years,
            bird_days: sums.bird_days / years,
            ..Self::default()
        };
        for zone in plan.zones.clone() {
            let share = world.plan.zones[zone].area_m2 / plan.area_m2;
            let z = &world.zones[zone];
            summary.nitrogen += z.flows.get(Flow::ManureN) * share / years;
            summary.phosphorus += z.flows.get(Flow::ManureP) * share / years;
            summary.leached += z.flows.get(Flow::LeachedN) * share / years;
            summary.worm_eggs += z.worms * share;
        }
        summary
    }
}
