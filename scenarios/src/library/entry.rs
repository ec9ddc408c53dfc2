//! Reads entries, and fills what one does not state from the entry it is `like`.

use super::params;
use super::{AGAINST, Entry, EntryFacts, EntryKind, Library, Number};
use crate::nearest::did_you_mean;
use crate::orders::{Drawn, broken};
use crate::reader::{Item, Reader};
use sim_engine::orders::Order;
use sim_engine::parameters::Field;
use sim_engine::species::{Host, Thermometer};

/// An entry as written, before `like` is followed.
struct Draft<'r> {
    kind: EntryKind,
    item: Item<'r>,
    like: Option<Item<'r>>,
    about: Option<String>,
    also: Vec<String>,
    ask: Vec<(String, String)>,
    facts: EntryFacts,
    params: Vec<Option<Number>>,
}

/// Reads all entries of a table whose keys are kinds. `base` is where `like` may
/// also point. Each number states its range, unit, source and evidence.
pub fn read_entries(root: &Reader<'_>, base: &Library) -> Vec<Entry> {
    let mut drafts = Vec::new();
    for kind in EntryKind::ALL.iter().copied() {
        if let Some(table) = root.table(kind.key()) {
            drafts.extend(table.entries().into_iter().filter_map(|item| draft(kind, item)));
        }
    }
    let entries = (0..drafts.len()).filter_map(|position| resolve(&drafts, position, base));
    entries.collect()
}

fn draft(kind: EntryKind, item: Item<'_>) -> Option<Draft<'_>> {
    item.key_is_name(kind.plain());
    let reader = item.table(format!("{} {:?}", kind.plain(), item.key))?;
    let about = reader.get("about").and_then(|item| item.text()).map(str::to_owned);
    let like = reader.get("like");
    let also = reader.get("also").and_then(|item| item.list()).unwrap_or_default();
    let also = also.iter().filter_map(|name| name.text().map(str::to_owned)).collect();
    let ask = reader.table("ask").map(asked).unwrap_or_default();
    let facts = facts(kind, &reader);
    let params = match reader.table("numbers") {
        Some(table) => read_numbers(kind, table),
        None => vec![None; kind.fields().len()],
    };
    reader.finish();
    Some(Draft { kind, item, like, about, also, ask, facts, params })
}

/// Names that must be asked back, and what this entry is.
fn asked(table: Reader<'_>) -> Vec<(String, String)> {
    let names = table.entries().into_iter();
    names.filter_map(|item| Some((item.key.clone(), item.text()?.to_owned()))).collect()
}

fn read_numbers(kind: EntryKind, table: Reader<'_>) -> Vec<Option<Number>> {
    let read = |field: &'static Field| table.get(field.name).and_then(|item| params::read(&item, field, kind.fields()));
    let params = kind.fields().iter().map(read).collect();
    table.finish();
    params
}

fn facts(kind: EntryKind, reader: &Reader<'_>) -> EntryFacts {
    let mut facts = EntryFacts::default();
    let flag = |key| reader.get(key).and_then(|item| item.flag());
    match kind {
        EntryKind::Pest => {
            let words = [("air", Thermometer::Air), ("soil", Thermometer::Soil)];
            facts.thermometer = reader.get("thermometer").and_then(|item| item.choice(&words));
            facts.host = reader.get("host").and_then(|item| host(&item));
            facts.fruit = reader.get("fruit").and_then(|item| texts(&item));
            facts.larvae_in_turf = flag("larvae_in_turf");
        }
        EntryKind::Crop => {
            facts.family = reader.get("family").and_then(|item| item.text()).map(str::to_owned);
            facts.touches_soil = flag("touches_soil");
        }
        EntryKind::Canopy => facts.evergreen = flag("evergreen"),
        _ => {}
    }
    facts
}

fn host(item: &Item<'_>) -> Option<Host> {
    if item.value().as_str() == Some("canopy") {
        return Some(Host::Canopy);
    }
    texts(item).map(Host::Crops)
}

fn texts(item: &Item<'_>) -> Option<Vec<String>> {
    item.list()?.iter().map(|text| text.text().map(str::to_owned)).collect()
}

/// The entry with what it does not state taken from those it is like.
fn resolve(drafts: &[Draft<'_>], position: usize, base: &Library) -> Option<Entry> {
    let draft = drafts.get(position)?;
    let mut facts = draft.facts.clone();
    let mut params = draft.params.clone();
    let mut seen = vec![position];
    let mut like = draft.like.clone();
    while let Some(item) = like.take() {
        let name = item.text()?;
        let here = drafts.iter().position(|other| other.kind == draft.kind && other.item.key == name);
        if let Some(next) = here.filter(|next| !seen.contains(next) && *next != position) {
            seen.push(next);
            fill(&mut facts, &mut params, name, &drafts[next].facts, drafts[next].params.iter().cloned());
            like = drafts[next].like.clone();
        } else if let Some(entry) = base.get(draft.kind, name) {
            fill(&mut facts, &mut params, name, &entry.facts, entry.params.iter().cloned().map(Some));
        } else {
            unknown_like(&item, draft.kind, name, here.is_some(), drafts, base);
            return None;
        }
    }
    finished(draft, facts, params)
}

fn unknown_like(item: &Item<'_>, kind: EntryKind, name: &str, circle: bool, drafts: &[Draft<'_>], base: &Library) {
    if circle {
        item.fault(format!("{name:?} is like itself, in a circle"), "Take away one \"like\".");
        return;
    }
    let here = drafts.iter().filter(|other| other.kind == kind).map(|other| other.item.key.as_str());
    let names: Vec<&str> = here.chain(base.names(kind)).collect();
    item.fault(format!("there is no {} {name:?}", kind.plain()), did_you_mean(name, names));
}

fn fill(
    facts: &mut EntryFacts,
    params: &mut [Option<Number>],
    name: &str,
    from: &EntryFacts,
    from_numbers: impl Iterator<Item = Option<Number>>,
) {
    facts.thermometer = facts.thermometer.or(from.thermometer);
    facts.host = facts.host.take().or_else(|| from.host.clone());
    facts.larvae_in_turf = facts.larvae_in_turf.or(from.larvae_in_turf);
    facts.family = facts.family.take().or_else(|| from.family.clone());
    facts.touches_soil = facts.touches_soil.or(from.touches_soil);
    facts.evergreen = facts.evergreen.or(from.evergreen);
    for (number, other) in params.iter_mut().zip(from_numbers) {
        if number.is_none() {
            *number = other.map(|other| Number { taken_from: other.taken_from.or(Some(name.to_owned())), ..other });
        }
    }
}

fn finished(draft: &Draft<'_>, facts: EntryFacts, params: Vec<Option<Number>>) -> Option<Entry> {
    let kind = draft.kind;
    let fields = kind.fields().iter();
    let missing: Vec<&str> = fields.zip(&params).filter(|(_, n)| n.is_none()).map(|(f, _)| f.name).collect();
    let what = format!("{} {:?}", kind.plain(), draft.item.key);
    if !missing.is_empty() {
        let remedy = format!("Add them, or write like = \"…\" to take them from another {}.", kind.plain());
        draft.item.fault(format!("{what} lacks numbers: {}", missing.join(", ")), remedy);
        return None;
    }
    if let Some((key, example)) = missing_fact(kind, &facts) {
        draft.item.fault(format!("{what} has no {key:?}"), format!("Add a line, for example: {key} = {example}"));
        return None;
    }
    let about = draft.about.clone().unwrap_or_default();
    let params: Vec<Number> = params.into_iter().flatten().collect();
    if let Some(said) = out_of_order(kind, &params) {
        draft.item.fault(format!("{what}: {said}"), super::IN_ORDER);
        return None;
    }
    let (name, also, ask) = (draft.item.key.clone(), draft.also.clone(), draft.ask.clone());
    Some(Entry { kind, name, about, also, ask, facts, params })
}

/// In words, numbers of an entry that a draw can put out of order.
fn out_of_order(kind: EntryKind, params: &[Number]) -> Option<String> {
    let find = |name: &str| kind.fields().iter().zip(params).find(|(field, _)| field.name == name);
    let pair = |order: &Order| {
        let (below, above) = (drawn(find(order.below)?), drawn(find(order.above)?));
        broken(*order, &below, &above)
    };
    kind.orders().iter().find_map(pair)
}

fn drawn<'n>((field, number): (&'n Field, &'n Number)) -> Drawn<'n> {
    let tie = number.tie.as_deref().unwrap_or(field.name);
    let of = tie.strip_prefix(AGAINST);
    let range = (number.low, number.value, number.high);
    Drawn { name: field.name, range, tie: of.unwrap_or(tie), against: of.is_some() }
}

fn missing_fact(kind: EntryKind, facts: &EntryFacts) -> Option<(&'static str, &'static str)> {
    match kind {
        EntryKind::Pest if facts.thermometer.is_none() => Some(("thermometer", "\"soil\"")),
        EntryKind::Pest if facts.host.is_none() => Some(("host", "\"canopy\"")),
        EntryKind::Crop if facts.family.is_none() => Some(("family", "\"cabbage family\"")),
        EntryKind::Crop if facts.touches_soil.is_none() => Some(("touches_soil", "true")),
        _ => None,
    }
}
