//! The page on the site file's format has every declared key and no other, and shows every kind of strategy with all
//! its keys, in examples that can be read.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use scenarios::site_file::format::SITE as DECLARED;
use scenarios::table_format::{Kind, TableFormat};
use scenarios::{Faults, Library, SiteModel, site_file};
use sim_engine::gates::spec::StrategyKind;
use std::fmt::Write as _;

const FORMAT: &str = include_str!("../src/site_file/format.md");
/// A site that has the plots, the pest and the strategies of the examples.
const SITE: &str = include_str!("../starters/orchard.toml");

/// Reads the site with one strategy more.
fn with(library: &Library, strategy: &str) -> Result<SiteModel, Faults> {
    let text = format!("{SITE}\n[strategy.shown]\n{strategy}\n");
    site_file::read_text("site.toml", &text, library, &|_| Ok("date,plot\n2027-05-01,orchard\n".into()))
}

/// Keys the reader of a kind asks for, as it lists them to whoever writes another.
fn keys(library: &Library, word: &str) -> Vec<String> {
    let faults = with(library, &format!("{word} = {{ not_a_key_of_any_kind = 1 }}")).unwrap_err();
    let remedies = faults.all().iter().filter(|fault| fault.message.contains("has no key \"not_a_key"));
    let listed = remedies.filter_map(|fault| fault.remedy.strip_prefix("It may be "));
    listed.flat_map(|keys| keys.trim_end_matches('.').split(", ").map(str::to_owned)).collect()
}

#[test]
fn every_kind_of_strategy_is_shown_with_all_its_keys() {
    let library = Library::shipped().unwrap();
    let quoted: Vec<&str> = FORMAT.split('`').skip(1).step_by(2).collect();
    let mut all = 0;
    for word in StrategyKind::WORDS {
        let example = quoted.iter().find(|text| text.starts_with(&format!("{word} = ")));
        let example = example.unwrap_or_else(|| panic!("format.md shows no {word}"));
        let model = with(&library, example).unwrap_or_else(|faults| panic!("{faults}"));
        assert_eq!(model.strategies.last().map(|shown| shown.kind.word()), Some(word));
        for key in keys(&library, word) {
            assert!(example.contains(&format!("{key} = ")), "format.md shows {word} without {key}");
            all += 1;
        }
    }
    assert!(all >= 19, "{all} keys");
}

const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/site_file/format.md");
/// Above the table of keys.
const HEAD: &str = "| key | is | taken | may be |\n|---|---|---|---|\n";

/// The rows of a table and of those below it.
fn rows(table: &'static TableFormat, out: &mut String) {
    writeln!(out, "| **`{}`** | {} | | |", table.heading, table.what).unwrap();
    for key in table.keys {
        let mut may_be = key.kind.words();
        if let Some(below) = key.kind.below() {
            may_be = may_be.replace(below.heading, &format!("`{}`", below.heading));
        }
        writeln!(out, "| `{}` | {} | {} | {may_be} |", key.key, key.what, key.taken.words()).unwrap();
    }
    if let Some(rest) = table.rest {
        writeln!(out, "| {} | {} | | {} |", rest.name, rest.what, rest.kind.words()).unwrap();
    }
    for below in table.keys.iter().filter_map(|key| Kind::below(&key.kind)) {
        rows(below, out);
    }
}

/// After a meant change `REWRITE=1 cargo test -p scenarios --test format` writes it anew.
#[test]
fn the_table_of_keys_is_what_is_declared() {
    let mut made = String::new();
    rows(&DECLARED, &mut made);
    let page = std::fs::read_to_string(PAGE).unwrap();
    let (before, rest) = page.split_once(HEAD).unwrap();
    let (_, after) = rest.split_once("\n\n").unwrap_or_else(|| rest.split_once('\n').unwrap());
    let whole = format!("{before}{HEAD}{made}\n{}", after.trim_start_matches('\n'));
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(PAGE, &whole).unwrap();
        return;
    }
    assert!(page == whole, "format.md differs; if meant: REWRITE=1 cargo test -p scenarios --test format");
}
