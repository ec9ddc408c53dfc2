//! Events and dates the run does not have, and pests watched where there are none.

use super::site_view::setting;
use super::{SiteView, Warning, warning};
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

/// A list with lines that never act: after the run, or before it and followed by another before it.
pub(super) fn dates(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let (start, end) = (view.site.start, view.end());
    let openings = strategy.kind.dates()?;
    // The last line before the run says how the gates stand when it begins.
    let over = |at: usize| openings.get(at + 1).is_some_and(|next| next.date <= start);
    let idle = |at: usize| openings[at].date >= end || (openings[at].date < start && over(at));
    let without: Vec<usize> = (0..openings.len()).filter(|at| idle(*at)).collect();
    let first = openings.get(*without.first()?)?.date;
    warning(
        setting(strategy, "file"),
        format!("{} of {} dates of {} never act, the first {first}", without.len(), openings.len(), strategy.name),
        format!("the run is {start} to {end}"),
        "Is the list of another year, or a year in it mistyped? Change it, or the run's start; or take these lines out.",
    )
}
