//! Every pest of the library in every climate it is known to live in, ten years without birds: how it grows at low numbers,
//! and what it comes to.
#![allow(clippy::unwrap_used)]

mod common;

use common::{library, mean, no_birds, over_plot};
use scenarios::library::EntryKind;
use scenarios::{SiteModel, site_file};
use sim_engine::gates::spec::StrategyKind;
use sim_engine::measures::Measure;
use sim_engine::run::RunOptions;
use sim_engine::species::Host;
use sim_engine::summary::Summary;

const YEARS: u32 = 10;

/// Fruit trees and bushes of the library a pest of fruit is put under.
fn canopy(pest: &str) -> &'static str {
    let hosts = [
        ("plum", "plum trees"),
        ("cherry", "cherry trees"),
        ("currant", "currant bushes"),
        ("raspberry", "raspberry canes"),
        ("olive", "olive trees"),
        ("walnut", "walnut trees"),
        ("hazelnut", "hazel"),
        ("pear", "pear trees"),
        ("rose weevil", "citrus trees"),
    ];
    hosts.iter().find(|(word, _)| pest.contains(word)).map_or("apple trees", |(_, canopy)| canopy)
}

fn garden(pest: &str, climate: &str, start: f64, neighbours: &str) -> SiteModel {
    let latitude = library().climate(climate).unwrap().latitude_deg;
    let host = library().get(EntryKind::Pest, pest).unwrap().facts.host.clone().unwrap();
    let canopy = canopy(pest);
    let stands = match host {
        Host::Canopy => format!("canopy = \"{canopy}\"\n"),
        Host::Crops(families) => format!("beds = 0.8\n{}", crops(&families[0])),
    };
    let text = format!(
        "format = 2\nlatitude = \"{latitude} deg\"\n[run]\nstart = 2027-01-01\nyears = {YEARS}\n\
         [weather]\nclimate = \"{climate}\"\n[yard]\narea = \"40 m2\"\n\
         [birds.flock]\nclass = \"layer\"\nnumber = 4\n[plot.here]\narea = \"200 m2\"\nsoil = \"loam\"\nrings = 1\n\
         cover = {{ plant = \"mown grass\" }}\n{stands}\
         [[plot.here.pest]]\nspecies = \"{pest}\"\nstart = \"{start} per m2\"\n{neighbours}"
    );
    site_file::read_text("ten.toml", &text, library(), &|_| Err("none".into()))
        .unwrap_or_else(|f| panic!("{f}\n{text}"))
}

fn crops(family: &str) -> String {
    let of_family = |entry: &&scenarios::library::Entry| entry.facts.family.as_deref() == Some(family);
    let crop = library().entries().filter(|entry| entry.kind == EntryKind::Crop).find(of_family).unwrap();
    let one =
        |year: i32| format!("[[plot.here.crop]]\ncrop = {:?}\nin_ground = [{year}-03-10, {year}-11-20]\n", crop.name);
    (2027..2027 + YEARS as i32).map(one).collect()
}

/// Pests of all stages per m² on every New Year's Eve.
fn eves(model: &SiteModel, draw: u64) -> Vec<f64> {
    let drivers = common::drivers(model, &model.base, draw);
    let mut eves = Vec::new();
    no_birds(&model.base, &drivers, |view| {
        let date = drivers.days[view.day].date;
        if (date.month(), date.day()) == (12, 31) {
            eves.push(over_plot(&view.run(), 0, |zone| {
                let pest = &view.ground().pests[view.world.constants.zones[zone].pests.start];
                let young: f64 = pest.above.iter().chain(&pest.summer).sum();
                pest.overwintered + pest.dropped + pest.adults + young
            }));
        }
    });
    eves
}

/// Crop or fruit damaged, %, mean of ten years from 3 pests per m² on, among the neighbours that are usual for the species.
fn damage(pest: &str, climate: &str) -> f64 {
    let model = garden(pest, climate, 3.0, "");
    let drivers = common::drivers(&model, &model.base, 1);
    let mut summary = Summary::new(None, 0.7);
    let alone = [common::spec(StrategyKind::AllShut)];
    common::record(&model.base, &drivers, (&alone, 0), RunOptions::no_birds(), &mut summary);
    summary.measures.get(Measure::PestDamage)
}

/// Unprotected plantings lose no more than is reported of them, in some climate at least the least of it; no pest that lives
/// here dies out. Without a named check nothing grows for ever: what stops each is told by `crowding` in the library.
#[test]
fn ten_years_without_birds_are_what_is_reported() {
    let mut faults = Vec::new();
    println!("pest, climate: growth a year at 0.01 per m² (first to third), per m² after ten years, damage %");
    for known in library().pest_climates() {
        let [low, high] = known.damage_percent;
        let mut most: f64 = 0.0;
        for climate in &known.climates {
            let alone = eves(&garden(&known.pest, climate, 0.01, "neighbours = \"none\"\n"), 1);
            let growth: Vec<String> = alone.windows(2).take(3).map(|w| format!("{:.2}", w[1] / w[0])).collect();
            let left = mean(&eves(&garden(&known.pest, climate, 3.0, ""), 1)[5..]);
            let damage = damage(&known.pest, climate);
            println!("{}, {climate}: {}; {left:.1}; {damage:.0}", known.pest, growth.join(" "));
            if damage > high {
                faults.push(format!("{} takes {damage:.0} % in {climate}, more than {high}", known.pest));
            }
            if left < 0.1 {
                faults.push(format!("{} dies out in {climate}: {left:.3} per m2", known.pest));
            }
            most = most.max(damage);
        }
        if most < low {
            faults.push(format!("{} takes {most:.1} % at most, less than {low}", known.pest));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
