//! `hensward lesson` as a leader runs it: two files, the same bytes again, and no answer said.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{digests, done, seattle, without_run};

#[test]
fn it_writes_the_pages_and_says_where_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let said = done(folder.path(), &["lesson", "sallowmere", "--draws", "3", "--quiet"]);
    assert!(said.contains("results/sallowmere/lesson/lesson.html") && said.contains("what-we-do-now"), "{said}");
    let written = folder.path().join("results/sallowmere/lesson");
    let page = std::fs::read_to_string(written.join("lesson.html")).unwrap();
    let file: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(written.join("summary.json")).unwrap()).unwrap();
    for question in file["questions"].as_array().unwrap() {
        assert!(!said.contains(question["figures"].as_str().unwrap()), "the answer is said too early");
        assert!(page.contains(question["answer"].as_str().unwrap()));
    }
    let told = done(folder.path(), &["lesson", "sallowmere", "--draws", "3", "--quiet", "--json"]);
    assert_eq!(without_run(&told), file);
}

#[test]
fn threads_and_runs_change_no_byte() {
    let folder = tempfile::tempdir().unwrap();
    let lesson = |out: &str, threads: &str| {
        let options = ["lesson", "sallowmere", "--draws", "5", "--draw", "2", "--threads", threads, "--out", out];
        done(folder.path(), &options);
        digests(&folder.path().join(out))
    };
    assert_eq!(lesson("one", "1"), lesson("two", "2"));
}

#[test]
fn a_stations_year_is_told_in_both_files() {
    let folder = tempfile::tempdir().unwrap();
    let strategies =
        ["--strategy", "by-eye", "--strategy", "all-open", "--draws", "2", "--out", "out", "--units", "us"];
    let weather = seattle();
    done(folder.path(), &[&["lesson", "sallowmere", "--weather", weather.as_str()], strategies.as_slice()].concat());
    let page = std::fs::read_to_string(folder.path().join("out/lesson.html")).unwrap();
    assert!(page.contains("seattle.csv") && page.contains("ft²"));
    let file = std::fs::read_to_string(folder.path().join("out/summary.json")).unwrap();
    assert!(file.contains("\"file\": \"seattle.csv\"") && file.contains("\"by-eye\"") && !file.contains("ft2"));
}
