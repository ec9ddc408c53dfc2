//! Site files with a slip of the hand in them.

use super::library;
use scenarios::{Fault, site_file};
use std::ops::Range;

/// Sites whose every line is spoilt in turn.
pub const SITES: [(&str, &str); 3] = [
    ("sallowmere", include_str!("../../demos/sallowmere/site.toml")),
    ("emberstair", include_str!("../../demos/emberstair/site.toml")),
    ("puddlecote", include_str!("../../demos/puddlecote/site.toml")),
];

pub fn companions(name: &str) -> Result<String, String> {
    match name {
        "gates.csv" => Ok(include_str!("../../demos/sallowmere/gates.csv").to_owned()),
        _ => Err("there is no such file".to_owned()),
    }
}

pub fn faults(text: &str) -> Vec<Fault> {
    match site_file::read_text("site.toml", text, library(), &companions) {
        Ok(model) => model.warnings,
        Err(faults) => faults.into_vec(),
    }
}

/// A line of a site file without its comment: its bytes, and those of the value where it is `key = value`.
pub fn lines(text: &str) -> Vec<(Range<usize>, Option<Range<usize>>)> {
    let mut at = 0;
    let mut all = Vec::new();
    for line in text.split_inclusive('\n') {
        let plain = line.split('#').next().unwrap_or_default().trim_end();
        let value = plain.find(" = ").map(|equals| at + equals + 3..at + plain.len());
        if !plain.is_empty() {
            all.push((at..at + plain.len(), value));
        }
        at += line.len();
    }
    all
}

pub fn with(text: &str, span: Range<usize>, new: &str) -> String {
    format!("{}{new}{}", &text[..span.start], &text[span.end..])
}

/// Slips of the hand in a line: a letter dropped or doubled in its key or in the words of its value, quotes lost, a share in per cent, a
/// date of another order, a line written twice, a heading lost.
pub fn slips(text: &str, line: &Range<usize>, value: Option<&Range<usize>>) -> Vec<String> {
    let mut all = Vec::new();
    let written = &text[line.clone()];
    if written.starts_with('[') {
        all.push(with(text, line.clone(), ""));
        all.push(with(text, line.clone(), &written.replacen("t", "", 1)));
    }
    all.push(with(text, line.start..line.start, &format!("{written}\n")));
    let Some(value) = value else { return all };
    let key = line.start..value.start - 3;
    if key.len() > 3 {
        all.push(with(text, key.start + 1..key.start + 2, ""));
        all.push(with(text, key.end..key.end, "e"));
    }
    let word = &text[value.clone()];
    let inner = word.trim_matches('"');
    if word.starts_with('"') && !inner.is_empty() {
        all.push(with(text, value.clone(), inner));
        for at in (1..inner.len().saturating_sub(1))
            .filter(|at| inner.is_char_boundary(*at) && inner.is_char_boundary(at + 1))
        {
            let mut slipped = inner.to_owned();
            slipped.remove(at);
            all.push(with(text, value.clone(), &format!("\"{slipped}\"")));
        }
    }
    if let Ok(number) = word.parse::<f64>() {
        all.push(with(text, value.clone(), &format!("\"{word}\"")));
        all.push(with(text, value.clone(), &format!("{}", -number)));
        if (0.0..=1.0).contains(&number) {
            all.push(with(text, value.clone(), &format!("{}", 100.0 * number)));
            all.push(with(text, value.clone(), &format!("\"{}%\"", 100.0 * number)));
            all.push(with(text, value.clone(), &format!("{}%", 100.0 * number)));
        }
    }
    let parts: Vec<&str> = word.split('-').collect();
    if let [year, month, day] = parts.as_slice()
        && year.len() == 4
    {
        all.push(with(text, value.clone(), &format!("{day}.{month}.{year}")));
        all.push(with(text, value.clone(), &format!("{year}-{day}-{month}")));
        all.push(with(text, value.clone(), &format!("{year}-{month}-31")));
    }
    all
}
