//! A practice of many keepers, held to what a keeper and an agronomist would call plausible: hours, kilograms, cover and
//! nitrogen against birds shut in, and books that can be followed by hand.
#![allow(clippy::unwrap_used)]

mod common;

use analysis::experiment::ArmId;
use common::{compared, folder};
use scenarios::Library;
use sim_engine::measures::Measure;

#[test]
fn fruit_as_home_comes_out_plausible() {
    let library = Library::shipped().unwrap();
    let path = folder("analysis/tests/data/fruit-as-home/site.toml");
    let model = scenarios::site_file::read(&path, &library).unwrap_or_else(|faults| panic!("{faults}"));
    let c = compared(&model, &["shut", "ours"], 24);
    let mean = |run, measure| c.figure(run, measure).unwrap().mean.mean;
    let (shut_in, ours) = (ArmId::ShutIn, ArmId::Strategy(1));
    let both = |measure| [mean(shut_in, measure), mean(ours, measure)];
    let within = |what: &str, value: f64, [low, high]: [f64; 2]| {
        println!("{what}: {value:.2}");
        assert!((low..=high).contains(&value), "{what}: {value} is not within {low} to {high}");
    };
    // 600 m² of garden, 72 of them beds: one to three weeks of evenings (common practice, no source).
    let [work, with] = both(Measure::Work);
    within("work shut in, h a year", work, [8.0, 40.0]);
    within("share of it saved", (work - with) / work, [0.0, 0.5]);
    // 400 m² of apples at 0.8 to 4 kg, 80 of raspberries at 0.4 to 1.8, beds at 1 to 5 (from memory).
    let [kept, with] = both(Measure::HarvestKept);
    within("harvest shut in, kg a year", kept, [420.0, 2000.0]);
    within("change of harvest, share", (with - kept) / kept, [-0.05, 0.05]);
    let [cover, with] = both(Measure::MeanCover);
    within("mean cover shut in", cover, [0.85, 1.0]);
    within("mean cover lost", cover - with, [0.0, 0.15]);
    // The heap shut in, droppings and heap otherwise: of one flock, so of one size.
    let [load, with] = both(Measure::NitrogenWorst);
    within("nitrogen shut in, kg/ha", load, [50.0, 250.0]);
    within("nitrogen, kg/ha", with, [50.0, 250.0]);
    let [leached, with] = both(Measure::NitrogenLeached);
    within("leached shut in, kg/ha", leached, [3.0, 60.0]);
    within("leached more, kg/ha", with - leached, [0.0, 40.0]);
    // Twelve layers at 2.0 to 2.5 g of nitrogen a day drop 8.8 to 11 kg a year: no more can lie on 600 m².
    let garden_ha = model.base.plots.iter().map(|plot| plot.area_m2).sum::<f64>() / 1e4;
    within("nitrogen on all plots, kg a year", mean(ours, Measure::NitrogenLoad) * garden_ha, [2.0, 11.0]);
}
