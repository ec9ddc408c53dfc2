//! `hensward new`: every starter checks without a fault or warning and compares as written;
//! nothing is ever overwritten; a wrong name is told with what there is.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use analysis::format::rarely_known;
use common::{done, one_line, run, stderr, stdout};

const STARTERS: &[&str] = &["orchard", "rotation", "soft-fruit", "small-yard", "southern", "us-units"];

#[test]
fn every_starter_checks_and_compares_as_written() {
    let folder = tempfile::tempdir().unwrap();
    for name in STARTERS {
        let said = done(folder.path(), &["new", name, "--like", name]);
        assert!(said.contains(&format!("hensward check {name}")), "{said}");
        let check = done(folder.path(), &["check", name, "--all"]);
        assert!(!check.contains("unusual"), "{name}: {check}");
        assert!(check.contains("Not in the file, so this was taken"), "{name}: {check}");
        let compared = run(folder.path(), &["compare", name, "--draws", "2"]);
        assert!(compared.status.success(), "{name}: {}", stderr(&compared));
        assert!(!stderr(&compared).contains("unusual"), "{name}: {}", stderr(&compared));
    }
}

#[test]
fn a_starter_is_its_file_and_nothing_beside() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &["new", "deep/my-garden"]);
    let written = common::files(folder.path());
    let [(path, bytes)] = written.as_slice() else { panic!("{written:?}") };
    assert!(path.ends_with("deep/my-garden/site.toml"));
    assert_eq!(bytes, include_bytes!("../scenarios/starters/orchard.toml"));
}

/// REWRITE=1 puts the comments anew.
#[test]
fn a_starter_ends_with_the_keys_few_know() {
    let keys = rarely_known();
    let begins = keys.lines().find(|line| !line.is_empty()).unwrap();
    for name in STARTERS {
        let path = format!("{}/scenarios/starters/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(&path).unwrap();
        if std::env::var_os("REWRITE").is_some() {
            let own = text.split(begins).next().unwrap().trim_end();
            std::fs::write(&path, format!("{own}\n{keys}")).unwrap();
        } else {
            assert!(text.ends_with(&keys), "{name}");
        }
    }
}

#[test]
fn what_is_there_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), "mine").unwrap();
    std::fs::write(folder.path().join("file"), "mine").unwrap();
    let before = common::digests(folder.path());
    for (arguments, want) in [
        (&["new", "."][..], "it is there already"),
        (&["new", "file"], "file: it is a file"),
        (&["new", "file/garden"], "file: it is a file"),
        (&["new", "other", "--out", "elsewhere"], "new writes into the folder it is given"),
        (&["new", "other", "--like", "orchrad"], "Did you mean \"orchard\"?"),
    ] {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(stderr(&output).contains(want), "{}", stderr(&output));
        assert_eq!(stdout(&output), "");
        assert_eq!(common::digests(folder.path()), before, "{arguments:?}");
    }
    let unknown = stderr(&run(folder.path(), &["new", "other", "--like", "moon"]));
    for name in STARTERS {
        assert!(unknown.contains(name), "{unknown}");
    }
}

#[test]
fn the_help_lists_them_and_json_says_what_was_written() {
    let folder = tempfile::tempdir().unwrap();
    let help = one_line(&done(folder.path(), &["new", "--help"]));
    for name in STARTERS {
        assert!(help.contains(name), "{help}");
    }
    let output = run(folder.path(), &["new", "g", "--like", "southern", "--json", "--quiet"]);
    assert_eq!(stderr(&output), "");
    let document = common::without_run(&stdout(&output));
    assert_eq!(document["format"], "hensward.new/1");
    assert_eq!(document["starter"], "southern");
    assert_eq!(document["site"], "g");
    assert_eq!(document["next"][0], "hensward check g");
    let us = done(folder.path(), &["new", "feet", "--like", "us-units", "--units", "us"]);
    assert!(us.contains("hensward check feet\n"), "{us}");
    let said = done(folder.path(), &["check", "feet"]);
    assert!(said.contains("ft2") && !said.contains(" m2"), "{said}");
    assert!(done(folder.path(), &["check", "feet", "--units", "metric"]).contains(" m2"));
    let asked = done(folder.path(), &["new", "metres", "--units", "us"]);
    assert!(asked.contains("hensward check metres --units us"), "{asked}");
}

/// Warnings carry their line into the JSON, which stays metric; words are in the units asked for.
#[test]
fn doubts_and_faults_are_told_with_place_and_in_the_units_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    done(folder.path(), &["new", "g"]);
    let site = folder.path().join("g/site.toml");
    let text = std::fs::read_to_string(&site).unwrap();
    std::fs::write(&site, text.replace("\"60 m2\"", "\"600 m2\"")).unwrap();
    let document: serde_json::Value = serde_json::from_str(&done(folder.path(), &["check", "g", "--json"])).unwrap();
    let warning = &document["doubts"][0];
    let line = text.lines().position(|line| line.contains("\"60 m2\"")).unwrap() + 1;
    assert_eq!((warning["line"].as_u64(), warning["column"].as_u64()), (Some(line as u64), Some(8)));
    assert!(warning["message"].as_str().unwrap().starts_with("600 m2 is much"), "{warning}");
    let said = one_line(&done(folder.path(), &["check", "g", "--all", "--units", "us"]));
    assert!(said.contains("6458 ft2 is much for one plot and 8 birds, because it is over 431 ft2 per bird"), "{said}");
    assert!(said.contains("gate 26 ft from the yard") && said.contains("rough grass"), "{said}");
    std::fs::write(&site, text.replace("\"200 m2\"", "\"1 m2\"")).unwrap();
    let refused = |more: &[&str]| stderr(&run(folder.path(), &[&["check", "g"], more].concat()));
    let in_feet = "A plot is 43.1 ft2 to 2.47 acres.";
    assert!(refused(&["--units", "us"]).contains(in_feet) && !refused(&[]).contains(in_feet));
    // A file that says it is in US units has its faults told in them, unless others are asked for.
    let small = text.replace("\"200 m2\"", "\"1 m2\"");
    let us = small.lines().filter(|line| !line.starts_with("units = ")).collect::<Vec<_>>().join("\n");
    std::fs::write(&site, format!("units = \"us\"\n{us}\n")).unwrap();
    assert!(refused(&[]).contains(in_feet) && !refused(&["--units", "metric"]).contains(in_feet), "{}", refused(&[]));
}
