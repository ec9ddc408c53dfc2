//! Events and dates the run does not have, and pests watched where there are none.

use super::site_view::setting;
use super::{SiteView, Threshold, Warning, warning};
use sim_engine::dates::days_between;
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

/// Days before the run after which the last line before it is no longer taken for how the gates stand when it begins.
const LONG_BEFORE: Threshold = Threshold::new(366.0, "days", "from memory; a list may begin before the run");

/// A list with lines outside the run: after it, or before it where they do not say how the gates stand when it begins.
pub(super) fn dates(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let (start, end) = (view.site.start, view.end());
    let openings = strategy.kind.dates()?;
    let over = |at: usize| openings.get(at + 1).is_some_and(|next| next.date <= start);
    let long = |date| LONG_BEFORE.over(f64::from(days_between(date, start))).is_some();
    let outside = |at: &usize| {
        let date = openings[*at].date;
        date >= end || (date < start && (over(*at) || long(date)))
    };
    let without: Vec<usize> = (0..openings.len()).filter(outside).collect();
    let first = openings.get(*without.first()?)?.date;
    warning(
        setting(strategy, "file"),
        format!("{} of {} dates of {} are outside the run", without.len(), openings.len(), strategy.name),
        format!("the run is {start} to {end}, and the first of them is {first}"),
        "Is the list of another year, or a year in it mistyped? Change it, or the run's start; or take these lines out.",
    )
}
