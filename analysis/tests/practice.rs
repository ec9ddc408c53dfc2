//! What is said of a keeper's practice: each rule as a sentence, how often it spoke, and why one never did.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use analysis::practice_days::{PracticeDays, practice_days, spoken};
use analysis::report::describe::what_it_does;
use analysis::units::Units;
use scenarios::{Library, SiteModel, site_file};

/// The starter with one strategy more, which is its last.
fn with(rules: &str) -> SiteModel {
    let starter = include_str!("../../scenarios/starters/rotation.toml");
    let text = format!("{starter}\n[strategy.shown]\n{rules}\n");
    site_file::read_text("site.toml", &text, &Library::shipped().unwrap(), &|_| Err("none".into())).unwrap()
}

/// What the last strategy's one practice came to.
fn days(model: &SiteModel) -> PracticeDays {
    practice_days(model, last(model), Units::Metric).unwrap().remove(0)
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
    let days = days(&model);
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
    assert_eq!(practice_days(&model, 0, Units::Metric).unwrap(), [], "the first is no practice");
}

/// Days of rules and home make up the year.
#[test]
fn every_morning_is_counted_once() {
    let model =
        with("home = \"meadow\"\nrule = [{ where = \"spring-beds\", when = \"between crops\", stay = \"14 days\" }]");
    let days = days(&model);
    let a_year = days.rules[0].days_a_year + days.home_days_a_year;
    assert!((a_year * f64::from(days.years) - 3.0 * model.base.days as f64).abs() < 1e-6, "{days:?}");
    assert!(spoken(&days)[1].starts_with("no rule applied on"), "{:?}", spoken(&days));
}

/// Called upon by another strategy a practice counts the days on which it is asked, and every practice is in the document,
/// plot by plot, with the figures of the screen.
#[test]
fn a_practice_that_another_calls_upon_is_counted_as_it_is_asked() {
    let two = "[strategy.ours]\nrule = [{ where = [\"meadow\", \"spring-beds\"], which = \"in turn\", stay = \"10 days\" }]\n\
               [strategy.above]\nhome = \"meadow\"\n\
               [strategy.both]\nlayered = [\"above\", \"ours\"]\n\
               [strategy.by-weather]\nweather = { shade_above = \"27 C\", else = \"ours\" }\n";
    let model = with(&format!("home = \"meadow\"\n{two}"));
    let of = |name: &str| practice_days(&model, model.strategy(name).unwrap(), Units::Metric).unwrap();
    let alone = &of("ours")[0];
    assert_eq!((alone.strategy.as_str(), alone.practice.as_str(), alone.rules.len()), ("ours", "ours", 1));
    let rule = &alone.rules[0];
    let by_plot: f64 = rule.plots.iter().map(|plot| plot.days_a_year).sum();
    assert!(
        (by_plot - rule.days_a_year).abs() < 1e-9 && rule.plots.iter().all(|plot| plot.days_a_year > 1.0),
        "{rule:?}"
    );
    assert!(spoken(alone)[0].contains(" in meadow and ") && spoken(alone)[0].ends_with(" in spring-beds"), "{rule:?}");
    // A home of the first layer answers every morning: the second is never asked.
    let both = of("both");
    assert_eq!(both.iter().map(|days| days.practice.as_str()).collect::<Vec<_>>(), ["above", "ours"]);
    let never = "rule 1 of ours never applied in 9 possible years: what stands before it always had an answer";
    assert_eq!((spoken(&both[1]), both[1].home_days_a_year), (vec![never.to_owned()], 0.0));
    let weather = &of("by-weather")[0];
    assert!(weather.rules[0].days_a_year <= rule.days_a_year);
    let from = analysis::provenance::Provenance::new(0, String::new());
    let document = analysis::json::check_document(&model, &Library::shipped().unwrap(), &from, None);
    let told: Vec<_> = document.practices.iter().map(|days| (days.strategy.as_str(), days.practice.as_str())).collect();
    let shown = |name: &str| told.iter().filter(|(strategy, _)| *strategy == name).count();
    assert_eq!([shown("shown"), shown("ours"), shown("both"), shown("by-weather")], [1, 1, 2, 1], "{told:?}");
    assert!(document.practices.contains(alone) && document.practices.contains(&both[1]));
    assert_eq!(document.practices.iter().find(|days| days.strategy == "ours").unwrap().home, "Else in the yard.");
}
