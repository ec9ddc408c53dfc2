//! Several canopies in a plot, seasons over the year's end, and nets.
#![allow(clippy::unwrap_used)]

mod common;

use common::watchman::Watchman;
use common::*;
use jiff::civil::date;
use scenarios::{SiteModel, site_file};
use sim_engine::dates::days_between;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::measures::Measure;
use sim_engine::plot::harvest::Harvest;
use sim_engine::run::RunOptions;
use sim_engine::summary::Summary;

/// Apples of a plot with its pest and weeds.
const UNDER: &str = "rings = 2\nworm_eggs = 10\nweeds = [{ plant = \"chickweed\", seeds = \"2000 per m2\" }]\n";
const SAWFLY: &str = "[[plot.orchard.pest]]\nspecies = \"apple sawfly\"\nstart = \"10 per m2\"\n";

/// An orchard with these lines and this pest, and open ground beside it.
fn orchard(start: &str, years: u32, lines: &str, pest: &str) -> SiteModel {
    let here = plot("orchard", 100.0, 8.0, &format!("{UNDER}{lines}\n{pest}"));
    site(start, years, 10.0, &format!("{here}{}", plot("meadow", 100.0, 20.0, "")))
}

/// Measures against the run without birds.
fn measures(model: &SiteModel) -> Vec<f64> {
    let drivers = drivers(model, &model.base, 1);
    let mut summary = Summary::new(Some(baseline(&model.base, &drivers)), 0.7);
    record(&model.base, &drivers, (&[turn(2, 14.0)], 0), RunOptions::default(), &mut summary);
    Measure::ALL.iter().map(|measure| summary.measures.get(*measure)).collect()
}

/// The plot's harvest of each canopy of the site, and the worst residual of the books.
fn harvests(model: &SiteModel, strategy: StrategySpec) -> (Vec<Harvest>, f64) {
    let drivers = drivers(model, &model.base, 1);
    let mut watch = Watchman::default();
    record(&model.base, &drivers, (core::slice::from_ref(&strategy), 0), RunOptions::default(), &mut watch);
    let run = run(&model.base, &drivers, &strategy, |_| ());
    (run.world().harvests[0][model.base.crops.len()..].to_vec(), watch.worst())
}

/// The same trees in two lots: every measure is that of the one lot.
#[test]
fn two_halves_are_a_whole() {
    let half = "{ plant = \"apple trees\", share = 0.5, harvest = [\"08-20\", \"10-10\"] }";
    let halves = orchard("2027-03-01", 2, &format!("canopy = [{half}, {half}]"), SAWFLY);
    let whole = orchard("2027-03-01", 2, "canopy = \"apple trees\"\nfruit_harvest = [\"08-20\", \"10-10\"]", SAWFLY);
    for ((got, want), measure) in measures(&halves).iter().zip(measures(&whole)).zip(Measure::ALL) {
        let off = (got - want).abs() <= 1e-9 * want.abs().max(1.0);
        assert!(off || (got.is_nan() && want.is_nan()), "{measure:?}: {got} {want}");
    }
}

/// Of unlike trees each bears its share, and the pest of one leaves the other alone.
#[test]
fn unlike_canopies_keep_their_books_and_their_fruit() {
    let lines = "canopy = [{ plant = \"apple trees\", share = 0.4 }, { plant = \"citrus trees\", share = 0.3 }]";
    let model = orchard("2027-01-10", 3, lines, SAWFLY);
    assert_eq!(model.base.plots[0].pests[0].hosts, [0]);
    let (fruit, worst) = harvests(&model, spec(StrategyKind::AllOpen));
    assert!(worst < 1e-9, "{worst:e}");
    let [apples, citrus] = fruit[..] else { panic!("two fruits") };
    let all = |h: &Harvest| h.kept_kg + h.lost_to_pests_kg + h.taken_by_birds_kg;
    let borne = |at: usize, share: f64| 3.0 * 100.0 * share * model.base.canopies[at].params.fruit_yield;
    assert!((all(&apples) - borne(0, 0.4)).abs() < 1e-6 * borne(0, 0.4));
    assert!((all(&citrus) - borne(1, 0.3)).abs() < 1e-6 * borne(1, 0.3));
    assert!(apples.lost_to_pests_kg > 0.0 && citrus.lost_to_pests_kg == 0.0);
}

/// A run that starts within a harvest over the new year is within it; the second canopy's wait is held.
#[test]
fn every_canopys_harvest_is_waited_for() {
    let lines = "canopy = [{ plant = \"apple trees\", share = 0.4 },\
                 { plant = \"citrus trees\", share = 0.3, harvest = [\"12-10\", \"02-20\"], touches_soil = true }]";
    let model = orchard("2027-01-10", 1, lines, "");
    let drivers = drivers(&model, &model.base, 1);
    let wait = |on| drivers.days_to_harvest(days_between(model.base.start, on).unsigned_abs() as usize)[0];
    assert_eq!([wait(date(2027, 1, 10)), wait(date(2027, 2, 20)), wait(date(2027, 2, 21))], [1, 1, 0]);
    // 120 days before 10 December birds may be in for the last time.
    assert_eq!([wait(date(2027, 8, 12)), wait(date(2027, 8, 13)), wait(date(2027, 12, 10))], [0, 119, 1]);
}

/// Fruit that falls over the year's end, on either side of the equator: some lies on days 360 and 10, the birds' last day before
/// the first picking is in the old year, and a year's fruit is carried home once a year.
#[test]
fn fruit_of_the_turn_of_the_year_is_one_years_fruit() {
    for (latitude, begins, picking, last_in) in [
        ("38", date(2026, 6, 1), ["01-20", "04-30"], date(2026, 9, 22)),
        ("-38", date(2026, 12, 1), ["07-20", "10-30"], date(2027, 3, 22)),
    ] {
        let [from, to] = picking;
        let lines =
            format!("canopy = \"citrus trees\"\nfruit_harvest = [\"{from}\", \"{to}\"]\nfruit_touches_soil = true");
        let text = format!(
            "format = 2\nlatitude = \"{latitude} deg\"\n[run]\nstart = {begins}\nyears = 3\n[weather]\nclimate = \"mediterranean\"\n\
             [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 4\n{}",
            plot("grove", 100.0, 8.0, &lines)
        );
        let model = site_file::read_text("grove.toml", &text, library(), &|_| Err("no companions".into())).unwrap();
        let drivers = drivers(&model, &model.base, 1);
        let on = |on| days_between(model.base.start, on).unsigned_abs() as usize;
        let wait = |day| drivers.days_to_harvest(day)[0];
        assert_eq!([wait(on(last_in)), wait(on(last_in) + 1), wait(on(last_in) + 120)], [0, 119, 1], "{latitude}");
        let mut lies = Vec::new();
        let ended = run(&model.base, &drivers, &spec(StrategyKind::AllShut), |view| {
            lies.push(view.ground().zones[0].fruit);
        });
        let fruit = |after_solstice: i32| {
            let day = drivers.days.iter().position(|day| day.since_solstice == after_solstice);
            lies[day.unwrap()]
        };
        // Most has rotted half a year after the last fell.
        assert!(
            fruit(360) > 1.0 && fruit(10) > 1.0 && fruit(300) < 0.1,
            "{latitude}: {} {} {}",
            fruit(360),
            fruit(10),
            fruit(300)
        );
        let borne = 3.0 * 100.0 * model.base.canopies[0].params.fruit_yield;
        let kept = ended.world().harvests[0][model.base.crops.len()].kept_kg;
        assert!((kept - borne).abs() < 1e-6 * borne, "{latitude}: {kept} {borne}");
    }
}

/// Adults flown in and risen from the soil of the orchard, per m², and what birds picked.
fn netted(lines: &str) -> (f64, f64, f64) {
    let pest = format!("{SAWFLY}neighbours = \"many\"\n");
    let model = orchard("2027-01-10", 2, &format!("canopy = \"apple trees\"\n{lines}"), &pest);
    let drivers = drivers(&model, &model.base, 1);
    let (mut flown, mut risen) = (0.0, 0.0);
    let ended = run(&model.base, &drivers, &spec(StrategyKind::AllOpen), |view| {
        let pest = &view.ground().pests[0];
        (flown, risen) = (pest.flown_in, pest.risen);
    });
    let taken = ended.world().harvests[0].iter().map(|h| h.taken_by_birds_kg).sum();
    (flown, risen, taken)
}

/// A net closes the way in by its share; what rises under it is there all the same.
#[test]
fn a_net_keeps_pests_out_and_birds_off_the_fruit() {
    let (flown, _, taken) = netted("");
    let (half, _, some) = netted("nets = [{ share = 0.5, from = \"03-01\", to = \"11-30\" }]");
    let (none, risen, nothing) = netted("nets = [{ share = 1.0, from = \"12-01\", to = \"11-30\" }]");
    assert!(flown > 0.0 && (half - 0.5 * flown).abs() < 1e-9 * flown);
    assert_eq!((none, nothing), (0.0, 0.0));
    assert!(risen > 0.0 && taken > some && some > 0.0);
}

/// What adults leave one orchard for come to the other, whatever is netted; the books close.
#[test]
fn adults_that_leave_arrive_beside_a_net() {
    let of = |name: &str, start: u32, nets: &str| {
        let pest = format!("[[plot.{name}.pest]]\nspecies = \"apple sawfly\"\nstart = \"{start} per m2\"\n");
        plot(name, 50.0 + f64::from(start), 8.0, &format!("canopy = \"apple trees\"\n{nets}\n{pest}"))
    };
    let nets = "nets = [{ share = 0.6, from = \"04-20\", to = \"07-31\" }]";
    let text = format!("{}{}{}", of("one", 20, nets), of("two", 2, ""), of("three", 5, ""));
    let model = site("2027-03-01", 2, 4.0, &text);
    let drivers = drivers(&model, &model.base, 1);
    let ended = run(&model.base, &drivers, &spec(StrategyKind::AllOpen), |_| ());
    let view = ended.view(FlowSet::ALL);
    let areas = view.world.constants.zones.iter().map(|zone| zone.area_m2).enumerate();
    let (mut inward, mut out) = (0.0, 0.0);
    for (zone, area_m2) in areas {
        inward += view.flow(zone, Flow::MixedInPests) * area_m2;
        out += view.flow(zone, Flow::MixedOutPests) * area_m2;
    }
    assert!(out > 0.0 && (inward - out).abs() < 1e-9 * out, "{inward} {out}");
    assert!(harvests(&model, spec(StrategyKind::AllOpen)).1 < 1e-9);
}

/// A season of care and a guard that run over the new year are on in a run that starts within them.
#[test]
fn a_run_starts_within_what_runs_over_the_new_year() {
    let lines = "guards = [{ share = 0.4, from = \"12-01\", to = \"02-15\" }]\n\
                 [[plot.meadow.care]]\ntask = \"mulch\"\nevery = \"2 weeks\"\nseason = [\"11-01\", \"02-28\"]\n";
    let model = site("2027-01-10", 1, 4.0, &plot("meadow", 100.0, 8.0, lines));
    let drivers = drivers(&model, &model.base, 1);
    let (mut guarded, mut spread_h) = (Vec::new(), Vec::new());
    let _ended = run(&model.base, &drivers, &spec(StrategyKind::AllOpen), |view| {
        guarded.push(view.world.plots[0].guarded);
        spread_h.push(view.world.work[0].other);
    });
    let day = |on| days_between(model.base.start, on).unsigned_abs() as usize;
    let at = |on| guarded[day(on)];
    assert_eq!(
        [date(2027, 1, 10), date(2027, 2, 14), date(2027, 2, 15), date(2027, 12, 1)].map(at),
        [0.4, 0.4, 0.0, 0.4]
    );
    assert!(spread_h[0] > 0.0 && spread_h[day(date(2027, 2, 28))] > spread_h[0]);
    assert_eq!(spread_h[day(date(2027, 3, 1))], spread_h[day(date(2027, 10, 31))]);
    assert!(spread_h[day(date(2027, 11, 1))] > spread_h[day(date(2027, 10, 31))]);
}

/// Shares beyond the ground, and a harvest of nobody's fruit.
#[test]
fn faults_of_canopies_are_told() {
    let told = |lines: &str| {
        let text = format!(
            "format = 2\nlatitude = \"53 deg\"\n[run]\nstart = 2027-03-01\n[weather]\nclimate = \"cool-maritime\"\n\
             [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 4\n{}",
            plot("orchard", 100.0, 8.0, lines)
        );
        match site_file::read_text("orchard.toml", &text, library(), &|_| Err("no companions".into())) {
            Ok(_) => String::new(),
            Err(faults) => faults.to_string(),
        }
    };
    let two = |a: f64, b: f64| {
        format!("canopy = [{{ plant = \"apple trees\", share = {a} }}, {{ plant = \"pear trees\", share = {b} }}]")
    };
    assert_eq!(told(&two(0.4, 0.6)), "");
    assert!(told(&two(0.7, 0.6)).contains("the shares of the canopies add to 1.3"));
    assert!(told(&two(0.0, 0.6)).contains("0.001 to 1"));
    let beside = told(&format!("{}\nfruit_harvest = [\"08-01\", \"09-10\"]", two(0.4, 0.3)));
    assert!(beside.contains("fruit_harvest beside a list of canopies"), "{beside}");
}

/// In the tropics a climate's months stay; farther off they turn.
#[test]
fn months_turn_outside_the_tropics_alone() {
    let months = |latitude: &str| {
        let text = format!(
            "format = 2\nlatitude = \"{latitude} deg\"\n[run]\nstart = 2027-03-01\nyears = 1\n[weather]\nclimate = \"cool-maritime\"\n\
             [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 4\n{}",
            plot("meadow", 100.0, 8.0, "")
        );
        let model = site_file::read_text("meadow.toml", &text, library(), &|_| Err("no companions".into())).unwrap();
        mean(&weather(&model, 1)[120..180].iter().map(|day| day.tmean_c()).collect::<Vec<_>>())
    };
    // July and August.
    assert!(months("-8") > 13.0 && months("-11.9") > 13.0);
    assert!(months("-12") < 8.0 && months("-15") < 8.0);
}
