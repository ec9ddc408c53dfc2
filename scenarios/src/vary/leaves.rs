//! Every number of a site file that can be varied, under the path it is called by.

use crate::site_file::practice::{AT_MOST, HOTTER};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Keys whose text tells members of a list apart: `plot.orchard.pest.plum sawfly.start`.
const NAMING: [&str; 5] = ["species", "crop", "plant", "task", "what"];

/// A number of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Leaf {
    /// Its path, for example `plot.plum-yard.area`.
    pub path: String,
    /// Bytes of its digits, without quotes and unit.
    pub span: Range<usize>,
    /// As the file has it.
    pub value: f64,
    /// Bytes of the unit.
    pub unit_span: Range<usize>,
    /// What follows it in its quotes, for example `m2`; empty for a bare number.
    pub unit: String,
    /// Written without a decimal point and without unit.
    pub whole: bool,
}

/// All of a document, in the order of the file.
pub fn leaves(table: &DeTable<'_>, text: &str) -> Vec<Leaf> {
    let mut found = Vec::new();
    in_table(table, "", text, &mut found);
    found.sort_by_key(|leaf| leaf.span.start);
    found
}

fn in_table(table: &DeTable<'_>, path: &str, text: &str, found: &mut Vec<Leaf>) {
    for (key, value) in table.iter() {
        let key: &str = key.get_ref();
        let path = if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
        in_value(value, path, text, found);
    }
}

fn in_value(value: &Spanned<DeValue<'_>>, path: String, text: &str, found: &mut Vec<Leaf>) {
    match value.get_ref() {
        DeValue::Table(table) => in_table(table, &path, text, found),
        DeValue::Array(list) => {
            for (position, member) in list.iter().enumerate() {
                match member.get_ref() {
                    DeValue::Table(table) => {
                        in_table(table, &format!("{path}.{}", name_of(table, position)), text, found);
                    }
                    DeValue::String(words) if words.starts_with(HOTTER) => {
                        found.extend(quoted(member.span(), format!("{path}.{}", position + 1), text));
                    }
                    _ => {}
                }
            }
        }
        DeValue::Integer(_) | DeValue::Float(_) => found.extend(bare(value.span(), path, text)),
        DeValue::String(_) => found.extend(quoted(value.span(), path, text)),
        _ => {}
    }
}

/// What a member of a list is called: by its naming key, else by its place, from 1.
fn name_of(table: &DeTable<'_>, position: usize) -> String {
    let named = NAMING.iter().find_map(|key| table.get(*key)?.get_ref().as_str().map(str::to_owned));
    named.unwrap_or_else(|| (position + 1).to_string())
}

fn bare(span: Range<usize>, path: String, text: &str) -> Option<Leaf> {
    let written = text.get(span.clone())?;
    let value: f64 = written.replace('_', "").parse().ok()?;
    let whole = !written.contains(['.', 'e', 'E']);
    value.is_finite().then(|| Leaf { path, unit_span: span.end..span.end, span, value, unit: String::new(), whole })
}

/// "14 days", "every 6 weeks", "at most 14 days" or "hotter than 27 C" in quotes: after these words the digits stand first, the
/// unit follows.
fn quoted(span: Range<usize>, path: String, text: &str) -> Option<Leaf> {
    let written = text.get(span.clone())?;
    let inner = written.strip_prefix(['"', '\''])?.strip_suffix(['"', '\''])?;
    let digits = inner.trim_start();
    let before = ["every ", AT_MOST, HOTTER].into_iter().find_map(|words| digits.strip_prefix(words));
    let digits = before.unwrap_or(digits).trim_start();
    let length = digits.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+'))).unwrap_or(digits.len());
    let (number, unit) = digits.split_at(length);
    // "04-05" is a date: its digits are no number. A number in quotes without unit is none of ours.
    let value: f64 = number.parse().ok()?;
    let unit = unit.trim();
    // An area written by its sides, "4 x 6 m", is two numbers.
    if unit.split_whitespace().any(|word| word.starts_with(|c: char| c.is_ascii_digit())) {
        return None;
    }
    let starts = span.start + (written.len() - 1 - digits.len());
    let ends = starts + digits.trim_end().len();
    let unit_span = ends - unit.len()..ends;
    let leaf = Leaf { path, span: starts..starts + length, unit_span, value, unit: unit.to_owned(), whole: false };
    (!unit.is_empty() && value.is_finite()).then_some(leaf)
}
