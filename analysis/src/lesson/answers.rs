//! The answers: in a few words, and with the figures they rest on.

use super::play::SharedDraw;
use super::topic::{Topic, TopicAnswer, cover_lost, left};
use super::words::{day_words, label, letter};
use crate::units::Units;
use crate::wording::{figure, unit};
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// "B by-eye"; "neither"; "A: currant-walk. B: plum-slope".
pub(super) fn in_words(answer: TopicAnswer, model: &SiteModel, which: [usize; 2]) -> String {
    match answer {
        TopicAnswer::Plan(strategy) => label(model, which, strategy),
        TopicAnswer::Even => "about the same".to_owned(),
        TopicAnswer::Bare(strategy, plot) => format!("{}, on {}", letter(strategy), model.base.plots[plot].name),
        TopicAnswer::Keeps(true, true) => "both".to_owned(),
        TopicAnswer::Keeps(false, false) => "neither".to_owned(),
        TopicAnswer::Keeps(a, _) => format!("{} only", letter(usize::from(!a))),
    }
}

/// The cover every plot should keep, %.
pub(super) fn line(model: &SiteModel) -> String {
    figure(100.0 * model.limits.cover_line, 0)
}

/// What is compared of one strategy.
pub(super) fn value(topic: Topic, model: &SiteModel, shown: &SharedDraw, strategy: usize) -> f64 {
    let played = &shown.strategies[strategy];
    match topic {
        Topic::More(measure) => played.measures.get(measure),
        Topic::Cover => cover_lost(model, shown, strategy),
        Topic::Pest(pest) => left(shown, strategy, pest),
        Topic::Barest => played.ground.barest().2,
        Topic::Line => played.ground.days_below(model.limits.cover_line),
    }
}

/// The figures of both strategies.
pub(super) fn figures(topic: Topic, model: &SiteModel, shown: &SharedDraw, units: Units) -> String {
    match topic {
        Topic::More(measure) => measures(measure, shown, units),
        Topic::Cover => {
            let of = |strategy| figure(cover_lost(model, shown, strategy), 1);
            format!(
                "Of 100 parts of ground, A has {} fewer covered than the same year with the birds shut in, B {} (mean of plots and days).",
                of(0),
                of(1)
            )
        }
        Topic::Pest(pest) => {
            let of = |strategy| figure(left(shown, strategy, pest), 0);
            format!("For every 100 there would be with the birds shut in, A leaves {}, B leaves {}.", of(0), of(1))
        }
        Topic::Barest => both(|strategy| {
            let (plot, day, cover) = shown.strategies[strategy].ground.barest();
            let name = &model.base.plots[plot].name;
            format!("{} % on {} ({name})", figure(100.0 * cover, 0), day_words(model.base.start, day))
        }),
        Topic::Line => both(|strategy| match shown.strategies[strategy].ground.first_below(model.limits.cover_line) {
            None => format!("never below {} %", line(model)),
            Some((day, plot)) => {
                let (date, plot) = (day_words(model.base.start, day), &model.base.plots[plot].name);
                format!("below {} % first on {date} ({plot})", line(model))
            }
        }),
    }
}

fn measures(measure: Measure, shown: &SharedDraw, units: Units) -> String {
    let name = unit(measure.unit(), units).replace(" a year", "");
    let name = match measure {
        Measure::WormEggs => "(relative)".to_owned(),
        Measure::NitrogenWorst => format!("{name} of manure nitrogen"),
        Measure::WorkSaved => format!("{name} less work than with the birds shut in (with −: more)"),
        Measure::FeedSaved => format!("{name} less feed to buy than with the birds shut in"),
        // The run is one year.
        _ => name,
    };
    let of = |strategy: usize| {
        let (value, _) = units.measure(shown.strategies[strategy].measures.get(measure), measure.unit());
        figure(value, measure.decimals())
    };
    format!("A {}, B {} {name}.", of(0), of(1))
}

/// "A: …; B: …."
fn both(of: impl Fn(usize) -> String) -> String {
    format!("A: {}; B: {}.", of(0), of(1))
}
