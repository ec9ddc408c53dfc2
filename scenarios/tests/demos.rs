//! Whatever holds of any site holds of every demo that ships: it reads without a warning, every
//! state of every day is sound, the books close, every measure has a value.
#![allow(clippy::unwrap_used)]

mod common;

use common::watchman::Watchman;
use common::{baseline, drivers, library, record};
use scenarios::{SiteModel, site_file};
use sim_engine::drivers::Drivers;
use sim_engine::measures::{Measure, Measures};
use sim_engine::run::RunOptions;
use sim_engine::summary::Summary;
use std::path::Path;

/// Weathers every strategy of every demo is run on.
const WEATHERS: [u64; 2] = [1, 2];
/// Share of anything that may be unaccounted for on a day.
const BOOKS: f64 = 1e-9;

/// Every folder of `scenarios/demos/`, by name.
fn demos() -> Vec<(String, SiteModel)> {
    let folders = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("demos")).unwrap();
    let mut demos: Vec<_> = folders
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            let model = site_file::read(&path.join("site.toml"), library()).unwrap_or_else(|faults| panic!("{faults}"));
            (name, model)
        })
        .collect();
    demos.sort_by(|one, other| one.0.cmp(&other.0));
    demos
}

#[test]
fn each_is_clear_and_has_strategies_to_compare() {
    assert!(demos().len() >= 3);
    for (name, model) in demos() {
        assert!(model.warnings.is_empty(), "{name}: {:?}", model.warnings);
        assert!(model.strategies.len() >= 5, "{name}");
    }
}

/// Measures of a strategy, held against no birds; every state looked at on the way.
fn measured(model: &SiteModel, drivers: &Drivers, which: usize) -> Measures {
    let mut summary = Summary::new(Some(baseline(&model.base, drivers)), model.limits.cover_line);
    let mut watch = Watchman::default();
    let mut both = (&mut summary, &mut watch);
    record(&model.base, drivers, (&model.strategies, which), RunOptions::default(), &mut both);
    let worst = watch.worst();
    assert!(worst < BOOKS, "{}: {worst:e}", model.strategies[which].name);
    summary.measures
}

#[test]
fn states_are_sound_the_books_close_and_every_measure_has_a_value() {
    for (name, model) in demos() {
        for weather in WEATHERS {
            let drivers = drivers(&model, &model.base, weather);
            for (which, strategy) in model.strategies.iter().enumerate() {
                let measures = measured(&model, &drivers, which);
                for measure in Measure::ALL {
                    let value = measures.get(*measure);
                    let slugs = model.base.plots.iter().any(|plot| !plot.slugs.is_empty());
                    let blank = !slugs && matches!(measure, Measure::Slugs | Measure::CropToSlugs);
                    assert!(blank || value.is_finite(), "{name}, {}: {} is {value}", strategy.name, measure.name());
                }
            }
        }
    }
}

/// What a keeper wants from `off_wet_ground`: home on ground that gives water to the boot, not
/// only on mud, from which the rules keep birds anyway.
#[test]
fn off_wet_ground_is_more_than_off_mud() {
    let (_, model) = demos().into_iter().find(|(name, _)| name == "puddlecote").unwrap();
    let drivers = drivers(&model, &model.base, 1);
    let yard_days = |name: &str| measured(&model, &drivers, model.strategy(name).unwrap()).get(Measure::YardDays);
    assert!(yard_days("off-the-wet") > yard_days("evening-hours") + 10.0);
}
