//! Wrong input: exit code 2, each fault with its place and what would be right, nothing written.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{DEMO, DEMO_GATES, run, stderr, stdout};
use std::path::Path;

/// Expects a refusal that says all of `wants`, prints nothing and writes nothing.
#[track_caller]
fn refused(folder: &Path, arguments: &[&str], wants: &[&str]) {
    let before = common::digests(folder);
    let output = run(folder, arguments);
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(2), "{arguments:?} said: {said}");
    for want in wants {
        assert!(said.contains(want), "{arguments:?} does not say {want:?}, but:\n{said}");
    }
    assert_eq!(stdout(&output), "", "{arguments:?}");
    assert_eq!(common::digests(folder), before, "{arguments:?} wrote something");
}

/// A site file refused by every command that reads one.
#[track_caller]
fn site_refused(text: &str, wants: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), text).unwrap();
    std::fs::write(folder.path().join("gates.csv"), DEMO_GATES).unwrap();
    for command in ["check", "season", "compare"] {
        refused(folder.path(), &[command, "site.toml"], &[wants, &["site.toml"]].concat());
        refused(folder.path(), &[command, ".", "--out", "elsewhere"], wants);
    }
}

/// The demo with one text replaced.
#[track_caller]
fn demo_with(from: &str, to: &str) -> String {
    assert!(DEMO.contains(from), "the demo has no {from:?}");
    DEMO.replacen(from, to, 1)
}

#[test]
fn an_empty_file() {
    site_refused("", &["the file is empty"]);
    site_refused("\n  \n", &["the file is empty"]);
}

#[test]
fn what_is_not_toml() {
    site_refused("dear diary, the hens are well", &["line 1", "^"]);
    site_refused("\u{0}\u{1}\u{2}", &["line 1"]);
}

#[test]
fn a_wrong_unit() {
    site_refused(&demo_with("area = \"70 m2\"", "area = \"70 kg\""), &["line", "^^^^^", "kg", "m2"]);
}

#[test]
fn impossible_areas() {
    for area in ["\"-70 m2\"", "\"nan m2\"", "\"inf m2\"", "nan", "inf", "0", "\"\"", "true"] {
        site_refused(&demo_with("area = \"70 m2\"", &format!("area = {area}")), &["area", "^"]);
    }
}

#[test]
fn no_plots() {
    let start = DEMO.find("[plot.kitchen-beds]").unwrap();
    let end = DEMO.find("# ---- what happens to the whole site").unwrap();
    site_refused(&format!("{}{}", &DEMO[..start], &DEMO[end..]), &["plot"]);
}

#[test]
fn dates_that_do_not_exist() {
    site_refused(&demo_with("start = 2027-03-15", "start = \"2027-02-30\""), &["2027-02-30 does not exist", "28 days"]);
    site_refused(&demo_with("[\"04-05\", \"06-12\"]", "[\"04-31\", \"06-12\"]"), &["04-31 does not exist", "30 days"]);
}

#[test]
fn a_crop_that_ends_before_it_starts() {
    let dates = "in_ground = [2027-06-12, 2027-04-05]";
    site_refused(&demo_with("in_ground = [\"04-05\", \"06-12\"]", dates), &["in_ground", "2027-04-05", "^"]);
}

#[test]
fn strategies_of_what_is_not_there() {
    let of = |name: &str| format!("continuous = {{ plot = \"{name}\" }}");
    let remedy = "Did you mean \"plum-slope\"?";
    site_refused(&demo_with(&of("plum-slope"), &of("plum-slop")), &["plum-slop", remedy]);
    let itself = "[strategy.circle]\nbetween_crops = { stay = \"3 days\", else = \"circle\" }\n";
    site_refused(&format!("{DEMO}\n{itself}"), &["circle"]);
}

#[test]
fn ten_thousand_plots() {
    let mut text = DEMO.to_owned();
    for plot in 0..10_000 {
        text.push_str(&format!(
            "\n[plot.more-{plot}]\narea = \"20 m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\n"
        ));
    }
    site_refused(&text, &["24 plots"]);
}

#[test]
fn a_latitude_of_95() {
    site_refused(&demo_with("latitude = \"47.8 deg\"", "latitude = \"95 deg\""), &["-65 to 65 deg"]);
}

#[test]
fn several_faults_come_at_once() {
    let text = demo_with("area = \"70 m2\"", "area = \"70 kg\"").replacen("stay = \"35 days\"", "stay = \"35 m\"", 1);
    site_refused(&text, &["70 kg", "35 m", "2 faults"]);
}

#[test]
fn sites_that_are_not_there() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("bare")).unwrap();
    for command in ["check", "season", "compare"] {
        refused(
            folder.path(),
            &[command, "nowhere"],
            &["nowhere", "the name of a demo: sallowmere, emberstair, puddlecote"],
        );
        refused(folder.path(), &[command, "salowmere"], &["Did you mean the demo \"sallowmere\"?"]);
        refused(folder.path(), &[command, "bare"], &["bare", "holds no site.toml"]);
    }
    std::fs::write(folder.path().join("photo.toml"), [0xff, 0xfe, 0x00]).unwrap();
    refused(folder.path(), &["check", "photo.toml"], &["photo.toml", "UTF-8"]);
}

/// A station file that a site or an option names.
#[track_caller]
fn station_refused(text: &str, wants: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("days.csv"), text).unwrap();
    let wants: Vec<&str> = wants.iter().chain(&["days.csv"]).copied().collect();
    refused(folder.path(), &["season", "sallowmere", "--weather", "days.csv"], &wants);
    refused(folder.path(), &["compare", "sallowmere", "--weather", "days.csv"], &wants);
    refused(folder.path(), &["carry", "sallowmere", "--weather", "days.csv"], &wants);
    refused(folder.path(), &["sweep", "sallowmere", "--vary", "birds=4", "--weather", "days.csv"], &wants);
    refused(folder.path(), &["weather", "fit", "days.csv"], &wants);
    refused(folder.path(), &["weather", "draw", "--from", "days.csv"], &wants);
}

#[test]
fn faulty_station_files() {
    let days = std::fs::read_to_string(common::seattle()).unwrap();
    station_refused("", &["the file is empty"]);
    station_refused(&days.replacen("12.8", "warm", 1), &["line 2", "tmax is \"warm\"", "not a number"]);
    station_refused(&days.replacen("12.8", "128", 1), &["line 2", "impossible"]);
    station_refused(&days.replacen("2012-01-02", "2012-01-32", 1), &["line 3", "does not exist"]);
    station_refused("day,cold,warm\n1,2,3\n", &["line 1"]);
}

#[test]
fn too_few_station_days_say_how_many_there_are() {
    let days = std::fs::read_to_string(common::seattle()).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let two_years: String = days.lines().take(732).map(|line| format!("{line}\n")).collect();
    std::fs::write(folder.path().join("short.csv"), two_years).unwrap();
    let wants = ["short.csv", "needs 1096 days", "has 657 of them", "write years = 1 under [run]"];
    refused(folder.path(), &["season", "sallowmere", "--weather", "short.csv"], &wants);
    refused(folder.path(), &["compare", "sallowmere", "--weather", "short.csv"], &wants);
    refused(folder.path(), &["carry", "sallowmere", "--weather", "short.csv"], &wants);
    refused(folder.path(), &["season", "sallowmere", "--weather", "none.csv"], &["none.csv", "no such file"]);
}

#[test]
fn a_lesson_of_a_site_with_one_strategy() {
    let folder = tempfile::tempdir().unwrap();
    let start = DEMO.find("[strategy.turn-by-area]").unwrap();
    let one = &DEMO[..start];
    std::fs::write(folder.path().join("site.toml"), one).unwrap();
    refused(folder.path(), &["lesson", "site.toml"], &["two strategies", "Write a second [strategy.NAME]"]);
}

#[test]
fn options_that_make_no_sense() {
    let folder = tempfile::tempdir().unwrap();
    let wrong: &[(&[&str], &[&str])] = &[
        (&["season", "sallowmere", "--strategy", "by-eyes"], &["--strategy", "Did you mean \"by-eye\"?"]),
        (&["compare", "sallowmere", "--strategy", "by-eyes"], &["--strategy", "Did you mean \"by-eye\"?"]),
        (&["compare", "sallowmere", "--against", "nobody"], &["--against"]),
        (&["compare", "sallowmere", "--strategy", "by-eye", "--strategy", "by-eye"], &["named twice"]),
        (&["compare", "sallowmere", "--draws", "0"], &["--draws", "from 1 to 1000000"]),
        (&["compare", "sallowmere", "--draws", "many"], &["--draws"]),
        (&["compare", "sallowmere", "--sure", "90"], &["--sure", "0 to 1"]),
        (&["compare", "sallowmere", "--worth", "nan"], &["--worth", "0 to 1"]),
        (&["compare", "sallowmere", "--until-sure", "1"], &["--until-sure", "0.5 to 0.9999"]),
        (&["compare", "sallowmere", "--until-sure", "0.9", "--draws", "9"], &["--until-sure", "--draws"]),
        (&["compare", "sallowmere", "--until-sure", "0.9", "--worth", "0"], &["--until-sure", "--worth"]),
        (&["compare", "sallowmere", "--until-sure", "0.9", "--sure", "1"], &["--until-sure", "below 1 with --sure"]),
        (
            &["compare", "sallowmere", "--until-sure", "0.9", "--most-draws", "9"],
            &["--most-draws", "from 96 to 100000"],
        ),
        (&["compare", "sallowmere", "--most-draws", "128"], &["--until-sure"]),
        (&["season", "sallowmere", "--why", "plum-slope"], &["--why", "no @"]),
        (&["season", "sallowmere", "--why", "plum-slop@2027-04-01"], &["--why", "Did you mean \"plum-slope\"?"]),
        (&["season", "sallowmere", "--why", "plum-slope@2027-02-30"], &["--why", "not a date that exists"]),
        (
            &["season", "sallowmere", "--why", "plum-slope@2037-02-03"],
            &["--why", "Take a day from 2027-03-15 to 2030-03-14"],
        ),
        (&["lesson", "sallowmere", "--strategy", "by-eyes"], &["--strategy", "Did you mean \"by-eye\"?"]),
        (&["lesson", "sallowmere", "--strategy", "by-eye", "--strategy", "by-eye"], &["named twice", "two different"]),
        (
            &["lesson", "sallowmere", "--strategy", "by-eye", "--strategy", "all-open", "--strategy", "our-year"],
            &["3 strategies are named", "hensward compare"],
        ),
        (&["lesson", "sallowmere", "--draws", "0"], &["--draws", "from 1 to 100000"]),
        (&["weather", "draw", "cool-maritine"], &["Did you mean \"cool-maritime\"?"]),
        (&["weather", "draw", "cool-maritime", "--start", "2027-02-30"], &["--start", "a date that exists"]),
        (&["weather", "draw"], &["CLIMATE"]),
        (&["check"], &["SITE"]),
        (&["chekc", "sallowmere"], &["check"]),
        (&["check", "sallowmere", "--threads", "0"], &["--threads"]),
    ];
    for (arguments, wants) in wrong {
        refused(folder.path(), arguments, wants);
    }
}

#[cfg(not(feature = "png"))]
#[test]
fn pictures_that_were_not_built_in() {
    let folder = tempfile::tempdir().unwrap();
    let wants = ["--png", "built without PNG", ".svg", "cargo build --release"];
    for command in ["season", "compare", "carry"] {
        refused(folder.path(), &[command, "sallowmere", "--png"], &wants);
    }
    refused(folder.path(), &["sweep", "sallowmere", "--vary", "birds=4", "--png"], &wants);
    refused(folder.path(), &["merge", "part.sweep", "--png"], &wants);
}
