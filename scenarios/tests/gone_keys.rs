//! Files of format 1, as demos and starters once stood: each fault they have now says what to write instead.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::{Faults, Library, SiteModel, site_file};
use std::path::Path;

/// Stands for the list of dates that one of them names: the form of such lists is as it was.
const GATES: &str = "date,plot\n2027-05-01,kitchen-beds\n";

fn read(file: &str, text: &str) -> Result<SiteModel, Faults> {
    site_file::read_text(file, text, &Library::shipped().unwrap(), &|_| Ok(GATES.to_owned()))
}

/// Name and text of every file.
fn files() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/format1");
    let paths = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<(String, String)> = paths
        .map(|path| (path.file_stem().unwrap().to_str().unwrap().to_owned(), std::fs::read_to_string(&path).unwrap()))
        .collect();
    files.sort();
    files
}

/// What remedies of keys that are gone begin with; those of slips ("Did you mean") are no help against an old file.
const WAYS_ON: [&str; 2] = ["Write ", "Take it out"];

#[test]
fn every_fault_of_an_old_file_says_what_to_write_now() {
    let files = files();
    assert_eq!(files.len(), 9);
    for (name, text) in &files {
        let faults = read(name, text).unwrap_err();
        let errors: Vec<_> =
            faults.all().iter().filter(|f| f.severity == scenarios::diagnose::Severity::Error).collect();
        assert!(errors[0].message.starts_with("this is format 1"), "{name}: {}", errors[0].message);
        for fault in errors {
            assert!(WAYS_ON.iter().any(|way| fault.remedy.starts_with(way)), "{name}: {fault:?}");
        }
    }
}

/// Each with its remedies done by hand, as the faults name them.
#[test]
fn what_the_remedies_say_makes_old_files_read() {
    for (name, text) in files() {
        let mended = mended(&text);
        if let Err(faults) = read(&name, &mended) {
            panic!("{faults}");
        }
    }
}

fn mended(text: &str) -> String {
    let lines = text.lines().filter(|line| !line.starts_with("effort = "));
    let mend = |line: &str| match line.split(" = ").next() {
        Some("format") => "format = 2".to_owned(),
        Some("task") => line.replace("\"hoe\"", "\"weed\""),
        Some("weeding_saved") => "work_saved = \"1 h per h\"".to_owned(),
        Some("hours") => line.replace("= \"", "= \"last "),
        Some("cover_loss" | "pest_suppression" | "feed_saved" | "gate_moves") => line.replacen(" per ", " h per ", 1),
        _ => line.to_owned(),
    };
    lines.map(mend).collect::<Vec<_>>().join("\n")
}
