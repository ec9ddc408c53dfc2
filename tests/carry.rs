//! Carrying capacity of real sites, against a grid of every flock and a closed form.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use analysis::stats::isotonic::falling;
use common::{digests, done, run, stderr, without_run};
use serde_json::Value;
use std::path::Path;

/// A garden of one plot; the limits are those given.
fn one_plot(folder: &Path, area_m2: f64, limits: &str) {
    with_yard(folder, 60.0, area_m2, limits);
}

fn with_yard(folder: &Path, yard_m2: f64, area_m2: f64, limits: &str) {
    let site = format!(
        "format = 2\nlatitude = \"51 deg\"\n[run]\nstart = 2027-03-01\nyears = 1\n[weather]\nclimate = \"cool-maritime\"\n\
         [yard]\narea = \"{yard_m2} m2\"\n[house]\nnight_share = 0.45\n[birds.flock]\nclass = \"layer\"\nnumber = 8\n\
         [plot.orchard]\narea = \"{area_m2} m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\n\
         {limits}\n[strategy.open]\nall_open = {{}}\n"
    );
    std::fs::write(folder.join("site.toml"), site).unwrap();
}

fn carried(folder: &Path, arguments: &[&str]) -> Value {
    let told = done(folder, &[&["carry"], arguments, &["--json", "--quiet"]].concat());
    without_run(&told)
}

/// Column of the table of a sweep over every flock of one strategy.
fn every_flock(folder: &Path, arguments: &[&str], column: &str) -> Vec<f64> {
    done(folder, &[&["sweep"], arguments, &["--out", "grid", "--quiet"]].concat());
    let mut reader = csv::Reader::from_path(folder.join("grid/cells.csv")).unwrap();
    let place = reader.headers().unwrap().iter().position(|head| head == column).unwrap();
    reader.records().map(|record| record.unwrap()[place].parse().unwrap()).collect()
}

/// The search finds what a grid of every flock finds, on the demo.
#[test]
fn the_search_agrees_with_every_flock_tried() {
    let folder = tempfile::tempdir().unwrap();
    let seattle = common::seattle();
    for (strategy, more) in [
        ("long-stays", &[] as &[&str]),
        ("by-eye", &[]),
        ("plum-slope-for-good", &[]),
        ("by-eye", &["--weather", seattle.as_str()]),
    ] {
        let options = [&["sallowmere", "--strategy", strategy, "--draws", "20"], more].concat();
        let told = carried(folder.path(), &options);
        let held = every_flock(folder.path(), &[&options[..], &["--vary", "birds=0..60/1"]].concat(), "held_all");
        let fitted = falling(&held, &vec![1.0; held.len()]);
        let want = (0..fitted.len()).filter(|&flock| fitted[flock] >= 18.0 - 1e-9).max().unwrap();
        let found = &told["strategies"][0];
        assert_eq!(found["birds"], want, "{strategy} {more:?}: {fitted:?}");
        assert_eq!(told["weather"]["first"].as_str(), (!more.is_empty()).then_some("2012-03-15"));
        assert!(found["low"].as_u64() <= found["birds"].as_u64() && found["birds"].as_u64() <= found["high"].as_u64());
    }
}

/// A nitrogen limit alone: floor(limit × area ÷ N per bird and year outdoors), in one possible
/// year. N per bird is read off a small flock; the ground is wide, so that it stays the same.
#[test]
fn a_nitrogen_limit_bears_what_its_closed_form_says() {
    let folder = tempfile::tempdir().unwrap();
    one_plot(
        folder.path(),
        4000.0,
        "[limits]\nleast_cover = \"none\"\nbare_days = \"none\"\nspace = \"none\"\nnitrogen = \"20 kg/ha per year\"",
    );
    let load =
        every_flock(folder.path(), &["site.toml", "--draws", "1", "--vary", "birds=20"], "nitrogen_load[kg/ha/yr]");
    let per_bird = load[0] * 0.4 / 20.0;
    let told = carried(folder.path(), &["site.toml", "--draws", "1"]);
    let want = (20.0 * 0.4 / per_bird).floor();
    println!("{per_bird} kg N a bird and year outdoors: {want} birds");
    assert_eq!(told["strategies"][0]["birds"].as_f64(), Some(want));
    assert_eq!(
        (told["strategies"][0]["binds"].as_str(), &told["strategies"][0]["next"]),
        (Some("nitrogen"), &Value::Null)
    );
}

/// The search never gives a number that `check` would call crowded, and says what the ground looks like there.
#[test]
fn it_ends_where_check_warns_of_crowding() {
    let folder = tempfile::tempdir().unwrap();
    with_yard(folder.path(), 8.0, 4000.0, "[limits]\nleast_cover = 0.1");
    let told = carried(folder.path(), &["site.toml", "--draws", "10"]);
    let found = &told["strategies"][0];
    assert_eq!((found["birds"].as_u64(), told["room"]["birds"].as_u64()), (Some(20), Some(20)), "{told}");
    assert!(told["room"]["words"].as_str().unwrap().contains("0.4 m2 per bird in the yard"), "{told}");
    assert!(found["ground"]["mean_cover"].as_f64() < found["ground_without_birds"]["mean_cover"].as_f64());
    let site = std::fs::read_to_string(folder.path().join("site.toml")).unwrap();
    for (birds, crowded) in [(20, false), (21, true)] {
        std::fs::write(folder.path().join("site.toml"), site.replace("number = 8", &format!("number = {birds}")))
            .unwrap();
        assert_eq!(done(folder.path(), &["check", "site.toml"]).contains("8 m2 of yard for"), crowded, "{birds}");
    }
}

/// Without a limit of the keeper's, nitrogen decides nothing.
#[test]
fn nitrogen_decides_only_where_it_was_made_a_limit() {
    let folder = tempfile::tempdir().unwrap();
    one_plot(folder.path(), 300.0, "");
    let told = carried(folder.path(), &["site.toml", "--draws", "10"]);
    let limits: Vec<&String> = told["limits"].as_object().unwrap().keys().collect();
    assert_eq!(limits, ["bare_days", "least_cover", "space"]);
    let bears = told["strategies"][0]["birds"].as_u64().unwrap();
    one_plot(folder.path(), 300.0, "[limits]\nleast_cover = 0.7\nnitrogen = \"10 kg/ha per year\"");
    let bound = carried(folder.path(), &["site.toml", "--draws", "10"]);
    assert_eq!(bound["strategies"][0]["binds"], "nitrogen");
    assert!(bound["strategies"][0]["birds"].as_u64().unwrap() < bears);
}

#[test]
fn progress_is_silent_where_there_is_no_terminal() {
    let folder = tempfile::tempdir().unwrap();
    one_plot(folder.path(), 200.0, "");
    let silent = run(folder.path(), &["carry", "site.toml", "--draws", "5"]);
    assert!(!stderr(&silent).contains("round"), "{}", stderr(&silent));
}

#[test]
fn threads_leave_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    one_plot(folder.path(), 200.0, "");
    for threads in ["1", "2"] {
        done(
            folder.path(),
            &["carry", "site.toml", "--draws", "70", "--threads", threads, "--out", threads, "--quiet"],
        );
    }
    assert_eq!(digests(&folder.path().join("1")), digests(&folder.path().join("2")));
}

#[test]
fn a_site_without_birds_or_limits_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let refused = |want: &str| {
        let output = run(folder.path(), &["carry", "site.toml"]);
        assert_eq!(output.status.code(), Some(2));
        assert!(stderr(&output).contains(want), "{}", stderr(&output));
    };
    one_plot(folder.path(), 200.0, "[limits]\nleast_cover = \"none\"\nbare_days = \"none\"\nspace = \"none\"");
    refused("has no limit");
    one_plot(folder.path(), 200.0, "");
    let text = std::fs::read_to_string(folder.path().join("site.toml")).unwrap();
    let without = text.replace("[birds.flock]\nclass = \"layer\"\nnumber = 8\n", "");
    std::fs::write(folder.path().join("site.toml"), without).unwrap();
    refused("has no birds");
}
