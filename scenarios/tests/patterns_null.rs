//! Null patterns: where nothing was found, or nothing can be, the model must show nothing.
#![allow(clippy::unwrap_used)]

mod common;

use common::*;
use jiff::civil::{Date, date};
use scenarios::unknowns;
use sim_engine::drivers::Drivers;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::site::Site;
use sim_engine::streams::{stream, uniform};
use sim_engine::weather::DayWeather;

/// A site with every unknown somewhere in its range.
fn drawn(model: &scenarios::SiteModel, draw: u64) -> Site {
    let rank = |u: &unknowns::Unknown| uniform(&mut stream(7, draw, u.tie.as_ref().unwrap_or(&u.name)));
    let ranks: Vec<f64> = model.unknowns.iter().map(rank).collect();
    unknowns::at(model, &ranks)
}

const ORCHARD: &str = "canopy = \"apple trees\"\nweeds = [{ plant = \"chickweed\", seeds = \"2000 per m2\" }]\n\
                       [[plot.orchard.pest]]\nspecies = \"apple sawfly\"\nstart = \"10 per m2\"";

/// Adults risen (per m²) and mean weeds (g/m²) of plot 0 in the run.
fn risen_and_weeds(site: &Site, drivers: &Drivers, strategy: &StrategySpec) -> (f64, f64) {
    let mut mass = 0.0;
    let ended = run(site, drivers, strategy, |view| mass += weeds(&view.run(), 0));
    let risen = over_plot(&ended.view(FlowSet::ALL), 0, |z| {
        ended.ground().pests[ended.world().constants.zones[z].pests.clone()].iter().map(|p| p.risen).sum()
    });
    (risen, mass / site.days as f64)
}

/// Mean change by birds, and the spread of the draws without them, of logarithms.
fn change_and_spread(pairs: &[(f64, f64)]) -> (f64, f64) {
    let changes: Vec<f64> = pairs.iter().map(|(without, with)| (with / without).ln()).collect();
    let without: Vec<f64> = pairs.iter().map(|(without, _)| without.ln()).collect();
    (mean(&changes), spread(&without))
}

/// Pattern 13, pattern of Clark & Gage 1996 (chickens: no effect on weeds or crop) and Phillips et al. 2020
/// (broilers at 2.5 m² a bird: no effect on larvae).
#[test]
fn few_birds_or_birds_out_of_season_drown_in_the_spread() {
    let few = site("2027-03-01", 2, 3.0, &plot("orchard", 300.0, 12.0, ORCHARD));
    let mut broilers = site("2027-03-01", 2, 120.0, &plot("orchard", 300.0, 12.0, ORCHARD));
    broilers.base.birds[0].params = broiler_numbers();
    let late = dated(&[
        (date(2027, 3, 1), &[]),
        (date(2027, 8, 1), &[0]),
        (date(2027, 9, 12), &[]),
        (date(2028, 8, 1), &[0]),
        (date(2028, 9, 12), &[]),
    ]);
    let always = spec(StrategyKind::Continuous { plot: 0 });
    for (name, model, strategy) in
        [("1 layer per 100 m2", &few, &always), ("broilers at 2.5 m2, August to mid-September", &broilers, &late)]
    {
        let (mut pests, mut plants) = (Vec::new(), Vec::new());
        for draw in 0..16 {
            let site = drawn(model, draw);
            let drivers = drivers(model, &site, draw);
            let (risen0, weeds0) = risen_and_weeds(&site, &drivers, &spec(StrategyKind::AllShut));
            let (risen, weeds) = risen_and_weeds(&site, &drivers, strategy);
            pests.push((risen0, risen));
            plants.push((weeds0, weeds));
        }
        for (what, pairs) in [("pests", &pests), ("weeds", &plants)] {
            let (change, spread) = change_and_spread(pairs);
            println!(
                "{name}: {what} change by a factor {:.2}, spread of the draws a factor {:.2}",
                change.exp(),
                spread.exp()
            );
            assert!(change.abs() < spread, "{name}: {what}");
        }
    }
}

fn broiler_numbers() -> sim_engine::species::BirdParams {
    let text = format!("{}[birds.b]\nclass = \"broiler\"\nnumber = 1\n", plot("p", 100.0, 5.0, ""));
    let model = site("2027-03-01", 1, 1.0, &text);
    model.base.birds.iter().find(|b| b.name == "broiler").unwrap().params.clone()
}

/// Pattern 14 (arithmetic of areas; own soil against flown in): many adults flying in swamp a stay in 50 m²: the
/// second year's larvae hang on them, after two years' stays from emergence to the drop.
#[test]
fn many_flying_in_swamp_a_stay_in_a_small_plot() {
    let grown = |neighbours: &str, strategy: &StrategySpec| {
        let pest = format!(
            "canopy = \"apple trees\"\n[[plot.orchard.pest]]\nspecies = \"apple sawfly\"\nstart = \"2 per m2\"\nneighbours = \"{neighbours}\""
        );
        let model = site("2027-03-01", 2, 14.0, &plot("orchard", 50.0, 12.0, &pest));
        let drivers = drivers(&model, &model.base, 0);
        let ended = run(&model.base, &drivers, strategy, |_| ());
        let pest = &ended.ground().pests[0];
        (pest.grown_this_season, pest.risen, pest.flown_in)
    };
    let shut = spec(StrategyKind::AllShut);
    let stay = dated(&[
        (date(2027, 3, 1), &[]),
        (date(2027, 4, 20), &[0]),
        (date(2027, 7, 10), &[]),
        (date(2028, 4, 20), &[0]),
        (date(2028, 7, 10), &[]),
    ]);
    let cut = |neighbours: &str| {
        let (without, with) = (grown(neighbours, &shut), grown(neighbours, &stay));
        println!(
            "{neighbours}: larvae {:.2} -> {:.2}, risen {:.2} -> {:.2}, flown in {:.2} per m2",
            without.0, with.0, without.1, with.1, with.2
        );
        1.0 - with.0 / without.0
    };
    let cuts = ["none", "few", "some", "many"].map(cut);
    assert!(cuts.is_sorted_by(|a, b| a > b), "the more fly in, the less a stay does");
    assert!(cuts[0] > 0.1 && cuts[3] < 0.7 * cuts[0], "{cuts:?}");
}

/// Growth and green eaten (g/m²) in the third month of such days, under `hens` on 100 m².
fn third_month(hens: f64, day: &dyn Fn(Date) -> DayWeather) -> (f64, f64) {
    let start = date(2027, 5, 1);
    let mut model = site("2027-05-01", 1, hens, &plot("run", 100.0, 5.0, ""));
    model.base.days = 90;
    let weather: Vec<DayWeather> =
        (0..90).map(|i| day(start.checked_add(jiff::Span::new().days(i)).unwrap())).collect();
    let drivers = Drivers::new(&model.base, &weather);
    let mut evenings = Vec::new();
    run(&model.base, &drivers, &spec(StrategyKind::Continuous { plot: 0 }), |view| {
        let flow = |flow| view.run().flow(0, flow);
        evenings.push((flow(Flow::Growth), flow(Flow::EatenCover)));
    });
    (evenings[89].0 - evenings[59].0, evenings[89].1 - evenings[59].1)
}

/// Pattern 15 (arithmetic: what does not grow cannot be eaten): in a month without growth, frozen or dry,
/// more birds add no growth and, what stood having been eaten, get no green.
#[test]
fn a_dry_or_frozen_month_gives_more_birds_no_green() {
    let days: [(&str, &dyn Fn(Date) -> DayWeather); 3] = [
        ("frozen", &|d| DayWeather::new(d, -9.0, -2.0, 1.0)),
        ("dry", &|d| DayWeather::new(d, 16.0, 32.0, 0.0)),
        ("growing", &|d| DayWeather::new(d, 12.0, 24.0, 4.0)),
    ];
    let months = days.map(|(name, day)| {
        let (few, many) = (third_month(60.0, day), third_month(120.0, day));
        println!("{name}: growth {:.3} -> {:.3}, green eaten {:.3} -> {:.3} g/m2", few.0, many.0, few.1, many.1);
        (few, many)
    });
    for (few, many) in &months[..2] {
        // Ground eaten bare keeps a little more of its water: a hundredth of a gram.
        assert!(many.0 <= few.0 + 0.01 && few.0 < 1.0, "no growth");
        assert!(many.1 <= few.1 + 1e-9 && many.1 < 1.0, "no green");
    }
    assert_eq!(months[0].0.0, 0.0);
    assert!(months[2].0.0 > 5.0 * months[1].0.0.max(1e-9), "a growing month does grow");
}
