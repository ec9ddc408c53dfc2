//! A house that moves with the flock: where its droppings lie, and what the books and the keeper's work say of it.
//!
//! Fürmetz, Keppler, Knierim, Deerberg & Hess 2005 (University of Kassel): under houses moved every six weeks nitrate came to
//! 24 to 37 mg/kg at its highest, near houses that stay to 160, and moving evened it out over the run.
#![allow(clippy::unwrap_used)]

mod common;

use common::watchman::Watchman;
use common::*;
use scenarios::SiteModel;
use sim_engine::ledger::flows::{Flow, FlowSet, SiteFlow};
use sim_engine::measures::Measure;
use sim_engine::run::{Run, RunOptions};
use sim_engine::summary::Summary;
use sim_engine::units::HA_PER_M2;

/// Two meadows of two rings for a dozen layers; six weeks each.
const STAY_D: f64 = 42.0;

fn meadows(house: &str) -> SiteModel {
    let rings = "rings = 2";
    let text = format!("[house]\n{house}\n{}{}", plot("a", 300.0, 10.0, rings), plot("b", 200.0, 20.0, rings));
    site("2027-03-01", 2, 12.0, &text)
}

/// Droppings' nitrogen of each zone, kg/ha.
fn manure(run: &Run) -> Vec<f64> {
    let zones = run.world().constants.zones.len();
    (0..zones).map(|zone| run.view(FlowSet::ALL).flow(zone, Flow::ManureN)).collect()
}

#[test]
fn night_droppings_lie_where_the_house_stands() {
    let (fixed, moving) = (meadows("night_share = 0.45"), meadows("mobile = true"));
    let dropped = |model: &SiteModel| {
        let drivers = drivers(model, &model.base, 0);
        let run = run(&model.base, &drivers, &turn(2, STAY_D), |_| ());
        let on_plots: f64 =
            manure(&run).iter().zip(&run.world().constants.zones).map(|(n, here)| n * here.area_m2 * HA_PER_M2).sum();
        let books = |flow| run.world().site_flows.get(flow);
        (on_plots, books(SiteFlow::DroppedN), books(SiteFlow::YardN), books(SiteFlow::HouseN), manure(&run))
    };
    let (on_plots, all, yard, heap, rings) = dropped(&fixed);
    assert!(heap > 0.45 * all && on_plots < 0.5 * all);
    // Near the gate more falls than far from it.
    assert!(rings[0] > 1.2 * rings[1] && rings[2] > 1.2 * rings[3], "{rings:?}");
    println!("fixed house: {on_plots:.1} kg on the plots, {yard:.1} in the yard, {heap:.1} to the heap");
    let (on_plots, all, yard, heap, rings) = dropped(&moving);
    println!("moving house: {on_plots:.1} kg on the plots, {yard:.1} in the yard, {heap:.1} to the heap");
    assert!((on_plots + yard + heap - all).abs() < 1e-9 * all);
    // A gate is open every day of a turn.
    assert!(heap == 0.0 && yard < 0.1 * all, "{heap} {yard}");
    assert!((rings[0] / rings[1] - 1.0).abs() < 1e-9 && (rings[2] / rings[3] - 1.0).abs() < 1e-9, "{rings:?}");
}

/// The books close every day, the load of the ground holds the night, and every move takes its time.
#[test]
fn load_and_work_know_of_the_house() {
    let measures = |model: &SiteModel| {
        let drivers = drivers(model, &model.base, 0);
        let mut summary = Summary::new(Some(baseline(&model.base, &drivers)), 0.7);
        record(&model.base, &drivers, (&[turn(2, STAY_D)], 0), RunOptions::default(), &mut summary);
        let mut watchman = Watchman::default();
        record(&model.base, &drivers, (&[turn(2, STAY_D)], 0), RunOptions::default(), &mut watchman);
        assert!(watchman.worst() < 1e-9);
        summary.measures
    };
    let (fixed, moving) = (measures(&meadows("night_share = 0.45")), measures(&meadows("mobile = true")));
    let load = |of: &sim_engine::measures::Measures| of.get(Measure::NitrogenLoad);
    assert!(load(&moving) > 1.8 * load(&fixed), "{} {}", load(&moving), load(&fixed));
    // Two years of stays of six weeks: the first house move and 17 after it, at half an hour.
    let more = moving.get(Measure::WorkMoving) - fixed.get(Measure::WorkMoving);
    assert!((more - 18.0 * 0.5 / 2.0).abs() < 0.3, "{more}");
    assert!(moving.get(Measure::WormEggs) > fixed.get(Measure::WormEggs));
}

/// With every gate shut the house stands in the yard and nothing differs.
#[test]
fn a_house_that_never_leaves_the_yard_is_any_house() {
    let [fixed, moving] = ["night_share = 0.45", "night_share = 0.45\nmobile = true"].map(|house| {
        let model = meadows(house);
        let drivers = drivers(&model, &model.base, 0);
        let shut = spec(sim_engine::gates::spec::StrategyKind::AllShut);
        let mut summary = Summary::new(None, 0.7);
        record(&model.base, &drivers, (&[shut], 0), RunOptions::default(), &mut summary);
        format!("{:?}", summary.measures)
    });
    assert_eq!(fixed, moving);
}
