//! The format of a site file in words for the terminal.

use super::find::{FoundTable, everything};
use super::pasted::{INDENT, fits, pasted};
use crate::table::{WIDTH, indented, wrap};
use scenarios::table_format::{KeyFormat, RestFormat, TableFormat, Taken};

/// Every table on a line of its own.
#[must_use]
pub fn overview() -> String {
    let all = everything();
    let widest = all.iter().map(|found| found.table.heading.chars().count()).max().unwrap_or(0);
    let line = |found: &FoundTable| {
        let (heading, room) = (found.table.heading, WIDTH - widest - 2);
        format!("{heading:<widest$}  {}\n", brief(found.table, room))
    };
    let lines: String = all.iter().map(line).collect();
    let more = "To look up a table, a key or a word: hensward format plot. For an editor that checks and completes while you \
                write: hensward format --schema > site.schema.json, beside your site.toml, whose first line is then \
                #:schema ./site.schema.json";
    format!("{lines}\n{}\n", wrap(more, WIDTH).join("\n"))
}

/// What a table is, in so many letters.
fn brief(table: &TableFormat, room: usize) -> String {
    let sentence = table.what.split([';', ':']).next().unwrap_or_default();
    let sentence = sentence.split(". ").next().unwrap_or_default().trim_end_matches('.');
    if sentence.chars().count() <= room {
        return sentence.to_owned();
    }
    let line = wrap(sentence, room - 1).into_iter().next().unwrap_or_default();
    format!("{}…", line.trim_end_matches(','))
}

/// What was found: of each table its keys, and an example to paste.
#[must_use]
pub fn details(found: &[FoundTable]) -> String {
    found.iter().map(table).collect::<Vec<_>>().join("\n")
}

fn table(found: &FoundTable) -> String {
    let FoundTable { table, parent, keys, whole } = found;
    let mut out = format!("{}\n", table.heading);
    out += &indented(table.what, 2);
    for key in keys {
        out += &format!("\n  {}\n", key.key);
        out += &said(key, table);
    }
    out += &table.rest.filter(|_| *whole).map_or(String::new(), rest);
    if *whole {
        for example in pasted(table, parent) {
            out += &format!("\n  To paste:\n{}", set_in(&example));
        }
    }
    out
}

fn said(key: &KeyFormat, table: &TableFormat) -> String {
    let taken = match key.taken {
        Taken::Required => "It must be there.".to_owned(),
        taken => format!("Left out: {}.", taken.words()),
    };
    let text = indented(key.what, INDENT) + &indented(&may_be(&key.kind.words()), INDENT) + &indented(&taken, INDENT);
    let line = key.line();
    let example = match key.kind.below() {
        _ if fits(&line) => line,
        Some(below) => pasted(below, table).into_iter().next().unwrap_or_default(),
        None => line,
    };
    text + &set_in(&example)
}

fn rest(rest: &RestFormat) -> String {
    let mut text = format!("\n  {}\n{}", rest.name, indented(rest.what, INDENT));
    text += &indented(&may_be(&rest.kind.words()), INDENT);
    if let Some(known) = rest.known {
        text += &indented(&format!("{} is one of {}.", rest.name, known().join(", ")), INDENT);
    }
    text
}

fn may_be(words: &str) -> String {
    format!("May be: {words}.")
}

/// An example, set in; its lines are left as they are.
fn set_in(example: &str) -> String {
    example.lines().map(|line| format!("{}{line}\n", " ".repeat(INDENT))).collect()
}
