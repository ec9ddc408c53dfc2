//! Speed of the model, in zone-days per second.
//!
//! `full`: a whole run of a strategy with agenda, rules, strategy and summary ledger, on the
//! drivers of one draw. `kernel`: the same process functions over the same zones and days and
//! nothing else: no agenda, gates, rules, books or summary; birds lie on every plot as the
//! full run's average. The ratio says what everything around the formulas costs. `drivers`:
//! what is computed once per draw. `check`: reading the library and the demo site.

use analysis::luck::{Draw, Luck};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::plot::bites::Pressure;
use sim_engine::plot::pests::{self, PestDay, Search};
use sim_engine::plot::step;
use sim_engine::season::{RunOptions, run};
use sim_engine::summary::Summary;
use sim_engine::world::{World, around};
use std::hint::black_box;
use std::path::Path;

/// Bird-days per m² and day laid on every plot of the kernel: 18 hens on some 900 m².
const KERNEL_BIRDS: f64 = 0.01;

fn demo() -> (Library, SiteModel, Draw) {
    let library = Library::shipped().expect("the library reads");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/demos/sallowmere/site.toml");
    let model = site_file::read(&path, &library).expect("the demo reads");
    let draw = Luck { seed: 1 }.draw(&model, 1);
    (library, model, draw)
}

fn zone_days(draw: &Draw) -> u64 {
    let zones: usize = draw.site.plots.iter().map(|p| p.rings * p.grounds.len()).sum();
    (zones * draw.site.days) as u64
}

/// All formulas of a zone, day by day, for a world without gates.
fn kernel(draw: &Draw) -> f64 {
    let (site, drivers) = (&draw.site, &draw.drivers);
    let mut world = World::new(site, drivers, false, false).expect("the demo runs");
    let mut eaten = 0.0;
    let birds = Pressure { bird_days: KERNEL_BIRDS, ..Pressure::default() };
    for day in 0..site.days {
        let degree_days = drivers.pest_degree_days(day);
        for zone in 0..world.zones.len() {
            let here = &world.plan.zones[zone];
            let around = around(site, drivers, &world.plan, zone, day, None);
            let (weeds, creepers) = (here.weeds.clone(), here.creepers.clone());
            // One plot in five has birds, as under a turn.
            let birds = (here.plot == day / 14 % site.plots.len()).then_some(&birds);
            let state = &mut world.zones[zone];
            let meal = step::step(state, &mut world.weeds[weeds], &mut world.creepers[creepers], birds, 1.0, &around);
            eaten += meal.green;
            let lives = &world.plan.pest_lives[here.pests.clone()];
            let pests_here = world.pests[here.pests.clone()].iter_mut().zip(&site.plots[here.plot].pests);
            for ((pest, p), _) in pests_here.zip(lives).filter(|(_, lives)| **lives) {
                let day = PestDay {
                    degree_days: degree_days[p.pest][0],
                    since_solstice: f64::from(drivers.days[day].since_solstice),
                    host: true,
                    mean_adults: pest.adults,
                    adults_die: world.plan.adult_death[p.pest],
                    fly_in: p.neighbours,
                    exposed: 1.0,
                    step: drivers.step,
                };
                pests::advance(pest, &site.pests[p.pest].numbers, &day, &Search::default(), &mut state.flows);
            }
        }
    }
    eaten
}

fn model(c: &mut Criterion) {
    let (library, model, draw) = demo();
    let mut group = c.benchmark_group("zone-days");
    group.throughput(Throughput::Elements(zone_days(&draw)));
    for name in ["what-we-do-now", "our-year"] {
        let which = model.strategy(name).expect("the demo has it");
        group.bench_function(BenchmarkId::new("full", name), |b| {
            b.iter(|| {
                let mut summary = Summary::new(None, model.limits.cover_line);
                run(&draw.site, &draw.drivers, &model.strategies, which, RunOptions::default(), &mut summary)
                    .expect("the demo runs");
                black_box(summary.measures)
            });
        });
    }
    group.bench_function("kernel", |b| b.iter(|| black_box(kernel(&draw))));
    group.finish();
    c.bench_function("drivers of a draw", |b| b.iter(|| black_box(Luck { seed: 1 }.draw(&model, 1))));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/demos/sallowmere/site.toml");
    c.bench_function("read library and site", |b| {
        b.iter(|| {
            let library = Library::shipped().expect("the library reads");
            black_box(site_file::read(&path, &library).expect("the demo reads"))
        });
    });
    drop(library);
}

criterion_group!(benches, model);
criterion_main!(benches);
