//! The library in words for the terminal.

use super::count::{Count, count, from_memory, things};
use super::found::{FoundEntry, THINGS, about};
use super::{months, printed, waiting_rules};
use crate::table::{TextColumn, TextTable, WIDTH, indented, wrap};
use crate::units::Units;
use crate::wording::{capital, percent};
use scenarios::Library;
use scenarios::library::{EntryKind, Evidence, Hazard, Listed};
use sim_engine::species::{Host, Thermometer};

/// Names from memory that are listed below what was found; more are only counted.
const MOST_LISTED: usize = 60;

/// More numbers than one line of a climate has: the climate as a whole was asked for.
const A_WHOLE_CLIMATE: usize = 12;

/// All there is: counts by kind of thing and evidence, names, and what rests on memory.
#[must_use]
pub fn overview(library: &Library) -> String {
    let found = FoundEntry::all(library);
    let mut out = counts(&found);
    out += &said(&memory_share(&found), "");
    for (_, many, names) in things(&found) {
        out += &said(&format!("{}: {}.", capital(many), names.join(", ")), "");
    }
    let plants: Vec<&str> = library.hazards().iter().map(|hazard| hazard.plant.as_str()).collect();
    out += &said(
        &format!("Plants that can harm birds: {}. One that is missing is unknown, not harmless.", plants.join("; ")),
        "",
    );
    let countries: Vec<&str> = library.waiting_rules().iter().map(|rule| rule.country.as_str()).collect();
    out += &said(&format!("Waiting rules of countries: {}.", countries.join(", ")), "");
    out + &said(
        "To look one up: hensward sources onion fly. What is known in one way only: hensward sources --kind paper.",
        "",
    )
}

fn counts(found: &FoundEntry<'_>) -> String {
    let heads = ["paper", "hand-\nbook", "rule", "common\npractice", "from\nmemory", "cali-\nbrated", "in-\nvented"];
    let mut columns =
        vec![(TextColumn::Words, ""), (TextColumn::Numbers, "entries"), (TextColumn::Numbers, "num-\nbers")];
    columns.extend(heads.iter().map(|head| (TextColumn::Numbers, *head)));
    let mut table = TextTable::new(&columns);
    for (key, many, names) in things(found) {
        table.row(row(many, names.len(), &count(found, Some(key))));
    }
    table.row(row("together", found.entries().len(), &count(found, None)));
    table.text()
}

fn row(name: &str, entries: usize, counts: &[Count]) -> Vec<String> {
    let all: usize = counts.iter().map(|count| count.params).sum();
    let cells = counts.iter().map(|count| if count.params == 0 { String::new() } else { count.params.to_string() });
    [name.to_owned(), entries.to_string(), all.to_string()].into_iter().chain(cells).collect()
}

fn memory_share(found: &FoundEntry<'_>) -> String {
    let (memory, of) = from_memory(found);
    let stated = memory.iter().filter(|number| number.taken_from.is_none()).count();
    format!(
        "Of the {of} numbers about the world, {} ({}) rest on memory alone; {stated} of these are stated by the entry itself, the others taken over from another entry. To list them: hensward sources --kind \"from memory\".",
        memory.len(),
        share_of(memory.len(), of)
    )
}

/// Names of numbers, entry by entry, those stated by the entry itself.
#[must_use]
pub fn by_entry(found: &FoundEntry<'_>) -> String {
    let mut out = String::new();
    for (kind, entry) in found.entries() {
        let of_entry = found.params.iter().filter(|number| (number.kind, number.entry) == (kind, entry));
        let mut fields: Vec<&str> =
            of_entry.filter(|number| number.taken_from.is_none()).map(|number| row_name(number)).collect();
        fields.dedup();
        if !fields.is_empty() {
            out += &said(&format!("{kind}.{entry}: {}", fields.join(", ")), "");
        }
    }
    let stated = found.params.iter().filter(|number| number.taken_from.is_none()).count();
    let all = found.params.len();
    out + &said(
        &format!("{all} numbers: {stated} stated here, {} taken over from another entry by \"like\".", all - stated),
        "",
    )
}

/// A climate's twelve months go under one name.
fn row_name<'n>(number: &'n Listed<'_>) -> &'n str {
    if number.kind == "climate" { number.field.split('.').next().unwrap_or_default() } else { &number.field }
}

/// Everything about what was found.
#[must_use]
pub fn details(library: &Library, found: &FoundEntry<'_>, units: Units) -> String {
    let mut out = String::new();
    for (kind, entry) in found.entries() {
        let params: Vec<&Listed<'_>> =
            found.params.iter().filter(|number| (number.kind, number.entry) == (kind, entry)).collect();
        out += &heading(library, kind, entry);
        let climate = library.climate(entry).filter(|_| kind == "climate" && params.len() > A_WHOLE_CLIMATE);
        match climate {
            Some(named) => out += &months::table(named, params.len(), units),
            None => params.iter().for_each(|number| out += &one(number, units)),
        }
    }
    found.hazards.iter().for_each(|hazard| out += &plant(hazard));
    if !found.hazards.is_empty() {
        out += &caution(library);
    }
    if !found.waiting_rules.is_empty() {
        out += &said(waiting_rules::BEFORE, "");
    }
    for rule in &found.waiting_rules {
        let (heading, lines) = waiting_rules::told(rule);
        out += &said(&heading, "");
        lines.iter().for_each(|line| out += &indented(line, 2));
    }
    if !found.params.is_empty() {
        out += &known(found);
    }
    out
}

fn heading(library: &Library, kind: &str, entry: &str) -> String {
    let plain = THINGS.iter().find(|(key, ..)| *key == kind).map_or(kind, |(_, one, _)| *one);
    let mut out = said(&format!("{entry} ({plain})"), "");
    out += &indented(about(library, kind, entry), 2);
    let of = EntryKind::ALL.iter().find(|of| of.key() == kind).and_then(|kind| library.get(*kind, entry));
    if let Some(facts) = of.map(facts).filter(|facts| !facts.is_empty()) {
        out += &indented(&facts, 2);
    }
    out
}

/// What an entry says that is not a number.
pub(super) fn facts(entry: &scenarios::library::Entry) -> String {
    let facts = &entry.facts;
    let also = (!entry.also.is_empty()).then(|| format!("Also called: {}.", entry.also.join(", ")));
    let asked: Vec<String> = entry.ask.iter().map(|(name, what)| format!("{name:?}: {what}")).collect();
    let asked = (!asked.is_empty()).then(|| format!("Asked back: {}.", asked.join("; ")));
    let larvae = facts.larvae_in_turf.filter(|turf| *turf).map(|_| "Its grubs live in turf, of lawns too.".to_owned());
    let host = match &facts.host {
        Some(Host::Canopy) => Some(match &facts.fruit {
            Some(fruit) => format!("Lives on {} (from memory).", fruit.join(", ")),
            None => "Lives on the plot's trees, bushes or canes.".to_owned(),
        }),
        Some(Host::Crops(families)) => Some(format!("Lives on crops of the {}.", families.join(", "))),
        None => None,
    };
    let thermometer = facts.thermometer.map(|thermometer| match thermometer {
        Thermometer::Air => "Its degree-days are those of the air.".to_owned(),
        Thermometer::Soil => "Its degree-days are those of the soil at 5 cm.".to_owned(),
    });
    let family = facts.family.as_ref().map(|family| format!("Of the {family}."));
    let touches = facts.touches_soil.map(|touches| {
        let which = if touches { "touches the soil: the longer" } else { "does not touch the soil: the shorter" };
        format!("The edible part {which} waiting period before harvest.")
    });
    let evergreen = facts.evergreen.filter(|evergreen| *evergreen).map(|_| "Keeps its leaves all year.".to_owned());
    [also, asked, host, larvae, thermometer, family, touches, evergreen]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ")
}

fn one(number: &Listed<'_>, units: Units) -> String {
    let ([value, low, high], unit) = printed(number, units);
    let unit = if unit == "-" || unit == "1" { String::new() } else { format!(" {unit}") };
    let range = if low == high { "no range".to_owned() } else { format!("{low} to {high}") };
    let mut out = indented(&format!("{}: {value}{unit} ({range}); {}", number.field, number.evidence.word()), 2);
    out += &indented(number.what, 6);
    let over = number.taken_from.map(|from| format!(" (taken over from {from})")).unwrap_or_default();
    out + &indented(&format!("Source: {}{over}", number.source), 6)
}

fn plant(hazard: &Hazard) -> String {
    let mut out = said(&format!("{} (plant that can harm birds)", hazard.plant), "");
    out += &indented(&format!("What harms: {}.", hazard.part), 2);
    if !hazard.note.is_empty() {
        out += &indented(&hazard.note, 2);
    }
    out + &indented(&format!("Source: {} ({})", hazard.source, hazard.class), 2)
}

/// What must be said wherever harmful plants are listed.
pub(super) fn caution(library: &Library) -> String {
    let mut text = "A plant that is not listed is unknown, not harmless. Ask a vet where a bird is ill.".to_owned();
    if let Some(view) = library.moderating_view() {
        text += &format!(" On the other side: {} ({}).", view.note.trim_end_matches('.'), view.class);
    }
    said(&text, "")
}

/// How well what was found is known, and what rests on memory.
fn known(found: &FoundEntry<'_>) -> String {
    let some = count(found, None).into_iter().filter(|count| count.params > 0);
    let counts: Vec<String> = some.map(|count| format!("{} {}", count.params, count.evidence.word())).collect();
    let all = found.params.len();
    let noun = if all == 1 { "number" } else { "numbers" };
    let mut text = format!("{all} {noun}: {}.", counts.join(", "));
    let (memory, of) = from_memory(found);
    if !memory.is_empty() {
        text += &format!(" {} of {of} ({}) rest on memory alone", memory.len(), share_of(memory.len(), of));
        text += &match memory.len() {
            few if few <= MOST_LISTED => {
                let many = found.entries().len() > 1;
                let name = |number: &&Listed<'_>| if many { number.name.clone() } else { number.field.clone() };
                format!(": {}.", memory.iter().map(name).collect::<Vec<_>>().join(", "))
            }
            _ => ".".to_owned(),
        };
    }
    said(&text, "")
}

pub(super) fn share_of(part: usize, of: usize) -> String {
    percent(if of == 0 { 0.0 } else { 100.0 * part as f64 / of as f64 })
}

/// A paragraph after an empty line.
fn said(text: &str, before: &str) -> String {
    format!("\n{}", wrap(&format!("{before}{text}"), WIDTH).join("\n")) + "\n"
}

/// Evidence in a keeper's words.
pub(super) fn evidence_meaning(evidence: Evidence) -> &'static str {
    match evidence {
        Evidence::Paper => "read in a published study or its abstract",
        Evidence::Handbook => "read in a handbook, an agency's or a garden page; the source says which",
        Evidence::Regulation => "fixed by a rule",
        Evidence::CommonPractice => "what keepers do; no source",
        Evidence::FromMemory => "remembered, not looked up",
        Evidence::Calibrated => "set by hand so that the whole model shows known patterns, or fitted to a station",
        Evidence::Invented => "made up for an invented place",
    }
}
