//! Writes an entry in the library's form, whole: nothing is left to `like`, so that it
//! reads back the same in a site file under `[library.pest."name"]`.
//!
//! Quoting is `toml_writer`'s, the writer within `toml`; lines are laid out here. The serializer
//! of `toml` would give every number a table of its own, seven lines for one, and write 20 as
//! 20.0. `toml_edit` can keep a number on its line, but brings four crates and leaves the quotes
//! of a name out where it can: what was exported before would come out otherwise.

use super::{Entry, EntryFacts, Number};
use sim_engine::parameters::Field;
use sim_engine::species::{Host, Thermometer};
use std::fmt::Write;
use toml_writer::{ToTomlValue, TomlStringBuilder};

/// The entry as TOML under `[TABLE.kind."name"]`, for example with `library` as table;
/// numbers keep every digit.
#[must_use]
pub fn entry_text(table: &str, entry: &Entry) -> String {
    let head = format!("{table}.{}.{}", entry.kind.key(), quoted(&entry.name));
    let mut text = format!("[{head}]\nabout = {}\n", quoted(&entry.about));
    if !entry.also.is_empty() {
        let also: Vec<String> = entry.also.iter().map(|name| quoted(name)).collect();
        let _ = writeln!(text, "also = [{}]", also.join(", "));
    }
    if !entry.ask.is_empty() {
        let ask: Vec<String> =
            entry.ask.iter().map(|(name, what)| format!("{} = {}", quoted(name), quoted(what))).collect();
        let _ = writeln!(text, "ask = {{ {} }}", ask.join(", "));
    }
    facts(&mut text, &entry.facts);
    let _ = writeln!(text, "[{head}.numbers]");
    for (field, number) in entry.kind.fields().iter().zip(&entry.params) {
        line(&mut text, field, number);
    }
    text
}

fn facts(text: &mut String, facts: &EntryFacts) {
    if let Some(thermometer) = facts.thermometer {
        let _ = writeln!(text, "thermometer = \"{}\"", if thermometer == Thermometer::Air { "air" } else { "soil" });
    }
    match &facts.host {
        Some(Host::Canopy) => text.push_str("host = \"canopy\"\n"),
        Some(Host::Crops(families)) => {
            let _ = writeln!(text, "host = {}", list(families));
        }
        None => {}
    }
    if let Some(fruit) = &facts.fruit {
        let _ = writeln!(text, "fruit = {}", list(fruit));
    }
    if let Some(family) = &facts.family {
        let _ = writeln!(text, "family = {}", quoted(family));
    }
    for (key, flag) in
        [("larvae_in_turf", facts.larvae_in_turf), ("touches_soil", facts.touches_soil), ("evergreen", facts.evergreen)]
    {
        if let Some(flag) = flag {
            let _ = writeln!(text, "{key} = {flag}");
        }
    }
}

fn list(texts: &[String]) -> String {
    format!("[{}]", texts.iter().map(|text| quoted(text)).collect::<Vec<_>>().join(", "))
}

fn line(text: &mut String, field: &Field, number: &Number) {
    let _ = write!(
        text,
        "{} = {{ value = {}, low = {}, high = {}, unit = {}, source = {}, kind = \"{}\"",
        field.name,
        number.value,
        number.low,
        number.high,
        quoted(field.unit),
        quoted(&number.source),
        number.evidence.word()
    );
    if let Some(tie) = &number.tie {
        let _ = write!(text, ", tie = {}", quoted(tie));
    }
    text.push_str(" }\n");
}

/// Text as a basic string of TOML.
pub(super) fn quoted(text: &str) -> String {
    TomlStringBuilder::new(text).as_basic().to_toml_value()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{Library, Number};

    #[test]
    fn every_entry_reads_back_the_same_and_needs_no_other() {
        for entry in Library::shipped().unwrap().entries() {
            let text = entry_text("library", entry).replace("[library.", "[");
            let again = Library::from_text("again.toml", &text).unwrap();
            let stated = |number: &Number| Number { taken_from: None, ..number.clone() };
            let wanted = Entry { params: entry.params.iter().map(stated).collect(), ..entry.clone() };
            assert_eq!(again.get(entry.kind, &entry.name), Some(&wanted));
        }
    }

    #[test]
    fn what_would_end_a_string_is_escaped() {
        assert_eq!(quoted("a \"b\" \\ c\n"), r#""a \"b\" \\ c\n""#);
    }
}
