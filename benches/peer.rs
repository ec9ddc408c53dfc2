//! Nanoseconds a zone-day takes on one thread, for `benches/peer/run` to hold against the peer.
//!
//! A site of five plots with two rings each, one weed and one pest, under a fixed turn: the
//! scope of `benches/peer/core.py`, though the whole model runs: agenda, rules, strategy,
//! phosphorus, worm eggs, insects and the summary, with draws side by side as `compare` runs them.
//! Weather and what follows from it are made beforehand on both sides. Both run as often as fits
//! into the same time, and the least counts. Arguments: days, seconds for each number of draws,
//! numbers of draws.

use analysis::draw_sampler::{Draw, DrawSampler};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::run::{Batch, Realization, RunOptions};
use sim_engine::summary::Summary;
use std::hint::black_box;
use std::time::{Duration, Instant};

const PLOTS: usize = 5;
const RINGS: usize = 2;
/// Least times each number of draws is run.
const TRIES: usize = 3;

fn site() -> SiteModel {
    let mut text = String::from(
        "format = 2\nname = \"peer\"\nlatitude = \"53 deg\"\n[run]\nstart = 2027-03-01\nyears = 1\n\
         [weather]\nclimate = \"cool-maritime\"\n[yard]\narea = \"45 m2\"\n\
         [birds.flock]\nclass = \"layer\"\nnumber = 14\n",
    );
    for plot in 0..PLOTS {
        text += &format!(
            "[plot.p{plot}]\narea = \"80 m2\"\nrings = {RINGS}\nsoil = \"loam\"\ncanopy = \"apple trees\"\n\
             cover = {{ plant = \"grass and clover\", start = 0.9 }}\n\
             weeds = [ {{ plant = \"chickweed\", seeds = \"2000 per m2\" }} ]\n\
             [[plot.p{plot}.pest]]\nspecies = \"apple sawfly\"\nstart = \"20 per m2\"\n"
        );
    }
    let order: Vec<String> = (0..PLOTS).map(|plot| format!("\"p{plot}\"")).collect();
    text += &format!("[strategy.turn]\nfixed_turn = {{ order = [{}], stay = \"14 days\" }}\n", order.join(", "));
    let library = Library::shipped().expect("the library reads");
    site_file::read_text("peer.toml", &text, &library, &|_| Err("no companions".into()))
        .unwrap_or_else(|faults| panic!("{faults}"))
}

fn seconds(model: &SiteModel, realizations: &[Realization<'_>], batch: &Batch) -> f64 {
    let begun = Instant::now();
    let mut summaries: Vec<_> = realizations.iter().map(|_| Summary::new(None, model.limits.cover_line)).collect();
    batch.run(realizations, &model.strategies, 0, RunOptions::default(), &mut summaries).expect("it runs");
    black_box(summaries);
    begun.elapsed().as_secs_f64()
}

fn main() {
    let mut params = std::env::args().filter_map(|word| word.parse::<usize>().ok());
    let mut model = site();
    model.base.days = params.next().unwrap_or(model.base.days).min(model.base.days);
    let time = Duration::from_secs(params.next().unwrap_or_default() as u64);
    let found: Vec<String> = params
        .map(|count| {
            let draws: Vec<Draw> =
                (0..count as u64).map(|draw| DrawSampler { seed: 1 }.draw(&model, 1 + draw)).collect();
            let realizations: Vec<Realization<'_>> = draws.iter().map(|draw| (&draw.site, &draw.drivers)).collect();
            let batch = Batch::new(&realizations);
            let begun = Instant::now();
            let goes_on = |tries: &usize| *tries < TRIES || begun.elapsed() < time;
            let runs = (0..).take_while(goes_on).map(|_| seconds(&model, &realizations, &batch));
            let best = runs.fold(f64::INFINITY, f64::min);
            let zone_days = (count * PLOTS * RINGS * model.base.days) as f64;
            format!("\"{count}\": {}", best / zone_days * 1e9)
        })
        .collect();
    println!("{{{}}}", found.join(", "));
}
