//! Hostile command lines, kept for ever, each with what it is answered: `hostile/options.txt`, lines that begin with `$`. Every
//! one is refused with exit code 2, and nothing is written. `REWRITE=1` writes the answers anew, to be read.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.
#![cfg(unix)]

mod common;

use common::{digests, program, stderr, stdout};
use rayon::prelude::*;
use std::ffi::OsString;
use std::fmt::Write as _;
use std::os::unix::ffi::OsStringExt;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

/// The lines and their answers.
const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/hostile/options.txt");
/// A small site with two plots and three strategies.
const SITE: &str = include_str!("../scenarios/starters/small-yard.toml");
/// Nothing is waited for, and nothing endless is read; with much room for a slow machine.
const LONGEST: Duration = Duration::from_secs(20);
/// Most letters of an answer.
const LONGEST_ANSWER: usize = 10_000;
/// Lines of an answer that are kept.
const KEPT_LINES: usize = 16;

/// A station of so many days from 2012 on, without so many of them in its second year.
fn station(days: i32, without: i32) -> String {
    let start = jiff::civil::date(2012, 1, 1);
    let there = (0..days).filter(|day| !(400..400 + without).contains(day));
    let line = |day: i32| {
        let (low, rain) = (f64::from(day % 17), if day % 3 == 0 { f64::from(day % 11) } else { 0.0 });
        format!(
            "{},{low},{},{rain}\n",
            start.saturating_add(jiff::Span::new().days(day)),
            low + 6.0 + f64::from(day % 5)
        )
    };
    format!("date,tmin[C],tmax[C],rain[mm]\n{}", there.map(line).collect::<String>())
}

/// Links and a pipe, beside the folder the lines are run in.
fn lay_out_odd(folder: &Path) {
    std::fs::create_dir(folder).unwrap();
    symlink("round", folder.join("round")).unwrap();
    symlink("nowhere", folder.join("lost")).unwrap();
    assert!(Command::new("mkfifo").arg(folder.join("pipe")).status().unwrap().success());
}

/// The folder the lines are run in.
fn lay_out(folder: &Path) {
    std::fs::create_dir(folder).unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.join(name), text).unwrap();
    let listed = "[strategy.listed]\ndated = { file = \"twice.csv\" }\n";
    write("s.toml", SITE);
    write("empty", "");
    write("comments.toml", "# none yet\n");
    write("mine.toml", "[strategy.mine]\nall_open = {}\n");
    write("nobody.toml", "[strategy.mine]\nall_open = {}\nbirds = 0\n");
    write("text.txt", "dear diary\n");
    write("twice.csv", &format!("date,plot\n{}", "2027-04-01,lawn\n".repeat(20_000)));
    write("listed.toml", &format!("{SITE}{listed}"));
    write("sides.toml", &SITE.replacen("area = \"40 m2\"", "area = \"-3 x -4 m\"", 1));
    write("hours.toml", &format!("{SITE}[limits]\nbare_days = \"3 h\"\n"));
    write("draws.toml", &SITE.replacen("years = 3", "years = 3\ndraws = 4", 1));
    write("by-station.toml", &SITE.replacen("climate = \"cool-maritime\"", "station = \"gap-11.csv\"", 1));
    let filled = "station = \"gap-11.csv\"\nfill_gaps = \"11 days\"";
    write("filled.toml", &SITE.replacen("climate = \"cool-maritime\"", filled, 1));
    let own_years = "station = \"short.csv\"\nuse = \"years\"";
    write("own-years.toml", &SITE.replacen("climate = \"cool-maritime\"", own_years, 1));
    write("short.csv", &station(329, 0));
    write("two-days.csv", &station(2, 0));
    write("year.csv", &station(500, 0));
    write("gap-3.csv", &station(900, 3));
    write("gap-11.csv", &station(900, 11));
    let dry =
        station(900, 0).lines().map(|line| line.rsplit_once(',').unwrap().0.to_owned() + ",0\n").collect::<String>();
    write("dry.csv", &dry.replacen("tmax[C],0", "tmax[C],rain[mm]", 1));
    let head = "0123456789abcdef0123456789abcdef H {";
    write("endless.sweep", &format!("{head}{}", "x".repeat(40_000_000)));
    std::fs::create_dir(folder.join("folder")).unwrap();
}

/// The words of a line: divided by blanks, but not within single quotes; `\xff` is a byte that is no UTF-8.
fn words(line: &str) -> Vec<OsString> {
    let mut words: Vec<Vec<u8>> = Vec::new();
    for (at, part) in line.split('\'').enumerate() {
        if at % 2 == 1 {
            words.push(part.as_bytes().to_vec());
        } else {
            words.extend(part.split_whitespace().map(|word| word.as_bytes().to_vec()));
        }
    }
    let byte = |word: Vec<u8>| match word.iter().position(|&of| of == b'\\') {
        Some(at) => [&word[..at], &[0xff], &word[at + 4..]].concat(),
        None => word,
    };
    words.into_iter().map(|word| OsString::from_vec(byte(word))).collect()
}

fn answer(folder: &Path, line: &str) -> String {
    let begun = Instant::now();
    let output = program(folder).args(words(line)).env("COLUMNS", "100").output().unwrap();
    let said = stderr(&output);
    assert!(begun.elapsed() < LONGEST, "{line}");
    assert_eq!(output.status.code(), Some(2), "{line}: {said}");
    assert_eq!(stdout(&output), "", "{line}");
    assert!(said.len() < LONGEST_ANSWER && said.trim_end().lines().count() > 1, "{line}: {said}");
    let mut told = format!("$ {line}\n");
    let lines: Vec<&str> = said.lines().filter(|of| !of.trim().is_empty()).collect();
    for of in lines.iter().take(KEPT_LINES) {
        writeln!(told, "    {}", of.trim_end()).unwrap();
    }
    if lines.len() > KEPT_LINES {
        writeln!(told, "    … and {} lines more", lines.len() - KEPT_LINES).unwrap();
    }
    told
}

#[test]
fn every_hostile_line_is_answered_as_it_was() {
    let stands = std::fs::read_to_string(FILE).unwrap();
    let lines: Vec<&str> = stands.lines().filter_map(|line| line.strip_prefix("$ ")).collect();
    assert!(lines.len() >= 180, "{}", lines.len());
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("work");
    lay_out(&folder);
    lay_out_odd(&root.path().join("odd"));
    let before = digests(&folder);
    let answers: String = lines.par_iter().map(|line| answer(&folder, line)).collect();
    assert_eq!(digests(&folder), before, "something was written");
    if std::env::var_os("REWRITE").is_some() {
        std::fs::write(FILE, &answers).unwrap();
        return;
    }
    let differs = stands.lines().zip(answers.lines()).find(|(was, is)| was != is);
    assert!(stands == answers, "answers changed, read them and write them anew with REWRITE=1: {differs:?}");
}
