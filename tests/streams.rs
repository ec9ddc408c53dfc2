//! Results on stdout, talk on stderr, exit codes, documents, progress, a closed pipe.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, program, run, stderr, stdout};
use std::process::Stdio;

#[test]
fn every_line_fits_eighty_columns() {
    let folder = tempfile::tempdir().unwrap();
    let seattle = common::seattle();
    let asked: &[&[&str]] = &[
        &["check", "sallowmere"],
        &["check", "sallowmere", "--all"],
        &["season", "sallowmere"],
        &["season", "sallowmere", "--units", "us"],
        &["season", "sallowmere", "--why", "plum-slope@2027-05-20"],
        &["compare", "sallowmere", "--draws", "12"],
        &["compare", "sallowmere", "--draws", "12", "--weather", &seattle],
        &["weather", "fit", &seattle, "--months"],
        &["sources"],
        &["sources", "pests"],
        &["sources", "continental", "--units", "us"],
        &["sources", "hazards"],
        &["format"],
        &["format", "plot"],
        &["format", "strategy"],
        &["format", "dusk"],
        &["sources", "--kind", "from memory"],
        &["--help"],
        &["compare", "--help"],
    ];
    for arguments in asked {
        let text = done(folder.path(), arguments);
        for line in text.lines().filter(|line| !line.contains('/')) {
            assert!(line.chars().count() <= 80, "{arguments:?}: {line}");
        }
    }
}

#[test]
fn documents_name_their_format_and_stand_alone_on_stdout() {
    let folder = tempfile::tempdir().unwrap();
    let seattle = common::seattle();
    let asked: &[(&[&str], &str)] = &[
        (&["check", "sallowmere"], "hensward.check/2"),
        (&["season", "sallowmere"], "hensward.season/2"),
        (&["season", "sallowmere", "--why", "plum-slope@2027-05-20"], "hensward.season/2"),
        (&["compare", "sallowmere", "--draws", "2"], "hensward.compare/2"),
        (&["sources", "onion fly"], "hensward.sources/1"),
        (&["format", "guards"], "hensward.format/1"),
        (&["weather", "fit", &seattle], "hensward.weather/1"),
        (&["weather", "draw", "cool-maritime"], "hensward.weather/1"),
    ];
    for (arguments, format) in asked {
        let document: serde_json::Value =
            serde_json::from_str(&done(folder.path(), &[arguments, &["--json"][..]].concat())).unwrap();
        assert_eq!(document["format"], *format);
        for key in ["version", "seed", "site", "input_digest", "run"] {
            assert!(!document[key].is_null(), "{arguments:?} has no {key}");
        }
        for key in ["seconds", "threads", "zone_days", "plot_days"] {
            assert!(document["run"][key].is_number(), "{arguments:?} has no run.{key}");
        }
    }
    for (path, bytes) in common::files(folder.path()) {
        if path.extension().is_some_and(|ending| ending == "json") {
            let document: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
            assert!(document.get("run").is_none(), "{} has run", path.display());
        }
    }
}

#[test]
fn faults_are_a_document_too() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), "format = 2\n").unwrap();
    let output = run(folder.path(), &["check", "site.toml", "--json"]);
    assert_eq!(output.status.code(), Some(2));
    let document: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
    assert_eq!(document["ok"], false);
    assert!(!document["faults"].as_array().unwrap().is_empty());
}

#[test]
fn quiet_says_nothing_and_plain_progress_says_lines() {
    let folder = tempfile::tempdir().unwrap();
    let compare = ["compare", "sallowmere", "--draws", "2"];
    let quiet = run(folder.path(), &[&compare[..], &["--quiet"]].concat());
    assert_eq!(stderr(&quiet), "");
    let plain = run(folder.path(), &[&compare[..], &["--progress", "plain"]].concat());
    assert!(stderr(&plain).contains("2 of 2 possible years"), "{}", stderr(&plain));
    assert_eq!(stdout(&quiet), stdout(&plain));
}

#[test]
fn us_units_change_what_is_read_and_no_data() {
    let folder = tempfile::tempdir().unwrap();
    let (metric, us) = (folder.path().join("metric"), folder.path().join("us"));
    let out = |path: &std::path::Path| path.display().to_string();
    done(folder.path(), &["season", "sallowmere", "--out", &out(&metric)]);
    let text = done(folder.path(), &["season", "sallowmere", "--out", &out(&us), "--units", "us"]);
    assert!(text.contains("lb/acre/yr") && text.contains("ft2 per bird") && !text.contains("kg"), "{text}");
    // Data stay metric; pages and pictures are for reading.
    let data = |folder: &std::path::Path| -> Vec<(std::path::PathBuf, Vec<u8>)> {
        let is_data =
            |path: &std::path::Path| path.extension().is_some_and(|ending| ending == "csv" || ending == "json");
        let relative = |path: std::path::PathBuf| path.strip_prefix(folder).unwrap().to_owned();
        common::files(folder)
            .into_iter()
            .filter(|(path, _)| is_data(path))
            .map(|(path, bytes)| (relative(path), bytes))
            .collect()
    };
    assert!(data(&metric).len() == 4 && data(&metric) == data(&us));
    let why = done(folder.path(), &["season", "sallowmere", "--why", "plum-slope@2027-05-20", "--units", "us"]);
    assert!(!why.contains("kg"), "{why}");
    let compare = done(folder.path(), &["compare", "sallowmere", "--draws", "2", "--units", "us"]);
    assert!(compare.contains("lb/yr") && !compare.contains("kg/yr"), "{compare}");
    let check = done(folder.path(), &["check", "sallowmere", "--units", "us"]);
    assert!(check.contains("kitchen-beds  753 ft2, gate 13 ft away"), "{check}");
    let all = done(folder.path(), &["check", "sallowmere", "--all", "--units", "us"]);
    assert!(all.contains("Plot kitchen-beds: 753 ft2"), "{all}");
}

#[test]
fn nothing_else_is_written_beside_the_files() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &["check", "sallowmere"]);
    assert!(common::files(folder.path()).is_empty());
    done(folder.path(), &["season", "sallowmere"]);
    let names: Vec<String> = common::files(folder.path())
        .iter()
        .map(|(path, _)| path.file_name().unwrap().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with("plot-"))
        .collect();
    assert_eq!(
        names,
        [
            "cover.svg",
            "diary.csv",
            "ledger.csv",
            "ledger_site.csv",
            "season.html",
            "season.svg",
            "summary.json",
            "year.svg"
        ]
    );
}

#[test]
fn a_file_in_place_of_the_folder_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("taken"), "").unwrap();
    let output = run(folder.path(), &["season", "sallowmere", "--out", "taken"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("Choose another folder with --out"), "{}", stderr(&output));
}

/// A reader that leaves early (`| head`) is no fault.
#[test]
fn a_closed_pipe_is_success() {
    let folder = tempfile::tempdir().unwrap();
    let years = ["weather", "draw", "cool-maritime", "--years", "200"];
    let mut child = program(folder.path()).args(years).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{:?} {}", output.status, stderr(&output));
    assert_eq!(stderr(&output), "");
}
