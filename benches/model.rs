//! Speed of the model, in zone-days per second.
//!
//! `full`: a whole run of a strategy with agenda, rules, strategy and summary ledger, on the
//! drivers of one draw. `batch`: the same for as many draws as the processor has lanes. `kernel`:
//! the same process functions over the same zones and days, one draw at a time, under the same
//! crops and the same birds as a full run had them (taken down beforehand), and nothing else: no agenda, manual care, gates, rules, flock, memory or summary. The ratio says
//! what everything around the formulas costs. `drivers`: what is computed once per draw.
//! `check`: reading the library and the demo site.

use analysis::draw_sampler::{Draw, DrawSampler};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::flock::party::PestSearch;
use sim_engine::gates::build;
use sim_engine::ledger::flows::FlowSet;
use sim_engine::plot::constants::ZoneConstants;
use sim_engine::plot::pests;
use sim_engine::plot::predation::{self, PestTimes, Predation};
use sim_engine::plot::{bites, crops, step, worm_eggs};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::start::start;
use sim_engine::run::world::{PlotBirds, zone_context};
use sim_engine::run::{Batch, Realization, RunOptions, simulate};
use sim_engine::simd::lanes;
use sim_engine::site::Site;
use sim_engine::species::PestParams;
use sim_engine::state::{PestHere, Zone};
use sim_engine::summary::Summary;
use std::hint::black_box;
use std::path::Path;

fn demo() -> (Library, SiteModel, Draw) {
    let library = Library::shipped().expect("the library reads");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/demos/sallowmere/site.toml");
    let model = site_file::read(&path, &library).expect("the demo reads");
    let draw = DrawSampler { seed: 1 }.draw(&model, 1);
    (library, model, draw)
}

fn zone_days(draw: &Draw) -> u64 {
    let zones: usize = draw.site.plots.iter().map(|p| p.rings * p.grounds.len()).sum();
    (zones * draw.site.days) as u64
}

/// What a full run laid on the ground, day by day.
#[derive(Default)]
struct Laid {
    birds: Vec<PlotBirds>,
    crops: Vec<Option<usize>>,
    searches: Vec<PestSearch>,
}

impl Recorder for Laid {
    fn day(&mut self, view: &DayView) {
        self.birds.extend_from_slice(&view.world.birds_on);
        self.crops.extend_from_slice(&view.world.standing);
    }

    fn end(&mut self, run: &RunView) {
        self.searches.clone_from(&run.world.parties[0].pests);
    }
}

/// All formulas of a zone, day by day, on what a full run laid down.
fn kernel(draw: &Draw, laid: &Laid) -> f64 {
    let (site, drivers) = (&draw.site, &draw.drivers);
    let (mut world, mut ground) = start(site, drivers, RunOptions::nothing(), FlowSet::NONE).expect("the demo runs");
    let zones = ground.zones.len();
    let mean_adults = vec![0.0; site.pests.len()];
    let times = vec![PestTimes { in_season: true, host: true }; site.pests.len()];
    let mut eaten = 0.0;
    for day in 0..site.days {
        for zone in 0..zones {
            let here = &world.constants.zones[zone];
            let on = laid.birds[day * site.plots.len() + here.plot];
            let birds = (on.bird_days > 0.0).then(|| on.pressure.times(here.use_factor));
            let state = &mut ground.zones[zone];
            let stands = laid.crops[day * zones + zone];
            set_crop(site, here, state, &mut world.standing[zone], stands);
            let context = zone_context(site, drivers, &world.constants, zone, day, stands);
            let (weeds, creepers) = (here.weeds.clone(), here.creepers.clone());
            let cover = state.seen_cover;
            let weeds = &mut ground.weeds[weeds];
            let creepers = &mut ground.creepers[creepers];
            let fruit = birds.map_or(0.0, |birds| bites::share_of_fruit(state, weeds, creepers, &birds, 1.0, &context));
            let intake = step::step(state, weeds, creepers, birds.as_ref(), 1.0, &context);
            eaten += intake.green;
            if let Some(birds) = &birds {
                eaten += worm_eggs::uptake(&mut state.worms, birds.uptake);
            }
            let of_plot = &site.plots[here.plot].pests;
            for (offset, p) in of_plot.iter().enumerate() {
                let since_solstice = f64::from(drivers.days[day].since_solstice);
                let pest = &mut ground.pests[here.pests.start + offset];
                turn_season(pest, &site.pests[p.pest].params, since_solstice);
            }
            let predation = Predation {
                degree_days: drivers.pest_degree_days(day),
                mean_adults: &mean_adults,
                cover,
                exposed: 1.0,
                open: 1.0,
                bird_days: birds.map_or(0.0, |birds| birds.bird_days),
                fruit,
                search: birds.is_some().then_some(laid.searches.as_slice()),
            };
            let pests = &mut ground.pests[here.pests.clone()];
            predation::step(state, pests, &context, &predation, &times[..of_plot.len()]);
        }
    }
    eaten
}

/// Begins and ends a pest's season, as the agenda does.
fn turn_season(pest: &mut PestHere, params: &PestParams, since_solstice: f64) {
    if since_solstice == params.counting_from.ceil() {
        pests::start_season(pest);
    } else if since_solstice == params.season_end.ceil() {
        pests::end_season(pest, params, 1.0);
    }
}

/// Puts the crop of the full run on the ground, or takes it off.
fn set_crop(site: &Site, here: &ZoneConstants, zone: &mut Zone, stood: &mut Option<usize>, stands: Option<usize>) {
    let kind = |plan: usize| &site.crops[site.plots[here.plot].grounds[here.ground].crops[plan].crop];
    if *stood != stands {
        if let Some(plan) = *stood {
            crops::end(zone, kind(plan));
        }
        if let Some(plan) = stands {
            crops::plant(zone, kind(plan));
        }
        *stood = stands;
    }
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
                let mut strategy = build(&draw.site, &model.strategies, which);
                simulate(&draw.site, &draw.drivers, strategy.as_mut(), RunOptions::default(), &mut summary)
                    .expect("the demo runs");
                black_box(summary.measures)
            });
        });
    }
    let draws: Vec<Draw> = (1..=lanes() as u64).map(|number| DrawSampler { seed: 1 }.draw(&model, number)).collect();
    let realizations: Vec<Realization<'_>> = draws.iter().map(|draw| (&draw.site, &draw.drivers)).collect();
    let batch = Batch::new(&realizations);
    group.throughput(Throughput::Elements(zone_days(&draw) * draws.len() as u64));
    for name in ["what-we-do-now", "our-year"] {
        let which = model.strategy(name).expect("the demo has it");
        group.bench_function(BenchmarkId::new("batch", name), |b| {
            b.iter(|| {
                let summary = || Summary::new(None, model.limits.cover_line);
                let mut summaries: Vec<_> = draws.iter().map(|_| summary()).collect();
                let options = RunOptions::default();
                batch.run(&realizations, &model.strategies, which, options, &mut summaries).expect("the demo runs");
                black_box(summaries)
            });
        });
    }
    group.throughput(Throughput::Elements(zone_days(&draw)));
    let mut laid = Laid::default();
    let which = model.strategy("our-year").expect("the demo has it");
    let mut strategy = build(&draw.site, &model.strategies, which);
    simulate(&draw.site, &draw.drivers, strategy.as_mut(), RunOptions::default(), &mut laid).expect("the demo runs");
    group.bench_function("kernel/our-year", |b| b.iter(|| black_box(kernel(&draw, &laid))));
    group.finish();
    c.bench_function("drivers of a draw", |b| b.iter(|| black_box(DrawSampler { seed: 1 }.draw(&model, 1))));
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
