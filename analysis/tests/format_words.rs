//! What is told of the format of a site file fits the page, and a word finds what it names.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use analysis::format::{details, everything, find, overview};

const WIDTH: usize = 80;

fn headings(word: &str) -> Vec<(&'static str, bool)> {
    find(word).unwrap().into_iter().map(|found| (found.table.heading, found.whole)).collect()
}

#[test]
fn nothing_is_wider_than_the_page() {
    for text in [overview(), details(&everything())] {
        println!("{text}");
        let wide: Vec<&str> = text.lines().filter(|line| line.chars().count() > WIDTH).collect();
        assert_eq!(wide, Vec::<&str>::new());
    }
}

#[test]
fn the_overview_has_a_line_for_every_table() {
    let text = overview();
    for found in everything() {
        assert!(text.lines().any(|line| line.starts_with(found.table.heading)), "{}", found.table.heading);
    }
}

#[test]
fn a_name_comes_before_a_word_and_a_word_before_a_part() {
    assert!(headings("plots").contains(&("[plot.NAME]", true)));
    assert_eq!(headings("guards"), [("[plot.NAME] guards", true)]);
    assert_eq!(headings("crop"), [("[[plot.NAME.crop]]", true)]);
    assert_eq!(headings("area"), [("[yard]", false), ("[plot.NAME]", false)]);
    assert_eq!(headings("run.years"), [("[run]", false)]);
    assert_eq!(headings("work_saved"), [("[aims]", true)]);
    assert!(headings("dusk").contains(&("[strategy.NAME]", false)));
    assert!(headings("housing order").contains(&("[[event]]", false)));
    assert!(!headings("drop").is_empty());
}

#[test]
fn what_is_not_there_is_told_with_what_may_be_meant() {
    assert!(find("guadrs").unwrap_err().starts_with("Did you mean \"guards\"?"));
    assert_eq!(find("zyzzyva").unwrap_err(), "To see every table there is: hensward format");
    assert!(find("  ").is_err());
}
