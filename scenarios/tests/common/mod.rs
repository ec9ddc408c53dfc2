//! Small sites out of the shipped library, run under the weather of a shipped climate.
#![allow(dead_code)] // Every test file uses its own part.

pub mod slips;
pub mod slug_garden;
pub mod watchman;

use scenarios::{Library, SiteModel, site_file};
use sim_engine::drivers::Drivers;
use sim_engine::gates::build;
use sim_engine::gates::spec::{DatedOpening, StrategyKind, StrategySpec};
use sim_engine::ledger::flows::FlowSet;
use sim_engine::run::plot_sums::Baseline;
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::run::{Run, RunOptions, simulate};
use sim_engine::site::Site;
use sim_engine::state::Weed;
use sim_engine::summary::BaselineRecorder;
use sim_engine::weather::DayWeather;
use std::sync::{Arc, OnceLock};

/// Seed of all weather of the pattern tests.
const SEED: u64 = 20_270_321;

/// The library that ships.
pub fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

/// Reads a site at 53 N under the cool-maritime climate: the rest of the file is `text`.
pub fn site(start: &str, years: u32, hens: f64, text: &str) -> SiteModel {
    let head = format!(
        "format = 2\nlatitude = \"53 deg\"\n[run]\nstart = {start}\nyears = {years}\n\
         [weather]\nclimate = \"cool-maritime\"\n[yard]\narea = \"45 m2\"\nsurface = \"wood chip\"\n\
         [birds.flock]\nclass = \"layer\"\nnumber = {hens}\n[rules]\nshut_on = []\n"
    );
    match site_file::read_text("pattern.toml", &format!("{head}{text}"), library(), &|_| Err("no companions".into())) {
        Ok(model) => model,
        Err(faults) => panic!("{faults}"),
    }
}

/// A plot of grass and clover on loam, with more lines of the file.
pub fn plot(name: &str, area_m2: f64, distance_m: f64, more: &str) -> String {
    // One ring where a pattern is not about rings.
    let rings = if more.contains("rings") { "" } else { "rings = 1\n" };
    // What is cared for says so: a pattern of ground is of ground left alone.
    format!(
        "[plot.{name}]\nusual_care = false\n{rings}area = \"{area_m2} m2\"\nsoil = \"loam\"\n\
         cover = {{ plant = \"grass and clover\", start = 0.9 }}\n\
         distance_from_yard = \"{distance_m} m\"\n{more}\n"
    )
}

/// Weather of a draw of the model's climate.
pub fn weather(model: &SiteModel, draw: u64) -> Vec<DayWeather> {
    model.weather.draw(SEED, draw, model.base.start, model.base.days)
}

/// What follows from the weather of a draw.
pub fn drivers(model: &SiteModel, site: &Site, draw: u64) -> Drivers {
    Drivers::new(site, &weather(model, draw))
}

/// A strategy of this kind.
pub fn spec(kind: StrategyKind) -> StrategySpec {
    StrategySpec { name: "pattern".into(), kind, hours: None, birds: None }
}

/// Plots in turn for equal stays.
pub fn turn(plots: usize, stay_days: f64) -> StrategySpec {
    spec(StrategyKind::FixedTurn { order: (0..plots).collect(), stay_days, by_area: false })
}

/// Gates by dates: from each date on, these plots.
pub fn dated(lines: &[(jiff::civil::Date, &[usize])]) -> StrategySpec {
    let line = |&(date, plots): &(jiff::civil::Date, &[usize])| DatedOpening {
        date,
        plots: plots.to_vec(),
        hours: None,
        birds: None,
    };
    spec(StrategyKind::Dated { openings: lines.iter().map(line).collect() })
}

struct Watch<F: FnMut(&DayView)>(F);

impl<F: FnMut(&DayView)> Recorder for Watch<F> {
    fn flows(&self) -> FlowSet {
        FlowSet::ALL
    }
    fn reads_ground(&self, _: usize) -> bool {
        true
    }
    fn day(&mut self, view: &DayView) {
        (self.0)(view);
    }
}

/// Runs one strategy; `each` hears of every evening.
pub fn run<'a>(site: &'a Site, drivers: &'a Drivers, strategy: &StrategySpec, each: impl FnMut(&DayView)) -> Run<'a> {
    let birds = strategy.kind != StrategyKind::AllShut;
    let options = RunOptions { birds, ..RunOptions::default() };
    let mut strategy = build(site, core::slice::from_ref(strategy), 0);
    simulate(site, drivers, strategy.as_mut(), options, &mut Watch(each)).unwrap()
}

/// Runs strategy `which` of several for a recorder.
pub fn record(
    site: &Site,
    drivers: &Drivers,
    (strategies, which): (&[StrategySpec], usize),
    options: RunOptions,
    recorder: &mut dyn Recorder,
) {
    simulate(site, drivers, build(site, strategies, which).as_mut(), options, recorder).unwrap();
}

/// The run without birds, for others to be measured against.
pub fn baseline(site: &Site, drivers: &Drivers) -> Arc<Baseline> {
    let mut recorder = BaselineRecorder::default();
    record(site, drivers, (&[spec(StrategyKind::AllShut)], 0), RunOptions::no_birds(), &mut recorder);
    Arc::new(recorder.baseline)
}

/// The run without birds.
pub fn no_birds<'a>(site: &'a Site, drivers: &'a Drivers, each: impl FnMut(&DayView)) -> Run<'a> {
    run(site, drivers, &spec(StrategyKind::AllShut), each)
}

/// Mean over a plot of a figure of its zones, weighted by area.
pub fn over_plot(run: &RunView, plot: usize, of_zone: impl Fn(usize) -> f64) -> f64 {
    let world = run.world;
    let zones = world.constants.plots[plot].zones.clone();
    zones.map(|z| of_zone(z) * world.constants.zones[z].area_m2).sum::<f64>() / world.site.plots[plot].area_m2
}

/// Green cover of the sward, 0 to 1: live plants only.
pub fn green_cover(run: &RunView, plot: usize) -> f64 {
    let world = run.world;
    let per_mass = world.site.covers[world.site.plots[plot].cover].params.cover_per_mass;
    over_plot(run, plot, |z| {
        let mut depth = run.ground.zones[z].cover_mass * per_mass;
        for (weed, &(kind, _)) in
            run.ground.weeds[world.constants.zones[z].weeds.clone()].iter().zip(&world.site.plots[plot].weeds)
        {
            depth += weed.mass() * world.site.weeds[kind].params.cover_per_mass;
        }
        1.0 - (-depth).exp()
    })
}

/// Live sward of a plot, g/m².
pub fn sward(run: &RunView, plot: usize) -> f64 {
    over_plot(run, plot, |z| run.ground.zones[z].cover_mass)
}

/// Annual weeds of a plot, g/m².
pub fn weeds(run: &RunView, plot: usize) -> f64 {
    let of = |z: usize| run.ground.weeds[run.world.constants.zones[z].weeds.clone()].iter().map(Weed::mass).sum();
    over_plot(run, plot, of)
}

/// Seeds in the bank of a plot, per m².
pub fn bank(run: &RunView, plot: usize) -> f64 {
    let weeds = |z: usize| run.ground.weeds[run.world.constants.zones[z].weeds.clone()].iter();
    over_plot(run, plot, |z| weeds(z).map(|w| w.deep + w.surface).sum())
}

/// Mean of a list.
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Sample standard deviation of a list.
pub fn spread(values: &[f64]) -> f64 {
    let m = mean(values);
    (values.iter().map(|v| (v - m).powi(2)).sum::<f64>() / (values.len() as f64 - 1.0)).sqrt()
}
