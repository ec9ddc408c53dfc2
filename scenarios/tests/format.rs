//! The page on the site file's format shows every kind of strategy with all its keys, in
//! examples that can be read.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use scenarios::{Faults, Library, SiteModel, site_file};
use sim_engine::gates::spec::StrategyKind;

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
