//! `hensward format`: what it finds and prints, and the schema that starters name.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, one_line, run, stderr};
use serde_json::Value;

#[test]
fn a_table_is_told_with_its_keys_and_an_example_to_paste() {
    let folder = tempfile::tempdir().unwrap();
    let told = done(folder.path(), &["format", "guards"]);
    for said in ["[plot.NAME] guards", "  share\n", "It must be there.", "guards = [{ share = 0.15, from = \"03-15\""] {
        assert!(told.contains(said), "{said}: {told}");
    }
    let all = done(folder.path(), &["format"]);
    for heading in ["[run]", "[plot.NAME]", "[[plot.NAME.crop]]", "[strategy.NAME] by_eye", "[aims]"] {
        assert!(all.lines().any(|line| line.starts_with(heading)), "{heading}: {all}");
    }
    let years = one_line(&done(folder.path(), &["format", "run.years"]));
    assert!(years.contains("Left out: 3.") && years.contains("A run is 1 to 30 years."), "{years}");
}

#[test]
fn the_document_says_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let document: Value = serde_json::from_str(&done(folder.path(), &["format", "yard", "--json"])).unwrap();
    assert_eq!(document["word"], "yard");
    let table = document["tables"].as_array().unwrap().iter().find(|table| table["heading"] == "[yard]").unwrap();
    let area = &table["keys"][0];
    assert_eq!((&area["key"], &area["unit"], &area["required"]), (&"area".into(), &"m2".into(), &true.into()));
    assert!(area["taken"].is_null());
}

#[test]
fn the_schema_is_the_one_that_starters_name() {
    let folder = tempfile::tempdir().unwrap();
    let printed = done(folder.path(), &["format", "--schema"]);
    assert_eq!(printed, include_str!("../scenarios/starters/site.schema.json"));
    let written = done(folder.path(), &["new", "garden"]);
    assert!(written.contains("hensward format --schema > garden/site.schema.json"), "{written}");
    let site = std::fs::read_to_string(folder.path().join("garden/site.toml")).unwrap();
    assert!(site.starts_with("#:schema ./site.schema.json\n"));
}

#[test]
fn what_is_not_there_is_refused_with_what_was_meant() {
    let folder = tempfile::tempdir().unwrap();
    let wrong: &[(&[&str], &str)] = &[
        (&["format", "guadrs"], "Did you mean \"guards\"?"),
        (&["format", "zyzzyva"], "To see every table there is: hensward format"),
        (&["format", "plot", "--schema"], "cannot be used with"),
        (&["format", "--out", "here"], "format writes no files"),
    ];
    for (arguments, want) in wrong {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(one_line(&stderr(&output)).contains(want), "{arguments:?}: {}", stderr(&output));
        assert!(output.stdout.is_empty());
    }
    assert!(common::files(folder.path()).is_empty());
}
