//! A keeper's practice in sentences: what each rule says, and why one never spoke.

use crate::units::Units;
use crate::wording::{capital, either, figure, list};
use scenarios::SiteModel;
use scenarios::practice_text::{mark, word_of};
use sim_engine::gates::practice::rule::{Occasion, Rule, Unless, Which};
use sim_engine::gates::practice::tally::{RuleTally, Silent};

/// What a practice does: a sentence for each rule, and where the birds are else.
#[must_use]
pub fn sentences(model: &SiteModel, home: Option<usize>, rules: &[Rule], units: Units) -> Vec<String> {
    let said =
        rules.iter().enumerate().map(|(at, rule)| format!("Rule {}: {}", at + 1, rule_in_words(model, rule, units)));
    let home = home.map_or("the yard", |plot| name(model, plot));
    let home = if rules.is_empty() { format!("Always in {home}.") } else { format!("Else in {home}.") };
    said.chain([home]).collect()
}

fn name(model: &SiteModel, plot: usize) -> &str {
    model.base.plots.get(plot).map_or("?", |plot| plot.name.as_str())
}

/// One rule.
fn rule_in_words(model: &SiteModel, rule: &Rule, units: Units) -> String {
    let names: Vec<&str> = rule.plots.iter().map(|&plot| name(model, plot)).collect();
    let mut parts = vec![in_which(rule, &names)];
    parts.extend(times(model, rule, units));
    parts.extend(rule.stay.map(|stay| {
        let days = figure(stay.days, 0);
        let (most, area) =
            (if stay.at_most { "at most " } else { "" }, if stay.by_area { " on average by area" } else { "" });
        format!("for {most}{days} days{area}")
    }));
    parts.extend(rule.rest_days.map(|days| format!("after at least {} days' rest", figure(days, 0))));
    parts.extend(rule.most_days.map(|days| {
        let each = if names.len() > 1 { " in each" } else { "" };
        format!("at most {} days of a year{each}", figure(days, 0))
    }));
    if !rule.unless.is_empty() {
        let days: Vec<String> = rule.unless.iter().map(|day| silent_day(*day, units)).collect();
        parts.push(format!("not {}", either(&days)));
    }
    parts.extend(rule.birds.map(|birds| format!("at most {birds} birds")));
    parts.extend(rule.hours.map(|hours| format!("gate open {hours}")));
    if rule.at_once {
        parts.push("at once, whatever stay has begun further down".to_owned());
    }
    format!("{}.", capital(&parts.join(", ")))
}

fn in_which(rule: &Rule, names: &[&str]) -> String {
    let names_or = either(&names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>());
    match rule.which {
        _ if names.len() < 2 => format!("in {names_or}"),
        Which::AsListed => format!("in the first that may be open of {}", list(names)),
        Which::InTurn => format!("in {} in turn", list(names)),
        Which::LongestRested => format!("in {names_or}, whichever rested longest"),
        Which::BestCover => format!("in {names_or}, whichever has the best cover"),
    }
}

/// When it may begin.
fn times(model: &SiteModel, rule: &Rule, units: Units) -> Vec<String> {
    let mut parts = Vec::new();
    parts.extend(rule.when.map(|when| match when {
        Occasion::FruitOnTheGround => "while fruit lies on the ground".to_owned(),
        other => word_of(&Occasion::WORDS, &other).to_owned(),
    }));
    parts.extend(rule.between.map(|(from, to)| format!("from {} to {}", mark(from), mark(to))));
    parts.extend(rule.rising.map(|rising| {
        format!(
            "while {} leaves the soil ({} to {} {} round half emergence)",
            model.base.pests.get(rising.pest).map_or("?", |pest| pest.name.as_str()),
            units.degree_days(rising.from_dd).replace('-', "−"),
            units.degree_days(rising.to_dd).replace('-', "−"),
            units.degree_days_name()
        )
    }));
    parts.extend(rule.looks.map(|looks| {
        let percent = |share: f64| figure(100.0 * share, 0);
        format!(
            "in at {} % cover or more where it is barest, out below {} %",
            percent(looks.enter_above),
            percent(looks.leave_below)
        )
    }));
    parts
}

fn silent_day(day: Unless, units: Units) -> String {
    match day {
        Unless::Wet => "on wet ground".to_owned(),
        Unless::Frozen => "on frozen ground".to_owned(),
        Unless::Snow => "under snow".to_owned(),
        Unless::Hotter(limit) => format!("without shade after a day above {}", units.temperature(limit)),
    }
}

/// What stood most often against a rule that never spoke.
#[must_use]
pub fn why_never(tally: &RuleTally) -> String {
    let Some((why, shut_by)) = tally.mostly() else {
        return "rules further up always applied".to_owned();
    };
    let of = if why.waits() { tally.asked() } else { tally.timely() };
    let often = if tally.silent[why as usize] == of { "always" } else { "mostly" };
    let when = if why.waits() || tally.timely() == tally.asked() { "" } else { "when its time came, " };
    let often = format!("{when}{often}");
    match why {
        Silent::Occasion => "in its time never what when asks for".to_owned(),
        Silent::Season => format!("{often} outside its days of the year"),
        Silent::Pest => format!("{often} outside the pest's window"),
        Silent::Stayed => format!("{often} after its stay"),
        Silent::Most => format!("{often} past its days of the year"),
        Silent::Rest => format!("{often} after too short a rest"),
        Silent::Looks => format!("{often} too little cover to go in"),
        Silent::Weather => format!("{often} kept off by what unless names"),
        Silent::Shut => format!("{often} shut by {}", shut_by.unwrap_or("a hard rule")),
    }
}
