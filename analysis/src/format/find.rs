//! Looks up what a word means in the format of a site file.

use scenarios::nearest::{did_you_mean, singular};
use scenarios::site_file::format::SITE;
use scenarios::table_format::{KeyFormat, Kind, TableFormat, Taken};

/// A table and what of it was found.
#[derive(Clone, Debug)]
pub struct FoundTable {
    /// The table.
    pub table: &'static TableFormat,
    /// The table it stands in; the site file stands in itself.
    pub parent: &'static TableFormat,
    /// Keys found; all, where the table was.
    pub keys: Vec<&'static KeyFormat>,
    /// Whether the table was found, and not only some of its keys.
    pub whole: bool,
}

/// Every table with all its keys.
#[must_use]
pub fn everything() -> Vec<FoundTable> {
    below(&SITE, &SITE)
}

fn below(table: &'static TableFormat, parent: &'static TableFormat) -> Vec<FoundTable> {
    let here = FoundTable { table, parent, keys: table.keys.iter().collect(), whole: true };
    let kinds = table.keys.iter().map(|key| &key.kind);
    let deeper = kinds.filter_map(Kind::below).flat_map(|inner| below(inner, table));
    std::iter::once(here).chain(deeper).collect()
}

/// Looks a word up. What it names as a whole comes first: tables and keys; then whole words of what is said of them, then parts.
///
/// # Errors
/// Nothing has it; what was meant, perhaps.
pub fn find(word: &str) -> Result<Vec<FoundTable>, String> {
    let word = word.trim().to_lowercase();
    let whole = |said: &str| words_of(said).any(|part| singular(part) == singular(&word)) || has_phrase(said, &word);
    let part = |said: &str| said.contains(&word);
    let found = [named(&word), mentioned(&whole), mentioned(&part)];
    match found.into_iter().find(|found| !word.is_empty() && !found.is_empty()) {
        Some(found) => Ok(found),
        None => Err(instead(&word)),
    }
}

fn instead(word: &str) -> String {
    let names: Vec<String> = everything().iter().flat_map(|found| names(found.table, &found.keys)).collect();
    let near = did_you_mean(word, names.iter().map(String::as_str));
    let near = if near.starts_with("Did") { near + " " } else { String::new() };
    format!("{near}To see every table there is: hensward format")
}

/// Names a table goes by, without its brackets: `plot`, `plot.crop` and `crop`, `plot.guards` and `guards`.
fn names_of(table: &TableFormat) -> Vec<String> {
    let heading = table.heading.to_lowercase();
    let bare = heading.replace(".name]", "]").replace(".name.", ".").replace(".\"name\"", "").replace(".kind", "");
    let bare = bare.replace("]] ", ".").replace("] ", ".").replace(['[', ']'], "");
    let last = bare.rsplit('.').next().unwrap_or_default().to_owned();
    vec![heading, bare, last]
}

/// Everything that can be asked for by name.
fn names(table: &TableFormat, keys: &[&KeyFormat]) -> Vec<String> {
    let keys = keys.iter().map(|key| key.key.to_owned());
    names_of(table).into_iter().skip(1).chain(keys).chain(known(table).into_iter().map(str::to_owned)).collect()
}

fn known(table: &TableFormat) -> Vec<&'static str> {
    table.rest.and_then(|rest| rest.known).map(|known| known()).unwrap_or_default()
}

/// Tables and keys of this name.
fn named(word: &str) -> Vec<FoundTable> {
    let one = singular(word);
    let is = |name: &str| name == word || singular(name) == one;
    let table_is = |table: &TableFormat| names_of(table).iter().any(|name| is(name)) || known(table).contains(&word);
    pick(&table_is, &|table, key| {
        let paths = names_of(table).into_iter().map(|name| format!("{name}.{}", key.key));
        is(key.key) || paths.into_iter().any(|path| path == word)
    })
}

/// Tables and keys of which something is said that passes.
fn mentioned(passes: &dyn Fn(&str) -> bool) -> Vec<FoundTable> {
    let table_is = |table: &TableFormat| {
        let rest = table.rest.map_or(String::new(), |rest| format!("{} {}", rest.what, rest.kind.words()));
        [table.heading, table.what, &rest].iter().any(|said| passes(&said.to_lowercase()))
    };
    pick(&table_is, &|_, key| passes(&said(key).to_lowercase()))
}

/// All that is said of a key.
fn said(key: &KeyFormat) -> String {
    let taken = if key.taken == Taken::Required { String::new() } else { key.taken.words() };
    // What stands in a table below is said there.
    let may_be = if key.kind.below().is_some() { String::new() } else { key.kind.words() };
    format!("{} {} {may_be} {taken}", key.key, key.what)
}

fn pick(table_is: &dyn Fn(&TableFormat) -> bool, key_is: &dyn Fn(&TableFormat, &KeyFormat) -> bool) -> Vec<FoundTable> {
    let all = everything();
    let tables: Vec<&str> = all.iter().filter(|here| table_is(here.table)).map(|here| here.table.heading).collect();
    let of_found = |key: &KeyFormat| key.kind.below().is_some_and(|table| tables.contains(&table.heading));
    let some = all.into_iter().map(|here| {
        let whole = tables.contains(&here.table.heading);
        let keys = here.keys.into_iter().filter(|key| whole || (key_is(here.table, key) && !of_found(key))).collect();
        FoundTable { keys, whole, ..here }
    });
    some.filter(|found| found.whole || !found.keys.is_empty()).collect()
}

fn words_of(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter(|part| !part.is_empty())
}

/// Whether several words stand in a text one after the other.
fn has_phrase(text: &str, phrase: &str) -> bool {
    let wanted: Vec<&str> = words_of(phrase).collect();
    let there: Vec<&str> = words_of(text).collect();
    wanted.len() > 1 && there.windows(wanted.len()).any(|some| some == wanted)
}
