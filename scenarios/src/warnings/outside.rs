//! Events and dates the run does not have, and pests watched where there are none.

use super::site_view::setting;
use super::{SiteView, Threshold, Warning, warning};
use sim_engine::gates::spec::StrategySpec;
use sim_engine::site::{SiteEvent, When};

/// Events that never come.
pub(super) fn events(view: &SiteView<'_>, position: usize, event: &SiteEvent) -> Option<Warning> {
    let (start, end) = (view.site.start, view.end());
    let (When::On(on), When::On(until)) = (event.on, event.until.unwrap_or(event.on)) else { return None };
    (until < start || on >= end).then_some(())?;
    warning(
        format!("event.{position}.on"),
        "this event never comes",
        format!("it is not within the run, {start} to {end}"),
        "Change its date, or take it out.",
    )
}

/// Pest dates in plots that do not have the pest.
pub(super) fn pests(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let window = strategy.kind.pest_window()?;
    let (plot, pest) = (view.site.plots.get(window.plot)?, view.site.pests.get(window.pest)?);
    plot.pests.iter().all(|there| there.pest != window.pest).then_some(())?;
    warning(
        setting(strategy, "species"),
        format!("{} watches {} in {}", strategy.name, pest.name, plot.name),
        "that plot does not have it",
        format!("Add it under [[plot.{}.pest]], or watch another plot.", plot.name),
    )
}

/// Share of the lines of a list that may lie outside the run.
const OUTSIDE: Threshold = Threshold::new(0.5, "of its lines", "from memory; a list may begin before the run");

/// A list of dates most of which the run does not have.
pub(super) fn dates(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let (start, end) = (view.site.start, view.end());
    let openings = strategy.kind.dates()?;
    let without = openings.iter().filter(|line| line.date < start || line.date >= end).count();
    (without as f64 > OUTSIDE.value * openings.len() as f64).then_some(())?;
    warning(
        setting(strategy, "file"),
        format!("{without} of {} dates of {} are outside the run", openings.len(), strategy.name),
        format!("the run is {start} to {end}, and that is more than {OUTSIDE}"),
        "Is the list of another year? Change its years, or the run's start.",
    )
}
