//! Files with anything done to them are refused or read, never a crash.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use proptest::prelude::*;
use scenarios::quantity::{kinds, parse};
use scenarios::{Library, site_file, station};
use std::sync::OnceLock;

const WRENFOLD: &str = include_str!("data/wrenfold.toml");
const GATES: &str = include_str!("data/gates.csv");

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

fn read(text: &str, gates: &str) {
    let read = site_file::read_text("wrenfold.toml", text, library(), &|_| Ok(gates.to_owned()));
    if let Err(faults) = read {
        assert!(!faults.all().is_empty());
        assert!(!faults.to_string().is_empty());
    }
}

/// The text with the part between two places replaced.
fn patched(text: &str, from: usize, length: usize, with: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let from = from % (letters.len() + 1);
    let to = (from + length).min(letters.len());
    letters[..from].iter().copied().chain(with.chars()).chain(letters[to..].iter().copied()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_patched_site(from in 0usize..9_000, length in 0usize..60, with in "[ -~é\n]{0,12}") {
        read(&patched(WRENFOLD, from, length, &with), GATES);
    }

    #[test]
    fn a_number_changed(pick in 0usize..400, with in prop::sample::select(vec!["-1", "0", "nan", "inf", "1e308", "99999999999999999999", "0.5", "02-30", "\"\"", "[]", "{}"])) {
        let digits: Vec<usize> = WRENFOLD.char_indices().filter(|(_, c)| c.is_ascii_digit()).map(|(at, _)| at).collect();
        let at = digits[pick % digits.len()];
        read(&format!("{}{with}{}", &WRENFOLD[..at], &WRENFOLD[at + 1..]), GATES);
    }

    #[test]
    fn patched_gates(from in 0usize..200, length in 0usize..20, with in "[ -~é\n]{0,12}") {
        read(WRENFOLD, &patched(GATES, from, length, &with));
    }

    #[test]
    fn any_station(text in "(date,tmin\\[C\\],tmax\\[C\\],rain\\[mm\\]\n)?([0-9,\\-\\. a]{0,30}\n){0,8}") {
        let _ = station::read_text("days.csv", &text, station::Filling::BySite(3));
    }

    #[test]
    fn any_quantity(text in ".{0,24}") {
        if let Ok(value) = parse(&text, &kinds::INTERVAL_D) {
            prop_assert!(value.is_finite());
        }
    }
}
