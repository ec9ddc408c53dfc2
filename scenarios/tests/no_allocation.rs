//! The day loop allocates nothing: a longer run asks for no more memory than a shorter one.
#![allow(clippy::unwrap_used)]

use scenarios::{Library, SiteModel, site_file};
use sim_engine::drivers::Drivers;
use sim_engine::season::{RunOptions, run};
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

/// Allocations of a whole run of `days`, set-up included.
fn allocations(model: &SiteModel, which: usize, days: usize) -> u64 {
    let mut site = model.base.clone();
    site.days = days;
    let weather = model.weather.draw(1, 1, site.start, days);
    let drivers = Drivers::new(&site, &weather);
    let info = allocation_counter::measure(|| {
        let mut summary = Summary::new(None, 0.6);
        run(&site, &drivers, &model.strategies, which, RunOptions::default(), &mut summary).unwrap();
    });
    info.count_total
}

#[test]
fn two_more_years_ask_for_no_more_memory() {
    for model in demos() {
        for (which, strategy) in model.strategies.iter().enumerate() {
            let (short, long) = (allocations(&model, which, 366), allocations(&model, which, 1096));
            assert!(short > 0, "the counter counts");
            assert!(long <= short + DOUBLINGS, "{}: {short} allocations in a year, {long} in three", strategy.name);
        }
    }
}
