//! Which mutants are drawn: those cargo-mutants lists, in an order made of seed and name, the
//! first of each area. A name holds no line number, so code that moves keeps its place in the
//! order, and code that comes or goes shifts no other.

use crate::settings::Settings;
use anyhow::{Context, Result, bail};
use serde::Deserialize;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// A place in a file, as cargo-mutants counts: line and column from 1.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line.
    pub line: usize,
    /// Column, in characters.
    pub column: usize,
}

/// From, and up to but not with.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Span {
    /// First character.
    pub start: Place,
    /// The character after the last.
    pub end: Place,
}

/// What of the code is changed.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
pub enum Genre {
    /// A function's body becomes a value.
    FnValue,
    /// An operator becomes another.
    BinaryOperator,
    /// `!` or `-` goes.
    UnaryOperator,
    /// An arm of a `match` goes.
    MatchArm,
    /// A guard of an arm becomes `true` or `false`.
    MatchArmGuard,
    /// A field goes, so that the base fills it.
    StructField,
}

/// A mutant as cargo-mutants lists it.
#[derive(Clone, Debug, Deserialize)]
struct Listed {
    package: String,
    file: String,
    name: String,
    genre: Genre,
    replacement: String,
    span: Span,
}

/// One change of the code.
#[derive(Clone, Debug)]
pub struct Mutant {
    /// Names it among all: file, what is done in which function, and which of several such.
    pub name: String,
    /// Package it lies in.
    pub package: String,
    /// File, from the top of the workspace.
    pub file: String,
    /// Kind of change.
    pub genre: Genre,
    /// Text that comes in; empty where something goes.
    pub replacement: String,
    /// Text that goes.
    pub span: Span,
}

impl Mutant {
    /// Name with the line it is on today.
    #[must_use]
    pub fn told(&self) -> String {
        let what = self.name.strip_prefix(&self.file).unwrap_or(&self.name);
        format!("{}:{}{what}", self.file, self.span.start.line)
    }
}

/// The mutants of an area, in the order they are drawn.
pub struct Area {
    /// Name.
    pub name: String,
    /// How many are to be taken.
    pub quota: usize,
    /// All it has.
    pub mutants: Vec<Mutant>,
}

/// Reads the list of `cargo mutants --list --json` and orders it by area.
///
/// # Errors
/// A list that is none, a mutant in no area, an area without a mutant.
pub fn areas(list: &str, settings: &Settings) -> Result<Vec<Area>> {
    let mut by_area: BTreeMap<&str, Vec<Mutant>> = BTreeMap::new();
    let mutants = named(serde_json::from_str(list).context("the list of cargo-mutants")?);
    let all = mutants.len();
    for mutant in mutants {
        by_area.entry(area_of(&mutant.file, settings)?).or_default().push(mutant);
    }
    let mut areas = Vec::new();
    for name in settings.areas.keys() {
        let Some(mut mutants) = by_area.remove(name.as_str()) else { bail!("no mutant lies in area {name}") };
        mutants.sort_by_cached_key(|mutant| rank(&settings.seed, &mutant.name));
        areas.push(Area { name: name.clone(), quota: 0, mutants });
    }
    share_out(settings.size, all, &mut areas);
    Ok(areas)
}

/// Gives each its name: without line and column, but with a number among those of the same words.
fn named(mut listed: Vec<Listed>) -> Vec<Mutant> {
    listed.sort_by(|a, b| (&a.file, a.span.start).cmp(&(&b.file, b.span.start)));
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let name = |mutant: Listed| {
        // `file:line:column: what`, of which line and column go.
        let what = mutant.name.splitn(4, ':').nth(3).unwrap_or_default();
        let words = format!("{}:{what}", mutant.file);
        let number = seen.entry(words.clone()).and_modify(|n| *n += 1).or_insert(1);
        let name = format!("{words} #{number}");
        let Listed { package, file, genre, replacement, span, .. } = mutant;
        Mutant { name, package, file, genre, replacement, span }
    };
    listed.into_iter().map(name).collect()
}

fn area_of<'a>(file: &str, settings: &'a Settings) -> Result<&'a str> {
    let holds = |starts: &Vec<String>| starts.iter().any(|start| file.starts_with(start));
    let mut areas = settings.areas.iter().filter(|(_, starts)| holds(starts));
    match (areas.next(), areas.next()) {
        (Some((name, _)), None) => Ok(name),
        (None, _) => bail!("{file} lies in no area of sample.toml"),
        _ => bail!("{file} lies in two areas of sample.toml"),
    }
}

/// Where a name stands in the order of a seed.
fn rank(seed: &str, name: &str) -> [u8; 32] {
    Sha256::new().chain_update(seed).chain_update([0]).chain_update(name).finalize().into()
}

/// Shares `size` out by how many mutants an area has; what rounding leaves goes to the largest
/// remainders.
fn share_out(size: usize, all: usize, areas: &mut [Area]) {
    let mut remainders = Vec::new();
    let mut given = 0;
    for (i, area) in areas.iter_mut().enumerate() {
        let wanted = size * area.mutants.len();
        area.quota = wanted / all;
        given += area.quota;
        remainders.push((wanted % all, i));
    }
    remainders.sort_by(|a, b| b.cmp(a));
    for (_, i) in remainders.into_iter().take(size - given) {
        areas[i].quota += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(mutants: usize) -> Area {
        let place = Place { line: 1, column: 1 };
        let mutant = Mutant {
            name: String::new(),
            package: String::new(),
            file: String::new(),
            genre: Genre::FnValue,
            replacement: String::new(),
            span: Span { start: place, end: place },
        };
        Area { name: String::new(), quota: 0, mutants: vec![mutant; mutants] }
    }

    #[test]
    fn quotas_follow_the_sizes_and_add_up() {
        let mut areas = [area(50), area(30), area(20)];
        share_out(11, 100, &mut areas);
        assert_eq!(areas.map(|area| area.quota), [6, 3, 2]);
    }

    #[test]
    fn names_hold_no_line_and_count_what_is_the_same() {
        let one = |line: usize, what: &str| {
            format!(
                r#"{{"package": "p", "file": "a.rs", "name": "a.rs:{line}:5: {what}", "genre": "BinaryOperator",
                    "replacement": "-", "span": {{"start": {{"line": {line}, "column": 5}}, "end": {{"line": {line}, "column": 6}}}}}}"#
            )
        };
        let (plus, minus) = ("replace + with - in f", "replace - with + in <impl A for B>::f");
        let list = format!("[{}, {}, {}]", one(9, plus), one(3, minus), one(2, plus));
        let names: Vec<String> =
            named(serde_json::from_str(&list).unwrap()).into_iter().map(|mutant| mutant.name).collect();
        let wanted = [
            "a.rs: replace + with - in f #1",
            "a.rs: replace - with + in <impl A for B>::f #1",
            "a.rs: replace + with - in f #2",
        ];
        assert_eq!(names, wanted);
    }
}
