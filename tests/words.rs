//! What screens and pages say, in the words of docs/style.md.

#![allow(clippy::unwrap_used)]

mod common;

use common::done;

/// The right column of the table of words.
fn unwanted() -> Vec<&'static str> {
    let rows = include_str!("../docs/style.md").lines().filter(|line| line.starts_with("| "));
    let words: Vec<&str> =
        rows.skip(1).filter_map(|row| row.trim_matches('|').split_once(" | ")).map(|row| row.1.trim()).collect();
    assert!(words.len() > 10 && words.contains(&"nought"), "{words:?}");
    words
}

/// Words without the marks of a page, blanks as one.
fn plain(page: &str) -> String {
    let body = page.split_once("</style>").map_or(page, |(_, body)| body);
    let words = body.split('<').map(|piece| piece.split_once('>').map_or(piece, |(_, words)| words));
    words.collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn nothing_a_keeper_reads_has_a_word_of_the_wrong_column() {
    let folder = tempfile::tempdir().unwrap();
    let demo = "puddlecote";
    let asked: [&[&str]; 7] = [
        &["check", demo],
        &["check", demo, "--all"],
        &["compare", demo, "--draws", "3", "--out", "compared"],
        &["season", demo, "--out", "season"],
        &["carry", demo, "--draws", "30", "--strategy", "by-eye"],
        &["lesson", demo, "--out", "lesson"],
        &["format"],
    ];
    let mut read: Vec<(String, String)> =
        asked.iter().map(|args| (args.join(" "), done(folder.path(), args))).collect();
    for page in ["compared/report.html", "season/season.html", "lesson/lesson.html"] {
        read.push((page.to_owned(), std::fs::read_to_string(folder.path().join(page)).unwrap()));
    }
    for (name, text) in &read {
        let text = plain(text);
        for word in unwanted() {
            let at = text.find(word);
            assert!(at.is_none(), "{name} says \"{word}\": {:.160}", &text[at.unwrap_or(0)..]);
        }
    }
}
