//! The day loop allocates nothing, for one run and for as many side by side as `compare` makes: a
//! longer run asks for no more memory than a shorter one.
#![allow(clippy::unwrap_used)]

use scenarios::{Library, SiteModel, site_file};
use sim_engine::drivers::Drivers;
use sim_engine::run::{Batch, Realization, RunOptions};
use sim_engine::simd::lanes;
use sim_engine::site::Site;
use sim_engine::summary::Summary;
use std::path::Path;

/// Events on the agenda at the start differ by what falls into the run; their room grows in
/// a few doublings, before the first day.
const DOUBLINGS: u64 = 4;

fn demos() -> Vec<SiteModel> {
    let library = Library::shipped().unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demos");
    let folders = std::fs::read_dir(folder).unwrap();
    folders.map(|entry| site_file::read(&entry.unwrap().path().join("site.toml"), &library).unwrap()).collect()
}

/// Allocations of `runs` whole runs of `days` side by side, set-up included.
fn allocations(model: &SiteModel, which: usize, days: usize, runs: usize) -> u64 {
    let mut site = model.base.clone();
    site.days = days;
    let drivers = |draw: u64| Drivers::new(&site, &model.weather.draw(1, draw, site.start, days));
    let drivers: Vec<Drivers> = (1..=runs as u64).map(drivers).collect();
    let realizations: Vec<Realization<'_>> =
        drivers.iter().map(|drivers| (&site, drivers)).collect::<Vec<(&Site, _)>>();
    let batch = Batch::new(&realizations);
    let mut summaries = vec![Summary::new(None, 0.6); runs];
    let info = allocation_counter::measure(|| {
        batch.run(&realizations, &model.strategies, which, RunOptions::default(), &mut summaries).unwrap();
    });
    info.count_total
}

#[test]
fn two_more_years_ask_for_no_more_memory() {
    for model in demos() {
        for (which, strategy) in model.strategies.iter().enumerate() {
            for runs in [1, lanes()] {
                let of = |days| allocations(&model, which, days, runs);
                let (short, long) = (of(366), of(1096));
                assert!(short > 0, "the counter counts");
                let most = short + DOUBLINGS * runs as u64;
                assert!(long <= most, "{}, {runs} runs: {short} in a year, {long} in three", strategy.name);
            }
        }
    }
}
