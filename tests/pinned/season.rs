//! What is pinned of a season: its two ledgers, its diary and its summary, each for itself.

use super::table::{Table, letters, mark};
use crate::common::{FNV, done, fnv, fnv_on};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// Files of rows by date.
pub const TABLES: [&str; 2] = ["ledger.csv", "ledger_site.csv"];
/// What changes in a summary without any figure changing.
const NO_FIGURES: [&str; 2] = ["version", "input_digest"];

/// The files of a season.
pub struct Season {
    /// The ledgers, in the order of [`TABLES`].
    pub tables: [Table; 2],
    diary: Vec<u8>,
    summary: Value,
}

impl Season {
    /// Runs it with `--exact`.
    pub fn run(demo: &str, strategy: &str, draw: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        done(folder.path(), &["season", demo, "--strategy", strategy, "--draw", draw, "--exact", "--out", "."]);
        Self::read(folder.path())
    }

    /// Reads the files of a run.
    pub fn read(folder: &Path) -> Self {
        let read = |name: &str| std::fs::read(folder.join(name)).unwrap();
        Self {
            tables: TABLES.map(|name| Table::read(&read(name))),
            diary: read("diary.csv"),
            summary: serde_json::from_slice(&read("summary.json")).unwrap(),
        }
    }

    /// What is pinned of it; a file's lines below its name. See [`Table::pin`] for `named`.
    pub fn pin(&self, named: [Option<&[&str]>; 2]) -> String {
        let mut pin = String::new();
        for ((name, table), named) in TABLES.iter().zip(&self.tables).zip(named) {
            write!(pin, "[{name}]\n{}", table.pin(named)).unwrap();
        }
        write!(pin, "[diary.csv]\n{}", diary(&self.diary)).unwrap();
        pin += "[summary.json]\n[figures]\n";
        for (name, value) in figures(&self.summary) {
            writeln!(pin, "{},{}", plain(&name), plain(&value)).unwrap();
        }
        pin
    }

    /// A row of the diary by its number.
    pub fn diary_row(&self, number: usize) -> String {
        let text = String::from_utf8_lossy(&self.diary);
        text.lines().nth(number + 1).map_or("the end".to_owned(), str::to_owned)
    }
}

/// A digest, a mark for each line, and how often what stands there.
fn diary(csv: &[u8]) -> String {
    let mut often: BTreeMap<String, usize> = BTreeMap::new();
    let mut marks = String::new();
    for row in csv::Reader::from_reader(csv).records().map(Result::unwrap) {
        *often.entry(row[2].to_owned()).or_default() += 1;
        marks.push(mark(row.iter().fold(FNV, |state, cell| fnv_on(fnv_on(state, cell.as_bytes()), b","))));
    }
    let counts: String = often.iter().map(|(what, count)| format!("{},{count}\n", plain(what))).collect();
    format!("[digest]\nall,{}\n[marks]\nall,{marks}\n[counts]\n{counts}", letters(fnv(csv)))
}

/// Every leaf of the document by its path, as it is written there; a value by its path and unit. Of a
/// list of things a figure stands once, with the values of all one after the other.
fn figures(document: &Value) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    gather(document, "", &mut found);
    NO_FIGURES.iter().for_each(|name| drop(found.remove(*name)));
    found
}

fn gather(value: &Value, path: &str, found: &mut BTreeMap<String, String>) {
    let below = |key: &str| if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    match value {
        Value::Object(measure)
            if measure.len() == 2 && measure.contains_key("unit") && measure.contains_key("value") =>
        {
            let unit = measure["unit"].as_str().unwrap_or_default();
            gather(&measure["value"], &format!("{path}[{unit}]"), found);
        }
        Value::Object(members) => members.iter().for_each(|(key, value)| gather(value, &below(key), found)),
        Value::Array(items) => items.iter().for_each(|item| gather(item, path, found)),
        leaf => {
            let text = found.entry(path.to_owned()).or_default();
            let gap = if text.is_empty() { "" } else { " " };
            write!(text, "{gap}{leaf}").unwrap();
        }
    }
}

/// Without the commas that stand between the fields of a pin.
fn plain(text: &str) -> String {
    text.replace(',', ";")
}
