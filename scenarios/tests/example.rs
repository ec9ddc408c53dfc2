//! The invented Wrenfold site, with every part of the format once, reads whole.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::library::EntryKind;
use scenarios::model::Sense;
use scenarios::weather_source::WeatherSource;
use scenarios::{Library, SiteModel, site_file, unknowns};
use sim_engine::gates::spec::StrategyKind;
use sim_engine::measures::Measure;
use sim_engine::site::{SiteEventKind, Task, When};
use std::path::Path;
use std::time::Instant;

fn wrenfold() -> SiteModel {
    let library = Library::shipped().unwrap();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/wrenfold.toml");
    match site_file::read(&path, &library) {
        Ok(model) => model,
        Err(faults) => panic!("{faults}"),
    }
}

#[test]
fn the_surroundings() {
    let model = wrenfold();
    let site = &model.base;
    assert_eq!(model.name, "Wrenfold teaching garden");
    assert_eq!((site.place.latitude_deg, site.place.elevation_m), (52.6, 95.0));
    assert_eq!((site.days, model.years, model.draws), (1096, 3, 200));
    assert_eq!((site.yard.area_m2, site.yard.drained, site.yard.cleaned_every_days), (48.0, true, Some(42)));
    assert!(site.yard.netted && !site.yard.covered);
    assert!(matches!(&model.weather, WeatherSource::Climate { name, .. } if name == "cool-maritime"));
}

#[test]
fn plots_in_the_order_of_the_file() {
    let site = wrenfold().base;
    let names: Vec<&str> = site.plots.iter().map(|plot| plot.name.as_str()).collect();
    assert_eq!(names, ["long-beds", "short-beds", "currant-alley", "plum-yard", "hazel-strip"]);
    let beds = &site.plots[0];
    assert_eq!(beds.area_m2, 64.0);
    assert_eq!(beds.grounds.iter().map(|ground| ground.share).collect::<Vec<_>>(), [0.4, 0.6]);
    assert_eq!(beds.grounds[1].crops[1].to, When::Yearly { month: 2, day: 10 });
    assert!(beds.drip);
    assert_eq!(beds.care[0].every_days, 21);
    assert_eq!(beds.care[0].task, Task::Weed { above: Some(0.0) });
    assert_eq!(site.weeds[beds.weeds[1].0].name, "fat hen");
    let plums = &site.plots[3];
    assert_eq!((plums.pests[0].start_per_m2, plums.pests[0].neighbours), (8.0, 3.0));
    assert_eq!(plums.drainage_factor, 0.4);
    assert_eq!(site.plots[2].guards[0].share, 0.15);
}

#[test]
fn birds_and_events() {
    let model = wrenfold();
    let site = &model.base;
    let quarters = sim_engine::site::Quarters::Plot(4);
    assert_eq!(site.groups[1].isolate, Some(sim_engine::site::Isolation { quarters, days: 28 }));
    assert_eq!(site.groups.iter().map(|group| group.joins).collect::<Vec<_>>(), [None, Some(0)]);
    assert_eq!(site.events[0].what, SiteEventKind::HousingOrder);
    assert_eq!(site.events[1].what, SiteEventKind::SpreadHeap { plots: vec![(1, 1.0)] });
}

#[test]
fn strategies_and_what_they_are_judged_by() {
    let model = wrenfold();
    let strategy = |name: &str| &model.strategies[model.strategy(name).unwrap()].kind;
    assert_eq!(model.strategies.len(), 9);
    assert_eq!(
        *strategy("what-we-do-now"),
        StrategyKind::FixedTurn { order: vec![3, 4, 2], stay_days: 21.0, by_area: false }
    );
    assert!(matches!(strategy("our-year"), StrategyKind::Layered { layers } if layers == &[4, 5, 3]));
    let StrategyKind::Dated { openings } = strategy("our-calendar") else { panic!() };
    assert_eq!(openings.len(), 4);
    assert_eq!((openings[3].plots.clone(), openings[3].birds), (vec![2, 4], Some(16.0)));
    assert_eq!(model.compare.against, 0);
    assert!(model.aims.contains(&(Measure::CoverLoss, -0.5)));
    let space = model.limits.all.iter().find(|limit| limit.measure == Measure::Space).unwrap();
    assert_eq!((space.sense, space.bound), (Sense::AtLeast, 4.0));
    assert_eq!(model.limits.all.len(), 3);
}

/// What holds unless it is written otherwise stays whatever else is written, and goes only where it is named away.
#[test]
fn limits_stay_unless_they_are_named_away() {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/wrenfold.toml")).unwrap();
    let (before, rest) = text.split_once("[limits]").unwrap();
    let after = &rest[rest.find("\n[aims]").unwrap()..];
    let library = Library::shipped().unwrap();
    let limits = |section: &str| {
        let text = format!("{before}{section}{after}");
        let gates = include_str!("data/gates.csv");
        let model = site_file::read_text("site.toml", &text, &library, &|_| Ok(gates.to_owned()));
        let limits = model.unwrap_or_else(|faults| panic!("{faults}")).limits.all;
        limits.into_iter().map(|l| (l.name, l.bound, l.source.is_some())).collect::<Vec<_>>()
    };
    let [cover, bare, space] = [("least_cover", 0.7, true), ("bare_days", 30.0, true), ("space", 4.0, true)];
    assert_eq!(limits(""), [cover, bare, space]);
    assert_eq!(limits("[limits]\nleast_cover = 0.5\n"), [("least_cover", 0.5, false), bare, space]);
    assert_eq!(limits("[limits]\nyard_days = 60\n"), [cover, bare, space, ("yard_days", 60.0, false)]);
    assert_eq!(limits("[limits]\nspace = \"none\"\nbare_days = \"20 days\"\n"), [cover, ("bare_days", 20.0, false)]);
    let none = "least_cover = \"none\"\nbare_days = \"none\"\nspace = \"none\"\nmud_days = \"none\"\n";
    assert_eq!(limits(&format!("[limits]\n{none}")), []);
}

#[test]
fn unknowns_run_through_their_ranges() {
    let model = wrenfold();
    let position = model.unknowns.iter().position(|u| u.name == "plot.plum-yard.pest.plum sawfly.start").unwrap();
    let start = &model.unknowns[position];
    assert_eq!((start.low, start.value, start.high), (2.0, 8.0, 30.0));
    let half = vec![0.5; model.unknowns.len()];
    assert_eq!(format!("{:?}", unknowns::at(&model, &half)), format!("{:?}", model.base));
    let mut ranks = half;
    ranks[position] = 1.0;
    assert_eq!(unknowns::at(&model, &ranks).plots[3].pests[0].start_per_m2, 30.0);
    assert!(model.unknowns.iter().any(|u| u.name == "pest.plum sawfly.search_soil"));
    assert!(model.unknowns.iter().any(|u| u.name.starts_with("process.")));
}

#[test]
fn tied_numbers_are_high_together() {
    let model = wrenfold();
    let leaders = unknowns::leaders(&model.unknowns);
    let follows = |at: usize| leaders[at] != at;
    let ranks: Vec<f64> = (0..leaders.len()).map(|at| if follows(at) { 0.1 } else { 1.0 }).collect();
    let site = unknowns::at(&model, &ranks);
    let mut seen = 0;
    for (_, unknown) in model.unknowns.iter().enumerate().filter(|(at, _)| follows(*at)) {
        let unknowns::Target::Number(kind, index, field) = unknown.target else { continue };
        let values = match kind {
            EntryKind::Cover => site.covers[index].params.values(),
            EntryKind::Weed => site.weeds[index].params.values(),
            _ => continue,
        };
        assert_eq!(values[field], unknown.high, "{}", unknown.name);
        seen += 1;
    }
    assert!(seen > 0, "growth rates of covers and weeds are tied");
}

/// A sum belongs to the base it was counted above: drawn low, the base has a high sum, and the sum no rank of its own.
#[test]
fn sums_of_degree_days_are_high_where_their_base_is_low() {
    let model = wrenfold();
    let at = |name: &str| model.unknowns.iter().position(|u| u.name == format!("pest.plum sawfly.{name}")).unwrap();
    let (base, sum) = (at("base_temperature"), at("emergence"));
    assert_eq!(unknowns::leaders(&model.unknowns)[sum], base);
    for rank in [0.0, 0.5, 0.8, 1.0] {
        let mut ranks = vec![0.5; model.unknowns.len()];
        (ranks[base], ranks[sum]) = (rank, 0.9);
        let site = unknowns::at(&model, &ranks);
        let place = site.pests.iter().position(|pest| pest.name == "plum sawfly").unwrap();
        let params = &site.pests[place].params;
        assert_eq!(params.base_temperature, model.unknowns[base].at(rank));
        assert_eq!(params.emergence, model.unknowns[sum].at(1.0 - rank));
        // What a keeper counts by is not drawn.
        assert_eq!(site.pests[place].count, model.base.pests[place].count);
        assert_eq!(site.pests[place].count.emergence, model.unknowns[sum].value);
    }
}

#[test]
#[ignore = "prints the time; run in release"]
fn time_to_check() {
    let begun = Instant::now();
    for _ in 0..20 {
        wrenfold();
    }
    println!("{:.2} ms a check", begun.elapsed().as_secs_f64() * 1000.0 / 20.0);
}
