//! A strategy of one's own: the greenest plot, every third day. `cargo run --example own_strategy`

use analysis::draw_sampler::DrawSampler;
use analysis::experiment::Trial;
use scenarios::{Library, site_file};
use sim_engine::gates::reason::Reason;
use sim_engine::gates::{Observation, Proposal, Strategy};
use sim_engine::measures::Measure;
use std::path::Path;

struct GreenestEveryThirdDay {
    day: usize,
}

impl Strategy for GreenestEveryThirdDay {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        self.day += 1;
        let free = (0..observation.plots.len()).filter(|&plot| observation.plots[plot].shut.is_none());
        let greenest = free.max_by(|&a, &b| observation.plots[a].cover.total_cmp(&observation.plots[b].cover));
        if let (Some(plot), true) = (greenest, self.day.is_multiple_of(3)) {
            proposal.open(plot, Reason::ByHand);
        }
        true
    }
}

pub(crate) fn main() -> Result<(), Box<dyn std::error::Error>> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/demos/puddlecote/site.toml");
    let model = site_file::read(&demo, &Library::shipped()?)?;
    let draw = DrawSampler { seed: 1 }.draw(&model, 1);
    let (trial, _) = Trial::new(vec![draw], &model, |_| ())?;
    let run = trial.run_given(0, &mut GreenestEveryThirdDay { day: 0 }, ())?;
    println!("mean cover {:.3}", run.measures.get(Measure::MeanCover));
    Ok(())
}
