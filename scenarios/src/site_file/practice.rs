//! `[[strategy.NAME.rule]]`: the rules of a keeper's practice. [`written`](crate::practice_text::written) puts them out again.

use super::bounds;
use super::context::Context;
use super::dates;
use super::openings::{let_through, open_hours};
use crate::library::EntryKind;
use crate::nearest::did_you_mean;
use crate::quantity::kinds::{DAYS, DEGREE_DAYS, TEMPERATURE_C};
use crate::quantity::{Bound, parse};
use crate::reader::{Item, Reader};
use sim_engine::gates::practice::rule::{Looks, Occasion, Rising, Rule, Stay, Unless, Which, YearMark};
use sim_engine::site::{Plot, When};

/// A whole rule, for remedies.
const EXAMPLE: &str =
    "{ where = \"vegetables\", when = \"between crops\", stay = \"14 days\", most = \"42 days a year\" }";
/// Home where it is no plot.
pub(super) const YARD: &str = "yard";

/// Where the birds are when no rule applies: a plot, or the yard.
pub(super) fn home(context: &Context<'_>, item: &Item<'_>) -> Option<Option<usize>> {
    let names = context.plot_names.iter().map(String::as_str);
    if item.value().as_str() == Some(YARD) && !context.plot_names.iter().any(|name| name == YARD) {
        return Some(None);
    }
    let at = item.name_in("plot", names.chain([YARD]))?;
    Some((at < context.plot_names.len()).then_some(at))
}

/// The rules of a list, the first on top.
pub(super) fn rules(context: &mut Context<'_>, plots: &[Plot], item: &Item<'_>) -> Option<Vec<Rule>> {
    let list = item.list()?;
    if list.is_empty() {
        item.fault("rule is an empty list", format!("Write at least one: rule = [{EXAMPLE}]"));
        return None;
    }
    let rules: Vec<Option<Rule>> = list.iter().enumerate().map(|(at, item)| one(context, plots, item, at)).collect();
    rules.into_iter().collect()
}

fn one(context: &mut Context<'_>, plots: &[Plot], item: &Item<'_>, at: usize) -> Option<Rule> {
    let Some(reader) = item.value().as_table().and_then(|_| item.table(format!("rule {}", at + 1))) else {
        item.fault(format!("rule {} is not a table", at + 1), format!("For example: rule = [{EXAMPLE}]"));
        return None;
    };
    let Some(place) = reader.get("where") else {
        reader.fault(format!("rule {} says no place", at + 1), format!("Add where, for example: {EXAMPLE}"));
        return None;
    };
    let mut rule = Rule::of(places(context, &place)?);
    let get = |key| reader.get(key);
    rule.which = get("which").and_then(|item| item.choice(&Which::WORDS)).unwrap_or(Which::AsListed);
    rule.when = get("when").and_then(|item| item.choice(&Occasion::WORDS));
    rule.between = get("between").and_then(|item| between(&item));
    rule.rising = get("while_rising").and_then(|item| rising(context, &item));
    rule.looks = get("looks").and_then(|item| looks(&item));
    rule.unless = get("unless").and_then(|item| unless(&item)).unwrap_or_default();
    rule.stay = get("stay").and_then(|item| stay(&item));
    rule.rest_days = get("rest").and_then(|item| item.quantity(&DAYS, &bounds::REST_D));
    rule.most_days = get("most").and_then(|item| most(&item));
    rule.birds = get("birds").and_then(|item| let_through(&item));
    rule.hours = get("hours").and_then(|item| open_hours(&item));
    rule.at_once = get("at_once").and_then(|item| item.flag()).unwrap_or(false);
    agrees(&reader, &rule, at);
    if plots.len() == context.plot_names.len() {
        rule.plots.iter().for_each(|&plot| possible(context, &reader, &rule, &plots[plot]));
    }
    reader.finish();
    Some(rule)
}

/// One plot or a list of them.
fn places(context: &Context<'_>, item: &Item<'_>) -> Option<Vec<usize>> {
    if item.value().as_array().is_none() {
        return Some(vec![context.plot(item)?]);
    }
    let list = item.list()?;
    if list.is_empty() {
        item.fault("where names no plot", "Name one or more: where = [\"fruit\", \"berries\"]");
        return None;
    }
    let plots: Option<Vec<usize>> = list.iter().map(|item| context.plot(item)).collect();
    let plots = plots?;
    if let Some(again) = (1..plots.len()).find(|&at| plots[..at].contains(&plots[at])) {
        list[again].fault("where names this plot twice", "Take one of the two out.");
    }
    Some(plots)
}

/// Two days of the year, or marks of the plot.
fn between(item: &Item<'_>) -> Option<(YearMark, YearMark)> {
    let example =
        "Write a first and a last day: between = [\"11-01\", \"03-15\"], or between = [\"leaf fall\", \"bud break\"]";
    let list = item.list()?;
    let [from, to] = list.as_slice() else {
        item.fault(format!("between has {} days", list.len()), example);
        return None;
    };
    let mark = |item: &Item<'_>| {
        let text = item.value().as_str().unwrap_or_default();
        if let Some((_, mark)) = YearMark::WORDS.iter().find(|(word, _)| *word == text) {
            return Some(*mark);
        }
        if text.is_empty() || text.starts_with(|c: char| c.is_ascii_digit()) {
            let when = dates::when(item)?;
            if let When::On(date) = when {
                let day = dates::shown_day(date);
                item.fault(format!("between: {date} comes once"), format!("Write the day of every year: \"{day}\"."));
                return None;
            }
            return Some(YearMark::Day(when));
        }
        let words = YearMark::WORDS.iter().map(|(word, _)| *word);
        item.fault(format!("between cannot be {text:?}"), format!("{} {example}.", did_you_mean(text, words)));
        None
    };
    let (from, to) = (mark(from), mark(to));
    Some((from?, to?))
}

fn rising(context: &mut Context<'_>, item: &Item<'_>) -> Option<Rising> {
    const WHOLE: &str = "while_rising = { pest = \"pear slug\", from = \"-50 degree-days\", to = \"70 degree-days\" }";
    let reader = whole(item, "while_rising", WHOLE)?;
    let need = |key: &'static str| part(&reader, key, WHOLE);
    let pest = need("pest").and_then(|item| context.named(EntryKind::Pest, &item));
    let degree_days = |item: &Item<'_>| item.quantity(&DEGREE_DAYS, &bounds::DEGREE_DAYS);
    let from = need("from").and_then(|item| degree_days(&item));
    let until = need("to");
    let to = until.as_ref().and_then(degree_days);
    reader.finish();
    let (from_dd, to_dd) = (from?, to?);
    if to_dd <= from_dd {
        let message = format!("to {to_dd} is not after from {from_dd}");
        until?.fault(message, format!("Degree-days count up, write the smaller first: {WHOLE}."));
        return None;
    }
    Some(Rising { pest: pest?, from_dd, to_dd })
}

fn looks(item: &Item<'_>) -> Option<Looks> {
    const WHOLE: &str = "looks = { enter_above = 0.85, leave_below = 0.7 }";
    let reader = whole(item, "looks", WHOLE)?;
    let enter = part(&reader, "enter_above", WHOLE).and_then(|item| item.number(&bounds::SHARE));
    let leaving = part(&reader, "leave_below", WHOLE);
    let leave = leaving.as_ref().and_then(|item| item.number(&bounds::SHARE));
    reader.finish();
    let (enter_above, leave_below) = (enter?, leave?);
    if leave_below > enter_above {
        let message = format!("leave_below {leave_below} is above enter_above {enter_above}");
        let remedy = format!("Birds would leave as soon as they are in; enter above the higher one: {WHOLE}.");
        leaving?.fault(message, remedy);
        return None;
    }
    Some(Looks { enter_above, leave_below })
}

/// A table of a rule; where it is none, the fault shows a whole one.
fn whole<'r>(item: &Item<'r>, key: &str, example: &str) -> Option<Reader<'r>> {
    if item.value().as_table().is_none() {
        item.fault(format!("{key} is not a table"), format!("For example: {example}"));
        return None;
    }
    item.table(key)
}

/// A key that such a table must have.
fn part<'r>(reader: &Reader<'r>, key: &'static str, example: &str) -> Option<Item<'r>> {
    let item = reader.get(key);
    if item.is_none() {
        reader.fault(format!("{} has no {key:?}", reader.what), format!("For example: {example}"));
    }
    item
}

const SILENT: [(&str, Unless); 3] = [("wet", Unless::Wet), ("frozen", Unless::Frozen), ("snow", Unless::Snow)];
/// What stands before a temperature in `unless`, and may stand behind.
pub(crate) const HOTTER: &str = "hotter than ";
const SHADELESS: &str = " without shade";

fn unless(item: &Item<'_>) -> Option<Vec<Unless>> {
    let list = if item.value().as_array().is_some() { item.list()? } else { vec![item.clone()] };
    let days: Vec<Option<Unless>> = list.iter().map(silent_day).collect();
    days.into_iter().collect()
}

fn silent_day(item: &Item<'_>) -> Option<Unless> {
    let text = item.text()?;
    if let Some((_, day)) = SILENT.iter().find(|(word, _)| *word == text) {
        return Some(*day);
    }
    if let Some(heat) = text.strip_prefix(HOTTER) {
        let heat = heat.strip_suffix(SHADELESS).unwrap_or(heat);
        return match parse(heat, &TEMPERATURE_C) {
            Ok(limit) => Some(Unless::Hotter(item.within(limit, &bounds::WARM_C)?)),
            Err(error) => {
                item.fault(format!("unless: {}", error.message), "For example: unless = [\"hotter than 27 C\"]");
                None
            }
        };
    }
    let near = did_you_mean(text, SILENT.iter().map(|(word, _)| *word).chain(["hotter than 27 C"]));
    item.fault(
        format!("unless cannot be {text:?}"),
        format!("{near} For example: unless = [\"wet\", \"hotter than 27 C\"]"),
    );
    None
}

/// What may stand before the days of a stay, and behind them.
pub(crate) const AT_MOST: &str = "at most ";
const BY_AREA: &str = " by area";

fn stay(item: &Item<'_>) -> Option<Stay> {
    const FORMS: &str = "Write stay = \"14 days\", stay = \"at most 14 days\" or stay = \"14 days by area\".";
    let text = item.value().as_str().unwrap_or_default();
    let (at_most, rest) = text.strip_prefix(AT_MOST).map_or((false, text), |rest| (true, rest));
    let (by_area, rest) = rest.strip_suffix(BY_AREA).map_or((false, rest), |rest| (true, rest));
    let days = days(item, rest, &bounds::STAY_D, FORMS)?;
    Some(Stay { days, at_most, by_area })
}

fn most(item: &Item<'_>) -> Option<f64> {
    const FORMS: &str = "Write most = \"42 days a year\" or most = \"6 weeks a year\".";
    let text = item.value().as_str().unwrap_or_default();
    match text.strip_suffix(" a year") {
        Some(rest) => days(item, rest, &bounds::MOST_D, FORMS),
        None => {
            item.fault("most does not say of what time", FORMS);
            None
        }
    }
}

fn days(item: &Item<'_>, text: &str, bound: &Bound, forms: &str) -> Option<f64> {
    match parse(text, &DAYS) {
        Ok(days) => item.within(days, bound),
        Err(_) if item.value().as_str().is_none() => {
            item.fault(format!("{} is not text in quotes", item.key), forms);
            None
        }
        Err(error) => {
            item.fault(format!("{}: {}", item.key, error.message), forms);
            None
        }
    }
}

/// Keys that ask for each other.
fn agrees(reader: &Reader<'_>, rule: &Rule, at: usize) {
    let number = at + 1;
    if rule.which == Which::InTurn && !rule.keeps() && reader.get("stay").is_none() {
        let message = format!("rule {number} takes its plots in turn and says no stay");
        reader.fault(
            message,
            "Say how long: { where = [\"fruit\", \"berries\"], which = \"in turn\", stay = \"21 days\" }",
        );
    }
    if rule.when == Some(Occasion::AfterHarvest) && reader.get("stay").is_none() {
        let message = format!("rule {number} comes after a harvest and does not say until when");
        reader.fault(message, "Say how long: { where = \"vegetables\", when = \"after harvest\", stay = \"14 days\" }");
    }
    if let (Some(Stay { days, at_most: false, .. }), Some(most)) = (rule.stay, rule.most_days)
        && most < days
    {
        let message = format!("rule {number} stays {days} days and may have {most} a year");
        reader.fault(message, "Make most at least as long: { …, stay = \"14 days\", most = \"42 days a year\" }");
    }
}

/// Notes what a plot of a rule can never show.
fn possible(context: &Context<'_>, reader: &Reader<'_>, rule: &Rule, plot: &Plot) {
    let fault = |key: &'static str, lacks: String, remedy: &str| {
        if let Some(item) = reader.get(key) {
            item.fault(lacks, remedy);
        }
    };
    let canopies = || plot.canopies.iter().filter_map(|here| context.tables.canopies.get(here.canopy));
    let name = &plot.name;
    let crops = plot.grounds.iter().any(|ground| !ground.crops.is_empty());
    let dates = "Take it out of where, or give dates: between = [\"11-01\", \"03-15\"].";
    match rule.when {
        Some(Occasion::BetweenCrops | Occasion::AfterHarvest) if !crops => {
            fault("when", format!("{name} has no crops"), dates);
        }
        Some(Occasion::FruitOnTheGround) if !canopies().any(|canopy| canopy.params.fruit_fall > 0.0) => {
            fault("when", format!("nothing in {name} drops fruit"), dates);
        }
        _ => {}
    }
    for mark in rule.between.into_iter().flat_map(|(from, to)| [from, to]) {
        let lacks = match mark {
            YearMark::LeafFall | YearMark::BudBreak if canopies().all(|canopy| canopy.evergreen) => {
                format!("{name} has no trees, bushes or canes that lose their leaves")
            }
            YearMark::FirstPicking | YearMark::LastPicking if plot.harvests().next().is_none() => {
                format!("{name} has no harvest")
            }
            _ => continue,
        };
        fault("between", lacks, dates);
        return;
    }
}
