//! What README.md shows works: every command line of its `sh` blocks runs, every site file
//! of its `toml` blocks can be read, every link leads somewhere.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(unix)]

mod common;

use common::{done, repository};
use std::path::Path;
use std::process::Command;

const README: &str = include_str!("../README.md");

/// `cargo run … -- X` is `hensward X`; other cargo lines are not run again from within
/// themselves. A comparison is cut to two possible years.
const SHELL: &str = r#"
set -eu
hensward() {
    case "$*" in
        *--draws*) "$PROGRAM" "$@" ;;
        compare*) "$PROGRAM" "$@" --draws 2 ;;
        *) "$PROGRAM" "$@" ;;
    esac
}
cargo() {
    case "$1" in
        run) while [ "$1" != -- ]; do shift; done; shift; hensward "$@" ;;
        test | install) ;;
        *) echo "unknown: cargo $*" >&2; return 1 ;;
    esac
}
"#;

/// Blocks of this language.
fn blocks(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    README.split(fence.as_str()).skip(1).map(|rest| rest.split("```").next().unwrap()).collect()
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            std::fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
        }
    }
}

#[test]
fn every_command_runs() {
    let folder = tempfile::tempdir().unwrap();
    for part in ["scenarios/demos/sallowmere", "tests/fixtures/weather"] {
        copy(&repository().join(part), &folder.path().join(part));
    }
    let commands: Vec<&str> =
        blocks("sh").into_iter().flat_map(str::lines).filter(|line| !line.trim().is_empty()).collect();
    assert!(commands.len() >= 10, "{commands:?}");
    let output = Command::new("sh")
        .args(["-c", &format!("{SHELL}\n{}", commands.join("\n"))])
        .env("PROGRAM", env!("CARGO_BIN_EXE_hensward"))
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", common::stderr(&output));
}

/// The first block holds the two commands a newcomer needs, and no more.
#[test]
fn it_opens_with_two_commands() {
    let first = blocks("sh")[0];
    assert_eq!(first.lines().count(), 2, "{first}");
    assert!(first.starts_with("cargo run --release -- compare scenarios/demos/sallowmere\n"));
}

#[test]
fn every_site_file_can_be_read() {
    let sites: Vec<&str> = blocks("toml").into_iter().filter(|block| block.starts_with("format = 2")).collect();
    assert!(!sites.is_empty());
    for site in sites {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("site.toml"), site).unwrap();
        let said = done(folder.path(), &["check", ".", "--all"]);
        assert!(!said.contains("Unusual"), "{said}");
        done(folder.path(), &["compare", ".", "--draws", "2"]);
    }
}

#[test]
fn every_link_leads_somewhere() {
    let targets = README.split("](").skip(1).map(|rest| rest.split(')').next().unwrap());
    for target in targets.filter(|target| !target.starts_with("http")) {
        assert!(repository().join(target).exists(), "README.md links to {target}, which is not there");
    }
}
