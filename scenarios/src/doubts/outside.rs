//! Events and dates the run does not have, and pests watched where there are none.

use super::{Doubt, SiteView, Threshold};
use sim_engine::gates::spec::PestWindow;
use sim_engine::site::{SiteEvent, When};

/// Events that never come.
pub(super) fn events(sight: &SiteView<'_>) -> Vec<Doubt> {
    let (start, end) = (sight.site.start, sight.end());
    let outside = |on: When, until: Option<When>| match (on, until.unwrap_or(on)) {
        (When::On(on), When::On(until)) => until < start || on >= end,
        _ => false,
    };
    let doubt = |(position, event): (usize, &SiteEvent)| {
        outside(event.on, event.until).then(|| {
            Doubt::new(
                format!("event.{position}.on"),
                "this event never comes",
                &format!("it is not within the run, {start} to {end}"),
                "Change its date, or take it out.",
            )
        })
    };
    sight.site.events.iter().enumerate().filter_map(doubt).collect()
}

/// Pest dates in plots that do not have the pest.
pub(super) fn pests(sight: &SiteView<'_>) -> Vec<Doubt> {
    let site = sight.site;
    let mut doubts = Vec::new();
    for strategy in &sight.model.strategies {
        let Some(&PestWindow { plot, pest, .. }) = strategy.kind.pest_window() else { continue };
        let (Some(place), Some(species)) = (site.plots.get(plot), site.pests.get(pest)) else { continue };
        if place.pests.iter().all(|there| there.pest != pest) {
            doubts.push(Doubt::new(
                format!("strategy.{}.pest_date.species", strategy.name),
                &format!("{} watches {} in {}", strategy.name, species.name, place.name),
                "that plot does not have it",
                format!("Add it under [[plot.{}.pest]], or watch another plot.", place.name),
            ));
        }
    }
    doubts
}

/// Share of the lines of a list that may lie outside the run.
const OUTSIDE: Threshold = Threshold::new(0.5, "of its lines", "from memory; a list may begin before the run");

/// A list of dates most of which the run does not have.
pub(super) fn dates(sight: &SiteView<'_>) -> Vec<Doubt> {
    let (start, end) = (sight.site.start, sight.end());
    let mut doubts = Vec::new();
    for strategy in &sight.model.strategies {
        let Some(openings) = strategy.kind.dates() else { continue };
        let without = openings.iter().filter(|line| line.date < start || line.date >= end).count();
        if (without as f64) > OUTSIDE.value * openings.len() as f64 {
            doubts.push(Doubt::new(
                format!("strategy.{}.dated.file", strategy.name),
                &format!("{without} of {} dates of {} are outside the run", openings.len(), strategy.name),
                &format!("the run is {start} to {end}, and that is more than {OUTSIDE}"),
                "Is the list of another year? Change its years, or the run's start.",
            ));
        }
    }
    doubts
}
