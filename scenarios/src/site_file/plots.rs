//! `[plot.NAME]`: ground, plants, canopy, pests, slugs, guards and care of a plot.

use super::bounds;
use super::context::Context;
use super::defaults;
use super::{beds, canopies, care};
use crate::hosts;
use crate::library::{EntryKind, Evidence};
use crate::quantity::Bound;
use crate::quantity::kinds::{AREA_M2, G_M2, LENGTH_M, PER_M2};
use crate::reader::{Item, Reader};
use crate::unknowns::{Target, Unknown};
use sim_engine::site::{Guard, Net, Plot, PlotCanopy, PlotPest, When};
use sim_engine::species::Host;

/// The fault from which every missing name follows: nothing else is worth saying beside it.
pub(super) const NO_PLOTS: &str = "there are no plots";

/// A site's most plots.
const MOST_PLOTS: usize = 24;

/// The plot tables of a site, at most one more than it may have; faults where there are none or too many.
pub(super) fn tables<'r>(root: &Reader<'r>) -> Vec<Item<'r>> {
    let Some(table) = root.get("plot").and_then(|item| item.table("[plot]")) else {
        root.fault(NO_PLOTS, "Add at least one, for example: [plot.orchard]");
        return Vec::new();
    };
    let mut plots = table.all_entries();
    if plots.is_empty() {
        table.fault(NO_PLOTS, "Add at least one, for example: [plot.orchard]");
    }
    if plots.len() > MOST_PLOTS {
        let count = plots.len();
        let extra = &plots[MOST_PLOTS];
        let message = format!("there are {count} plots");
        extra.page.error(extra.key_span.clone(), message, "A site has 1 to 24 plots.");
        plots.truncate(MOST_PLOTS);
    }
    plots
}

/// The plot of a table, index `plot`.
pub(super) fn read(context: &mut Context<'_>, item: &Item<'_>, plot: usize) -> Option<Plot> {
    item.key_is_name("plot");
    let name = item.key.clone();
    let reader = item.table(format!("[plot.{name}]"))?;
    let area = reader.need("area", "\"64 m2\"").and_then(|area| area.quantity(&AREA_M2, &bounds::PLOT_M2));
    let soil = reader.need("soil", "\"loam\"").and_then(|soil| context.named(EntryKind::Soil, &soil));
    let (cover, cover_start) = cover(context, &reader, plot, &name);
    let grounds = beds::read(context, &reader, &name);
    let canopies = canopies::read(context, &reader);
    let read = Plot {
        distance_m: distance(context, &reader, &name),
        drainage_factor: drainage(&reader),
        rings: reader.get("rings").and_then(|rings| rings.whole(&bounds::RINGS)).unwrap_or(defaults::RINGS) as usize,
        weeds: weeds(context, &reader, plot, &name),
        creepers: creepers(context, &reader, plot, &name),
        pests: pests(context, &reader, plot, &name, &canopies),
        slugs: slugs(context, &reader, plot, &name),
        canopies,
        drip: drip(context, &reader, &name),
        guards: for_a_time(&reader, "guards", "a guard").map(|(share, from, to)| Guard { share, from, to }).collect(),
        nets: for_a_time(&reader, "nets", "a net").map(|(share, from, to)| Net { share, from, to }).collect(),
        care: care::read(context, &reader, &name, &grounds),
        grounds,
        worm_eggs: reader.get("worm_eggs").and_then(|eggs| eggs.number(&bounds::WORM_EGGS)).unwrap_or(0.0),
        area_m2: area.unwrap_or(bounds::PLOT_M2.low),
        soil: soil.unwrap_or(0),
        cover: cover.unwrap_or(0),
        cover_start,
        name,
    };
    reader.finish();
    Some(read)
}

fn cover(context: &mut Context<'_>, reader: &Reader<'_>, plot: usize, name: &str) -> (Option<usize>, f64) {
    let example = "{ plant = \"mown grass\", start = 0.9 }";
    let Some(table) = reader.need("cover", example).and_then(|item| item.table("cover")) else {
        return (None, defaults::COVER_START);
    };
    let plant = table.need("plant", "\"mown grass\"").and_then(|item| context.named(EntryKind::Cover, &item));
    let start = match table.get("start") {
        Some(item) => item.number(&bounds::SHARE).unwrap_or(defaults::COVER_START),
        None => {
            context.default(format!("plot.{name}.cover.start"), defaults::COVER_START.to_string());
            defaults::COVER_START
        }
    };
    table.finish();
    let key = format!("plot.{name}.cover.start");
    context.starts.push(start_of(key, "share", &bounds::SHARE, start, 1.0, Target::CoverStart(plot)));
    (plant, start)
}

/// A start with its default range, which stays within its bound: value ÷ and × a ratio (1: known unless the keeper is
/// unsure).
fn start_of(name: String, unit: &'static str, bound: &Bound, value: f64, ratio: f64, target: Target) -> Unknown {
    let domain = bound.domain();
    let source = format!("the site file; range ÷ and × {ratio} by default");
    let (low, high) = (value / ratio, (value * ratio).min(domain.high()));
    let evidence = Evidence::FromMemory;
    Unknown { name, unit, domain, low, value, high, tie: None, against: false, source, evidence, target }
}

fn distance(context: &mut Context<'_>, reader: &Reader<'_>, name: &str) -> f64 {
    match reader.get("distance_from_yard") {
        Some(item) => item.quantity(&LENGTH_M, &bounds::DISTANCE_M).unwrap_or(defaults::DISTANCE_M),
        None => {
            context.default(format!("plot.{name}.distance_from_yard"), format!("{} m", defaults::DISTANCE_M));
            defaults::DISTANCE_M
        }
    }
}

fn drainage(reader: &Reader<'_>) -> f64 {
    let words = [("slow", defaults::SLOW_DRAINAGE), ("ordinary", 1.0), ("fast", defaults::FAST_DRAINAGE)];
    reader.get("drainage").and_then(|item| item.choice(&words)).unwrap_or(1.0)
}

fn drip(context: &mut Context<'_>, reader: &Reader<'_>, name: &str) -> bool {
    match reader.get("irrigation") {
        Some(item) => item.choice(&[("drip", true), ("none", false)]).unwrap_or(false),
        None => {
            context.default(format!("plot.{name}.irrigation"), "none");
            false
        }
    }
}

fn weeds(context: &mut Context<'_>, reader: &Reader<'_>, plot: usize, name: &str) -> Vec<(usize, f64)> {
    let mut weeds = Vec::new();
    for item in reader.get("weeds").and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table("a weed") else { continue };
        let plant = table.need("plant", "\"chickweed\"");
        let index = plant.as_ref().and_then(|item| context.named(EntryKind::Weed, item));
        let seeds = table.need("seeds", "\"2500 per m2\"");
        let number = seeds.and_then(|item| item.quantity(&PER_M2, &bounds::SEEDS_M2));
        table.finish();
        let (Some(index), Some(number)) = (index, number) else { continue };
        let key = format!("plot.{name}.weeds.{}.seeds", plant.and_then(|item| item.text()).unwrap_or(""));
        let target = Target::WeedSeeds(plot, weeds.len());
        context.starts.push(start_of(key, "per m2", &bounds::SEEDS_M2, number, defaults::SEED_START_RANGE, target));
        weeds.push((index, number));
    }
    weeds
}

fn creepers(context: &mut Context<'_>, reader: &Reader<'_>, plot: usize, name: &str) -> Vec<(usize, f64)> {
    let mut creepers = Vec::new();
    for item in reader.get("creeping").and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table("a creeping weed") else { continue };
        let plant = table.need("plant", "\"couch grass\"");
        let index = plant.as_ref().and_then(|item| context.named(EntryKind::Creeper, item));
        let reserve = table.need("reserve", "\"20 g/m2\"");
        let reserve = reserve.and_then(|item| item.quantity(&G_M2, &bounds::RESERVE_G_M2));
        table.finish();
        let (Some(index), Some(reserve)) = (index, reserve) else { continue };
        let key = format!("plot.{name}.creeping.{}.reserve", plant.and_then(|item| item.text()).unwrap_or(""));
        let target = Target::CreeperReserve(plot, creepers.len());
        context.starts.push(start_of(
            key,
            "g/m2",
            &bounds::RESERVE_G_M2,
            reserve,
            defaults::RESERVE_START_RANGE,
            target,
        ));
        creepers.push((index, reserve));
    }
    creepers
}

fn pests(
    context: &mut Context<'_>,
    reader: &Reader<'_>,
    plot: usize,
    name: &str,
    canopies: &[PlotCanopy],
) -> Vec<PlotPest> {
    let mut pests = Vec::new();
    let over: Vec<String> =
        canopies.iter().filter_map(|here| Some(context.tables.canopies.get(here.canopy)?.name.clone())).collect();
    for item in reader.get("pest").and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table(format!("[[plot.{name}.pest]]")) else { continue };
        let species = table.need("species", "\"plum sawfly\"");
        let pest = species.as_ref().and_then(|item| context.named(EntryKind::Pest, item));
        let start = table.need("start", "\"8 per m2\"");
        let number = start.and_then(|item| item.quantity(&PER_M2, &bounds::PESTS_M2));
        let stated = table.get("neighbours").and_then(|item| neighbours(&item));
        table.finish();
        let (Some(pest), Some(start_per_m2)) = (pest, number) else { continue };
        let Some(kind) = context.tables.pests.get(pest) else { continue };
        let neighbours = stated.unwrap_or(kind.params.around);
        // As the file has it, as every other path.
        let written = species.and_then(|item| item.text()).unwrap_or(&kind.name);
        let (tie, key) = (format!("neighbours of {}", kind.name), format!("plot.{name}.pest.{written}"));
        let target = Target::PestStart(plot, pests.len());
        context.starts.push(start_of(
            format!("{key}.start"),
            "per m2",
            &bounds::PESTS_M2,
            start_per_m2,
            defaults::PEST_START_RANGE,
            target,
        ));
        let (key, target) = (format!("{key}.neighbours"), Target::Neighbours(plot, pests.len()));
        let around = start_of(key.clone(), "-", &bounds::RELATIVE, neighbours, defaults::NEIGHBOURS_RANGE, target);
        // All plots of a site have the same surroundings.
        context.starts.push(Unknown { tie: Some(tie), ..around });
        if stated.is_none() {
            context.default(key, neighbours.to_string());
        }
        let of_canopies = context.tables.pests.get(pest).filter(|pest| matches!(pest.host, Host::Canopy));
        let hosts = of_canopies.map(|pest| hosts::hosts(context.library, &pest.name, &over)).unwrap_or_default();
        pests.push(PlotPest { pest, start_per_m2, neighbours, hosts });
    }
    pests
}

fn slugs(context: &mut Context<'_>, reader: &Reader<'_>, plot: usize, name: &str) -> Vec<(usize, f64)> {
    let mut slugs = Vec::new();
    for item in reader.get("slugs").and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table("a slug or snail") else { continue };
        let species = table.need("species", "\"grey field slug\"");
        let index = species.as_ref().and_then(|item| context.named(EntryKind::Slug, item));
        let start = table.need("start", "\"15 per m2\"");
        let number = start.and_then(|item| item.quantity(&PER_M2, &bounds::SLUGS_M2));
        table.finish();
        let (Some(index), Some(number)) = (index, number) else { continue };
        let key = format!("plot.{name}.slugs.{}.start", species.and_then(|item| item.text()).unwrap_or(""));
        let target = Target::SlugStart(plot, slugs.len());
        context.starts.push(start_of(key, "per m2", &bounds::SLUGS_M2, number, defaults::SLUG_START_RANGE, target));
        slugs.push((index, number));
    }
    slugs
}

fn neighbours(item: &Item<'_>) -> Option<f64> {
    if item.bare().is_some() { item.number(&bounds::RELATIVE) } else { item.choice(defaults::NEIGHBOURS) }
}

/// What covers a share of the plot for a time: guards, nets.
fn for_a_time(reader: &Reader<'_>, key: &'static str, what: &str) -> impl Iterator<Item = (f64, When, When)> + use<> {
    let mut covers = Vec::new();
    for item in reader.get(key).and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table(what) else { continue };
        let share = table.need("share", "0.15").and_then(|item| item.number(&bounds::SHARE));
        let from = table.need("from", "\"03-15\"").and_then(|item| super::dates::when(&item));
        let to = table.need("to", "\"07-31\"");
        let until = to.as_ref().and_then(super::dates::when);
        table.finish();
        if let (Some(share), Some(from), Some(to), Some(item)) = (share, from, until, to)
            && super::dates::in_order(&item, from, to)
        {
            covers.push((share, from, to));
        }
    }
    covers.into_iter()
}
