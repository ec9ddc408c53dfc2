//! The zones of a plot.

use sim_engine::run::recorder::RunView;
use sim_engine::state::Zone;

/// Area, index and state of every zone of a plot.
pub(super) fn zones<'w>(run: &'w RunView, plot: usize) -> impl Iterator<Item = (f64, usize, &'w Zone)> {
    let constants = &run.world.constants;
    constants.plots[plot].zones.clone().map(move |zone| (constants.zones[zone].area_m2, zone, &run.ground.zones[zone]))
}
