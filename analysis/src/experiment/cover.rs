//! Cover day by day.

use sim_engine::run::recorder::{DayView, Recorder, RunView};

/// Cover outside beds of every plot on every evening of a run.
#[derive(Clone, Debug, Default)]
pub struct CoverRecorder {
    /// Share covered, 0 to 1, by plot then day; NaN of a plot that is all beds.
    pub by_plot: Vec<Vec<f64>>,
}

impl Recorder for CoverRecorder {
    fn start(&mut self, run: &RunView) {
        let site = run.world.site;
        self.by_plot = vec![Vec::with_capacity(site.days); site.plots.len()];
    }

    fn day(&mut self, view: &DayView) {
        for (plot, days) in self.by_plot.iter_mut().enumerate() {
            days.push(view.world.cover_outside_beds(plot));
        }
    }
}
