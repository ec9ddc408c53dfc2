//! What the whole-program tests share.
#![allow(clippy::unwrap_used, dead_code)] // A test file uses what it needs; a fault may end the run.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The demo's site file.
pub const DEMO: &str = include_str!("../../scenarios/demos/sallowmere/site.toml");
/// The demo's list of gate dates.
pub const DEMO_GATES: &str = include_str!("../../scenarios/demos/sallowmere/gates.csv");

/// The repository.
pub fn repository() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Four real years of a station.
pub fn seattle() -> String {
    repository().join("tests/fixtures/weather/seattle.csv").display().to_string()
}

/// The program, to be run in `folder`.
pub fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hensward"));
    command.current_dir(folder).env("NO_COLOR", "1");
    command
}

/// Runs the program in a folder.
pub fn run(folder: &Path, arguments: &[&str]) -> Output {
    program(folder).args(arguments).output().unwrap()
}

/// Runs it and expects success; its stdout.
#[track_caller]
pub fn done(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert!(output.status.success(), "{arguments:?}: {}", stderr(&output));
    stdout(&output)
}

/// What it printed.
pub fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// What it said.
pub fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A text without its line breaks: where a line breaks hangs on the length of paths in it.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The signals that ask for a stop; not SIGHUP where the tests themselves are to outlive their terminal, or where a
/// process cannot see that.
pub fn stop_signals() -> Vec<&'static str> {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let ignored = status.lines().find_map(|line| line.strip_prefix("SigIgn:")).unwrap_or("1");
    let hears = u64::from_str_radix(ignored.trim(), 16).unwrap() & 1 == 0;
    ["INT", "TERM"].into_iter().chain(hears.then_some("HUP")).collect()
}

/// A JSON document without what only this machine did.
pub fn without_run(document: &str) -> serde_json::Value {
    let mut document: serde_json::Value = serde_json::from_str(document).unwrap();
    document.as_object_mut().unwrap().remove("run").expect("stdout documents have run");
    document
}

/// What a folder of results keeps for itself, results or not.
pub const OWN: &str = ".hensward";

/// Every file below a folder by name, with its bytes, but what a folder of results keeps for itself.
pub fn files(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.ends_with(OWN) {
            continue;
        }
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.push((path.clone(), std::fs::read(&path).unwrap()));
        }
    }
    found.sort();
    found
}

/// The last part of a path.
pub fn name_of(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

/// Names and digests of files, relative to their folder: short enough to read when they differ.
pub fn digests(folder: &Path) -> Vec<(PathBuf, u64)> {
    let relative = |path: PathBuf| path.strip_prefix(folder).unwrap().to_owned();
    files(folder).into_iter().map(|(path, bytes)| (relative(path), fnv(&bytes))).collect()
}

/// Where FNV-1a, 64 bit, begins.
pub const FNV: u64 = 0xcbf2_9ce4_8422_2325;

/// FNV-1a, 64 bit.
pub fn fnv(bytes: &[u8]) -> u64 {
    fnv_on(FNV, bytes)
}

/// The same, going on from what came before.
pub fn fnv_on(state: u64, bytes: &[u8]) -> u64 {
    bytes.iter().fold(state, |state, byte| (state ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3))
}
