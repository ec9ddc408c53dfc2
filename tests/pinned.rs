//! The demos' results, pinned: a change of any digit anywhere in the model is seen here, and said.
//!
//! `tests/fixtures/pinned/<demo>/<strategy>-<draw>.csv` pins a season with `--exact` (in draw 0 every
//! unknown has its likely value), file by file:
//!
//! - of either ledger its number of rows; a mark a day, so that the first day that parts is known; a
//!   line a column: digest (FNV-1a 64 of every cell), sum, least, most, sum over the last day, and a
//!   mark for each six weeks. A mark is six bits of a digest, one letter: it tells when, the digest
//!   tells whether;
//! - of the diary a digest, a mark a row, and how often what stands there;
//! - of the summary every figure. Its version and input digest change without any figure changing
//!   and are left out.
//!
//! After a change that is meant `REWRITE=1 cargo test --test pinned` writes the pins anew
//! (`.ci/update-golden` does that and all else); say in CHANGELOG.md what changed the figures. For
//! another season to be pinned make its file, empty, and rewrite.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;
#[path = "pinned/season.rs"]
mod season;
#[path = "pinned/speak.rs"]
mod speak;
#[path = "pinned/table.rs"]
mod table;
#[path = "pinned/tests.rs"]
mod tests;

use common::repository;
use rayon::prelude::*;
use season::Season;
use std::path::PathBuf;

const FOLDER: &str = "tests/fixtures/pinned";

/// A pinned season.
struct Pinned {
    demo: String,
    strategy: String,
    draw: String,
    path: PathBuf,
}

/// All of them, in the order of their names.
fn pinned() -> Vec<Pinned> {
    let below = |folder: PathBuf| {
        let mut paths: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
        paths.sort();
        paths
    };
    below(repository().join(FOLDER)).into_iter().flat_map(below).map(Pinned::at).collect()
}

impl Pinned {
    fn at(path: PathBuf) -> Self {
        let text = |part: &std::ffi::OsStr| part.to_str().unwrap().to_owned();
        let stem = text(path.file_stem().unwrap());
        let (strategy, draw) = stem.rsplit_once('-').unwrap();
        let demo = text(path.parent().unwrap().file_name().unwrap());
        Self { demo, strategy: strategy.to_owned(), draw: draw.to_owned(), path }
    }

    /// What moved, with its name above; writes the pin anew if that is asked for.
    fn held(&self) -> Option<String> {
        let now = Season::run(&self.demo, &self.strategy, &self.draw);
        if std::env::var_os("REWRITE").is_some() {
            std::fs::write(&self.path, now.pin([None, None])).unwrap();
            return None;
        }
        let moved = speak::moved(&std::fs::read_to_string(&self.path).unwrap(), &now);
        let name = format!("{}, {}, draw {}", self.demo, self.strategy, self.draw);
        (!moved.is_empty()).then(|| format!("{name}\n  {}", moved.join("\n  ")))
    }
}

/// All that moved is told at once.
#[test]
fn the_demos_give_the_same_digits() {
    let moved: Vec<String> = pinned().par_iter().filter_map(Pinned::held).collect();
    assert!(moved.is_empty(), "\n{}\nIf meant: REWRITE=1 cargo test --test pinned", moved.join("\n"));
}

/// With every unknown at its likely value, and in a drawn year.
#[test]
fn every_demo_is_pinned_in_the_likely_year_and_a_drawn_one() {
    for entry in std::fs::read_dir(repository().join("scenarios/demos")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let draws: Vec<String> = pinned().into_iter().filter(|p| p.demo == name).map(|p| p.draw).collect();
        assert!(draws.iter().any(|draw| draw == "0"), "{name} is not pinned in draw 0: {draws:?}");
        assert!(draws.iter().any(|draw| draw != "0"), "{name} is not pinned in a drawn year: {draws:?}");
    }
}
