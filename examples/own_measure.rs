//! A measure of one's own: water drained, over possible years. `cargo run --example own_measure`

use analysis::experiment::{Arm, Trial, draws_of};
use analysis::stats::{LEVEL, blocks::mean_interval};
use scenarios::{Library, site_file};
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use std::path::Path;

#[derive(Default)]
struct Drained {
    mm: f64,
}

impl Recorder for Drained {
    fn flows(&self) -> FlowSet {
        FlowSet::of(&[Flow::Drainage])
    }

    fn day(&mut self, _: &DayView) {}

    fn end(&mut self, run: &RunView) {
        let zones = run.world.constants.zones.iter().enumerate();
        let litres: f64 = zones.map(|(zone, here)| run.flow(zone, Flow::Drainage) * here.area_m2).sum();
        self.mm = litres / run.world.plots_area_m2();
    }
}

pub(crate) fn main() -> Result<(), Box<dyn std::error::Error>> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/demos/puddlecote/site.toml");
    let model = site_file::read(&demo, &Library::shipped()?)?;
    let (trial, _) = Trial::new(draws_of(&model, 1, None, 0..40), &model, |_| ())?;
    let runs = trial.run(Arm::strategy(&model.strategies, 0), |_| Drained::default())?;
    let drained: Vec<f64> = runs.iter().map(|run| run.recorder.mm / f64::from(model.years)).collect();
    let mean = mean_interval(&drained, LEVEL);
    println!("{:.0} mm a year ({:.0} to {:.0})", mean.mean, mean.low, mean.high);
    Ok(())
}
