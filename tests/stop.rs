//! What the system asks of the program: to stop, once and again, and to write no file larger than it allows.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(unix)]

mod common;

use common::stderr;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, ChildStderr, Command, Stdio};

/// A comparison far too long, once its first possible years are done, and what it says from then on. It is started
/// by a shell that was told this first.
fn begun(folder: &Path, first: &str) -> (Child, BufReader<ChildStderr>) {
    let script = format!("{first}; exec \"$0\" compare sallowmere --draws 100000 --progress plain --out kept");
    let mut command = Command::new("sh");
    command.args(["-c", &script, env!("CARGO_BIN_EXE_hensward")]).current_dir(folder);
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    // The first plain line comes with the first batch after two seconds.
    let mut said = BufReader::new(child.stderr.take().unwrap());
    said.read_line(&mut String::new()).unwrap();
    (child, said)
}

fn send(child: &Child, signal: &str) {
    let kill = format!("kill -s {signal} {}", child.id());
    assert!(Command::new("sh").args(["-c", &kill]).status().unwrap().success());
}

/// Ctrl-C, a queue of jobs, a closed terminal: each keeps what is finished and says how much that is.
#[test]
fn a_stop_keeps_finished_work() {
    for signal in common::stop_signals() {
        let folder = tempfile::tempdir().unwrap();
        let (child, mut said) = begun(folder.path(), ":");
        send(&child, signal);
        let mut line = String::new();
        said.read_to_string(&mut line).unwrap();
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{signal}: {line}");
        assert!(line.contains("of 100000 possible years were finished"), "{signal}: {line}");
        let summary = std::fs::read_to_string(folder.path().join("kept/summary.json")).unwrap();
        let summary: serde_json::Value = serde_json::from_str(&summary).unwrap();
        let draws = summary["draws"].as_u64().unwrap();
        assert!((1..100_000).contains(&draws));
        assert!(line.contains(&format!("{draws} of 100000")), "{draws}: {line}");
    }
}

/// Two signals at once, so that the first cannot have been obeyed yet.
#[test]
fn a_second_signal_ends_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let (child, _said) = begun(folder.path(), ":");
    ["STOP", "INT", "TERM", "CONT"].iter().for_each(|signal| send(&child, signal));
    let output = child.wait_with_output().unwrap();
    assert!(matches!(output.status.code(), Some(130 | 143)), "{:?}", output.status);
    assert!(common::files(folder.path()).is_empty());
}

/// What was started under `nohup` does not hear that the terminal closes: Ctrl-C is then the first it hears.
#[cfg(target_os = "linux")]
#[test]
fn what_is_to_outlive_its_terminal_does() {
    let folder = tempfile::tempdir().unwrap();
    let (child, _said) = begun(folder.path(), "trap '' HUP");
    ["STOP", "HUP", "INT", "CONT"].iter().for_each(|signal| send(&child, signal));
    assert_eq!(child.wait_with_output().unwrap().status.code(), Some(1));
    assert!(folder.path().join("kept/summary.json").is_file());
}

/// A file past the system's limit (`ulimit -f`) is a fault told like any other, and nothing of it is left.
#[test]
fn a_file_too_large_for_the_system_is_exit_one() {
    for command in
        ["new out", "season sallowmere --out out", "sweep sallowmere --vary birds=2..9/1 --draws 2 --out out"]
    {
        let folder = tempfile::tempdir().unwrap();
        let script = format!("ulimit -f 4; exec \"$0\" {command} --quiet");
        let output = Command::new("sh")
            .args(["-c", &script, env!("CARGO_BIN_EXE_hensward")])
            .current_dir(folder.path())
            .output()
            .unwrap();
        let said = common::one_line(&stderr(&output));
        assert_eq!(output.status.code(), Some(1), "{command}: {said}");
        for want in ["cannot write ", "the file would be larger than this system's limit (ulimit -f) allows"] {
            assert!(said.contains(want), "{command}: {said}");
        }
        for (path, bytes) in common::files(folder.path()) {
            assert!(path.extension().is_some_and(|ending| ending != "part"), "{}", path.display());
            assert!(bytes.len() <= 4 * 1024, "{}", path.display());
        }
    }
}
