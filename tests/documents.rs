//! Every document the commands write keeps to its schema, and its schema refuses it when spoilt.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;
#[path = "../analysis/tests/common/schemas.rs"]
mod schemas;

use common::{done, files, repository, run, seattle, stderr, stdout};
use schemas::{faults, refuses_spoilt};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

/// Runs a command, holds what it printed against its schema, and gives it.
#[track_caller]
fn told(folder: &Path, arguments: &[&str]) -> Value {
    checked(&arguments.join(" "), &done(folder, &as_json(arguments)))
}

/// The same of a command that finds a fault and still answers.
#[track_caller]
fn refused(folder: &Path, arguments: &[&str]) -> Value {
    let output = run(folder, &as_json(arguments));
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", stderr(&output));
    checked(&arguments.join(" "), &stdout(&output))
}

fn as_json<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    [arguments, &["--json", "--quiet"]].concat()
}

#[track_caller]
fn checked(from: &str, text: &str) -> Value {
    let document: Value = serde_json::from_str(text).unwrap_or_else(|error| panic!("{from}: {error}: {text}"));
    assert_eq!(faults(&document), Vec::<String>::new(), "{from}");
    refuses_spoilt(&document);
    document
}

/// Holds every summary below a folder against its schema; the formats there are.
fn summaries(folder: &Path) -> BTreeSet<String> {
    let all = files(folder);
    let summaries = all.iter().filter(|(path, _)| path.ends_with("summary.json"));
    let format = |(path, bytes): &(std::path::PathBuf, Vec<u8>)| {
        let document = checked(&path.display().to_string(), std::str::from_utf8(bytes).unwrap());
        assert!(document.get("run").is_none());
        document["format"].as_str().unwrap().to_owned()
    };
    summaries.map(format).collect()
}

/// What each command tells of a demo, on its own weather and on a station's.
fn a_demo(demo: &str) {
    let folder = tempfile::tempdir().unwrap();
    let tell = |arguments: &[&str]| told(folder.path(), arguments);
    let site = tell(&["check", demo, "--out", "checked"]);
    let (plot, strategy) = (site["plots"][0].as_str().unwrap(), site["strategies"][0].as_str().unwrap());
    let start = tell(&["season", demo])["start"].as_str().unwrap().to_owned();
    let seattle = seattle();
    let weather: &[&str] = &["--weather", &seattle];
    let why = format!("{plot}@{start}");
    assert!(tell(&["season", demo, "--why", &why])["why"]["measures"].is_object());
    assert!(tell(&[&["season", demo, "--out", "given"], weather].concat())["weather"].is_object());
    for few in [["compare", demo, "--draws", "1"], ["compare", demo, "--draws", "4"], ["lesson", demo, "--draws", "2"]]
    {
        tell(&few);
        assert_eq!(tell(&[few.as_slice(), weather].concat())["weather"]["file"], "seattle.csv");
    }
    let until = ["compare", demo, "--until-sure", "0.6", "--most-draws", "96"];
    assert!(tell(&until)["until_sure"]["answer"].is_string());
    let carry = ["carry", demo, "--draws", "2", "--strategy", strategy];
    tell(&carry);
    tell(&[carry.as_slice(), weather].concat());
    let sweep = ["sweep", demo, "--vary", "birds=4..8", "--draws", "2", "--strategy", strategy, "--sample", "2"];
    tell(&["sweep", demo, "--vary", "birds=4..8/4", "--draws", "2"]);
    tell(&[sweep.as_slice(), &["--design", "latin"]].concat());
    tell(&[sweep.as_slice(), weather].concat());
    let formats = ["carry/2", "check/2", "compare/2", "lesson/2", "season/2", "sweep/2"];
    assert_eq!(summaries(folder.path()), formats.map(|format| format!("hensward.{format}")).into());
}

#[test]
fn of_the_demo_sallowmere() {
    a_demo("sallowmere");
}

#[test]
fn of_the_demo_emberstair() {
    a_demo("emberstair");
}

#[test]
fn of_the_demo_puddlecote() {
    a_demo("puddlecote");
}

#[test]
fn of_what_needs_no_demo() {
    let folder = tempfile::tempdir().unwrap();
    let tell = |arguments: &[&str]| told(folder.path(), arguments);
    tell(&["new", "garden"]);
    std::fs::write(folder.path().join("bad.toml"), "format = 2\nname = [\n").unwrap();
    assert_eq!(refused(folder.path(), &["check", "bad.toml"])["ok"], false);
    let plain = repository().join("scenarios/problems/plain.toml").display().to_string();
    tell(&["score", &plain, "--problem", "small-lawn"]);
    tell(&["sources", "--out", "all"]);
    tell(&["sources", "yew"]);
    tell(&["format"]);
    tell(&["format", "plot"]);
    tell(&["weather", "fit", &seattle()]);
    tell(&["weather", "draw", "cool-maritime"]);
    let formats = ["score/2", "sources/1", "weather/1"];
    assert_eq!(summaries(folder.path()), formats.map(|format| format!("hensward.{format}")).into());
}
