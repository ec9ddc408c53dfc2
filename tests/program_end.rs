//! `hensward score --program` ends the program and all that it started, however either behaves and whatever ends
//! `hensward`. All that a test starts carries its mark in the environment, and is looked for by it in `/proc`.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(target_os = "linux")]

mod common;

use common::{digests, program, stderr, stdout};
use std::os::unix::process::CommandExt;
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

/// Name of the mark.
const MARK: &str = "HENSWARD_TEST_MARK";
/// Where the answer is awaited for so long, nothing but a stop ends the waiting in time.
const LONG: &str = "3000";
/// Far longer than anything here should take.
const FAR_TOO_LONG: Duration = Duration::from_secs(60);

/// Answers every day: no gate.
const ANSWERS: &str =
    r#"while read -r day; do date=${day#*\"date\":\"}; echo "{\"date\":\"${date%%\"*}\",\"open\":[]}"; done"#;
/// Sleeps in a session of its own.
const OWN_SESSION: &str = r#""$ITSELF" --ignored --exact sleep_in_a_session_of_its_own </dev/null >/dev/null 2>&1"#;

/// No test: what the tests' programs start, so that they need no `setsid`.
#[test]
#[ignore = "sleeps for the other tests"]
fn sleep_in_a_session_of_its_own() {
    if std::env::var_os(MARK).is_some() {
        rustix::process::setsid().unwrap();
        panic!("{}", Command::new("sleep").arg("777").exec());
    }
}

/// A scoring with all that it started.
struct Scoring {
    hensward: Child,
    mark: String,
    folder: tempfile::TempDir,
    begun: Instant,
}

impl Scoring {
    /// Begins a scoring by a program in the language of the shell.
    fn begin(script: &str, options: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mark = folder.path().display().to_string();
        std::fs::write(folder.path().join("keeper"), script).unwrap();
        let score = ["score", "--program", "sh keeper", "--problem", "highland-strip", "--out", "out"];
        let mut command = program(folder.path());
        command.env(MARK, &mark).env("ITSELF", std::env::current_exe().unwrap()).args(score).args(options);
        let hensward = command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        Self { hensward, mark, folder, begun: Instant::now() }
    }

    /// Waits until so many shells and sleepers of the program run.
    #[track_caller]
    fn runs(&self, count: usize) {
        let of_the_program = |name: &String| name.starts_with("sleep ") || name.starts_with("sh ");
        while self.alive().iter().filter(|name| of_the_program(name)).count() < count {
            assert!(self.begun.elapsed() < FAR_TOO_LONG, "{:?}", self.alive());
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn send(&self, signal: &str) {
        let kill = Command::new("sh").args(["-c", "kill -s $0 $1", signal, &self.hensward.id().to_string()]).status();
        assert!(kill.unwrap().success(), "{signal}");
    }

    /// Command lines of what carries the mark.
    fn alive(&self) -> Vec<String> {
        let mark = format!("{MARK}={}", self.mark);
        let read = |path: std::path::PathBuf| std::fs::read(path).unwrap_or_default();
        let folders = std::fs::read_dir("/proc").unwrap().map(|entry| entry.unwrap().path());
        let ours = folders.filter(|folder| {
            read(folder.join("environ")).split(|&letter| letter == 0).any(|setting| setting == mark.as_bytes())
        });
        ours.map(|folder| String::from_utf8_lossy(&read(folder.join("cmdline"))).replace('\0', " ")).collect()
    }

    /// Waits for the end: the code is one of these, and nothing of it is alive.
    #[track_caller]
    fn ends_with(mut self, codes: &[i32]) -> Output {
        while self.hensward.try_wait().unwrap().is_none() {
            assert!(self.begun.elapsed() < FAR_TOO_LONG, "it goes on: {:?}", self.alive());
            std::thread::sleep(Duration::from_millis(20));
        }
        let alive = self.alive();
        // Only now: what is alive would hold the streams open.
        assert!(alive.is_empty(), "{alive:?}");
        let output = self.hensward.wait_with_output().unwrap();
        let code = output.status.code();
        assert!(code.is_some_and(|code| codes.contains(&code)), "{:?}: {}", output.status, stderr(&output));
        let results = digests(self.folder.path());
        assert_eq!(results.len(), if code == Some(0) { 3 } else { 1 }, "{results:?}");
        output
    }
}

/// Ways in which a program may start what would outlive it, with the number of shells and sleepers then.
fn families() -> [(&'static str, String, usize); 6] {
    [
        ("one that sleeps beside it", "sleep 777 &".to_owned(), 2),
        ("one in a session of its own", format!("{OWN_SESSION} &"), 2),
        ("one that is nobody's child", format!("( ( {OWN_SESSION} & ) & )"), 2),
        (
            "a sleeper and its parent, each in a session of its own",
            format!("sh -c '{OWN_SESSION} & sleep 777' & {OWN_SESSION} &"),
            4,
        ),
        ("deaf to signals", "trap '' TERM HUP INT; sleep 777 &".to_owned(), 2),
        ("deaf, in a session of its own", format!("trap '' TERM HUP INT; ( {OWN_SESSION} & )"), 2),
    ]
}

#[test]
fn nothing_outlives_a_scoring_that_is_done() {
    for (name, start, _) in families() {
        eprintln!("{name}");
        let output = Scoring::begin(&format!("{start}\n{ANSWERS}"), &["--json"]).ends_with(&[0]);
        assert!(stdout(&output).contains("highland-strip"));
    }
}

#[test]
fn nothing_outlives_a_program_that_does_not_answer() {
    for (name, start, _) in families() {
        eprintln!("{name}");
        let output = Scoring::begin(&format!("{start}\nsleep 777"), &["--within", "3"]).ends_with(&[2]);
        assert!(stderr(&output).contains("did not answer within 3 s"), "{}", stderr(&output));
    }
}

#[test]
fn nothing_outlives_a_program_that_ends() {
    for (name, start, _) in families() {
        eprintln!("{name}");
        // What sleeps beside it may hold its output open: then it is the time that ends the scoring.
        let output = Scoring::begin(&format!("{start}\necho gone home >&2"), &["--within", "3"]).ends_with(&[2]);
        assert!(stderr(&output).contains("possible year 1"), "{}", stderr(&output));
    }
}

#[test]
fn a_signal_is_heard_while_an_answer_is_awaited() {
    let stays = |start: &str| format!("{start}\nsleep 777");
    for signal in common::stop_signals() {
        for (name, start, count) in families() {
            eprintln!("{signal}: {name}");
            let scoring = Scoring::begin(&stays(&start), &["--within", LONG]);
            scoring.runs(count + 1);
            scoring.send(signal);
            let output = scoring.ends_with(&[1]);
            assert!(stderr(&output).contains("nothing was written"), "{}", stderr(&output));
        }
    }
}

/// Both signals wait for `hensward` together, and it may well have done what the first asks for before it hears the
/// second: any of the codes is right, to leave anything behind is not.
#[test]
fn nothing_outlives_a_second_signal() {
    for (first, second) in [("TERM", "INT"), ("HUP", "TERM")] {
        for (name, start, count) in families() {
            eprintln!("{first}, {second}: {name}");
            let scoring = Scoring::begin(&format!("{start}\nsleep 777"), &["--within", LONG]);
            scoring.runs(count + 1);
            ["STOP", first, second, "CONT"].iter().for_each(|signal| scoring.send(signal));
            scoring.ends_with(&[1, 128 + 1, 128 + 2, 128 + 15]);
        }
    }
}

#[test]
fn there_is_a_limit_to_all_answers() {
    let slow = ANSWERS.replace("; echo", "; sleep 0.5; echo");
    let output = Scoring::begin(&slow, &["--within", LONG, "--in-all", "3"]).ends_with(&[2]);
    let said = common::one_line(&stderr(&output));
    let wants = [
        "highland-strip, on 20",
        "of possible year 1: its time for all answers, 3 s, is over",
        "Give it longer with --in-all",
    ];
    wants.iter().for_each(|want| assert!(said.contains(want), "{said}"));
}

/// What the shell had started before it became `hensward` is not the program's.
#[test]
fn children_that_were_there_before_are_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let script = r#"sleep 777 >/dev/null 2>&1 & echo $! >before; exec "$0" score --program false --problem shut-in"#;
    let output =
        Command::new("sh").args(["-c", script, env!("CARGO_BIN_EXE_hensward")]).current_dir(folder.path()).output();
    assert_eq!(output.unwrap().status.code(), Some(2));
    let before = std::fs::read_to_string(folder.path().join("before")).unwrap();
    let kill = Command::new("sh").args(["-c", "kill $0", before.trim()]).output().unwrap();
    assert!(kill.status.success(), "{}", stderr(&kill));
}
