//! The zones of a plot.

use sim_engine::run::recorder::RunView;
use sim_engine::state::Zone;

/// Area, index and state of every zone of a plot.
pub(super) fn zones<'w>(run: &'w RunView, plot: usize) -> impl Iterator<Item = (f64, usize, &'w Zone)> {
    let plan = &run.world.plan;
    plan.plots[plot].zones.clone().map(move |zone| (plan.zones[zone].area_m2, zone, &run.ground.zones[zone]))
}
