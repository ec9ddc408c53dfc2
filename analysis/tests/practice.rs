//! What is said of a keeper's practice: each rule as a sentence, how often it spoke, and why one never did.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use analysis::practice_days::practice_days;
use analysis::report::describe::what_it_does;
use analysis::report::practice::spoken;
use analysis::units::Units;
use scenarios::{Library, SiteModel, site_file};

/// The starter with one strategy more, which is its last.
fn with(rules: &str) -> SiteModel {
    let starter = include_str!("../../scenarios/starters/rotation.toml");
    let text = format!("{starter}\n[strategy.shown]\n{rules}\n");
    site_file::read_text("site.toml", &text, &Library::shipped().unwrap(), &|_| Err("none".into())).unwrap()
}

fn last(model: &SiteModel) -> usize {
    model.strategies.len() - 1
}

#[test]
fn every_rule_is_said_back_as_a_sentence() {
    let model = with(
        "home = \"meadow\"\nrule = [\n\
         { where = [\"spring-beds\", \"winter-beds\"], which = \"longest rested\", when = \"between crops\", stay = \"14 days\", \
         rest = \"28 days\", most = \"42 days a year\" },\n\
         { where = \"meadow\", between = [\"11-01\", \"02-28\"], looks = { enter_above = 0.85, leave_below = 0.7 }, \
         unless = [\"wet\", \"hotter than 27 C\"], birds = 4, hours = \"last 3 hours\", at_once = true },\n]",
    );
    assert_eq!(
        what_it_does(&model, last(&model), Units::Metric),
        "Rule 1: In spring-beds or winter-beds, whichever rested longest, between crops, for 14 days, after at least 28 days' \
         rest, at most 42 days of a year in each. \
         Rule 2: In meadow, from 11-01 to 02-28, in at 85 % cover or more where it is barest, out below 70 %, \
         not on wet ground or without shade after a day above 27 °C, at most 4 birds, gate open last 3 hours, at once, whatever \
         stay has begun further down. Else in meadow."
    );
    assert_eq!(what_it_does(&with("home = \"meadow\""), last(&model), Units::Metric), "Always in meadow.");
}

/// Peas stand from 1 April to 20 July; cover of 1 is never reached; a rule without conditions leaves nothing to the next.
#[test]
fn a_rule_that_never_spoke_says_why() {
    let model = with(
        "rule = [\n\
         { where = \"spring-beds\", between = [\"04-10\", \"07-10\"] },\n\
         { where = \"winter-beds\", between = [\"05-01\", \"05-31\"], when = \"between crops\" },\n\
         { where = \"meadow\", looks = { enter_above = 1.0, leave_below = 0.7 } },\n\
         { where = \"meadow\", between = [\"01-01\", \"12-31\"] },\n\
         { where = \"summer-beds\" },\n]",
    );
    let days = practice_days(&model, last(&model)).unwrap().unwrap();
    let said = spoken(&days);
    assert_eq!(days.years, 9, "three draws of three years");
    assert!(
        said[0]
            .contains("rule 1 never applied in 9 possible years: when its time came, always shut by a standing crop"),
        "{said:?}"
    );
    assert!(said[1].ends_with(": in its time never what when asks for"), "{said:?}");
    assert!(said[2].contains("rule 3 never applied in 9 possible years: always too little cover to go in"), "{said:?}");
    assert!(said[3].contains("rule 4 applied on"), "{said:?}");
    assert_eq!(practice_days(&model, 0).unwrap(), None, "the first is no practice");
}

/// Days of rules and home make up the year.
#[test]
fn every_morning_is_counted_once() {
    let model =
        with("home = \"meadow\"\nrule = [{ where = \"spring-beds\", when = \"between crops\", stay = \"14 days\" }]");
    let days = practice_days(&model, last(&model)).unwrap().unwrap();
    let mornings = days.rules[0].spoke + days.home_mornings;
    assert_eq!(mornings as usize, 3 * model.base.days);
    assert!(spoken(&days)[1].starts_with("no rule applied on"), "{:?}", spoken(&days));
}
