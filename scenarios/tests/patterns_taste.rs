//! Patterns of what kinds of birds take: geese graze grass and weeds, hens pick out what is soft. Numbers are those of the
//! shipped library.
#![allow(clippy::unwrap_used)]

mod common;

use common::*;
use scenarios::{SiteModel, site_file};
use sim_engine::gates::spec::StrategyKind;

/// So many birds of a class on 400 m² of lawn grass with weeds.
fn lawn(class: &str, number: f64, weeds: &str) -> SiteModel {
    let lawn = plot("lawn", 400.0, 5.0, weeds).replace("grass and clover", "mown grass");
    let text = format!(
        "format = 2\nlatitude = \"53 deg\"\n[run]\nstart = 2027-03-01\nyears = 3\n[weather]\nclimate = \"cool-maritime\"\n\
         [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"{class}\"\nnumber = {number}\n[rules]\nshut_on = []\n{lawn}"
    );
    match site_file::read_text("taste.toml", &text, library(), &|_| Err("no companions".into())) {
        Ok(model) => model,
        Err(faults) => panic!("{faults}"),
    }
}

/// Cover of weeds as a keeper sees it, mean of the second and third year over draws: without birds, under these.
fn weed_cover(class: &str, number: f64, weeds: &str) -> [f64; 2] {
    let model = lawn(class, number, weeds);
    [StrategyKind::AllShut, StrategyKind::AllOpen].map(|kind| {
        let of_draw = |draw| {
            let drivers = drivers(&model, &model.base, draw);
            let (mut sum, mut days) = (0.0, 0.0);
            run(&model.base, &drivers, &spec(kind.clone()), |view| {
                if view.day >= 365 {
                    let seen = |zone: usize| {
                        let zone = &view.ground().zones[zone];
                        1.0 - (-model.base.process.weed_visible * (zone.seen_weed_mass + zone.seen_shoot_mass)).exp()
                    };
                    sum += over_plot(&view.run(), 0, seen);
                    days += 1.0;
                }
            });
            sum / days
        };
        mean(&(0..3).map(of_draw).collect::<Vec<_>>())
    })
}

const CHICKWEED: &str = "weeds = [{ plant = \"chickweed\", seeds = \"3000 per m2\" }]";
const MEADOW_GRASS: &str = "weeds = [{ plant = \"annual meadow grass\", seeds = \"3000 per m2\" }]";
const COUCH: &str = "creeping = [{ plant = \"couch grass\", reserve = \"100 g/m2\" }]";

/// Clark & Gage 1996, Am. J. Altern. Agric. 11:39: fewer weeds under geese.
#[test]
fn geese_lower_the_cover_of_weeds() {
    for weeds in [CHICKWEED, MEADOW_GRASS, COUCH] {
        let [without, under] = weed_cover("goose", 5.0, weeds);
        println!("{weeds}: {without:.3} without birds, {under:.3} under five geese");
        assert!(under < 0.95 * without);
    }
}

/// The same trial: no effect of hens, a few to 400 m², on the weeds of an orchard. Grass weeds are meant here; soft ones, such as
/// chickweed, they do pick out.
#[test]
fn hens_change_grassy_weeds_little() {
    let [without, under] = weed_cover("layer", 4.0, COUCH);
    println!("couch grass: {without:.3} without birds, {under:.3} under four hens");
    assert!((under / without - 1.0).abs() < 0.05);
    let [without, under] = weed_cover("layer", 4.0, CHICKWEED);
    println!("chickweed: {without:.3} without birds, {under:.3} under four hens");
    assert!(under < without);
}
