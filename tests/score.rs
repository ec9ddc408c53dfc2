//! `hensward score`: strategies from files and from programs, and programs that misbehave.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(unix)]

mod common;

use common::{digests, done, one_line, repository, run, stderr, stdout};
use std::process::Command;
use std::time::{Duration, Instant};

fn problem_file(name: &str) -> String {
    repository().join("scenarios/problems").join(name).display().to_string()
}

fn score(arguments: &[&str]) -> serde_json::Value {
    let folder = tempfile::tempdir().unwrap();
    common::without_run(&done(folder.path(), &[&["score", "--json"], arguments].concat()))
}

/// The example of the page on problems is by eye, as a plain strategy is, and is told all that one is told.
#[test]
fn the_python_example_plays() {
    if Command::new("python3").arg("--version").output().is_err() {
        eprintln!("no python3 here: its example was not tried");
        return;
    }
    let program = format!("python3 '{}'", problem_file("keeper.py"));
    let told = score(&["--program", &program, "--problem", "small-lawn", "--problem", "hot-beds"]);
    assert_eq!(told["problems"].as_array().unwrap().len(), 2);
    assert_eq!(told["problems"][0]["name"], "hot-beds");
    assert_ne!(told["problems"][0]["aim"]["mean"], 0.0);
    assert_eq!(
        told["mean_share"],
        score(&["--program", &program, "--problem", "hot-beds", "--problem", "small-lawn"])["mean_share"]
    );
    assert!(
        std::fs::read_to_string(problem_file("keeper.py")).unwrap().lines().filter(|l| !l.is_empty()).count() <= 10
    );
}

/// A program that does as a plain strategy does scores the same to the last digit.
#[test]
fn a_program_that_opens_every_gate_scores_as_all_open() {
    let every = r#"while read -r day; do date=${day#*\"date\":\"}; echo "{\"date\":\"${date%%\"*}\",\"open\":[\"a\",\"b\",\"c\"]}"; done"#;
    let program = format!("sh -c '{every}'");
    let by_program = score(&["--program", &program, "--problem", "highland-strip"]);
    let by_file = score(&[&problem_file("plain.toml"), "--strategy", "all-open", "--problem", "highland-strip"]);
    assert_eq!(by_program["problems"], by_file["problems"]);
}

#[test]
fn a_list_of_dates_fits_one_problem() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("gates.csv"), "date,plot\n2027-10-10,b\n2028-03-01,a\n").unwrap();
    let said = done(folder.path(), &["score", "gates.csv", "--problem", "shut-in", "--quiet"]);
    assert!(said.contains("shut-in") && one_line(&said).contains("list-of-dates: on average"), "{said}");
    assert_eq!(digests(&folder.path().join("results/problems/score")).len(), 2);
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    let plain = problem_file("plain.toml");
    let told = |threads| score(&[&plain, "--strategy", "bold-eye", "--problem", "newcomers", "--threads", threads]);
    assert_eq!(told("1"), told("2"));
}

#[track_caller]
fn refused(arguments: &[&str], wants: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("gates.csv"), "date,plot\n2027-10-10,b\n").unwrap();
    std::fs::write(folder.path().join("mine.toml"), "[strategy.a]\nby_eye = { enter_above = 7 }\n").unwrap();
    let before = digests(folder.path());
    let output = run(folder.path(), &[&["score"], arguments].concat());
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
    wants.iter().for_each(|want| assert!(said.contains(want), "{arguments:?} does not say {want:?}: {said}"));
    assert_eq!((stdout(&output).as_str(), digests(folder.path())), ("", before));
}

#[test]
fn what_cannot_be_scored() {
    refused(&["gates.csv"], &["one problem only", "--problem"]);
    refused(&["gates.csv", "--problem", "small-lawns"], &["Did you mean \"small-lawn\"?"]);
    refused(&["mine.toml"], &["mine.toml, line 2", "^"]);
    refused(&["none.toml"], &["none.toml", "no such file"]);
    refused(&["mine.toml", "--seed", "3"], &["--seed", "fixed"]);
    refused(&["mine.toml", "--program", "cat"], &["--program"]);
    refused(&[], &["STRATEGY.toml"]);
    refused(&["--program", "cat", "--within", "0"], &["--within", "0.01 to 3600"]);
    refused(&["--program", "cat", "--in-all", "1e9"], &["--in-all", "0.01 to 604800"]);
    refused(&["mine.toml", "--in-all", "60"], &["--in-all"]);
    refused(&["mine.toml", "--within", "60"], &["--within"]);
}

#[test]
fn programs_that_misbehave_cost_one_fault_and_little_time() {
    let begun = Instant::now();
    let day = r#"{"date":"2027-10-01","open":["#;
    let two = format!("sh -c 'while read -r x; do echo \"{}]}}\"; done'", day.replace('"', "\\\""));
    for (program, want) in [
        ("sleep 60", "on 2027-10-01 of possible year 1: it did not answer within 0.5 s"),
        ("sh -c 'sleep 60 & sleep 60'", "did not answer"),
        ("false", "on 2027-10-01 of possible year 1: it ended"),
        ("sh -c 'echo a gate fell on me >&2; exit 3'", "a gate fell on me"),
        ("cat", "unknown field `first`"),
        ("yes", "it answered \"y\""),
        ("head -c 1000000 /dev/zero", "a line longer than 65536 bytes"),
        ("printf '\\377\\376\\n'", "not text"),
        (two.as_str(), "not the day it was asked about"),
        ("there-is-no-such-program", "cannot be started"),
        ("", "no program is named"),
    ] {
        refused(&["--program", program, "--within", "0.5", "--problem", "shut-in"], &["--program", want, "1 fault;"]);
    }
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}
