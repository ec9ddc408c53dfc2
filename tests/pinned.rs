//! The demos' results, pinned: a change of any digit anywhere in the model is seen here.
//!
//! `tests/fixtures/pinned.csv` holds demo, strategy, draw (0: every unknown at its likely value),
//! and FNV-1a 64 of `ledger.csv`, `ledger_site.csv`, `diary.csv` and `summary.json` of that season
//! with `--exact`, one after the other; of the summary without version and input digest, which
//! change without any figure changing.
//!
//! After a change that is meant `REWRITE=1 cargo test --test pinned` writes the new digests
//! (`.ci/mint` does that and mints all else); say in CHANGELOG.md what changed the figures. For
//! another season to be pinned add its line with any digest, and rewrite.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, fnv, repository};

const FILE: &str = "tests/fixtures/pinned.csv";
const PINNED: &str = include_str!("fixtures/pinned.csv");

/// Demo, strategy, draw and digest of each line below the head.
fn pinned() -> impl Iterator<Item = [&'static str; 4]> {
    PINNED.lines().skip(1).map(|line| line.split(',').collect::<Vec<_>>().try_into().unwrap())
}

fn digest(demo: &str, strategy: &str, draw: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &["season", demo, "--strategy", strategy, "--draw", draw, "--exact", "--out", "."]);
    let mut all = Vec::new();
    for name in ["ledger.csv", "ledger_site.csv", "diary.csv"] {
        all.extend(std::fs::read(folder.path().join(name)).unwrap());
    }
    let summary = std::fs::read_to_string(folder.path().join("summary.json")).unwrap();
    let changes = |line: &&str| !line.contains("\"version\"") && !line.contains("\"input_digest\"");
    summary.lines().filter(changes).for_each(|line| all.extend(line.bytes()));
    format!("{:#018x}", fnv(&all))
}

/// All that moved are told at once.
#[test]
fn the_demos_give_the_same_digits() {
    let mut anew = format!("{}\n", PINNED.lines().next().unwrap());
    let mut moved = Vec::new();
    for [demo, strategy, draw, was] in pinned() {
        let now = digest(demo, strategy, draw);
        anew += &format!("{demo},{strategy},{draw},{now}\n");
        if now != was {
            moved.push(format!("{demo}, {strategy}, draw {draw}: now {now}"));
        }
    }
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(repository().join(FILE), anew).unwrap();
    } else {
        assert!(moved.is_empty(), "\n{}\nIf meant: REWRITE=1 cargo test --test pinned", moved.join("\n"));
    }
}

#[test]
fn every_demo_is_pinned() {
    for entry in std::fs::read_dir(repository().join("scenarios/demos")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(pinned().any(|[demo, ..]| demo == name), "{name} is not pinned");
    }
}
