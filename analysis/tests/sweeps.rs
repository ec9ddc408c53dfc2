//! Documents of sweeps and carrying capacity under their schemas, and a sweep through its part file.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::carry::CarryPlan;
use analysis::carry::ground::{SearchProgress, carry_site};
use analysis::carry::pictures::curves;
use analysis::carry::view::{CarryView as Borne, carry_table, curves_csv};
use analysis::experiment::Job;
use analysis::json::{CarryDocument, SweepDocument, carry_document, sweep_document};
use analysis::sweep::axis::{Axis, Values};
use analysis::sweep::design::Design;
use analysis::sweep::merge::Whole;
use analysis::sweep::part::PartWriter;
use analysis::sweep::pictures::pictures;
use analysis::sweep::rows::{SweepView, tell};
use analysis::sweep::work::{Cell, RunPlan, run_cells};
use analysis::sweep::{LimitName, Shard, SweepPlan};
use analysis::table::sweep_table;
use analysis::units::Units;
use analysis::wording::limit_in_words;
use common::{checked, from, site};
use scenarios::SiteModel;
use scenarios::vary::shares;
use sim_engine::gates::spec::StrategyKind;
use std::path::Path;
use std::sync::Arc;
use std::sync::Mutex;

fn with_flock(model: &SiteModel, birds: f64) -> SiteModel {
    let mut model = model.clone();
    let params: Vec<f64> = model.base.groups.iter().map(|group| group.number).collect();
    for (group, number) in model.base.groups.iter_mut().zip(shares(&params, birds)) {
        group.number = number;
    }
    model
}

fn with_stay(mut model: SiteModel, stay: f64) -> SiteModel {
    for strategy in &mut model.strategies {
        if let StrategyKind::FixedTurn { stay_days, .. } = &mut strategy.kind {
            *stay_days = stay;
        }
    }
    model
}

fn axis(key: &str, unit: &str, values: Vec<f64>) -> Axis {
    Axis { key: key.into(), unit: unit.into(), light: true, whole: false, values: Values::List(values) }
}

fn limits(model: &SiteModel) -> Vec<LimitName> {
    model
        .limits
        .all
        .iter()
        .map(|l| LimitName { name: l.name.into(), words: limit_in_words(l, Units::Metric) })
        .collect()
}

fn plan_of(model: &SiteModel, names: &[&str]) -> SweepPlan {
    SweepPlan {
        version: from().version,
        input_digest: from().input_digest,
        seed: 7,
        site: model.name.clone(),
        years: 1,
        draws: 3,
        required_reliability: 0.9,
        axes: vec![axis("stay", "days", vec![7.0, 14.0, 28.0]), axis("birds", "", vec![4.0, 12.0, 40.0])],
        design: Design::Grid,
        strategies: names.iter().map(|name| (*name).to_owned()).collect(),
        limits: limits(model),
        aims: vec![],
        aim_unit: "h".into(),
        weather: None,
    }
}

/// A sweep of two strategies over stay and flock, kept in a part and told from it.
fn swept(folder: &Path) -> SweepView {
    let (model, _) = site(|_| ());
    let names = ["turn-by-area", "by-eye"];
    let which: Vec<usize> = names.iter().map(|name| model.strategy(name).unwrap()).collect();
    let plan = plan_of(&model, &names);
    let cells = plan.cells();
    let cell = |number: u64| {
        let values = cells.values(number);
        Cell { model: with_stay(with_flock(&model, values[1]), values[0]), ground: String::new(), only: None }
    };
    let all: Vec<Cell> = (0..9).map(cell).collect();
    let run = RunPlan { seed: 7, draws: 3, which: &which, weather: None };
    let done = run_cells(&all, &run, &Job::unheard()).unwrap();
    // By eye never asks for the stay: its three flocks run once for all stays, and so do the birds shut in.
    assert_eq!(done.runs, 3 * (9 + 3 + 3));
    let path = folder.join("a.sweep");
    let mut part = PartWriter::open(&path, &plan, Shard::WHOLE, false).unwrap();
    done.tallies.chunks(4).for_each(|cells| part.keep(cells).unwrap());
    part.finish().unwrap();
    drop(part);
    let mut table = Vec::new();
    let view = tell(&Whole::of(std::slice::from_ref(&path)).unwrap(), &mut table, &path).unwrap();
    assert_eq!(String::from_utf8(table).unwrap().lines().count(), 1 + 18);
    view
}

#[test]
fn a_sweep_has_the_keys_scripts_rely_on() {
    let folder = tempfile::tempdir().unwrap();
    let view = swept(folder.path());
    let document: SweepDocument = sweep_document(&view, None);
    let value = checked("sweep", &document);
    assert_eq!((value["cells"].as_u64(), value["varied"][1]["key"].as_str()), (Some(9), Some("birds")));
    let front = value["front"].as_array().unwrap();
    assert!(!front.is_empty() && front[0]["values"]["birds"].is_number());
    assert!(value["hypervolume"]["area"].as_f64().unwrap() > 0.0);
    assert!(sweep_table(&view).lines().all(|line| line.chars().count() <= 80));
    let charts = pictures(&view);
    let names: Vec<&str> = charts.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names.len(), 3, "{names:?}");
    assert!(names.contains(&"sweep-map") && names.contains(&"trade-off"));
    assert!(charts.iter().all(|(_, chart)| !chart.svg.contains("NaN")));
}

#[test]
fn a_map_owns_up_to_gaps_and_shows_what_a_strategy_sets() {
    let folder = tempfile::tempdir().unwrap();
    let mut view = swept(folder.path());
    // What the site is comes first in the plan, as it is reckoned slowest.
    view.plan.axes.insert(0, Axis { light: false, ..axis("yard.area", "m2", vec![10.0, 20.0]) });
    for row in &mut view.rows {
        row.holds = row.values[1] <= 12.0 && row.values[0] != 14.0;
        row.values.insert(0, 10.0);
    }
    let said = |view: &SweepView| pictures(view).into_iter().map(|(_, chart)| chart.alt).collect::<Vec<_>>().join("\n");
    let alt = said(&view);
    assert!(alt.contains("turn-by-area carries up to 12 birds with stay 7 to 28 days, though not with each"), "{alt}");
    assert!(alt.contains("against stay, days") && !alt.contains("against yard.area"), "{alt}");
    view.rows.iter_mut().for_each(|row| row.holds = row.values[2] <= 12.0 && row.values[1] < 28.0);
    let alt = said(&view);
    assert!(alt.contains("turn-by-area carries up to 12 birds with stay 7 to 14 days;"), "{alt}");
}

/// One count for the whole search: it never falls, never passes its end, and says the round.
fn one_way(heard: &[SearchProgress]) {
    assert!(heard.last().unwrap().round > 3, "{heard:?}");
    assert!(heard.windows(2).all(|pair| pair[0].round <= pair[1].round && pair[0].done <= pair[1].done), "{heard:?}");
    assert!(heard.windows(2).all(|pair| pair[0].all <= pair[1].all), "{heard:?}");
    assert!(heard.iter().all(|way| way.done > 0 && way.done <= way.all), "{heard:?}");
}

#[test]
fn a_carrying_capacity_has_the_keys_scripts_rely_on() {
    let (model, _) = site(|_| ());
    let which = [model.strategy("long-stays").unwrap()];
    let plan = CarryPlan {
        strategies: 1,
        limits: model.limits.all.len(),
        draws: 4,
        required_reliability: 0.9,
        present: 18,
        most: 100,
    };
    let run = RunPlan { seed: 7, draws: 4, which: &which, weather: None };
    let site = |birds: u64| Ok(with_flock(&model, birds as f64));
    let heard = Mutex::new(Vec::new());
    let hear = |way: SearchProgress| heard.lock().unwrap().push(way);
    let found = carry_site(&plan, &run, &site, &Job::new(Arc::default(), &hear)).unwrap();
    one_way(&heard.into_inner().unwrap());
    let strategies = vec![("long-stays".to_owned(), found.strategies[0].clone())];
    let view =
        Borne { draws: 4, required_reliability: 0.9, present: 18, limits: limits(&model), room: None, strategies };
    let document: CarryDocument = carry_document(&model.name, &view, &from(), None);
    let value = checked("carry", &document);
    let strategy = &value["strategies"][0];
    assert!(strategy["birds"].as_u64() <= strategy["high"].as_u64());
    assert!(strategy["binds"].is_string() && strategy["steepest"].is_number());
    let points = strategy["curve"].as_array().unwrap().len();
    assert_eq!(csv::Reader::from_reader(curves_csv(&view).as_slice()).records().count(), points);
    assert!(carry_table(&view).lines().all(|line| line.chars().count() <= 80));
    assert!(!curves(&view).svg.contains("NaN"));
}

/// Whoever makes up a head with a right digest gets no further than whoever damages one.
#[test]
fn a_plan_that_no_sweep_makes_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let (model, _) = site(|_| ());
    let usual = plan_of(&model, &["turn-by-area", "by-eye"]);
    let huge = 1_000_000_000_000_000;
    let one = axis("stay", "d", vec![3.0]);
    let plans = [
        (SweepPlan { axes: Vec::new(), ..usual.clone() }, Shard::WHOLE),
        (SweepPlan { axes: vec![axis("stay", "d", Vec::new())], ..usual.clone() }, Shard::WHOLE),
        (SweepPlan { strategies: Vec::new(), ..usual.clone() }, Shard::WHOLE),
        (SweepPlan { design: Design::Latin { points: huge }, ..usual.clone() }, Shard::WHOLE),
        (SweepPlan { design: Design::Sobol { points: 4 }, axes: vec![one; 40], ..usual.clone() }, Shard::WHOLE),
        (usual.clone(), Shard { number: 5, of: 2 }),
        (usual, Shard { number: 1, of: 0 }),
    ];
    for (number, (plan, shard)) in plans.iter().enumerate() {
        let path = folder.path().join(format!("{number}.sweep"));
        drop(PartWriter::open(&path, plan, *shard, false).unwrap());
        let said = Whole::of(&[path]).err().unwrap().to_string();
        assert!(said.contains("damaged in line 1"), "{number}: {said}");
    }
}
