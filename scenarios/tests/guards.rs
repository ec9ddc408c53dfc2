//! Guards around plants of one kind: those are kept from birds, what grows beside them is not.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::*;
use scenarios::{SiteModel, site_file};
use sim_engine::gates::spec::StrategyKind;
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::site::Plant;

/// Leeks in one of two beds, without a harvest that would keep birds out, and guards.
const LEEKS: &str = "beds = 0.4\nbed = { north = { share = 0.5 }, south = { share = 0.5 } }\n\
                     [[plot.garden.crop]]\ncrop = \"leek\"\nbed = \"north\"\nin_ground = [\"04-01\", \"11-30\"]\n";
/// Onions in the other.
const ONIONS: &str = "[[plot.garden.crop]]\ncrop = \"onion\"\nbed = \"south\"\nin_ground = [\"05-01\", \"07-31\"]\n";

/// Of the run, which has a 29 February.
const DAYS: usize = 366;

fn garden(guards: &str, more: &str) -> SiteModel {
    site("2027-03-01", 1, 10.0, &plot("garden", 100.0, 8.0, &format!("{guards}\n{more}")))
}

/// Days on which birds were in the plot; what they ate of crops and cover of each zone; hours of guards.
fn year(model: &SiteModel) -> (usize, Vec<[f64; 2]>, f64) {
    let drivers = drivers(model, &model.base, 1);
    let mut days = 0;
    let ended = run(&model.base, &drivers, &spec(StrategyKind::AllOpen), |view| {
        days += usize::from(view.world.birds_on[0].bird_days > 0.0);
    });
    let view = ended.view(FlowSet::ALL);
    let of = |zone: usize| [Flow::EatenCrop, Flow::EatenCover].map(|flow| view.flow(zone, flow));
    (days, (0..view.world.constants.zones.len()).map(of).collect(), view.world.work[0].guards)
}

#[test]
fn a_crop_behind_guards_of_its_own_is_spared_and_the_rest_is_eaten() {
    let around = "guards = [{ plants = \"leeks\", from = \"04-01\", to = \"12-01\" }]";
    let (open, eaten, hours) = year(&garden(around, LEEKS));
    assert_eq!(open, DAYS, "no day of the year is the gate shut");
    assert!(eaten.iter().all(|[crop, _]| *crop == 0.0) && eaten.iter().any(|[_, cover]| *cover > 0.0), "{eaten:?}");
    // Once up and once down, over the bed of leeks: a fifth of 100 m².
    let model = garden(around, LEEKS);
    assert!((hours - 2.0 * 20.0 * model.base.process.guard_time).abs() < 1e-9, "{hours}");
    // Without guards the leeks shut the gate from 1 April to 29 November; so do onions beside guarded leeks, while they stand.
    let shut_by = |guards: &str, crops: &str| DAYS - year(&garden(guards, crops)).0;
    assert_eq!(shut_by("", LEEKS), 243);
    assert_eq!(shut_by(around, &format!("{LEEKS}{ONIONS}")), 91);
    // Guards taken down on 31 July leave the leeks to shut it.
    let early = around.replace("12-01", "07-31");
    assert_eq!(shut_by(&early, LEEKS), 122);
    // Guards over a share beside them go over the onions' bed first: all of it is enough, less is not.
    let beside =
        |share: f64| around.replace("]", &format!(", {{ share = {share}, from = \"04-01\", to = \"12-01\" }}]"));
    assert_eq!([0.2, 0.19].map(|share| shut_by(&beside(share), &format!("{LEEKS}{ONIONS}"))), [0, 91]);
}

/// Of two kinds of bushes birds take the fruit of the one that is not fenced, and the grass is worn less.
#[test]
fn fruit_behind_a_fence_hangs_on() {
    let bushes = "canopy = [{ plant = \"raspberry canes\", share = 0.3 }, { plant = \"currant bushes\", share = 0.3 }]";
    let fence = "guards = [{ plants = \"raspberry canes\", from = \"03-01\", to = \"02-28\" }]";
    let taken = |model: &SiteModel| {
        let drivers = drivers(model, &model.base, 1);
        let ended = run(&model.base, &drivers, &spec(StrategyKind::AllOpen), |_| ());
        let fruit = &ended.world().harvests[0][model.base.crops.len()..];
        let of = |name: &str| model.base.canopies.iter().position(|canopy| canopy.name == name).unwrap();
        ["raspberry canes", "currant bushes"].map(|name| fruit[of(name)].taken_by_birds_kg)
    };
    let (open, fenced) = (garden("", bushes), garden(fence, bushes));
    let (before, after) = (taken(&open), taken(&fenced));
    assert!(before[0] > 0.0 && before[1] > 0.0, "{before:?}");
    // What the fence leaves them less of on the ground moves their days in the plot a little.
    assert!(after[0] == 0.0 && (after[1] - before[1]).abs() < 0.01 * before[1], "{after:?} {before:?}");
    let cover = |model: &SiteModel| {
        let drivers = drivers(model, &model.base, 1);
        let mut barest = f64::INFINITY;
        let _ended = run(&model.base, &drivers, &spec(StrategyKind::AllOpen), |view| {
            barest = barest.min(view.world.observed[0].cover);
        });
        barest
    };
    assert!(cover(&fenced) > cover(&open), "{} {}", cover(&fenced), cover(&open));
    assert_eq!(fenced.base.plots[0].guards[0].plants.map(|plant| matches!(plant, Plant::Canopy(_))), Some(true));
}

#[test]
fn guards_name_plants_that_are_there() {
    let told = |guards: &str| {
        let text = format!(
            "format = 2\nlatitude = \"53 deg\"\n[run]\nstart = 2027-03-01\n[weather]\nclimate = \"cool-maritime\"\n\
             [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 4\n{}",
            plot(
                "garden",
                100.0,
                8.0,
                &format!("guards = [{{ {guards}, from = \"04-01\", to = \"12-01\" }}]\n{LEEKS}")
            )
        );
        match site_file::read_text("a.toml", &text, library(), &|_| Err(String::new())) {
            Ok(_) => String::new(),
            Err(faults) => faults.to_string(),
        }
    };
    let none = told("plants = \"leak\"");
    assert!(
        none.contains("no crop or canopy \"leak\" grows in garden") && none.contains("Did you mean \"leek\"?"),
        "{none}"
    );
    let both = told("plants = \"leek\", share = 0.2");
    assert!(both.contains("share beside plants") && both.matches("a.toml, line").count() == 1, "{both}");
}
