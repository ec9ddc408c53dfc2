//! `[strategy.NAME]`: each is one kind with its few settings.

use super::Companions;
use super::bounds;
use super::context::Context;
use super::dated;
use super::defaults;
use super::openings::{let_through, open_hours};
use super::practice;
use crate::library::EntryKind;
use crate::quantity::kinds::{DAYS, DEGREE_DAYS, TEMPERATURE_C};
use crate::reader::{Item, Reader};
use sim_engine::gates::OpenHours;
use sim_engine::gates::spec::{PestWindow, StrategyKind, StrategySpec};
use sim_engine::site::Plot;
use std::ops::Range;

/// A strategy that another names, and where.
struct Reference {
    from: usize,
    to: usize,
    span: Range<usize>,
}

/// What is shared while strategies are read.
struct Reading<'c, 'r> {
    context: &'c mut Context<'r>,
    names: Vec<String>,
    references: Vec<Reference>,
    companions: &'c Companions<'c>,
    plots: &'c [Plot],
}

/// The strategies in the order of the file; where there are none, all gates open and a turn.
pub(super) fn read(
    context: &mut Context<'_>,
    root: &Reader<'_>,
    plots: &[Plot],
    companions: &Companions<'_>,
) -> Vec<StrategySpec> {
    let items = root.table("strategy").map(|table| table.entries()).unwrap_or_default();
    if items.is_empty() {
        context.default("strategy", "all-open, and a turn of 14 days through all plots");
        return otherwise(context.plot_names.len());
    }
    let names = items.iter().map(|item| item.key.clone()).collect();
    let mut reading = Reading { context, names, references: Vec::new(), companions, plots };
    let mut strategies = Vec::new();
    for (position, item) in items.iter().enumerate() {
        let kind = one(&mut reading, item, position);
        let (kind, hours, birds) = kind.unwrap_or((StrategyKind::AllOpen, None, None));
        strategies.push(StrategySpec { name: item.key.clone(), kind, hours, birds });
    }
    circles(&reading, root);
    strategies
}

/// The strategies of a site that has none of its own.
fn otherwise(plots: usize) -> Vec<StrategySpec> {
    let named = |name: &str, kind| StrategySpec { name: name.to_owned(), kind, hours: None, birds: None };
    let turn =
        StrategyKind::FixedTurn { order: (0..plots).collect(), stay_days: defaults::TURN_STAY_D, by_area: false };
    vec![named("all-open", StrategyKind::AllOpen), named("in-turn", turn)]
}

type Read = Option<(StrategyKind, Option<OpenHours>, Option<f64>)>;
type Parser = fn(&mut Reading<'_, '_>, &Item<'_>, usize) -> Option<StrategyKind>;

/// Every kind of strategy: its word and its reader. The length is the engine's: a kind without a
/// reader does not compile.
const KINDS: [(&str, Parser); StrategyKind::WORDS.len()] = [
    ("all_shut", |_, item, _| plain(item, StrategyKind::AllShut)),
    ("all_open", |_, item, _| plain(item, StrategyKind::AllOpen)),
    ("continuous", |reading, item, _| continuous(reading, item)),
    ("fixed_turn", |reading, item, _| fixed_turn(reading, item)),
    ("by_eye", |_, item, _| by_eye(item)),
    ("between_crops", between_crops),
    ("pest_date", pest_date),
    ("weather", weather),
    ("dated", |reading, item, _| dated_file(reading, item)),
    ("layered", layered),
    ("rule", |reading, item, _| practice_of(reading, item)),
];

fn one(reading: &mut Reading<'_, '_>, item: &Item<'_>, position: usize) -> Read {
    item.key_is_name("strategy");
    let reader = item.table(format!("[strategy.{}]", item.key))?;
    let hours = reader.get("hours").and_then(|item| open_hours(&item));
    let birds = reader.get("birds").and_then(|item| let_through(&item));
    let stated: Vec<(Item<'_>, Parser)> =
        KINDS.iter().filter_map(|(key, parser)| Some((reader.get(key)?, *parser))).collect();
    let home = reader.get("home");
    let kind = match stated.as_slice() {
        // Home alone is a practice without rules.
        [] if home.is_some() => Some(StrategyKind::Practice { home: None, rules: Vec::new() }),
        [] => {
            let kinds: Vec<&str> = KINDS.iter().map(|(key, _)| *key).collect();
            let remedy = format!("Write one of {}.", kinds.join(", "));
            reader.fault(format!("strategy {:?} does not say what it does", item.key), remedy);
            None
        }
        [(inner, parser)] => parser(reading, inner, position),
        [_, (second, _), ..] => {
            let message = format!("strategy {:?} says two things", item.key);
            let remedy = "Keep one, or give each a strategy and put them in a layered one.";
            second.page.error(second.key_span.clone(), message, remedy);
            None
        }
    };
    let kind = match home {
        Some(home) => at_home(reading, &home, kind),
        None => kind,
    };
    reader.finish();
    Some((kind?, hours, birds))
}

/// A practice with its home; no other kind has one.
fn at_home(reading: &Reading<'_, '_>, item: &Item<'_>, kind: Option<StrategyKind>) -> Option<StrategyKind> {
    let home = practice::home(reading.context, item)?;
    match kind? {
        StrategyKind::Practice { rules, .. } => Some(StrategyKind::Practice { home, rules }),
        other => {
            let remedy = "Take home out, or write rules: [[strategy.NAME.rule]] with where, when, stay and so on.";
            item.fault(format!("home goes with rules, and this strategy is {}", other.word()), remedy);
            None
        }
    }
}

/// Rules; their home stands beside them.
fn practice_of(reading: &mut Reading<'_, '_>, item: &Item<'_>) -> Option<StrategyKind> {
    let rules = practice::rules(reading.context, reading.plots, item)?;
    Some(StrategyKind::Practice { home: None, rules })
}

/// A kind without settings.
fn plain(item: &Item<'_>, kind: StrategyKind) -> Option<StrategyKind> {
    item.table(item.key.clone())?.finish();
    Some(kind)
}

fn continuous(reading: &Reading<'_, '_>, item: &Item<'_>) -> Option<StrategyKind> {
    let reader = item.table("continuous")?;
    let plot = reader.need("plot", "\"orchard\"").and_then(|item| reading.context.plot(&item));
    reader.finish();
    Some(StrategyKind::Continuous { plot: plot? })
}

fn fixed_turn(reading: &Reading<'_, '_>, item: &Item<'_>) -> Option<StrategyKind> {
    let reader = item.table("fixed_turn")?;
    let order = match reader.get("order") {
        Some(item) => order(reading, &item),
        None => Some((0..reading.context.plot_names.len()).collect()),
    };
    let stay = reader.need("stay", "\"21 days\"").and_then(|item| item.quantity(&DAYS, &bounds::STAY_D));
    let by_area = reader.get("by_area").and_then(|item| item.flag()).unwrap_or(false);
    reader.finish();
    Some(StrategyKind::FixedTurn { order: order?, stay_days: stay?, by_area })
}

fn order(reading: &Reading<'_, '_>, item: &Item<'_>) -> Option<Vec<usize>> {
    let list = item.list()?;
    if list.is_empty() {
        item.fault("order names no plot", "List the plots in turn, for example: order = [\"orchard\", \"long-beds\"]");
        return None;
    }
    let plots: Vec<Option<usize>> = list.iter().map(|item| reading.context.plot(item)).collect();
    plots.into_iter().collect()
}

fn by_eye(item: &Item<'_>) -> Option<StrategyKind> {
    let reader = item.table("by_eye")?;
    let enter = reader.need("enter_above", "0.9").and_then(|item| item.number(&bounds::SHARE));
    let leaving = reader.need("leave_below", "0.75");
    let leave = leaving.as_ref().and_then(|item| item.number(&bounds::SHARE));
    let days = |key, bound, otherwise| match reader.get(key) {
        Some(item) => item.quantity(&DAYS, bound),
        None => Some(otherwise),
    };
    let longest = days("longest_stay", &bounds::STAY_D, defaults::LONGEST_STAY_D);
    let shortest = days("shortest_rest", &bounds::REST_D, defaults::SHORTEST_REST_D);
    reader.finish();
    let (enter_above, leave_below) = (enter?, leave?);
    if leave_below > enter_above {
        let message = format!("leave_below {leave_below} is above enter_above {enter_above}");
        leaving?.fault(message, "Birds would leave as soon as they are in: enter above the higher one.");
        return None;
    }
    Some(StrategyKind::ByEye { enter_above, leave_below, longest_stay_days: longest?, shortest_rest_days: shortest? })
}

/// The strategy named, noted as named from here.
fn named(reading: &mut Reading<'_, '_>, item: &Item<'_>, from: usize) -> Option<usize> {
    let to = item.name_in("strategy", reading.names.iter().map(String::as_str))?;
    reading.references.push(Reference { from, to, span: item.span() });
    Some(to)
}

fn else_of(reading: &mut Reading<'_, '_>, reader: &Reader<'_>, from: usize) -> Option<usize> {
    let item = reader.need("else", "\"by-eye\"")?;
    named(reading, &item, from)
}

fn between_crops(reading: &mut Reading<'_, '_>, item: &Item<'_>, from: usize) -> Option<StrategyKind> {
    let reader = item.table("between_crops")?;
    let stay = reader.need("stay", "\"14 days\"").and_then(|item| item.quantity(&DAYS, &bounds::STAY_D));
    let otherwise = else_of(reading, &reader, from);
    reader.finish();
    Some(StrategyKind::BetweenCrops { stay_days: stay?, otherwise: otherwise? })
}

fn pest_date(reading: &mut Reading<'_, '_>, item: &Item<'_>, from: usize) -> Option<StrategyKind> {
    let reader = item.table("pest_date")?;
    let plot = reader.need("plot", "\"orchard\"").and_then(|item| reading.context.plot(&item));
    let species = reader.need("species", "\"plum sawfly\"");
    let pest = species.and_then(|item| reading.context.named(EntryKind::Pest, &item));
    let degree_days = |item: Item<'_>| item.quantity(&DEGREE_DAYS, &bounds::DEGREE_DAYS);
    let from_dd = reader.need("from", "\"-60 degree-days\"").and_then(degree_days);
    let until = reader.need("to", "\"120 degree-days\"");
    let to_dd = until.clone().and_then(degree_days);
    let otherwise = else_of(reading, &reader, from);
    reader.finish();
    let (from_dd, to_dd) = (from_dd?, to_dd?);
    if to_dd <= from_dd {
        until?
            .fault(format!("to {to_dd} is not after from {from_dd}"), "Degree-days count up: write the smaller first.");
        return None;
    }
    let window = PestWindow { plot: plot?, pest: pest?, from_dd, to_dd };
    Some(StrategyKind::PestDate { window, otherwise: otherwise? })
}

fn weather(reading: &mut Reading<'_, '_>, item: &Item<'_>, from: usize) -> Option<StrategyKind> {
    let reader = item.table("weather")?;
    let shade_above_c = reader.get("shade_above").and_then(|item| item.quantity(&TEMPERATURE_C, &bounds::WARM_C));
    let off_wet_ground = reader.get("off_wet_ground").and_then(|item| item.flag()).unwrap_or(false);
    if reader.get("shade_above").is_none() && !off_wet_ground {
        reader.fault("weather does nothing", "Add shade_above = \"27 C\" or off_wet_ground = true.");
    }
    let otherwise = else_of(reading, &reader, from);
    reader.finish();
    Some(StrategyKind::Weather { shade_above_c, off_wet_ground, otherwise: otherwise? })
}

fn dated_file(reading: &Reading<'_, '_>, item: &Item<'_>) -> Option<StrategyKind> {
    let reader = item.table("dated")?;
    let file = reader.need("file", "\"gates.csv\"");
    reader.finish();
    let openings = dated::read(reading.context, &file?, reading.companions)?;
    Some(StrategyKind::Dated { openings })
}

fn layered(reading: &mut Reading<'_, '_>, item: &Item<'_>, from: usize) -> Option<StrategyKind> {
    let list = item.list()?;
    if list.is_empty() {
        item.fault("layered names no strategy", "List them, the one that goes first at the front.");
        return None;
    }
    let layers: Vec<Option<usize>> = list.iter().map(|item| named(reading, item, from)).collect();
    if let Some(again) = (1..layers.len()).find(|&at| layers[at].is_some() && layers[..at].contains(&layers[at])) {
        let name = list[again].text().unwrap_or_default();
        list[again].fault(format!("layered names {name:?} twice, and asks it once"), "Take one of the two out.");
    }
    Some(StrategyKind::Layered { layers: layers.into_iter().collect::<Option<_>>()? })
}

/// Notes each reference that leads back to where it stands.
fn circles(reading: &Reading<'_, '_>, root: &Reader<'_>) {
    for reference in &reading.references {
        let Some(way) = way_back(reading, reference.to, reference.from) else { continue };
        let name = &reading.names[reference.from];
        let message = if way.len() == 1 {
            format!("strategy {name:?} names itself")
        } else {
            let steps: Vec<&str> = way.iter().map(|step| reading.names[*step].as_str()).collect();
            format!("strategy {name:?} comes back to itself: {name} -> {}", steps.join(" -> "))
        };
        root.page.error(reference.span.clone(), message, "Name a strategy that does not lead back here.");
    }
}

/// The steps from one strategy to another by references, both ends included.
fn way_back(reading: &Reading<'_, '_>, from: usize, to: usize) -> Option<Vec<usize>> {
    let mut came: Vec<Option<usize>> = vec![None; reading.names.len()];
    let mut open = vec![from];
    let mut seen = vec![false; reading.names.len()];
    seen[from] = true;
    while let Some(here) = open.pop() {
        if here == to {
            let mut way = vec![here];
            while let Some(before) = way.last().and_then(|step| came[*step]) {
                way.push(before);
            }
            way.reverse();
            return Some(way);
        }
        for next in reading.references.iter().filter(|reference| reference.from == here) {
            if !seen[next.to] {
                seen[next.to] = true;
                came[next.to] = Some(here);
                open.push(next.to);
            }
        }
    }
    None
}
