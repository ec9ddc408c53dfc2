//! `hensward new --ask`: whole sessions by piped answers; what they make checks and compares; what is wrong is asked
//! again; answers that end too soon write nothing.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

mod common;

use common::{done, one_line, program, run, stderr, stdout};
use std::io::Write;
use std::path::Path;
use std::process::{Output, Stdio};

/// A garden of the south, answered line by line.
const SOUTH: &str = "\
37.5 S, 600 m
warm temperate

60 m2, wood chip, cleaned out every 6 weeks
veg-one 8 x 10 m, 12 m from the yard
12 m away from the yard, 80 m2 veg two
berries 6 x 8 m, 20 m from the yard
mixed fruit 300 m2, 5 m from the yard

clay loam
10 layers, 1 cock
3 layers on 12 July, kept apart in berries for a month
tomato, zucchini, garlic
15 Oct to 10 Apr, picked 10 Jan to 10 Apr
1 Nov to 10 Apr, picked 1 Jan to 10 Apr
20 Apr to 10 Dec, picked 25 Nov to 10 Dec
broad bean, tomato
05-01 to 12-01, picked 10-20 to 12-01

blackberry, currants
01-05 to 02-28
12-10 to 01-20
4 apple, 2 pear, quince over mint
02-15 to 04-30
02-10 to 03-31
04-01 to 05-10
3
pear slug, chickweed
5
mixed-fruit
it hangs above 1.2 m

berries
cover 60 %, space 4 m2 per bird
";

/// A back yard in US units, answered line by line.
const US: &str = "\
42 N, 750 ft
continental
March 15
300 sq ft, wood chip, cleaned out every 6 weeks
raised beds 6 beds of 4 x 8 ft, 15 ft from the yard
side lawn 0.03 acre, 30 ft from the yard

silt loam
9 hens

sweet corn
May 25 to Sep 15, picked Aug 15 to Sep 15
lawn
none
3
side-lawn
2 weeks, 6 weeks

";

fn asked(folder: &Path, arguments: &[&str], answers: &str) -> Output {
    let mut command = program(folder);
    command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    // Who ends before it has read all closes the pipe.
    child.stdin.take().unwrap().write_all(answers.as_bytes()).ok();
    child.wait_with_output().unwrap()
}

#[track_caller]
fn made(folder: &Path, name: &str, answers: &str) -> String {
    let output = asked(folder, &["new", name, "--ask"], answers);
    let said = stderr(&output);
    assert!(output.status.success(), "{said}");
    assert!(!said.contains("\nQuestion "), "{said}");
    assert!(stdout(&output).contains(&format!("hensward check {name}\n")), "{}", stdout(&output));
    std::fs::read_to_string(folder.join(name).join("site.toml")).unwrap()
}

/// The garden compares, and the strategies are these.
#[track_caller]
fn compares(folder: &Path, name: &str, strategies: &[&str]) {
    let output = run(folder, &["compare", name, "--draws", "3", "--quiet"]);
    assert!(output.status.success(), "{}", stderr(&output));
    strategies.iter().for_each(|strategy| assert!(stdout(&output).contains(strategy), "{}", stdout(&output)));
}

#[test]
fn a_garden_of_the_south_is_made_of_answers() {
    let folder = tempfile::tempdir().unwrap();
    let site = made(folder.path(), "south", SOUTH);
    for line in [
        "start = 2027-08-20",
        "[plot.mixed-fruit]",
        "cover = { plant = \"mint\" }",
        "{ plant = \"apple trees\", share = 0.16, harvest = [\"02-15\", \"04-30\"], wait = { days = 0, reason = \"it hangs above 1.2 m\" }, windfalls = \"cooked\" }",
        "between = [\"leaf fall\", \"bud break\"]",
        "most = \"42 days a year\"",
        "least_cover = 0.6",
    ] {
        assert!(site.lines().any(|has| has.trim().trim_end_matches(',') == line), "{line}: {site}");
    }
    // The dates of the first tomato are offered for the second.
    assert_eq!(site.matches("in_ground = [\"10-15\", \"04-10\"]").count(), 2, "{site}");
    let said = one_line(&done(folder.path(), &["check", "south"]));
    for words in ["pear slug", "mixed-fruit", "berries", "30 days"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    compares(folder.path(), "south", &["our-practice", "by-eye"]);
}

#[test]
fn a_us_back_yard_with_raised_beds_is_made_of_answers() {
    let folder = tempfile::tempdir().unwrap();
    let site = made(folder.path(), "yard", US);
    assert!(site.contains("units = \"us\"") && site.contains("area = \"6 beds of 4 x 8 ft\""), "{site}");
    let said = one_line(&done(folder.path(), &["check", "yard", "--all"]));
    assert!(!said.contains("Unusual"), "{said}");
    assert!(said.contains("192 ft2") && said.contains("all beds; gate 15 ft"), "{said}");
    // The table breaks the name of the practice.
    compares(folder.path(), "yard", &["practice", "by-eye"]);
    let season = one_line(&done(folder.path(), &["season", "yard", "--strategy", "by-eye", "--quiet"]));
    assert!(season.contains("All beds, no sward to keep: raised-beds."), "{season}");
}

#[test]
fn a_wrong_answer_is_told_and_asked_again() {
    let folder = tempfile::tempdir().unwrap();
    let (begin, rest) = US.split_once("raised beds").unwrap();
    let answers = format!("?\n200 N\n{begin}beds 4 x 8 ft\nback\n\nbeds\nraised beds{rest}");
    let answers =
        answers.replace("9 hens\n", "hens\n9 unicorns\n9 hens\n").replace("sweet corn\n", "bean\nsweet corn\n");
    let output = asked(folder.path(), &["new", "again", "--ask", "--json"], &answers);
    let said = stderr(&output);
    assert!(output.status.success(), "{said}");
    let said = one_line(&said);
    for words in [
        "the height above the sea",
        "Question 1: latitude is 200 N, which is out of range",
        "Question 5: area is 4 x 8 ft, which is out of range",
        "area = \"6 beds of 4 x 8 ft\"",
        "Question 5: \"beds\" has no size",
        "Question 6: \"hens\" does not begin with a number of birds",
        "Question 6: there is no class of bird \"unicorns\"",
        "Question 7: \"bean\" can mean more than one thing",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    // `back` asks for the yard again, and an empty line takes what it offers.
    assert_eq!(said.matches("How big is the yard").count(), 2, "{said}");
    let document = common::without_run(&stdout(&output));
    assert_eq!(document["starter"], "answers");
    assert_eq!(document["next"][0], "hensward check again");
    assert_eq!(run(folder.path(), &["check", "again"]).status.code(), Some(0));
}

#[test]
fn without_all_answers_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let answers: Vec<&str> = US.lines().collect();
    for (given, question) in [(0, "question 1: Where is it"), (8, "question 6: How many birds"), (17, "question 10")] {
        let output = asked(folder.path(), &["new", "none", "--ask"], &answers[..given].join("\n"));
        assert_eq!(output.status.code(), Some(2));
        assert!(stderr(&output).contains(question), "{}", stderr(&output));
        assert_eq!(stdout(&output), "");
    }
    let both = asked(folder.path(), &["new", "none", "--ask", "--like", "orchard"], US);
    assert_eq!(both.status.code(), Some(2));
    std::fs::create_dir(folder.path().join("there")).unwrap();
    std::fs::write(folder.path().join("there/site.toml"), "mine").unwrap();
    let there = asked(folder.path(), &["new", "there", "--ask"], US);
    assert!(stderr(&there).contains("it is there already") && !stderr(&there).contains("Ten questions"));
    assert!(!folder.path().join("none").exists());
}
