//! Sweeps: the same bytes whatever happens meanwhile, cells that agree with comparisons, and
//! refusals.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(unix)]

mod common;

use common::{DEMO, DEMO_GATES, digests, done, program, run, stderr, without_run};
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

/// Twelve strategies, some cells a block: a sweep of a second or two in many blocks.
const LONG: [&str; 7] = ["sweep", "sallowmere", "--vary", "birds=2..40/1", "--draws", "2", "--quiet"];
/// A sweep of a blink.
const SHORT: [&str; 9] =
    ["sweep", "sallowmere", "--vary", "stay=7..28/7", "--strategy", "turn-by-area", "--draws", "3", "--quiet"];

fn with<'a>(arguments: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    [arguments, more].concat()
}

/// Reads the table: a line a cell and strategy, by column name.
fn table(folder: &Path) -> Vec<std::collections::BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(folder.join("cells.csv")).unwrap();
    let heads = reader.headers().unwrap().clone();
    let line =
        |record: csv::StringRecord| heads.iter().map(str::to_owned).zip(record.iter().map(str::to_owned)).collect();
    reader.records().map(|record| line(record.unwrap())).collect()
}

/// Killed at moments of no choosing, then gone on with, until it is done.
#[test]
fn killed_at_any_moment_it_goes_on_to_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &with(&LONG, &["--out", "undisturbed"]));
    let mut kills = 0;
    // Steps of the golden ratio fall evenly and never twice in one place.
    for attempt in 0..200_u64 {
        let mut child = program(folder.path())
            .args(with(&LONG, &["--out", "killed", "--resume"]))
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        if kills < 6 {
            std::thread::sleep(Duration::from_millis(20 + attempt * 618 % 230));
            child.kill().unwrap();
        }
        let status = child.wait().unwrap();
        if status.success() {
            break;
        }
        kills += 1;
    }
    assert!(kills >= 3, "only {kills} kills met the sweep at work");
    assert_eq!(digests(&folder.path().join("killed")), digests(&folder.path().join("undisturbed")));
}

#[test]
fn threads_and_shards_leave_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let base = with(&SHORT, &["--vary", "birds=6..18/6", "--vary", "plot.hazel-strip.area=84,120"]);
    done(folder.path(), &with(&base, &["--out", "one", "--threads", "1"]));
    let told = done(folder.path(), &with(&base, &["--out", "two", "--threads", "2"]));
    let whole = digests(&folder.path().join("one"));
    assert_eq!(whole, digests(&folder.path().join("two")));
    assert!(told.contains("24"), "{told}");
    let parts: Vec<String> = (1..=5).map(|number| format!("{number}/5")).collect();
    for part in &parts {
        done(folder.path(), &with(&base, &["--out", "parts", "--shard", part]));
    }
    let named: Vec<String> = [3, 1, 5, 2, 4].iter().map(|number| format!("parts/part-{number}-of-5.sweep")).collect();
    let named: Vec<&str> = named.iter().map(String::as_str).collect();
    let merged = done(folder.path(), &with(&with(&["merge", "--out", "merged", "--quiet"], &named), &[]));
    assert_eq!(merged, told);
    assert_eq!(digests(&folder.path().join("merged")), whole);
}

/// The job-array script under a small array shim: the same script Slurm is given.
#[test]
fn the_array_script_gives_the_bytes_of_one_run() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &with(&SHORT, &["--out", "one"]));
    let cluster = common::repository().join("analysis/cluster");
    // The script names the folder first; the command's own word is not part of it.
    let output = std::process::Command::new("bash")
        .arg(cluster.join("array_here.sh"))
        .arg("3")
        .arg(cluster.join("sweep.sbatch"))
        .arg("parts")
        .args(&SHORT[1..])
        .env("HENSWARD", env!("CARGO_BIN_EXE_hensward"))
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", stderr(&output));
    let parts = ["parts/part-1-of-3.sweep", "parts/part-2-of-3.sweep", "parts/part-3-of-3.sweep"];
    done(folder.path(), &with(&["merge", "--out", "merged", "--quiet"], &parts));
    assert_eq!(digests(&folder.path().join("merged")), digests(&folder.path().join("one")));
}

/// A cell is what a comparison of the site with these numbers says.
#[test]
fn a_cell_agrees_with_a_comparison() {
    let folder = tempfile::tempdir().unwrap();
    let changed = DEMO
        .replace("number = 14", "number = 7")
        .replace("number = 4\n", "number = 2\n")
        .replace("], stay = \"14 days\"", "], stay = \"21 days\"")
        .replace("{ stay = \"12 days\"", "{ stay = \"21 days\"")
        .replace("], stay = \"35 days\"", "], stay = \"21 days\"")
        .replace("area = \"84 m2\"", "area = \"120 m2\"");
    std::fs::write(folder.path().join("changed.toml"), changed).unwrap();
    std::fs::write(folder.path().join("gates.csv"), DEMO_GATES).unwrap();
    let compared = done(folder.path(), &["compare", "changed.toml", "--draws", "5", "--json", "--quiet"]);
    let compared: serde_json::Value = serde_json::from_str(&compared).unwrap();
    let vary = ["--vary", "birds=9,20", "--vary", "stay=14,21", "--vary", "plot.hazel-strip.area=84,120"];
    done(
        folder.path(),
        &with(&with(&["sweep", "sallowmere", "--draws", "5", "--out", "swept", "--quiet"], &vary), &[]),
    );
    let rows = table(&folder.path().join("swept"));
    let strategies = compared["strategies"].as_array().unwrap();
    let mut checked = 0;
    for row in rows
        .iter()
        .filter(|row| row["birds"] == "9" && row["stay[days]"] == "21" && row["plot.hazel-strip.area[m2]"] == "120")
    {
        let strategy = strategies.iter().find(|s| s["name"] == row["strategy"].as_str()).unwrap();
        let close = |column: &str, want: &serde_json::Value| {
            let Some(want) = want.as_f64() else { return assert_eq!(row[column], "", "{column}") };
            let got: f64 = row[column].parse().unwrap();
            assert!((got - want).abs() <= 1e-9 * want.abs().max(1.0), "{} {column}: {got} {want}", row["strategy"]);
        };
        close("aim[h/yr]", &strategy["aim"]["mean"]);
        close("aim_low[h/yr]", &strategy["aim"]["low"]);
        for (name, figures) in strategy["measures"].as_object().unwrap() {
            let unit = figures["unit"].as_str().unwrap();
            close(&format!("{name}[{unit}]"), &figures["mean"]);
        }
        for limit in strategy["limits"].as_array().unwrap() {
            let column = format!("held_{}", limit["name"].as_str().unwrap());
            assert_eq!(row[&column], limit["held"].to_string());
        }
        assert_eq!(row["holds"], strategy["holds"].to_string());
        checked += 1;
    }
    assert_eq!(checked, 12);
}

#[test]
fn the_document_counts_its_cells() {
    let folder = tempfile::tempdir().unwrap();
    let told = done(folder.path(), &with(&SHORT, &["--json", "--sample", "9", "--vary", "birds=4..20"]));
    let told = without_run(&told);
    assert_eq!((told["format"].as_str(), told["cells"].as_u64()), (Some("hensward.sweep/2"), Some(9)));
    assert_eq!(told["varied"][1]["key"], "birds");
    assert!(!told["front"].as_array().unwrap().is_empty());
    let file = std::fs::read_to_string(folder.path().join("results/sallowmere/sweep/summary.json")).unwrap();
    assert_eq!(serde_json::from_str::<serde_json::Value>(&file).unwrap(), told);
    let out = folder.path().join("results/sallowmere/sweep");
    assert_eq!(table(&out).len(), 9);
    // A sample has points, no map: what lies between them was not tried.
    let points = std::fs::read_to_string(out.join("sweep-points.svg")).unwrap();
    assert!(points.contains("Of 9 points tried") && points.contains("birds, the whole flock"), "{points}");
    assert!(!out.join("sweep-map.svg").exists());
}

/// A disk with no room (here a limit on the size of files) is told with the file; nothing
/// half-written is left for good, and with room again the sweep goes on.
#[test]
fn a_full_disk_is_an_error_that_names_the_file() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &with(&LONG, &["--out", "undisturbed"]));
    let shell = format!("trap '' XFSZ; ulimit -f 40; exec \"$0\" {} --out full", LONG.join(" "));
    let output = std::process::Command::new("sh")
        .args(["-c", &shell, env!("CARGO_BIN_EXE_hensward")])
        .current_dir(folder.path())
        .output()
        .unwrap();
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("cannot write full/unfinished.sweep"), "{said}");
    assert!(!folder.path().join("full/cells.csv").exists());
    done(folder.path(), &with(&LONG, &["--out", "full", "--resume"]));
    assert_eq!(digests(&folder.path().join("full")), digests(&folder.path().join("undisturbed")));
}

/// On given weather too a cell is what a comparison says; the possible years differ in the unknowns only.
#[test]
fn a_cell_on_given_weather_agrees_with_a_comparison() {
    let folder = tempfile::tempdir().unwrap();
    let seattle = common::seattle();
    let given = ["sallowmere", "--strategy", "by-eye", "--draws", "5", "--weather", &seattle, "--quiet", "--json"];
    let compared = without_run(&done(folder.path(), &with(&["compare"], &given)));
    // The flock of the demo.
    let swept = without_run(&done(folder.path(), &with(&["sweep", "--vary", "birds=18", "--out", "swept"], &given)));
    let row = &table(&folder.path().join("swept"))[0];
    let aim = &compared["strategies"][0]["aim"];
    for (column, end) in [("aim[h/yr]", "mean"), ("aim_low[h/yr]", "low")] {
        let (got, want): (f64, f64) = (row[column].parse().unwrap(), aim[end].as_f64().unwrap());
        assert!((got - want).abs() <= 1e-9 * want.abs().max(1.0), "{column}: {got} {want}");
    }
    assert_eq!(swept["weather"]["first"], compared["weather"]["first"]);
    let words = ["sweep", "--vary", "birds=18", "--out", "words", "--strategy", "by-eye", "--draws", "5", "sallowmere"];
    let told = done(folder.path(), &with(&words, &["--weather", &seattle]));
    assert!(common::one_line(&told).contains("of seattle.csv, laid on the run day by day"), "{told}");
    assert!(!done(folder.path(), &words).contains("seattle"));
}

#[test]
fn runs_on_different_weather_refuse_to_mix() {
    let folder = tempfile::tempdir().unwrap();
    let days = std::fs::read_to_string(common::seattle()).unwrap();
    std::fs::write(folder.path().join("days.csv"), &days).unwrap();
    let base = with(&SHORT, &["--weather", "days.csv"]);
    done(folder.path(), &with(&base, &["--out", "p", "--shard", "1/2"]));
    done(folder.path(), &with(&SHORT, &["--out", "q", "--shard", "2/2"]));
    let [given, generated] = ["p/part-1-of-2.sweep", "q/part-2-of-2.sweep"];
    let wants =
        [generated, "belongs to another run", "the weather: 2012-03-15 to 2015-03-15 of days.csv and generated"];
    refused(folder.path(), &["merge", given, generated], &wants);
    let again = with(&["--out", "p", "--shard", "1/2", "--resume"], &[]);
    refused(folder.path(), &with(&SHORT, &again), &[given, "the weather: 2012-03-15 to 2015-03-15 of days.csv"]);
    std::fs::write(folder.path().join("days.csv"), days.replacen("12.8", "12.7", 1)).unwrap();
    refused(folder.path(), &with(&base, &again), &[given, "the days in the weather file"]);
    std::fs::write(folder.path().join("days.csv"), &days).unwrap();
    done(folder.path(), &with(&base, &again));
    done(folder.path(), &with(&base, &["--out", "p", "--shard", "2/2"]));
    done(folder.path(), &["merge", given, "p/part-2-of-2.sweep", "--quiet", "--out", "merged"]);
    done(folder.path(), &with(&base, &["--out", "one"]));
    assert_eq!(digests(&folder.path().join("merged")), digests(&folder.path().join("one")));
}

#[test]
fn weather_of_another_length_than_a_cell_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let seattle = common::seattle();
    let vary = ["sweep", "sallowmere", "--vary", "run.years=1,2", "--weather", &seattle];
    refused(folder.path(), &vary, &["--weather", "a cell runs 366", "do not vary how long the run is"]);
}

/// The table as Parquet is asked for, and leaves the same bytes for parts and for a whole run.
#[cfg(feature = "parquet")]
#[test]
fn parquet_has_the_same_bytes_for_parts_and_threads() {
    let folder = tempfile::tempdir().unwrap();
    let whole = with(&SHORT, &["--parquet", "--out", "one", "--threads", "1"]);
    done(folder.path(), &whole);
    for number in ["1/2", "2/2"] {
        done(folder.path(), &with(&SHORT, &["--out", "p", "--shard", number]));
    }
    let merge = ["merge", "p/part-1-of-2.sweep", "p/part-2-of-2.sweep", "--parquet", "--out", "two", "--quiet"];
    done(folder.path(), &merge);
    let files = digests(&folder.path().join("one"));
    assert!(files.iter().any(|(name, _)| name == Path::new("cells.parquet")), "{files:?}");
    assert_eq!(files, digests(&folder.path().join("two")));
    done(folder.path(), &with(&SHORT, &["--out", "without"]));
    assert!(!folder.path().join("without/cells.parquet").exists());
}

#[cfg(not(feature = "parquet"))]
#[test]
fn parquet_is_refused_where_it_was_not_built_in() {
    let folder = tempfile::tempdir().unwrap();
    let wants = ["--parquet", "built without Parquet", "cells.csv", "cargo build --release --features parquet"];
    refused(folder.path(), &with(&SHORT, &["--parquet"]), &wants);
    refused(folder.path(), &["merge", "--parquet", "part.sweep"], &wants);
}

/// Expects exit code 2 with all of `wants`, and no file changed.
#[track_caller]
fn refused(folder: &Path, arguments: &[&str], wants: &[&str]) {
    let before = digests(folder);
    let output = run(folder, arguments);
    let said = common::one_line(&stderr(&output));
    assert_eq!(output.status.code(), Some(2), "{arguments:?} said: {said}");
    for want in wants {
        assert!(said.contains(want), "{arguments:?} does not say {want:?}, but: {said}");
    }
    assert_eq!(digests(folder), before, "{arguments:?} wrote something");
}

#[test]
fn what_cannot_be_varied_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let vary = |text: &str, more: &[&str], wants: &[&str]| {
        refused(folder.path(), &with(&["sweep", "sallowmere", "--vary", text], more), wants);
    };
    vary("styа=3..5/1", &[], &["no number called"]);
    vary("plot.plum-slop.area=3..5/1", &[], &["Did you mean \"plot.plum-slope.area\"?"]);
    vary("birds.flock.class=1,2", &[], &["birds.flock.class is not a number"]);
    vary("stay=28..3/1", &[], &["reversed", "3..28"]);
    vary("stay=", &[], &["\"\" is not a number"]);
    vary("stay", &[], &["has no values"]);
    vary("stay=3..28", &[], &["no step"]);
    vary("stay=3..28/0", &[], &["not above 0"]);
    vary("stay=0..3/1", &[], &["with stay=0", "A stay is 1 day to 10 years."]);
    vary("limits.nitrogen=100,200", &[], &["no number called \"limits.nitrogen\""]);
    vary("stay=3,4", &["--vary", "strategy.turn-by-area.fixed_turn.stay=3,4"], &["set the same number"]);
    vary("stay=1..3000/0.01", &["--vary", "birds=1..100/1"], &["cells", "--yes"]);
    vary("stay=3,4", &["--strategy", "by-ey"], &["Did you mean \"by-eye\"?"]);
}

#[test]
fn work_of_another_run_is_neither_gone_on_with_nor_lost() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &with(&SHORT, &["--out", "p", "--shard", "1/2"]));
    let part = "p/part-1-of-2.sweep";
    let again = |more: &[&str], wants: &[&str]| {
        refused(folder.path(), &with(&SHORT, &with(&["--out", "p", "--shard", "1/2", "--resume"], more)), wants);
    };
    again(&["--seed", "2"], &[part, "belongs to another run", "the seed: 1 and 2"]);
    again(&["--vary", "birds=4,8"], &["what is varied"]);
    again(&["--sure", "0.8"], &["an option such as --sure"]);
    // Half a part: the head and one block; its last line is torn.
    let whole = std::fs::read(folder.path().join(part)).unwrap();
    let torn = &whole[..whole.len() - 40];
    std::fs::write(folder.path().join(part), torn).unwrap();
    refused(folder.path(), &["merge", part], &[part, "is not finished", "--resume"]);
    done(folder.path(), &with(&SHORT, &["--out", "p", "--shard", "1/2", "--resume"]));
    assert_eq!(std::fs::read(folder.path().join(part)).unwrap(), whole);
}

#[test]
fn merge_refuses_gaps_doubles_mixtures_and_damage() {
    let folder = tempfile::tempdir().unwrap();
    for number in ["1/3", "2/3", "3/3"] {
        done(folder.path(), &with(&SHORT, &["--out", "p", "--shard", number]));
    }
    done(folder.path(), &with(&SHORT, &["--out", "q", "--shard", "2/3", "--seed", "5"]));
    let [one, two, three] = [1, 2, 3].map(|number| format!("p/part-{number}-of-3.sweep"));
    let merge = |parts: &[&str], wants: &[&str]| refused(folder.path(), &with(&["merge"], parts), wants);
    merge(&[&one, &three], &["missing: 2/3"]);
    merge(&[&one, &two, &three, &two], &["is part 2/3, and so is p/part-2-of-3.sweep"]);
    merge(&[&one, "q/part-2-of-3.sweep", &three], &["q/part-2-of-3.sweep", "the seed: 1 and 5"]);
    merge(&["nowhere.sweep"], &["nowhere.sweep", "cannot be read: there is no such file", "sweeps with --shard"]);
    merge(&["p"], &["p: cannot be read: it is a folder"]);
    std::fs::write(folder.path().join("not.sweep"), "cell,strategy\n1,x\n").unwrap();
    merge(&["not.sweep"], &["is no part of a sweep"]);
    let sound = std::fs::read(folder.path().join(&two)).unwrap();
    // Any one byte changed is seen, wherever it stands.
    for share in [0.05, 0.3, 0.55, 0.8, 0.999] {
        let mut bytes = sound.clone();
        let at = (bytes.len() as f64 * share) as usize;
        bytes[at] = if bytes[at] == b'7' { b'8' } else { b'7' };
        std::fs::write(folder.path().join(&two), &bytes).unwrap();
        merge(&[&one, &two, &three], &[&two]);
    }
}

/// Stopped after the last cell, before its tables stand: the next run writes them, asked to resume or not.
#[test]
fn finished_cells_are_kept_until_their_tables_stand() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    done(folder.path(), &with(&SHORT, &["--out", "alone"]));
    done(folder.path(), &with(&SHORT, &["--out", "p", "--shard", "1/1"]));
    let whole = std::fs::read(path("p/part-1-of-1.sweep")).unwrap();
    std::fs::create_dir(path("late")).unwrap();
    std::fs::write(path("late/unfinished.sweep"), &whole).unwrap();
    // Cells are not run again: those of another plan are told, and stay.
    refused(
        folder.path(),
        &with(&SHORT, &["--out", "late", "--seed", "2"]),
        &["unfinished.sweep", "the seed: 1 and 2"],
    );
    refused(
        folder.path(),
        &with(&SHORT, &["--out", "p", "--shard", "1/1", "--seed", "2"]),
        &["part-1-of-1", "the seed"],
    );
    assert_eq!(std::fs::read(path("late/unfinished.sweep")).unwrap(), whole);
    assert_eq!(std::fs::read(path("p/part-1-of-1.sweep")).unwrap(), whole);
    let told = done(folder.path(), &[&SHORT[..8], &["--out", "late", "--json"]].concat());
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    assert_eq!(told["run"]["zone_days"], 0, "cells were run again");
    assert_eq!(digests(&path("late")), digests(&path("alone")));
}

/// What is damaged or somebody else's is told, asked to resume or not, and stays.
#[test]
fn a_damaged_part_is_told_and_stays() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("d/unfinished.sweep");
    std::fs::create_dir(folder.path().join("d")).unwrap();
    for foreign in ["my notes", "my notes\n", "00 H moo\n"] {
        std::fs::write(&file, foreign).unwrap();
        for more in [&["--out", "d"][..], &["--out", "d", "--resume"]] {
            refused(folder.path(), &with(&SHORT, more), &["unfinished.sweep", "damaged in line 1", "Remove it"]);
            assert_eq!(std::fs::read_to_string(&file).unwrap(), foreign);
        }
    }
}
