//! A keeper's practice as a site file has it: what reads back as the same rules.

use crate::site_file::dates::shown;
use sim_engine::gates::practice::rule::{Occasion, Rule, Stay, Unless, Which, YearMark};

/// The table of a practice, by the names of the site's plots and pests.
#[must_use]
pub fn written(name: &str, home: Option<usize>, rules: &[Rule], plots: &[&str], pests: &[&str]) -> String {
    let home = home.and_then(|plot| plots.get(plot)).map_or("yard", |plot| plot);
    let mut text = format!("[strategy.{name:?}]\nhome = {home:?}\n");
    for rule in rules {
        text += &format!("\n[[strategy.{name:?}.rule]]\n");
        for (key, value) in keys(rule, plots, pests) {
            text += &format!("{key} = {value}\n");
        }
    }
    text
}

/// Every key a rule has, in the order of the format page.
fn keys(rule: &Rule, plots: &[&str], pests: &[&str]) -> Vec<(&'static str, String)> {
    let names: Vec<String> = rule.plots.iter().map(|&plot| quoted(plots.get(plot).unwrap_or(&"?"))).collect();
    let mut keys = vec![("where", if names.len() == 1 { names.concat() } else { list(&names) })];
    let mut put = |key, value: Option<String>| keys.extend(value.map(|value| (key, value)));
    put("which", (rule.which != Which::AsListed).then(|| quoted(word_of(&Which::WORDS, &rule.which))));
    put("when", rule.when.map(|when| quoted(word_of(&Occasion::WORDS, &when))));
    put("between", rule.between.map(|(from, to)| list(&[quoted(&mark(from)), quoted(&mark(to))])));
    put(
        "while_rising",
        rule.rising.map(|rising| {
            let pest = quoted(pests.get(rising.pest).unwrap_or(&"?"));
            let (from, to) = (rising.from_dd, rising.to_dd);
            format!("{{ pest = {pest}, from = \"{from} degree-days\", to = \"{to} degree-days\" }}")
        }),
    );
    put(
        "looks",
        rule.looks
            .map(|looks| format!("{{ enter_above = {:?}, leave_below = {:?} }}", looks.enter_above, looks.leave_below)),
    );
    let silent: Vec<String> = rule.unless.iter().map(|day| quoted(&unless(*day))).collect();
    put("unless", (!silent.is_empty()).then(|| list(&silent)));
    put("stay", rule.stay.map(|of| quoted(&stay(of))));
    put("rest", rule.rest_days.map(|days| format!("\"{days} days\"")));
    put("most", rule.most_days.map(|days| format!("\"{days} days a year\"")));
    put("birds", rule.birds.map(|birds| birds.to_string()));
    put("hours", rule.hours.map(|hours| quoted(&hours.to_string())));
    put("at_once", rule.at_once.then(|| "true".to_owned()));
    keys
}

/// The word of a value.
pub fn word_of<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> &'static str {
    words.iter().find(|(_, of)| of == value).map_or("", |(word, _)| word)
}

/// A day of the year in words.
#[must_use]
pub fn mark(mark: YearMark) -> String {
    match mark {
        YearMark::Day(when) => shown(when),
        other => word_of(&YearMark::WORDS, &other).to_owned(),
    }
}

fn unless(day: Unless) -> String {
    match day {
        Unless::Wet => "wet".to_owned(),
        Unless::Frozen => "frozen".to_owned(),
        Unless::Snow => "snow".to_owned(),
        Unless::Hotter(limit) => format!("hotter than {limit} C"),
    }
}

fn stay(stay: Stay) -> String {
    let (before, behind) = (if stay.at_most { "at most " } else { "" }, if stay.by_area { " by area" } else { "" });
    format!("{before}{} days{behind}", stay.days)
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

fn list(members: &[String]) -> String {
    format!("[{}]", members.join(", "))
}
