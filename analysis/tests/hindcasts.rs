//! Published trials held against the model: their sites can be read, what is compared can be measured, and
//! `docs/trust.md` says of every row what the judge says of the figures printed there.
#![allow(clippy::unwrap_used)]

#[path = "../examples/trust/hindcasts/mod.rs"]
mod hindcasts;

use hindcasts::judge::judge;
use hindcasts::play::{DRAWS, Library, play, site};
use hindcasts::rows::{Kind, ROWS};
use hindcasts::{PAGE, SITES, folder, page};

fn read(path: &str) -> String {
    std::fs::read_to_string(folder().join(path)).unwrap()
}

#[test]
fn every_site_can_be_read_and_has_what_its_rows_ask_for() {
    let library = Library::shipped().unwrap();
    for row in ROWS {
        site(row, &library).unwrap_or_else(|fault| panic!("{fault}"));
    }
    for entry in std::fs::read_dir(folder().join(SITES)).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let asked_for = ROWS.iter().any(|row| row.site == name) || name.ends_with(".csv");
        assert!(asked_for, "no row asks for {name}");
    }
}

/// Every tuned row has a figure; those set aside are not played here, lest they be tuned to.
#[test]
fn tuned_rows_can_be_measured() {
    let library = Library::shipped().unwrap();
    for row in ROWS.iter().filter(|row| row.kind == Kind::Tuned) {
        let figures = play(row, &library, 2).unwrap();
        assert!(figures.iter().all(|figure| figure.is_finite()), "{}: {figures:?}", row.id);
    }
}

#[test]
fn the_page_says_of_every_row_what_the_judge_says() {
    let text = read(PAGE);
    assert!(text.contains(&format!("{DRAWS} possible years")));
    let mut lines = Vec::new();
    for row in ROWS {
        let line = page::line_of(&text, row.id).unwrap_or_else(|| panic!("{PAGE} has no row {}", row.id));
        let (figures, verdict) = page::figures_and_verdict(&line).unwrap();
        match page::range(figures) {
            Some(range) => assert_eq!(verdict, judge(row.published, row.possible, range).to_string(), "{line}"),
            None => assert!(verdict == page::NOT_RUN && row.kind != Kind::Tuned, "{line}"),
        }
        // All but the figures is what the table of rows has.
        let words = |line: &str| line.split(" | ").take(5).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(words(&line), words(&page::line(row, None)), "the words of row {} are stale", row.id);
        lines.push(line);
    }
    assert_eq!(page::with_lines(&text, &lines).unwrap(), text, "the page's counts or lines are stale");
}

#[test]
fn no_row_that_was_set_aside_is_missing() {
    let set_aside = read("docs/set-aside.md");
    let letters: Vec<char> =
        set_aside.lines().filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |")?.chars().next()).collect();
    let letters: Vec<char> = letters.into_iter().filter(char::is_ascii_uppercase).collect();
    assert_eq!(letters, ('A'..='I').collect::<Vec<_>>());
    let text = read(PAGE);
    for letter in letters {
        let mut rows = ROWS.iter().filter(|row| row.id.starts_with(letter) && row.kind != Kind::Tuned).peekable();
        assert!(rows.peek().is_some(), "no row puts {letter}");
        rows.for_each(|row| assert!(page::line_of(&text, row.id).is_some(), "{PAGE} has no row {}", row.id));
    }
}

#[test]
fn every_link_of_the_page_leads_somewhere() {
    let text = read(PAGE);
    let targets = text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap());
    for target in targets.filter(|target| !target.starts_with("http")) {
        assert!(folder().join("docs").join(target).exists(), "{PAGE} links to {target}, which is not there");
    }
}
