//! Says what moved between a pin and a season: which file, which column, from when, by how much.

use super::season::{Season, TABLES};
use super::table::{Table, stretch};
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// Columns told one by one; of the rest their number. `git diff` of a rewritten pin has them all.
const TOLD: usize = 12;
/// The figures of a column's line, after name and digest.
const FIGURES: [&str; 4] = ["sum", "least", "most", "last day"];

/// What a pin holds of one file: by kind (rows, days, columns and so on) its lines, each cut at its
/// commas.
struct Pin<'a>(BTreeMap<&'a str, Vec<Vec<&'a str>>>);

impl<'a> Pin<'a> {
    fn of(pin: &'a str, file: &str) -> Self {
        let mut found: BTreeMap<_, Vec<_>> = BTreeMap::new();
        let (mut at_file, mut kind) = (false, "");
        for line in pin.lines() {
            match line.strip_prefix('[').and_then(|line| line.strip_suffix(']')) {
                Some(name) if name.contains('.') => at_file = name == file,
                Some(name) => kind = name,
                None if at_file => found.entry(kind).or_default().push(line.split(',').collect()),
                None => {}
            }
        }
        Self(found)
    }

    /// The lines of a kind in their order.
    fn kind(&self, kind: &str) -> &[Vec<&'a str>] {
        self.0.get(kind).map_or(&[], Vec::as_slice)
    }

    fn names(&self, kind: &str) -> Vec<&'a str> {
        self.kind(kind).iter().map(|fields| fields[0]).collect()
    }

    /// What stands after the name, by name.
    fn named(&self, kind: &str) -> BTreeMap<&'a str, &[&'a str]> {
        self.kind(kind).iter().map(|fields| (fields[0], &fields[1..])).collect()
    }

    /// The last field of all lines of a kind, one after the other.
    fn joined(&self, kind: &str) -> String {
        self.kind(kind).iter().map(|fields| fields[fields.len() - 1]).collect()
    }
}

/// What moved, a line each; nothing where all is as pinned.
pub fn moved(pin: &str, now: &Season) -> Vec<String> {
    let columns = TABLES.map(|name| Pin::of(pin, name).names("columns"));
    let pin_now = now.pin([Some(&columns[0]), Some(&columns[1])]);
    let mut said = Vec::new();
    for (name, of_now) in TABLES.iter().zip(&now.tables) {
        said.extend(under(name, table(&Pin::of(pin, name), &Pin::of(&pin_now, name), of_now)));
    }
    let both = |file| (Pin::of(pin, file), Pin::of(&pin_now, file));
    let (was, is) = both("diary.csv");
    said.extend(under("diary.csv", diary(&was, &is, now)));
    let (was, is) = both("summary.json");
    said.extend(under("summary.json", figures(&was, &is)));
    said
}

fn under(file: &str, said: Vec<String>) -> impl Iterator<Item = String> {
    said.into_iter().map(move |line| format!("{file}: {line}"))
}

fn table(was: &Pin, is: &Pin, now: &Table) -> Vec<String> {
    let mut said = changed("rows", &was.joined("rows"), &is.joined("rows")).into_iter().collect::<Vec<_>>();
    let missing = new_and_gone("columns", was, is);
    let gone = missing.iter().any(|line| line.starts_with("gone"));
    said.extend(first_day(was, is, now, gone));
    said.extend(missing);
    said.extend(order(was, is));
    said.extend(columns(was, is, now));
    said
}

/// The first day that parts. A day that moved keeps its mark in one case of 64.
fn first_day(was: &Pin, is: &Pin, now: &Table, gone: bool) -> Option<String> {
    let (was, is) = (was.joined("days"), is.joined("days"));
    let day = parting(&was, &is)?;
    let date = now.dates.get(day).map_or("its end", String::as_str);
    let unsure = if gone { ", the gone columns among what parts" } else { "" };
    Some(format!("parts on {date}{unsure}"))
}

/// The first place where two rows of marks differ.
fn parting(was: &str, is: &str) -> Option<usize> {
    let (was, is) = (was.as_bytes(), is.as_bytes());
    let differ = was.iter().zip(is).position(|(was, is)| was != is);
    differ.or_else(|| (was.len() != is.len()).then_some(was.len().min(is.len())))
}

/// What is named on one side alone.
fn new_and_gone(kind: &str, was: &Pin, is: &Pin) -> Vec<String> {
    let (was, is) = (was.names(kind), is.names(kind));
    let without = |word: &str, these: &[&str], others: &[&str]| {
        let only = these.iter().filter(|name| !others.contains(name));
        only.map(|name| format!("{word} {} {name}", kind.trim_end_matches('s'))).collect::<Vec<_>>()
    };
    [without("gone:", &was, &is), without("new", &is, &was)].concat()
}

fn order(was: &Pin, is: &Pin) -> Option<String> {
    let (was, is) = (was.names("columns"), is.names("columns"));
    let in_both = |these: &[&str]| {
        let stay = these.iter().filter(|name| was.contains(name) && is.contains(name));
        stay.map(|name| (*name).to_owned()).collect::<Vec<String>>()
    };
    let (before, after) = (in_both(&was), in_both(&is));
    let at = (0..before.len()).find(|&at| before[at] != after[at])?;
    Some(format!("columns stand in another order, from {} on", after[at]))
}

/// A column that moved.
struct Moved {
    stretch: usize,
    relative: f64,
    words: String,
}

/// The columns that moved, the first to part first, then those that moved most.
fn columns(was: &Pin, is: &Pin, now: &Table) -> Vec<String> {
    let is = is.named("columns");
    let both = was.kind("columns").iter().filter_map(|was| Some((was[0], &was[1..], *is.get(was[0])?)));
    let mut moved: Vec<Moved> = both.filter_map(|(name, was, is)| column(name, was, is, now)).collect();
    moved.sort_by(|a, b| a.stretch.cmp(&b.stretch).then(b.relative.total_cmp(&a.relative)));
    let more = moved.len().saturating_sub(TOLD);
    let mut said: Vec<String> = moved.into_iter().take(TOLD).map(|moved| moved.words).collect();
    if more > 0 {
        said.push(format!("and {more} columns more"));
    }
    said
}

/// Fields: digest, figures, marks.
fn column(name: &str, was: &[&str], is: &[&str], now: &Table) -> Option<Moved> {
    if was == is {
        return None;
    }
    let stretch = parting(was[5], is[5]);
    let figures = (0..FIGURES.len()).filter_map(|at| changed(FIGURES[at], was[at + 1], is[at + 1]));
    let figures: Vec<String> = figures.collect();
    let relative = (1..=FIGURES.len()).map(|at| relative(was[at], is[at])).fold(0.0, f64::max);
    let by = if figures.is_empty() { "by less than the digits kept".to_owned() } else { figures.join(", ") };
    let words = format!("{name} {}: {by}", when(stretch, now));
    Some(Moved { stretch: stretch.unwrap_or(usize::MAX), relative, words })
}

/// The dates of the first mark that differs. That none differs is one case of 64.
fn when(number: Option<usize>, now: &Table) -> String {
    let Some(number) = number else { return "on a day that no mark tells".to_owned() };
    let days = stretch(number);
    let date = |day: usize| now.dates.get(day).or(now.dates.last()).map_or("", String::as_str);
    format!("from {} to {}", date(days.start), date(days.end - 1))
}

/// "sum 1.5 → 2 (+0.5, +33.3 %)", if it changed.
fn changed(what: &str, was: &str, is: &str) -> Option<String> {
    if was == is {
        return None;
    }
    let by = match (was.parse::<f64>(), is.parse::<f64>()) {
        (Ok(was_number), Ok(is_number)) if was_number == 0.0 => format!(" ({:+.3e})", is_number - was_number),
        (Ok(was_number), Ok(is_number)) => {
            format!(" ({:+.3e}, {:+.3e} %)", is_number - was_number, (is_number / was_number - 1.0) * 100.0)
        }
        _ => String::new(),
    };
    Some(format!("{what} {was} → {is}{by}"))
}

/// How far a figure moved against its size.
fn relative(was: &str, is: &str) -> f64 {
    match (was.parse::<f64>(), is.parse::<f64>()) {
        (Ok(was), Ok(is)) if was.partial_cmp(&is) != Some(Ordering::Equal) => ((is - was) / was).abs(),
        _ => 0.0,
    }
}

fn diary(was: &Pin, is: &Pin, now: &Season) -> Vec<String> {
    if was.0 == is.0 {
        return Vec::new();
    }
    let mut said = new_and_gone("counts", was, is);
    let is_named = is.named("counts");
    let both = was.kind("counts").iter().filter_map(|was| Some((was[0], was[1], is_named.get(was[0])?[0])));
    said.extend(both.filter_map(|(what, was, is)| changed(what, was, is)));
    let first = parting(&was.joined("marks"), &is.joined("marks"));
    let row = first.map(|number| format!("parts in row {}, now: {}", number + 1, now.diary_row(number)));
    said.insert(0, row.unwrap_or("parts in a row that no mark tells".to_owned()));
    said
}

fn figures(was: &Pin, is: &Pin) -> Vec<String> {
    let mut said = new_and_gone("figures", was, is);
    let is = is.named("figures");
    for fields in was.kind("figures") {
        let Some(now) = is.get(fields[0]) else { continue };
        said.extend(values(fields[0], fields[1], now[0], &is));
    }
    said
}

/// A figure, or of one that stands for several things those that moved, by their names.
fn values(name: &str, was: &str, is: &str, all: &BTreeMap<&str, &[&str]>) -> Vec<String> {
    let (before, after): (Vec<&str>, Vec<&str>) = (was.split(' ').collect(), is.split(' ').collect());
    if before.len() != after.len() || before.len() == 1 {
        return changed(name, was, is).into_iter().collect();
    }
    let list = name.rsplit_once('.').map(|(list, _)| format!("{list}.name"));
    let names: Vec<&str> =
        list.and_then(|list| all.get(list.as_str())).map_or(Vec::new(), |f| f[0].split(' ').collect());
    let each = before.iter().zip(&after).enumerate();
    each.filter_map(|(at, (was, is))| changed(&format!("{name} of {}", names.get(at).unwrap_or(&"")), was, is))
        .collect()
}
