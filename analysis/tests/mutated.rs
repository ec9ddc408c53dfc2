//! Sites with anything done to them: each is refused with a place and a remedy, or ends in finite figures over books that
//! balance.
//!
//! An ordinary run tries some; `.ci/slow mutated` goes on for a minute. SEED and SECONDS say which and how long.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

mod common;

use analysis::json::{check_document, text};
use common::sound::{Watched, compared, season};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use scenarios::library::{Entry, EntryKind};
use scenarios::{Library, site_file};
use sim_engine::streams::stream;
use std::cell::Cell;
use std::ops::Range;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// Sites of an ordinary run.
const SOME: u32 = 100;
/// Sites between two looks at the clock.
const BATCH: u32 = 20;
/// Possible years of a comparison.
const DRAWS: usize = 2;
/// A site of more plots and years takes its time, and hangs no more for it.
const MOST_PLOT_YEARS: usize = 24;
/// Most letters of an answer, however bad the file.
const LONGEST_ANSWER: usize = 100_000;

const SITES: [&str; 9] = [
    include_str!("../../scenarios/demos/sallowmere/site.toml"),
    include_str!("../../scenarios/demos/emberstair/site.toml"),
    include_str!("../../scenarios/demos/puddlecote/site.toml"),
    include_str!("../../scenarios/starters/orchard.toml"),
    include_str!("../../scenarios/starters/rotation.toml"),
    include_str!("../../scenarios/starters/small-yard.toml"),
    include_str!("../../scenarios/starters/soft-fruit.toml"),
    include_str!("../../scenarios/starters/southern.toml"),
    include_str!("../../scenarios/starters/us-units.toml"),
];
const GATES: &str = include_str!("../../scenarios/demos/sallowmere/gates.csv");

/// In the place of a number.
const NUMBERS: &[&str] = &[
    "0",
    "-0.0",
    "1",
    "-1",
    "0.5",
    "65",
    "366",
    "1e-320",
    "1e9",
    "-1e308",
    "1e308",
    "nan",
    "inf",
    "007",
    "99999999999999999999",
    "\"\"",
    "[]",
    "{}",
    "true",
    "02-30",
];
/// In the place of a word.
const WORDS: &[&str] = &[
    "",
    " ",
    "-3 m2",
    "1e9 m2",
    "0 days",
    "12 weeks",
    "3 h",
    "yard",
    "layer",
    "everything",
    "12-31",
    "02-29",
    "2027-02-29",
    "Gran's plot (low)",
    "=1+1",
    "\\u001b[2J",
    "\\u202e",
    "../..",
    "<b>",
    "a, b",
];

/// Something done to a text; places are counted around, so that each is one of the text.
#[derive(Clone, Debug)]
enum Change {
    /// Another number in the place of one.
    Number(usize, &'static str),
    /// A number so many times as large.
    Times(usize, f64),
    /// Another word in the place of one.
    Word(usize, &'static str),
    /// Two words change places.
    Words(usize, usize),
    /// Lines go.
    Cut(usize, usize),
    /// A line stands twice.
    Twice(usize),
    /// Two lines change places.
    Swap(usize, usize),
    /// Lines of another site come in.
    From(usize, usize, usize, usize),
    /// Letters come in.
    Letters(usize, String),
    /// The rest is lost.
    End(usize),
    /// The keeper is unsure of a number of the library: shares of its domain and a little more.
    Unsure(usize, [f64; 3]),
}

fn change() -> impl Strategy<Value = Change> {
    let at = 0..100_000_usize;
    let factor = select(vec![-1.0, 0.0, 1e-6, 0.01, 0.1, 0.5, 0.8, 1.2, 2.0, 5.0, 10.0, 100.0, 1e6, 1e300]);
    // Mostly in their order and within the domain, so that more is run than refused.
    let in_order = |mut shares: [f64; 3]| {
        shares.sort_by(f64::total_cmp);
        shares
    };
    prop_oneof![
        2 => (at.clone(), select(NUMBERS)).prop_map(|(at, with)| Change::Number(at, with)),
        8 => (at.clone(), factor).prop_map(|(at, by)| Change::Times(at, by)),
        2 => (at.clone(), select(WORDS)).prop_map(|(at, with)| Change::Word(at, with)),
        3 => (at.clone(), at.clone()).prop_map(|(one, two)| Change::Words(one, two)),
        2 => (at.clone(), 1..6_usize).prop_map(|(at, lines)| Change::Cut(at, lines)),
        1 => at.clone().prop_map(Change::Twice),
        1 => (at.clone(), at.clone()).prop_map(|(one, two)| Change::Swap(one, two)),
        2 => (at.clone(), at.clone(), 1..12_usize, at.clone()).prop_map(|(s, from, n, to)| Change::From(s, from, n, to)),
        1 => (at.clone(), "[ -~é\n]{1,12}").prop_map(|(at, letters)| Change::Letters(at, letters)),
        1 => at.clone().prop_map(Change::End),
        1 => (at.clone(), prop::array::uniform3(-0.1..1.1_f64)).prop_map(|(at, shares)| Change::Unsure(at, shares)),
        12 => (at, prop::array::uniform3(0.0..1.0_f64)).prop_map(move |(at, shares)| Change::Unsure(at, in_order(shares))),
    ]
}

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

/// The place meant by a number, among so many.
fn of<T>(all: &[T], at: usize) -> Option<&T> {
    all.get(at % all.len().max(1))
}

/// Numbers of a text: digits with what belongs to them.
fn numbers(text: &str) -> Vec<Range<usize>> {
    let digit = |byte: u8| byte.is_ascii_digit() || byte == b'.';
    let bytes = text.as_bytes();
    let mut all: Vec<Range<usize>> = Vec::new();
    for at in (0..bytes.len()).filter(|&at| digit(bytes[at])) {
        match all.last_mut() {
            Some(last) if last.end == at => last.end += 1,
            _ => all.push(at..at + 1),
        }
    }
    all
}

/// What stands between quotes.
fn quoted(text: &str) -> Vec<Range<usize>> {
    let marks: Vec<usize> = text.match_indices('"').map(|(at, _)| at).collect();
    marks.chunks_exact(2).map(|pair| pair[0] + 1..pair[1]).collect()
}

fn with(text: &str, span: Range<usize>, new: &str) -> String {
    format!("{}{new}{}", &text[..span.start], &text[span.end..])
}

/// The beginning of the letter a place falls into.
fn letter(text: &str, at: usize) -> usize {
    let at = at % (text.len() + 1);
    (0..=at).rev().find(|&at| text.is_char_boundary(at)).unwrap_or(0)
}

impl Change {
    fn made(&self, text: &str) -> String {
        self.tried(text).unwrap_or_else(|| text.to_owned())
    }

    fn tried(&self, text: &str) -> Option<String> {
        let lines: Vec<&str> = text.split_inclusive('\n').collect();
        Some(match *self {
            Self::Number(at, new) => with(text, of(&numbers(text), at)?.clone(), new),
            Self::Times(at, by) => {
                let span = of(&numbers(text), at)?.clone();
                let number: f64 = text[span.clone()].parse().ok()?;
                with(text, span, &format!("{}", number * by))
            }
            Self::Word(at, new) => with(text, of(&quoted(text), at)?.clone(), new),
            Self::Words(one, two) => {
                let all = quoted(text);
                with(text, of(&all, one)?.clone(), &text[of(&all, two)?.clone()])
            }
            Self::Cut(at, count) => {
                let at = at % lines.len().max(1);
                let kept = lines.iter().enumerate().filter(|(line, _)| !(at..at + count).contains(line));
                kept.map(|(_, line)| *line).collect()
            }
            Self::Twice(at) => {
                let line = of(&lines, at)?;
                text.replacen(line, &format!("{line}{line}"), 1)
            }
            Self::Swap(one, two) => {
                let (mut lines, count) = (lines.clone(), lines.len().max(1));
                lines.swap(one % count, two % count);
                lines.concat()
            }
            Self::From(site, from, count, to) => {
                let other: Vec<&str> = of(&SITES, site)?.split_inclusive('\n').collect();
                let from = from % other.len();
                let more = other[from..(from + count).min(other.len())].concat();
                let to = to % (lines.len() + 1);
                format!("{}{more}{}", lines[..to].concat(), lines[to..].concat())
            }
            Self::Letters(at, ref letters) => {
                let at = letter(text, at);
                with(text, at..at, letters)
            }
            Self::End(at) => text[..letter(text, at)].to_owned(),
            Self::Unsure(at, shares) => {
                // One that stands on no plot is refused.
                let stands =
                    |entry: &&Entry| entry.kind == EntryKind::Process || text.contains(&format!("\"{}\"", entry.name));
                let all: Vec<_> = library()
                    .entries()
                    .filter(stands)
                    .flat_map(|entry| (0..entry.params.len()).map(move |p| (entry, p)))
                    .collect();
                let (entry, position) = *of(&all, at)?;
                let field = &entry.kind.fields()[position];
                let (low, high) = (field.domain.low(), field.domain.high());
                let value = |share: f64| {
                    let value = low + share * (high - low);
                    if matches!(field.unit, "-" | "1") {
                        format!("{value:e}")
                    } else {
                        format!("\"{value:e} {}\"", field.unit)
                    }
                };
                let line = format!("\"{}\" = [{}]\n", entry.number_name(position), shares.map(value).join(", "));
                match text.find("[unsure]\n") {
                    Some(at) => with(text, at + 9..at + 9, &line),
                    None => format!("{text}\n[unsure]\n{line}"),
                }
            }
        })
    }
}

/// What became of the sites.
#[derive(Default)]
struct Count {
    refused: Cell<u32>,
    ran: Cell<u32>,
    too_large: Cell<u32>,
}

fn one_more(count: &Cell<u32>) {
    count.set(count.get() + 1);
}

fn hold(text: &str, count: &Count) -> Result<(), TestCaseError> {
    let watched = Watched::over(text.to_owned());
    let companion = |name: &str| if name == "gates.csv" { Ok(GATES.to_owned()) } else { Err("none".to_owned()) };
    let model = match site_file::read_text("site.toml", text, library(), &companion) {
        Ok(model) => model,
        Err(faults) => {
            let said = faults.to_string();
            prop_assert!(said.len() < LONGEST_ANSWER, "{} letters", said.len());
            for fault in faults.all() {
                prop_assert!(!fault.message.is_empty() && !fault.remedy.is_empty(), "without a remedy: {fault}");
            }
            one_more(&count.refused);
            return Ok(());
        }
    };
    text_of_check(&model)?;
    if model.years as usize * model.base.plots.len() > MOST_PLOT_YEARS {
        one_more(&count.too_large);
        return Ok(());
    }
    compared(&model, library(), DRAWS).map_err(TestCaseError::fail)?;
    season(&model, library()).map_err(TestCaseError::fail)?;
    one_more(&count.ran);
    drop(watched);
    Ok(())
}

fn text_of_check(model: &scenarios::SiteModel) -> Result<(), TestCaseError> {
    let said = text(&check_document(model, library(), &common::from(), None))
        .map_err(|e| TestCaseError::fail(e.to_string()))?;
    prop_assert!(said.len() < 20 * LONGEST_ANSWER, "{} letters of check", said.len());
    Ok(())
}

fn try_some(seed: u64, cases: u32, count: &Count) {
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let config = Config { cases, failure_persistence: None, max_shrink_iters: 400, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &bytes));
    let sites = (0..SITES.len(), vec(change(), 1..4));
    let held = runner.run(&sites, |(site, changes)| {
        let text = changes.iter().fold(SITES[site].to_owned(), |text, change| change.made(&text));
        hold(&text, count)
    });
    assert!(held.is_ok(), "seed {seed}: {}", held.unwrap_err());
}

fn told(count: &Count) {
    let [refused, ran, too_large] = [&count.refused, &count.ran, &count.too_large].map(Cell::get);
    println!("{ran} mutated sites ran, {refused} were refused, {too_large} were only checked; none went wrong");
    assert!(ran > 10 && refused > 10, "one side is hardly tried");
}

#[test]
fn some_mutated_sites() {
    let count = Count::default();
    try_some(1, SOME, &count);
    told(&count);
}

#[test]
#[ignore = "a minute: .ci/slow mutated"]
fn mutated_sites_for_a_while() {
    let number = |name: &str, usual: u64| std::env::var(name).ok().map_or(usual, |text| text.parse().unwrap());
    let (seed, longest) = (number("SEED", 1), Duration::from_secs(number("SECONDS", 60)));
    let (begun, count) = (Instant::now(), Count::default());
    for batch in 0.. {
        if begun.elapsed() > longest {
            break;
        }
        try_some(rand::Rng::next_u64(&mut stream(seed, batch, "mutated sites")), BATCH, &count);
    }
    told(&count);
}
