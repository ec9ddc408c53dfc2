//! What a strategy does, and what it costs and buys, in a sentence each.

use super::practice;
use crate::compare::Comparison;
use crate::units::Units;
use crate::wording::{capital, figure, list, measured};
use scenarios::SiteModel;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::measures::{Better, Measure};

/// What strategy `which` of the model does, as a sentence.
#[must_use]
pub fn what_it_does(model: &SiteModel, which: usize, units: Units) -> String {
    let Some(spec) = model.strategies.get(which) else { return String::new() };
    let mut text = kind(model, &spec.kind, units);
    if let Some(hours) = spec.hours {
        text += &format!(" Gates open {hours}.");
    }
    if let Some(birds) = spec.birds {
        text += &format!(" At most {birds} birds.");
    }
    text
}

/// Name of a strategy and what it does, and after it the same of those it falls back on.
#[must_use]
pub fn in_full(model: &SiteModel, which: usize, units: Units) -> Vec<(String, String)> {
    let name = |s: usize| model.strategies.get(s).map_or_else(String::new, |spec| spec.name.clone());
    falling_back(model, which).into_iter().map(|s| (name(s), what_it_does(model, s, units))).collect()
}

/// A strategy and those it falls back on, each once.
#[must_use]
pub fn falling_back(model: &SiteModel, which: usize) -> Vec<usize> {
    let mut strategies: Vec<usize> = vec![which];
    let mut at = 0;
    while let Some(&next) = strategies.get(at) {
        let others = model.strategies.get(next).map_or(&[][..], |spec| spec.kind.calls());
        strategies.extend(others.iter().copied().filter(|other| !strategies.contains(other)).collect::<Vec<_>>());
        at += 1;
    }
    strategies
}

fn kind(model: &SiteModel, kind: &StrategyKind, units: Units) -> String {
    let plot = |p: &usize| model.base.plots.get(*p).map_or("?", |plot| plot.name.as_str());
    let other = |s: &usize| model.strategies.get(*s).map_or("?", |spec| spec.name.as_str());
    match kind {
        StrategyKind::AllShut => "Every gate shut.".to_owned(),
        StrategyKind::AllOpen => "Every gate that may be open is open, every day.".to_owned(),
        StrategyKind::Continuous { plot: p } => format!("The birds are always in {}.", plot(p)),
        StrategyKind::FixedTurn { order, stay_days, by_area } => {
            let names: Vec<&str> = order.iter().map(plot).collect();
            let stay = figure(*stay_days, 0);
            let length = if *by_area {
                format!("{stay} days on average, longer in large plots")
            } else {
                format!("{stay} days each")
            };
            format!("A fixed turn, {length}: {}.", list(&names))
        }
        StrategyKind::ByEye { enter_above, leave_below, longest_stay_days, shortest_rest_days } => format!(
            "By the look of the ground: in above {} % cover, out below {} %, at most {} days, then at least {} days' rest.",
            figure(100.0 * enter_above, 0),
            figure(100.0 * leave_below, 0),
            figure(*longest_stay_days, 0),
            figure(*shortest_rest_days, 0)
        ),
        StrategyKind::BetweenCrops { stay_days, otherwise } => {
            format!("{} days in a plot whose crop is out; else {}.", figure(*stay_days, 0), other(otherwise))
        }
        StrategyKind::PestDate { window, otherwise } => format!(
            "In {} while {} leaves the soil ({} to {} {} round half emergence); else {}.",
            plot(&window.plot),
            model.base.pests.get(window.pest).map_or("?", |pest| pest.name.as_str()),
            units.degree_days(window.from_dd).replace('-', "−"),
            units.degree_days(window.to_dd).replace('-', "−"),
            units.degree_days_name(),
            other(otherwise)
        ),
        StrategyKind::Weather { shade_above_c, off_wet_ground, otherwise } => {
            let shade = shade_above_c.map(|c| format!("under shade after a day above {}", units.temperature(c)));
            let wet = off_wet_ground.then(|| "in the yard on wet ground".to_owned());
            let rules: Vec<String> = shade.into_iter().chain(wet).collect();
            capital(&format!("{}; else {}.", rules.join(", "), other(otherwise)))
        }
        StrategyKind::Dated { openings } => format!("By a list of {} dates.", openings.len()),
        StrategyKind::Layered { layers } => {
            let names: Vec<&str> = layers.iter().map(other).collect();
            format!("The first of these that has an answer: {}.", names.join(", "))
        }
        StrategyKind::Practice { home, rules } => practice::sentences(model, *home, rules, units).join(" "),
    }
}

/// What a strategy costs and buys against birds shut in, in one sentence, on means.
#[must_use]
pub fn costs_and_buys(c: &Comparison, s: usize, units: Units) -> String {
    let (mut costs, mut buys) = (Vec::new(), Vec::new());
    for (measure, more, less) in SAID {
        let Some(v) = c.gained(s, *measure) else { continue };
        let text = measured(v.abs(), *measure, units);
        if text.chars().all(|c| "0.".contains(c)) {
            continue;
        }
        let clause = if v > 0.0 { more } else { less }.replace("{}", &text).replace("{kg}", &units.unit("kg"));
        if clause.is_empty() {
            continue;
        }
        let good = (v > 0.0) == (measure.better() == Better::More);
        if good { buys.push(clause) } else { costs.push(clause) }
    }
    match (costs.is_empty(), buys.is_empty()) {
        (true, true) => "Changes next to nothing.".to_owned(),
        (false, true) => format!("Costs {}; gains nothing.", list(&costs)),
        (true, false) => format!("Gains {}.", list(&buys)),
        (false, false) => format!("Costs {}; gains {}.", list(&costs), list(&buys)),
    }
}

/// Measure, words where it is above nought, words where it is below (a cost).
const SAID: &[(Measure, &str, &str)] = &[
    (Measure::CoverLoss, "{} points of ground cover", ""),
    (Measure::GateMoves, "{} gate moves a year", ""),
    (Measure::WorkSaved, "{} h less work a year", "{} h more work a year"),
    (Measure::HarvestKept, "{} {kg} more harvest a year", "{} {kg} less harvest a year"),
    (Measure::PestSuppression, "{} % fewer pests from the soil", "{} % more pests from the soil"),
    (Measure::FeedSaved, "{} {kg} of feed a year", "{} {kg} of feed a year"),
];
