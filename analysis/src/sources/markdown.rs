//! The library as a page of tables.

use super::count::{count, from_memory, things};
use super::found::{FoundEntry, about};
use super::months;
use super::waiting_rules;
use super::words::{caution, evidence_meaning, facts, share_of};
use crate::units::Units;
use crate::wording::capital;
use scenarios::Library;
use scenarios::library::{EntryKind, Listed};
use sim_engine::parameters::Field;

/// What the page is, and how to read it.
const HEAD: &str = "# What the library says

Printed by `hensward sources --markdown` from the data in `scenarios/library/`.

Each number has a likely value, a least and a most, a unit, a source, and a word on how well
it is known. An entry's table holds the numbers it states itself; the rest it takes over from
the entry it is like. Days are counted from the winter solstice, so that one entry serves both
hemispheres; degree-days (`C d`) count from the day an entry names, above its own base.
";

/// The page.
#[must_use]
pub fn markdown(library: &Library) -> String {
    let found = FoundEntry::all(library);
    let mut out = HEAD.to_owned();
    out += &evidence(&found);
    for (key, many, names) in things(&found) {
        out += &format!("\n## {}\n", capital(many));
        match EntryKind::ALL.iter().find(|kind| kind.key() == key) {
            Some(kind) => out += &of_kind(library, &found, *kind, &names),
            None => names.iter().for_each(|name| out += &climate(library, name)),
        }
    }
    out + &harmful(library) + &waits(library) + &homes(library)
}

fn evidence(found: &FoundEntry<'_>) -> String {
    let mut out =
        "\n## How well it is known\n\n| kind | numbers | stated by the entry itself | means |\n|---|---|---|---|\n"
            .to_owned();
    for count in count(found, None) {
        let word = count.evidence.word();
        out += &row(&[word, &count.params.to_string(), &count.stated.to_string(), evidence_meaning(count.evidence)]);
    }
    let (memory, of) = from_memory(found);
    out + &format!(
        "\nOf the {of} numbers that are not of an invented climate, {} ({}) rest on memory alone.\n",
        memory.len(),
        share_of(memory.len(), of)
    )
}

fn of_kind(library: &Library, found: &FoundEntry<'_>, kind: EntryKind, names: &[&str]) -> String {
    let mut out = String::new();
    if kind != EntryKind::Process {
        out += &meanings(kind.fields());
    }
    for name in names {
        let of_entry: Vec<&Listed<'_>> =
            found.params.iter().filter(|number| (number.kind, number.entry) == (kind.key(), *name)).collect();
        let facts = library.get(kind, name).map(facts).unwrap_or_default();
        out += &format!("\n### {name}\n\n{}", about(library, kind.key(), name));
        out += &if facts.is_empty() { String::new() } else { format!(" {facts}") };
        out += &taken_over(&of_entry);
        out += &params(&of_entry, kind == EntryKind::Process);
    }
    out
}

fn meanings(fields: &[Field]) -> String {
    let mut out = "\n| number | unit | means |\n|---|---|---|\n".to_owned();
    fields.iter().for_each(|field| out += &row(&[&code(field.name), field.unit, field.what]));
    out
}

/// " The rest as *apple sawfly*."
fn taken_over(params: &[&Listed<'_>]) -> String {
    let mut from: Vec<&str> = Vec::new();
    for name in params.iter().filter_map(|number| number.taken_from) {
        if !from.contains(&name) {
            from.push(name);
        }
    }
    if from.is_empty() { String::new() } else { format!(" The rest as *{}*.", from.join("*, then *")) }
}

fn params(params: &[&Listed<'_>], with_meaning: bool) -> String {
    let meaning = if with_meaning { ("means | ", "---|") } else { ("", "") };
    let mut out = format!(
        "\n\n| number | value | least | most | unit | kind | {}source |\n|---|---|---|---|---|---|{}---|\n",
        meaning.0, meaning.1
    );
    for number in params.iter().filter(|number| number.taken_from.is_none()) {
        let figures = [number.value, number.low, number.high].map(|figure| figure.to_string());
        let name = code(&number.field);
        let mut cells = vec![name.as_str(), &figures[0], &figures[1], &figures[2], number.unit, number.evidence.word()];
        if with_meaning {
            cells.push(number.what);
        }
        cells.push(number.source);
        out += &row(&cells);
    }
    out
}

/// Twelve months of a climate, the figures a reader can picture.
fn climate(library: &Library, name: &str) -> String {
    let Some(named) = library.climate(name) else { return String::new() };
    let mut out = format!("\n### {name}\n\n{} {}", named.about, months::origin(named));
    out += "\n\n| month | chance of rain after a wet day | after a dry day | rain on a wet day, mm | lowest, wet days, C | highest | lowest, dry days, C | highest |\n|---|---|---|---|---|---|---|---|\n";
    for (at, month) in sim_engine::weather::MONTH_NAMES.iter().enumerate() {
        let cells = months::cells(named, at, Units::Metric);
        let cells: Vec<&str> = std::iter::once(*month).chain(cells.iter().map(String::as_str)).collect();
        out += &row(&cells);
    }
    out
}

fn harmful(library: &Library) -> String {
    let mut out = format!("\n## Plants that can harm birds\n{}", caution(library));
    out += "\n| plant | what harms | class of source | source | else |\n|---|---|---|---|---|\n";
    for hazard in library.hazards() {
        out += &row(&[&hazard.plant, &hazard.part, &hazard.class, &hazard.source, &hazard.note]);
    }
    out
}

fn waits(library: &Library) -> String {
    let mut out = format!("\n## Waiting rules of countries\n{}\n\n", waiting_rules::BEFORE);
    out += "| country | also | rule | clause | days | binds | source | known |\n|---|---|---|---|---|---|---|---|\n";
    for rule in library.waiting_rules() {
        let (also, days) = (rule.also.join(", "), waiting_rules::days(rule));
        out += &row(&[&rule.country, &also, &rule.rule, &rule.clause, &days, &rule.binds, &rule.source, &rule.status]);
    }
    out
}

fn homes(library: &Library) -> String {
    let mut out = "\n## Where pests and slugs are known to live\nClimates of this library; one that is missing is not known to hold the pest.\n\n".to_owned();
    out += "| pest | climates | source | reported of unprotected plantings, % | source |\n|---|---|---|---|---|\n";
    for known in library.pest_climates() {
        let [low, high] = known.damage_percent;
        let damage = format!("{low} to {high}");
        out += &row(&[&known.pest, &known.climates.join(", "), &known.source, &damage, &known.damage_source]);
    }
    out += "\n| slug or snail | climates | source | counted on untouched ground, per m2 | source |\n|---|---|---|---|---|\n";
    for known in library.slug_climates() {
        let [low, high] = known.untouched_m2;
        let number = format!("{low} to {high}");
        out += &row(&[&known.slug, &known.climates.join(", "), &known.source, &number, &known.untouched_source]);
    }
    out
}

fn code(name: &str) -> String {
    format!("`{name}`")
}

/// A row of a table; a bar within a cell would end it.
fn row(cells: &[&str]) -> String {
    let cells: Vec<String> = cells.iter().map(|cell| cell.replace('|', "\\|")).collect();
    format!("| {} |\n", cells.join(" | "))
}
