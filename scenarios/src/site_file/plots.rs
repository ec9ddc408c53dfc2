//! `[plot.NAME]`: ground, plants, canopy, pests, slugs, guards and care of a plot.

use super::bounds;
use super::context::Context;
use super::defaults;
use super::{beds, canopies, care, waits};
use crate::hosts;
use crate::library::{EntryKind, Evidence, is_called};
use crate::nearest::did_you_mean;
use crate::quantity::kinds::{AREA_M2, G_M2, LENGTH_M, PER_M2};
use crate::quantity::{BEDS_EXAMPLE, Bound, QuantityError, beds_area, parse};
use crate::reader::{Item, Reader};
use crate::table_format::{KeyFormat, Kind, TableFormat, Taken, left_out, required, words};
use crate::unknowns::{Target, Unknown};
use sim_engine::site::{Guard, Net, Plant, Plot, PlotCanopy, PlotPest, When};
use sim_engine::species::Host;

/// The fault from which every missing name follows: nothing else is worth saying beside it.
pub(super) const NO_PLOTS: &str = "there are no plots";

/// A site's most plots.
const MOST_PLOTS: usize = 24;

/// How well water leaves a plot, and the factor of it.
const DRAINAGE: &[(&str, f64)] =
    &[("slow", defaults::SLOW_DRAINAGE), ("ordinary", 1.0), ("fast", defaults::FAST_DRAINAGE)];

/// Whether a plot is watered.
const IRRIGATION: &[(&str, bool)] = &[("drip", true), ("none", false)];

pub(super) const PLOT: TableFormat = TableFormat {
    heading: "[plot.NAME]",
    written: "[plot.orchard]",
    what: "A piece of ground with a gate of its own; a site has 1 to 24.",
    keys: &[
        required(
            "area",
            Kind::Either(&[
                Kind::Quantity(&AREA_M2, &bounds::PLOT_M2),
                Kind::Form("small beds behind one gate together, \"6 beds of 4 x 8 ft\": all of it is then beds"),
            ]),
            "\"64 m2\"",
            "Its area.",
        ),
        required("soil", Kind::Entry(EntryKind::Soil), "\"loam\"", "Its soil."),
        required(
            "cover",
            Kind::Table(&COVER),
            "{ plant = \"mown grass\", start = 0.9 }",
            "What covers the ground outside beds.",
        ),
        left_out(
            "beds",
            Kind::Number(&bounds::SHARE),
            Taken::Words("0, or 1 where the area is that of beds"),
            "0.6",
            "Share of the plot that is beds.",
        ),
        left_out(
            "bed",
            Kind::Tables(&Kind::Table(&beds::BED)),
            Taken::Words("beds share alike"),
            "{ north = { share = 0.5 } }",
            "Beds with names, for crops to stand in.",
        ),
        left_out(
            "crop",
            Kind::List(&Kind::Table(&beds::CROP)),
            Taken::Words("none"),
            "[{ crop = \"leek\", in_ground = [\"03-05\", \"07-12\"] }]",
            "The crops on its beds.",
        ),
        left_out(
            "canopy",
            Kind::Either(&[Kind::Entry(EntryKind::Canopy), Kind::List(&Kind::Table(&canopies::CANOPY))]),
            Taken::Words("none"),
            "\"plum trees\"",
            "Trees, bushes or canes over the whole plot; or a list of them, each over its share of the ground.",
        ),
        left_out(
            "fruit_harvest",
            Kind::Either(&[Kind::Window, Kind::List(&Kind::Window)]),
            Taken::Words("none"),
            "[\"08-01\", \"09-10\"]",
            "When fruit of the one canopy is picked: one window, or a list of them; an error beside a list of canopies, which have each its own.",
        ),
        left_out(
            "fruit_touches_soil",
            Kind::Flag,
            Taken::Words("false"),
            "false",
            "Whether that fruit touches the soil: it decides which waiting period holds.",
        ),
        left_out(
            "fruit_wait",
            Kind::Table(&waits::OF_FRUIT),
            Taken::Words("the rule's days"),
            "{ days = 60, reason = \"all of it is cooked\" }",
            "Days of your own before that fruit is picked from the plant; fewer than the rule only with a reason.",
        ),
        left_out(
            "windfalls",
            Kind::Choice(|| words(canopies::WINDFALLS)),
            Taken::Words("\"left\", and `check` asks"),
            "\"cooked\"",
            canopies::WHAT_WINDFALLS,
        ),
        left_out(
            "windfall_wait",
            Kind::Table(&waits::OF_WINDFALLS),
            Taken::Words("the rule's days"),
            "{ days = 90, reason = \"all of it is cooked\" }",
            waits::WHAT_OF_WINDFALLS,
        ),
        left_out(
            "rings",
            Kind::Whole(&bounds::RINGS),
            Taken::Number(defaults::RINGS as f64),
            "2",
            "Rings the plot is counted in: worn near the gate and fresh behind, which one would not show.",
        ),
        left_out(
            "distance_from_yard",
            Kind::Quantity(&LENGTH_M, &bounds::DISTANCE_M),
            Taken::Quantity(defaults::DISTANCE_M, "m"),
            "\"8 m\"",
            "How far its gate is from the yard.",
        ),
        left_out(
            "drainage",
            Kind::Choice(|| words(DRAINAGE)),
            Taken::Words("\"ordinary\""),
            "\"slow\"",
            "How well water leaves it, against the soil's own.",
        ),
        left_out(
            "irrigation",
            Kind::Choice(|| words(IRRIGATION)),
            Taken::Words("\"none\""),
            "\"drip\"",
            "Whether it is watered; drip waters a standing crop.",
        ),
        left_out(
            "worm_eggs",
            Kind::Number(&bounds::WORM_EGGS),
            Taken::Number(0.0),
            "0",
            "Worm eggs in its soil on the first day, per m2, where an infected bird sheds 100 a day.",
        ),
        left_out(
            "weeds",
            Kind::List(&Kind::Table(&WEED)),
            Taken::Words("none"),
            "[{ plant = \"chickweed\", seeds = \"2500 per m2\" }]",
            "Annual weeds.",
        ),
        left_out(
            "creeping",
            Kind::List(&Kind::Table(&CREEPER)),
            Taken::Words("none"),
            "[{ plant = \"couch grass\", reserve = \"20 g/m2\" }]",
            "Creeping weeds.",
        ),
        left_out(
            "pest",
            Kind::List(&Kind::Table(&PEST)),
            Taken::Words("none"),
            "[{ species = \"plum sawfly\", start = \"8 per m2\" }]",
            "Pests of which a stage lies in the soil.",
        ),
        left_out(
            "slugs",
            Kind::List(&Kind::Table(&SLUG)),
            Taken::Words("none"),
            "[{ species = \"grey field slug\", start = \"15 per m2\" }]",
            "Slugs and snails.",
        ),
        left_out(
            "guards",
            Kind::List(&Kind::Table(&GUARD)),
            Taken::Words("none"),
            "[{ share = 0.15, from = \"03-15\", to = \"07-31\" }]",
            "Guards that keep birds off the ground.",
        ),
        left_out(
            "nets",
            Kind::List(&Kind::Table(&NET)),
            Taken::Words("none"),
            "[{ share = 0.3, from = \"05-01\", to = \"08-15\" }]",
            "Fine nets over plants.",
        ),
        left_out(
            "care",
            Kind::List(&Kind::Table(&care::CARE)),
            Taken::Words("the usual care"),
            "[{ task = \"weed\", every = \"3 weeks\" }]",
            "Work of the keeper on it, by the same rule in every run.",
        ),
        left_out(
            "usual_care",
            Kind::Flag,
            Taken::Words("true"),
            "true",
            "Beds are weeded and grass is mown by the usual rule where no care of that kind is written.",
        ),
        left_out("weeded", Kind::Flag, Taken::Words("false"), "false", "Weeds are pulled in a plot without beds."),
    ],
    rest: None,
    examples: &[
        "[plot.orchard]\narea = \"64 m2\"\nsoil = \"loam\"\ncover = { plant = \"mown grass\", start = 0.9 }\ndistance_from_yard = \"8 m\"",
        "[plot.orchard]\narea = \"200 m2\"\nsoil = \"clay loam\"\ncover = { plant = \"rough grass\", start = 0.9 }\nbeds = 0.2\nbed = { north = { share = 0.5 }, south = { share = 0.5 } }\ncanopy = \"plum trees\"\nfruit_harvest = [\"08-01\", \"09-10\"]\nfruit_touches_soil = false\nfruit_wait = { days = 60, reason = \"all of it is cooked\" }\nwindfalls = \"cooked\"\nwindfall_wait = { days = 90, reason = \"all of it is cooked\" }\nrings = 2\ndistance_from_yard = \"8 m\"\ndrainage = \"slow\"\nirrigation = \"drip\"\nworm_eggs = 0\nweeds = [{ plant = \"chickweed\", seeds = \"2500 per m2\" }]\ncreeping = [{ plant = \"couch grass\", reserve = \"20 g/m2\" }]\nslugs = [{ species = \"grey field slug\", start = \"15 per m2\" }]\nguards = [{ share = 0.15, from = \"03-15\", to = \"07-31\" }]\nnets = [{ share = 0.3, from = \"05-01\", to = \"08-15\" }]\nusual_care = true\nweeded = false\n[[plot.orchard.crop]]\ncrop = \"leek\"\nbed = \"north\"\nin_ground = [\"03-05\", \"07-12\"]\n[[plot.orchard.pest]]\nspecies = \"plum sawfly\"\nstart = \"8 per m2\"\n[[plot.orchard.care]]\ntask = \"weed\"\nevery = \"3 weeks\"",
    ],
};

const COVER: TableFormat = TableFormat {
    heading: "[plot.NAME] cover",
    written: "cover = { … }",
    what: "The plant that covers the ground outside beds.",
    keys: &[
        required("plant", Kind::Entry(EntryKind::Cover), "\"mown grass\"", "The plant."),
        left_out(
            "start",
            Kind::Number(&bounds::SHARE),
            Taken::Number(defaults::COVER_START),
            "0.9",
            "Share of that ground it covers on the first day.",
        ),
    ],
    rest: None,
    examples: &[],
};

const WEED: TableFormat = TableFormat {
    heading: "[plot.NAME] weeds",
    written: "weeds = [{ … }]",
    what: "An annual weed and its seeds in the soil.",
    keys: &[
        required("plant", Kind::Entry(EntryKind::Weed), "\"chickweed\"", "The weed."),
        required(
            "seeds",
            Kind::Quantity(&PER_M2, &bounds::SEEDS_M2),
            "\"2500 per m2\"",
            "Its seeds in the soil on the first day; unknown by ÷ 3 and × 3.",
        ),
    ],
    rest: None,
    examples: &[],
};

const CREEPER: TableFormat = TableFormat {
    heading: "[plot.NAME] creeping",
    written: "creeping = [{ … }]",
    what: "A creeping weed and what it has stored.",
    keys: &[
        required("plant", Kind::Entry(EntryKind::Creeper), "\"couch grass\"", "The weed."),
        required(
            "reserve",
            Kind::Quantity(&G_M2, &bounds::RESERVE_G_M2),
            "\"20 g/m2\"",
            "Its reserve in roots on the first day; unknown by ÷ 2 and × 2.",
        ),
    ],
    rest: None,
    examples: &[],
};

const PEST: TableFormat = TableFormat {
    heading: "[[plot.NAME.pest]]",
    written: "[[plot.orchard.pest]]",
    what: "A pest of which a stage lies in the soil of the plot.",
    keys: &[
        required("species", Kind::Entry(EntryKind::Pest), "\"plum sawfly\"", "The pest."),
        required(
            "start",
            Kind::Quantity(&PER_M2, &bounds::PESTS_M2),
            "\"8 per m2\"",
            "How many there are on the first day; unknown by ÷ 4 and × 4.",
        ),
        left_out(
            "neighbours",
            Kind::Either(&[Kind::Choice(|| words(defaults::NEIGHBOURS)), Kind::Number(&bounds::RELATIVE)]),
            Taken::Words("the species' own (`around`)"),
            "\"some\"",
            "Adults round about that come in over the edge of the plot: none 0, few 1, some 3, many 10, or a number; the smaller a plot, the more a m2; unknown by ÷ 3 and × 3.",
        ),
    ],
    rest: None,
    examples: &[],
};

const SLUG: TableFormat = TableFormat {
    heading: "[plot.NAME] slugs",
    written: "slugs = [{ … }]",
    what: "Slugs or snails of all sizes.",
    keys: &[
        required("species", Kind::Entry(EntryKind::Slug), "\"grey field slug\"", "The slug or snail."),
        required(
            "start",
            Kind::Quantity(&PER_M2, &bounds::SLUGS_M2),
            "\"15 per m2\"",
            "How many there are on the first day, of all sizes; unknown by ÷ 3 and × 3.",
        ),
    ],
    rest: None,
    examples: &[],
};

const FROM: KeyFormat = required("from", Kind::Day, "\"03-15\"", "First day.");
const TO: KeyFormat = required("to", Kind::Day, "\"07-31\"", "Last day; it may lie in the next year.");

const GUARD: TableFormat = TableFormat {
    heading: "[plot.NAME] guards",
    written: "guards = [{ … }]",
    what: "What keeps birds off a share of the ground, or off one kind of plants in it, for a time: collars, cloches, a fence. A crop behind guards of its own does not shut the gate; what else grows there is eaten. The waiting period stays.",
    keys: &[
        left_out(
            "share",
            Kind::Number(&bounds::SHARE),
            Taken::Words("that of the plants; needed without plants"),
            "0.15",
            "Share of the plot; beds are guarded first.",
        ),
        left_out(
            "plants",
            Kind::Form("the name of a crop or canopy of the plot"),
            Taken::Words("whatever stands on that share"),
            "\"plum trees\"",
            "Whom they stand around, all of them in the plot: the beds of a crop; or a canopy, its hanging fruit and its share of the ground, counted evenly over the plot.",
        ),
        FROM,
        TO,
    ],
    rest: None,
    examples: &[
        "guards = [{ share = 0.15, from = \"03-15\", to = \"07-31\" }]",
        "guards = [{ plants = \"plum trees\", from = \"03-15\", to = \"07-31\" }]",
    ],
};

const NET: TableFormat = TableFormat {
    heading: "[plot.NAME] nets",
    written: "nets = [{ … }]",
    what: "Fine nets over a share of the plot: adults of pests fly neither in nor out and birds take no hanging fruit there; what rises from the soil under them stays. They are counted evenly over the plot.",
    keys: &[required("share", Kind::Number(&bounds::SHARE), "0.15", "Share of the plot."), FROM, TO],
    rest: None,
    examples: &[],
};

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
    let area = reader.needed("area");
    let of_beds = area.as_ref().and_then(|item| beds_area(item.value().as_str()?));
    let all_beds = of_beds.is_some();
    let area = area.and_then(|item| plot_area(&item, of_beds));
    let soil = reader.needed("soil").and_then(|soil| context.named(EntryKind::Soil, &soil));
    let (cover, cover_start) = cover(context, &reader, plot, &name);
    let grounds = beds::read(context, &reader, &name, if all_beds { 1.0 } else { 0.0 });
    let canopies = canopies::read(context, &reader);
    let mut read = Plot {
        distance_m: distance(context, &reader, &name),
        drainage_factor: drainage(&reader),
        rings: reader.get("rings").and_then(|rings| rings.whole(&bounds::RINGS)).unwrap_or(defaults::RINGS) as usize,
        weeds: weeds(context, &reader, plot, &name),
        creepers: creepers(context, &reader, plot, &name),
        pests: pests(context, &reader, plot, &name, &canopies),
        slugs: slugs(context, &reader, plot, &name),
        canopies,
        drip: drip(context, &reader, &name),
        guards: Vec::new(),
        nets: for_a_time(&reader, "nets", "a net", share).map(|(share, from, to)| Net { share, from, to }).collect(),
        care: care::read(context, &reader, &name, &grounds),
        grounds,
        worm_eggs: reader.get("worm_eggs").and_then(|eggs| eggs.number(&bounds::WORM_EGGS)).unwrap_or(0.0),
        area_m2: area.unwrap_or(bounds::PLOT_M2.low),
        soil: soil.unwrap_or(0),
        cover: cover.unwrap_or(0),
        cover_start,
        name,
    };
    let covers = for_a_time(&reader, "guards", "a guard", |table| guarded(context, table, &read));
    read.guards = covers.map(|((share, plants), from, to)| Guard { share, plants, from, to }).collect();
    reader.finish();
    Some(read)
}

/// The area of a plot, or of beds together. Who has a bed that is too small for a plot is told how to write them.
fn plot_area(item: &Item<'_>, of_beds: Option<Result<f64, QuantityError>>) -> Option<f64> {
    let area = of_beds.or_else(|| Some(parse(item.value().as_str()?, &AREA_M2)));
    match area {
        Some(Ok(area)) if (f64::MIN_POSITIVE..bounds::PLOT_M2.low).contains(&area) => {
            let written = item.value().as_str().unwrap_or_default();
            let wording = bounds::PLOT_M2.wording;
            let remedy = format!("{wording} Beds behind one gate are one plot: area = \"{BEDS_EXAMPLE}\".");
            item.fault(format!("{} is {written}, which is out of range", item.key), remedy);
            None
        }
        Some(Ok(area)) => item.within(area, &bounds::PLOT_M2),
        Some(Err(error)) => {
            item.fault(format!("{}: {}", item.key, error.message), error.remedy);
            None
        }
        None => item.quantity(&AREA_M2, &bounds::PLOT_M2),
    }
}

fn cover(context: &mut Context<'_>, reader: &Reader<'_>, plot: usize, name: &str) -> (Option<usize>, f64) {
    let Some(table) = reader.needed("cover").and_then(|item| item.table("cover")) else {
        return (None, defaults::COVER_START);
    };
    let plant = table.needed("plant").and_then(|item| context.named(EntryKind::Cover, &item));
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
    reader.get("drainage").and_then(|item| item.choice(DRAINAGE)).unwrap_or(1.0)
}

fn drip(context: &mut Context<'_>, reader: &Reader<'_>, name: &str) -> bool {
    match reader.get("irrigation") {
        Some(item) => item.choice(IRRIGATION).unwrap_or(false),
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
        let plant = table.needed("plant");
        let index = plant.as_ref().and_then(|item| context.named(EntryKind::Weed, item));
        let seeds = table.needed("seeds");
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
        let plant = table.needed("plant");
        let index = plant.as_ref().and_then(|item| context.named(EntryKind::Creeper, item));
        let reserve = table.needed("reserve");
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
        let species = table.needed("species");
        let pest = species.as_ref().and_then(|item| context.named(EntryKind::Pest, item));
        let start = table.needed("start");
        let number = start.and_then(|item| item.quantity(&PER_M2, &bounds::PESTS_M2));
        let stated = table.get("neighbours").and_then(|item| neighbours(&item));
        table.finish();
        let (Some(pest), Some(start_per_m2)) = (pest, number) else { continue };
        let Some(kind) = context.tables.pests.get(pest) else { continue };
        let fruit = context.entry(EntryKind::Pest, &kind.name).and_then(|pest| pest.facts.fruit.as_deref());
        let hosts = match kind.host {
            Host::Canopy => hosts::hosts(context.library, fruit, &over),
            Host::Crops(_) => Vec::new(),
        };
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
        pests.push(PlotPest { pest, start_per_m2, neighbours, hosts });
    }
    pests
}

fn slugs(context: &mut Context<'_>, reader: &Reader<'_>, plot: usize, name: &str) -> Vec<(usize, f64)> {
    let mut slugs = Vec::new();
    for item in reader.get("slugs").and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table("a slug or snail") else { continue };
        let species = table.needed("species");
        let index = species.as_ref().and_then(|item| context.named(EntryKind::Slug, item));
        let start = table.needed("start");
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
fn for_a_time<T>(
    reader: &Reader<'_>,
    key: &'static str,
    what: &str,
    of: impl Fn(&Reader<'_>) -> Option<T>,
) -> impl Iterator<Item = (T, When, When)> {
    let mut covers = Vec::new();
    for item in reader.get(key).and_then(|item| item.list()).unwrap_or_default() {
        let Some(table) = item.table(what) else { continue };
        let covered = of(&table);
        let from = table.needed("from").and_then(|item| super::dates::when(&item));
        let to = table.needed("to");
        let until = to.as_ref().and_then(super::dates::when);
        table.finish();
        if let (Some(covered), Some(from), Some(to), Some(item)) = (covered, from, until, to)
            && super::dates::in_order(&item, from, to)
        {
            covers.push((covered, from, to));
        }
    }
    covers.into_iter()
}

fn share(table: &Reader<'_>) -> Option<f64> {
    table.needed("share").and_then(|item| item.number(&bounds::SHARE))
}

/// The share of a plot behind guards, and the plants they stand around, where they are named.
fn guarded(context: &Context<'_>, table: &Reader<'_>, plot: &Plot) -> Option<(f64, Option<Plant>)> {
    let Some(item) = table.get("plants") else { return Some((share(table)?, None)) };
    if let Some(share) = table.get("share") {
        share
            .fault("share beside plants", "Guards around plants stand around all of them in the plot: take share out.");
    }
    let plants = plants(context, &item, plot)?;
    Some((plot.share_of(plants), Some(plants)))
}

/// A crop or canopy of the plot, by any of its names.
fn plants(context: &Context<'_>, item: &Item<'_>, plot: &Plot) -> Option<Plant> {
    let name = item.text()?;
    let grown = context.used.iter().filter_map(|(kind, index, entry)| {
        let plant = match kind {
            EntryKind::Crop => Plant::Crop(*index),
            EntryKind::Canopy => Plant::Canopy(*index),
            _ => return None,
        };
        (plot.share_of(plant) > 0.0).then_some((plant, entry))
    });
    let grown: Vec<_> = grown.collect();
    let found = grown.iter().find(|(_, entry)| is_called(entry, name)).map(|(plant, _)| *plant);
    if found.is_none() {
        let remedy = did_you_mean(name, grown.iter().map(|(_, entry)| entry.name.as_str()));
        item.fault(format!("no crop or canopy {name:?} grows in {}", plot.name), remedy);
    }
    found
}
