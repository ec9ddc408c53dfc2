//! Every number of a library as one list: name, value, range, unit, source, evidence,
//! and what it means. What a user can look up, and what the documents and tables show.

use super::climate_text::ROWS;
use super::{Entry, Evidence, Library, NamedClimate};
use sim_engine::parameters::Field;

/// Months as they stand in names.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Numbers in C that are differences: in degrees Fahrenheit they have no offset of 32.
const DIFFERENCES: &[&str] = &["dew_offset", "least_swing_c", "ageing_doubles"];

/// One number.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed<'l> {
    /// The kind of thing: a [`super::EntryKind::key`], or `climate`.
    pub kind: &'static str,
    /// The entry it belongs to.
    pub entry: &'l str,
    /// Its own name within the entry, for example `emergence` or `tmin_wet_c.january`.
    pub field: String,
    /// Unique name, for example `pest.plum sawfly.emergence`.
    pub name: String,
    /// Likely value.
    pub value: f64,
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
    /// Unit.
    pub unit: &'static str,
    /// Source.
    pub source: &'l str,
    /// Kind of evidence.
    pub evidence: Evidence,
    /// What it means, in a sentence.
    pub what: &'static str,
    /// Entry it was taken over from by `like`.
    pub taken_from: Option<&'l str>,
}

impl Listed<'_> {
    /// Whether it is a difference or a spread of temperatures, not a temperature.
    #[must_use]
    pub fn is_difference(&self) -> bool {
        DIFFERENCES.contains(&self.field.as_str()) || self.field.contains("_sd_c")
    }
}

/// Every number of the library: entries by kind and name, then climates.
#[must_use]
pub fn listed(library: &Library) -> Vec<Listed<'_>> {
    let entries = library.entries().flat_map(of_entry);
    entries.chain(library.climates().flat_map(|(name, climate)| of_climate(name, climate))).collect()
}

fn of_entry(entry: &Entry) -> impl Iterator<Item = Listed<'_>> {
    let fields: &'static [Field] = entry.kind.fields();
    fields.iter().zip(&entry.params).enumerate().map(move |(position, (field, number))| Listed {
        kind: entry.kind.key(),
        entry: &entry.name,
        field: field.name.to_owned(),
        name: entry.number_name(position),
        value: number.value,
        low: number.low,
        high: number.high,
        unit: field.unit,
        source: &number.source,
        evidence: number.evidence,
        what: field.what,
        taken_from: number.taken_from.as_deref(),
    })
}

/// A climate's numbers. A climate is one made-up place, not a guess at a real one: it has
/// no range, years differ by the generator's luck.
fn of_climate<'l>(name: &'l str, named: &'l NamedClimate) -> Vec<Listed<'l>> {
    let origin = (named.source.as_str(), named.evidence);
    let ab_origin = named.ab_origin.as_ref().map_or(origin, |(source, evidence)| (source.as_str(), *evidence));
    let one = |field: String, value: f64, unit: &'static str, what: &'static str, (source, evidence)| Listed {
        kind: "climate",
        entry: name,
        name: format!("climate.{name}.{field}"),
        field,
        value,
        low: value,
        high: value,
        unit,
        source,
        evidence,
        what,
        taken_from: None,
    };
    let mut all = Vec::new();
    for row in ROWS {
        for (month, said) in named.climate.months.iter().zip(MONTHS) {
            all.push(one(format!("{}.{said}", row.key), (row.value)(month), row.unit, row.what, origin));
        }
    }
    for (key, matrix, what) in [("a", named.climate.a, CARRY), ("b", named.climate.b, CHANCE)] {
        for (row, values) in matrix.iter().enumerate() {
            for (column, value) in values.iter().enumerate() {
                all.push(one(format!("{key}.{}.{}", row + 1, column + 1), *value, "-", what, ab_origin));
            }
        }
    }
    let climate = &named.climate;
    all.push(one("wet_threshold_mm".into(), climate.wet_threshold_mm, "mm", "Rain from which a day is wet.", origin));
    all.push(one(
        "least_swing_c".into(),
        climate.least_swing_c,
        "C",
        "Least difference of the day's extremes.",
        origin,
    ));
    all
}

const CARRY: &str = "Carry-over of yesterday's departure to today's; rows and columns: lowest, highest temperature.";
const CHANCE: &str = "Share of chance in today's departure; rows and columns: lowest, highest temperature.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_every_number_of_every_entry_is_there() {
        let library = Library::shipped().unwrap();
        let all = listed(&library);
        let mut names: Vec<&str> = all.iter().map(|number| number.name.as_str()).collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count);
        let of_entries: usize = library.entries().map(|entry| entry.params.len()).sum();
        // Twelve rows of twelve months, two matrices of four, two single figures.
        assert_eq!(count, of_entries + library.climates().count() * (12 * 12 + 8 + 2));
    }

    #[test]
    fn differences_are_told_from_temperatures() {
        let library = Library::shipped().unwrap();
        let difference = |name: &str| listed(&library).iter().find(|n| n.name == name).unwrap().is_difference();
        assert!(difference("process.dew_offset"));
        assert!(difference("climate.continental.tmin_wet_sd_c.may"));
        assert!(!difference("climate.continental.tmin_wet_c.may"));
        assert!(!difference("pest.apple sawfly.base_temperature"));
    }
}
