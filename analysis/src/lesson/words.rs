//! The questions in words that lean to neither side, and the strategies in plain sentences.

use super::topic::Topic;
use crate::report::describe::{falling_back, what_it_does};
use crate::units::Units;
use crate::wording::plain_date;
use jiff::civil::Date;
use scenarios::SiteModel;
use sim_engine::dates::date_of;
use sim_engine::measures::Measure;

/// A question, its boxes and its blanks.
pub(super) fn asked(topic: Topic, model: &SiteModel) -> (String, Vec<String>, Vec<String>) {
    let either = || ["A", "B", "same"].map(str::to_owned).to_vec();
    let plain = |ask: &str| (ask.to_owned(), either(), Vec::new());
    match topic {
        Topic::Cover => plain("Which strategy loses more ground cover over the year?"),
        Topic::More(Measure::WorkSaved) => plain("Which strategy saves the keeper more work?"),
        Topic::More(Measure::FeedSaved) => {
            plain("Under which strategy do the birds find more of their feed for themselves?")
        }
        Topic::More(Measure::NitrogenWorst) => {
            let (ask, boxes, _) = plain("Under which strategy does a single plot get the most manure?");
            (ask, boxes, vec!["Which plot?".to_owned()])
        }
        Topic::More(Measure::WormEggs) => {
            plain("Under which strategy do the birds meet more worm eggs where they walk?")
        }
        Topic::More(measure) => plain(&format!("Under which strategy is this larger: {}?", measure.plain())),
        Topic::Pest(pest) => plain(&format!(
            "Which strategy leaves fewer of these pests on the plots for the year after: {}?",
            model.base.pests[pest].name
        )),
        Topic::Barest => (
            "Under which strategy does one plot have the least ground cover, on its worst day of the year?".to_owned(),
            vec!["A".to_owned(), "B".to_owned()],
            vec!["Which plot?".to_owned(), "In which month?".to_owned()],
        ),
        Topic::Line => (
            format!(
                "The keeper wants {:.0} % of every plot’s ground covered, or more, every day. Which strategy keeps to that all year?",
                100.0 * model.limits.cover_line
            ),
            vec!["A only".to_owned(), "B only".to_owned(), "both".to_owned(), "neither".to_owned()],
            vec!["Where it fails, on which date first?".to_owned()],
        ),
    }
}

/// "A, by-eye".
pub(super) fn label(model: &SiteModel, which: [usize; 2], strategy: usize) -> String {
    format!("{}, {}", letter(strategy), model.strategies[which[strategy]].name)
}

/// A or B.
pub(super) fn letter(strategy: usize) -> &'static str {
    if strategy == 0 { "A" } else { "B" }
}

/// "3 Jul 2027".
pub(super) fn day_words(start: Date, day: usize) -> String {
    plain_date(date_of(start, day))
}

/// What a strategy does, and what the strategies do that it falls back on.
pub(super) fn strategy_words(model: &SiteModel, which: usize, units: Units) -> Vec<String> {
    let said = falling_back(model, which);
    let first = does(model, which, units);
    let others =
        said.iter().skip(1).map(|&s| format!("“{}” means: {}", model.strategies[s].name, does(model, s, units)));
    core::iter::once(first).chain(others).collect()
}

/// What a strategy does; dates are not told one by one but stand in the calendar.
fn does(model: &SiteModel, which: usize, units: Units) -> String {
    match model.strategies[which].kind.dates() {
        Some(_) => "By a list of dates: those of the calendar below.".to_owned(),
        None => what_it_does(model, which, units),
    }
}
