//! The same site, seed and version give the same bytes for any number of threads.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{digests, done, without_run};

/// Pictures too, where the program can draw them.
const PNG: &[&str] = if cfg!(feature = "png") { &["--png"] } else { &[] };

#[track_caller]
fn same_for_one_and_two_threads(arguments: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let told: Vec<_> = ["1", "2"]
        .iter()
        .map(|threads| {
            let out = folder.path().join(threads).display().to_string();
            let options = ["--threads", threads, "--out", &out, "--json"];
            let document = done(folder.path(), &[arguments, &options].concat());
            (digests(&folder.path().join(threads)), without_run(&document))
        })
        .collect();
    assert!(!told[0].0.is_empty());
    assert_eq!(told[0], told[1]);
}

#[test]
fn of_a_season() {
    for demo in ["emberstair", "puddlecote"] {
        same_for_one_and_two_threads(&[&["season", demo][..], PNG].concat());
    }
    same_for_one_and_two_threads(&["season", "sallowmere", "--strategy", "our-year", "--draw", "3", "--exact"]);
}

/// More possible years than one batch, so that the order of batches counts too.
#[test]
fn of_a_comparison() {
    same_for_one_and_two_threads(&["compare", "sallowmere", "--draws", "40", "--seed", "7"]);
}

/// Which strategies go on to the next block must not depend on threads either.
#[test]
fn of_a_comparison_until_sure() {
    let some = ["--strategy", "by-eye", "--strategy", "all-open", "--strategy", "our-year", "--most-draws", "128"];
    same_for_one_and_two_threads(&[&["compare", "sallowmere", "--until-sure", "0.9"], &some[..]].concat());
}

#[test]
fn of_weather() {
    let seattle = common::seattle();
    same_for_one_and_two_threads(&["weather", "fit", &seattle]);
    same_for_one_and_two_threads(&["weather", "draw", "cool-maritime", "--years", "3"]);
}

#[test]
fn another_seed_gives_other_draws() {
    let folder = tempfile::tempdir().unwrap();
    let draw = |seed: &str| done(folder.path(), &["weather", "draw", "cool-maritime", "--seed", seed]);
    assert_eq!(draw("1"), draw("1"));
    assert_ne!(draw("1"), draw("2"));
}

/// A demo by name and the same demo by its folder are the same input.
#[test]
fn a_demo_by_name_is_the_demo_by_folder() {
    let folder = tempfile::tempdir().unwrap();
    let path = common::repository().join("scenarios/demos/sallowmere").display().to_string();
    let by = |site: &str| without_run(&done(folder.path(), &["season", site, "--json"]));
    assert_eq!(by("sallowmere"), by(&path));
}
