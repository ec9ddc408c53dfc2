//! A recorder of one's own: days each gate was open. `cargo run --example own_recorder`

use analysis::draw_sampler::DrawSampler;
use scenarios::{Library, site_file};
use sim_engine::gates::build;
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::{RunOptions, simulate};
use std::path::Path;

#[derive(Default)]
struct OpenDays(Vec<usize>);

impl Recorder for OpenDays {
    fn start(&mut self, run: &RunView) {
        self.0 = vec![0; run.world.site.plots.len()];
    }

    fn day(&mut self, view: &DayView) {
        view.gates.openings.iter().for_each(|opening| self.0[opening.plot] += 1);
    }
}

pub(crate) fn main() -> Result<(), Box<dyn std::error::Error>> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/demos/puddlecote/site.toml");
    let model = site_file::read(&demo, &Library::shipped()?)?;
    let draw = DrawSampler { seed: 1 }.draw(&model, 1);
    let mut strategy = build(&draw.site, &model.strategies, 0);
    let mut open = OpenDays::default();
    simulate(&draw.site, &draw.drivers, strategy.as_mut(), RunOptions::default(), &mut open)?;
    for (plot, days) in draw.site.plots.iter().zip(&open.0) {
        println!("{}: open on {days} days", plot.name);
    }
    Ok(())
}
