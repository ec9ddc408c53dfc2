//! The keeper's own work in hours, in a paragraph: what there is of it, of what kind, and whether that is plausible.

use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::units::Units;
use crate::wording::{figure, list};
use scenarios::SiteModel;
use sim_engine::measures::Measure;
use sim_engine::site::{Care, Ground, Plot, Task};

/// The kinds of work, most hours of the year first as a rule.
pub const WORK_KINDS: [(Measure, &str); 6] = [
    (Measure::WorkWeeding, "weeding"),
    (Measure::WorkMowing, "mowing"),
    (Measure::WorkClearing, "clearing beds"),
    (Measure::WorkShovelling, "shovelling soil back"),
    (Measure::WorkMoving, "moving birds"),
    (Measure::WorkOther, "guards, mulch and compost"),
];

/// Hours of weeding a year on 100 m² of beds under usual care: from drilled onions and leeks (Melander & Rasmussen 2001,
/// Melander et al. 2005: 100 to 600 h/ha) hoed for a crop or more a year, to unmulched peppers and tomatoes weeded by hand
/// every month (Massey University's log of 2005-6: 0.5 h/m² a season); rounded.
const WEEDING_H_100_M2: [f64; 2] = [10.0, 60.0];

/// The hours shut in and under the strategy looked at closely, and a word where weeding is far from what is usual.
#[must_use]
pub fn work(model: &SiteModel, c: &Comparison, units: Units) -> String {
    let leading = c.leading();
    let shut_in = hours(c, ArmId::ShutIn);
    let strategy = hours(c, ArmId::Strategy(leading));
    let plausible = weeding(model, c, units).map(|words| format!(" {words}")).unwrap_or_default();
    format!(
        "Your own work, in hours a year: with the birds shut in {shut_in}; under {} {strategy}.{plausible}",
        c.names[leading]
    )
}

/// "13.9 (weeding 4.9, mowing 6.0 and moving birds 2.2)".
fn hours(c: &Comparison, run: ArmId) -> String {
    let mean = |measure| c.figure(run, measure).map_or(0.0, |figure| figure.mean.mean);
    let kinds = WORK_KINDS.iter().map(|&(measure, words)| (mean(measure), words)).filter(|(hours, _)| *hours >= 0.05);
    let kinds: Vec<String> = kinds.map(|(hours, words)| format!("{words} {}", figure(hours, 1))).collect();
    let total = figure(mean(Measure::Work), 1);
    if kinds.is_empty() { total } else { format!("{total} ({})", list(&kinds)) }
}

fn weeding(model: &SiteModel, c: &Comparison, units: Units) -> Option<String> {
    let beds: f64 = model.base.plots.iter().map(weeded_m2).sum();
    let hours = c.figure(ArmId::ShutIn, Measure::WorkWeeding)?.mean.mean;
    let [least, most] = WEEDING_H_100_M2.map(|hours| hours * beds / 100.0);
    if beds <= 0.0 || (least..=most).contains(&hours) {
        return None;
    }
    let (seems, advice) = if hours < least {
        ("little", "if yours takes you longer, your ground holds more weed seeds than the file says")
    } else {
        ("much", "if yours takes you less, your ground holds fewer weed seeds than the file says")
    };
    Some(format!(
        "With the birds shut in, weeding takes {} h a year on {} of beds. That is {seems}: on beds of that size growers and \
         trials counted from {} to {} h a year; {advice}.",
        figure(hours, 1),
        units.area(beds),
        figure(least, 0),
        figure(most, 0),
    ))
}

/// Ground of a plot that is weeded by hand.
fn weeded_m2(plot: &Plot) -> f64 {
    let beds = plot.grounds.iter().any(|ground| ground.bed);
    let weeds = |care: &Care, at: usize, ground: &Ground| {
        matches!(care.task, Task::Weed { .. }) && care.ground.is_none_or(|only| only == at) && (ground.bed || !beds)
    };
    let weeded = |(at, ground): &(usize, &Ground)| plot.care.iter().any(|care| weeds(care, *at, ground));
    plot.area_m2 * plot.grounds.iter().enumerate().filter(weeded).map(|(_, ground)| ground.share).sum::<f64>()
}
