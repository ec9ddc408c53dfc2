//! Folders of results: nothing is lost and nothing is mixed, whoever writes there.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run.

mod common;

use common::{DEMO, DEMO_GATES, OWN, done, files, one_line, program, run, stderr};
use std::path::Path;
use std::process::Stdio;

const SHORT: [&str; 4] = ["--draws", "2", "--strategy", "by-eye"];

/// Expects exit code 2 with all of `wants`, and nothing changed, the folders' own books included.
#[track_caller]
fn refused(folder: &Path, arguments: &[&str], wants: &[&str]) {
    let before = every_path(folder);
    let output = run(folder, arguments);
    let said = one_line(&stderr(&output));
    assert_eq!(output.status.code(), Some(2), "{arguments:?} said: {said}");
    for want in wants {
        assert!(said.contains(want), "{arguments:?} does not say {want:?}, but: {said}");
    }
    assert_eq!(every_path(folder), before, "{arguments:?} changed something");
}

/// The same where nothing can be read before and after.
#[track_caller]
fn refused_without_reading(folder: &Path, arguments: &[&str], wants: &[&str]) {
    let output = run(folder, arguments);
    let said = one_line(&stderr(&output));
    assert_eq!(output.status.code(), Some(2), "{arguments:?} said: {said}");
    assert!(wants.iter().all(|want| said.contains(want)), "{said}");
}

/// All files and folders below one, with what is in the files.
fn every_path(folder: &Path) -> Vec<(std::path::PathBuf, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        found.push((path.clone(), std::fs::read(&path).unwrap_or_default()));
        if path.is_dir() {
            found.extend(every_path(&path));
        }
    }
    found.sort();
    found
}

/// A site file of our own, with a demo's ground.
fn site(folder: &Path, path: &str, name: &str) {
    let path = folder.join(path);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(path.with_file_name("gates.csv"), DEMO_GATES).unwrap();
    std::fs::write(path, DEMO.replace("name = \"Sallowmere\"", &format!("name = \"{name}\""))).unwrap();
}

#[test]
fn two_sites_of_one_file_name_do_not_share_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    site(folder.path(), "a/garden.toml", "One");
    site(folder.path(), "b/garden.toml", "Two");
    done(folder.path(), &["season", "a/garden.toml"]);
    let wants =
        ["results/garden/season", "\"season\" of ../../../a/garden.toml", "../../../b/garden.toml", "--out", "Choose"];
    refused(folder.path(), &["season", "b/garden.toml"], &wants);
    done(folder.path(), &["season", "b/garden.toml", "--out", "two"]);
    // Moved together they still belong together.
    let moved = folder.path().join("moved");
    std::fs::create_dir(&moved).unwrap();
    for name in ["a", "results"] {
        std::fs::rename(folder.path().join(name), moved.join(name)).unwrap();
    }
    done(&moved, &["season", "a/garden.toml"]);
    // Another command's results, under the same names.
    refused(&moved, &["compare", "a/garden.toml", "--out", "results/garden/season"], &["\"season\"", "\"compare\""]);
    // A demo's own files are the demo.
    let demo = common::repository().join("scenarios/demos/sallowmere").display().to_string();
    done(folder.path(), &["season", "sallowmere", "--out", "demo"]);
    done(folder.path(), &["season", &demo, "--out", "demo"]);
    refused(folder.path(), &["season", "emberstair", "--out", "demo"], &["the demo sallowmere", "the demo emberstair"]);
}

#[test]
fn what_a_run_wrote_goes_and_what_it_did_not_write_stays() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let season = |more: &[&'static str]| [&["season", "sallowmere", "--out", "out"], more].concat();
    done(folder.path(), &season(&["--png"]));
    assert!(out.join("plot-1.png").exists());
    std::fs::write(out.join("notes.txt"), "mine").unwrap();
    std::fs::write(out.join("plot-1.png"), "drawn on").unwrap();
    std::fs::write(out.join("season.html.part"), "mine").unwrap();
    done(folder.path(), &season(&[]));
    let left: Vec<String> = files(&out).iter().map(|(path, _)| common::name_of(path)).collect();
    assert!(left.contains(&"notes.txt".to_owned()) && left.contains(&"season.html.part".to_owned()), "{left:?}");
    // Of the pictures that were not asked for this time only the one that was drawn on is left.
    let pixels: Vec<&String> = left.iter().filter(|name| name.ends_with(".png")).collect();
    assert_eq!(pixels, ["plot-1.png"]);
    refused(folder.path(), &season(&["--png"]), &["out/plot-1.png", "is in the way", "Move it away", "--out"]);
    std::fs::remove_file(out.join("plot-1.png")).unwrap();
    done(folder.path(), &season(&["--png"]));
    // What is in the way of a file with a fixed name is told before any work.
    std::fs::write(out.join("summary.json"), "mine").unwrap();
    refused(folder.path(), &season(&["--why", "plum-slope@2027-05-03"]), &["out/summary.json", "is in the way"]);
    std::fs::remove_dir_all(out.join(OWN)).unwrap();
    refused(folder.path(), &season(&[]), &["out/season.html", "is in the way"]);
}

/// While a run writes, no other may; nothing is half-written after it was killed.
#[test]
fn a_folder_is_one_runs_at_a_time_and_survives_a_kill() {
    let folder = tempfile::tempdir().unwrap();
    let long = ["compare", "sallowmere", "--draws", "100000", "--out", "out"];
    let mut child = program(folder.path()).args(long).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    while !folder.path().join("out").join(OWN).join("written").exists() {
        assert!(child.try_wait().unwrap().is_none(), "it ended");
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let short = [&["compare", "sallowmere", "--out", "out"], SHORT.as_slice()].concat();
    refused(folder.path(), &short, &["out", "another run is writing here", "--out"]);
    child.kill().unwrap();
    child.wait().unwrap();
    std::fs::write(folder.path().join("out").join(OWN).join("report.html.part"), "<!").unwrap();
    done(folder.path(), &short);
    let parts = every_path(folder.path()).into_iter().filter(|(path, _)| path.extension().is_some_and(|e| e == "part"));
    assert_eq!(parts.count(), 0);
    // Killed before it wrote, a folder is nobody's.
    std::fs::remove_dir_all(folder.path().join("out")).unwrap();
    let mut child = program(folder.path()).args(long).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    while !folder.path().join("out").join(OWN).join("written").exists() {
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    done(folder.path(), &["season", "puddlecote", "--out", "out"]);
}

/// A folder that cannot be had is told before the work: these would run for an hour.
#[test]
fn a_folder_that_cannot_be_had_is_told_before_the_work() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("taken"), "").unwrap();
    let long = ["--draws", "100000"];
    for command in ["compare", "carry", "lesson"] {
        let arguments = [&[command, "sallowmere", "--out", "taken/deep"], long.as_slice()].concat();
        refused(folder.path(), &arguments, &["taken", "is a file", "Choose another folder with --out"]);
    }
    let sweep = ["sweep", "sallowmere", "--vary", "birds=1..100/1", "--draws", "1000", "--out", "taken"];
    refused(folder.path(), &sweep, &["taken", "is a file"]);
    // A run that writes nothing leaves nothing.
    refused(folder.path(), &["score", "none.toml", "--out", "a/b"], &["none.toml"]);
}

/// The books of a folder are read as doubtfully as anything else.
#[test]
fn damaged_books_are_refused_and_nothing_is_touched() {
    let folder = tempfile::tempdir().unwrap();
    let season = ["season", "puddlecote", "--out", "out"];
    done(folder.path(), &season);
    let own = folder.path().join("out").join(OWN);
    for name in ["owner", "written"] {
        let whole = std::fs::read(own.join(name)).unwrap();
        for damaged in [b"\xff\xfe".as_slice(), b"moo\n", b"hensward.written/1\n00 ../../taxes.txt\n"] {
            std::fs::write(own.join(name), damaged).unwrap();
            refused(folder.path(), &season, &[name, "damaged", "--out"]);
        }
        std::fs::write(own.join(name), whole).unwrap();
    }
    done(folder.path(), &season);
    // Somebody's file under one of their names, though no result is there.
    std::fs::create_dir_all(folder.path().join("new").join(OWN)).unwrap();
    std::fs::write(folder.path().join("new").join(OWN).join("owner"), "my notes").unwrap();
    refused(folder.path(), &["season", "puddlecote", "--out", "new"], &["owner", "damaged"]);
}

/// What a link leads to is not ours, and what a pipe holds is not waited for.
#[cfg(unix)]
#[test]
fn books_that_are_links_or_pipes_are_refused() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    let season = ["season", "puddlecote", "--out", "out"];
    let own = folder.path().join("out").join(OWN);
    std::fs::create_dir_all(folder.path().join("out")).unwrap();
    std::fs::create_dir(folder.path().join("mine")).unwrap();
    std::fs::write(folder.path().join("mine/letter.part"), "mine").unwrap();
    std::fs::write(folder.path().join("empty"), "").unwrap();
    symlink(folder.path().join("mine"), &own).unwrap();
    refused(folder.path(), &season, &[".hensward", "is a link"]);
    std::fs::remove_file(&own).unwrap();
    for name in ["owner", "written"] {
        std::fs::create_dir_all(&own).unwrap();
        symlink(folder.path().join("empty"), own.join(name)).unwrap();
        refused(folder.path(), &season, &[name, "is a link"]);
        std::fs::remove_file(own.join(name)).unwrap();
        let made = std::process::Command::new("mkfifo").arg(own.join(name)).status().unwrap();
        assert!(made.success());
        refused_without_reading(folder.path(), &season, &[name, "a pipe"]);
        std::fs::remove_dir_all(&own).unwrap();
    }
    done(folder.path(), &season);
}
