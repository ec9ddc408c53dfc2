//! What to watch: where the strategy may go wrong, and the dates that matter.

use super::runs::{Run, StrategyRuns};
use crate::harvest_dates::harvest_dates;
use crate::run_detail::{EVERY_DAYS, Quantity};
use crate::stats::quantiles::quantile;
use crate::wording::{birds_until, figure, plain_date, short_month_name, typeset};
use maud::{Markup, html};
use sim_engine::agenda::Event;
use sim_engine::dates::date_of;
use sim_engine::waiting::shut_for_harvest;

pub(super) fn list(runs: &StrategyRuns<'_>) -> Markup {
    let mut points: Vec<String> = barest(runs).into_iter().collect();
    points.extend(pests(runs));
    if !runs.one_year() {
        points.extend(pickings(runs));
    }
    points.push(
        "Shut a gate when the ground looks wrong, whatever the strategy says: bare patches, mud, birds in one corner."
            .to_owned(),
    );
    html! { ul.watch { @for point in &points { li { (typeset(point)) } } } }
}

/// The plot whose cover falls lowest in a bad year, and in which month; the first day is what the site file says.
fn barest(runs: &StrategyRuns<'_>) -> Option<String> {
    let seen = runs.details(Run::Strategy);
    let weeks = seen.first()?.weekly.weeks();
    let at = |week: usize, plot: usize, share: f64| {
        let values: Vec<f64> = seen.iter().map(|run| run.weekly.at(week, plot, Quantity::Cover)).collect();
        quantile(&values, share).unwrap_or(f64::NAN)
    };
    let places = (0..runs.model.base.plots.len()).flat_map(|plot| (1..weeks).map(move |week| (week, plot)));
    let bad = places.map(|(week, plot)| (week, plot, at(week, plot, BAD_YEAR))).filter(|place| !place.2.is_nan());
    let (week, plot, lowest) = bad.reduce(|low, next| if next.2 < low.2 { next } else { low })?;
    let date = date_of(runs.model.base.start, week * EVERY_DAYS);
    let bad_year = match runs.one_year() {
        true => String::new(),
        false => format!(" in a bad year (1 in 20), {} % in the middle one", figure(at(week, plot, 0.5), 0)),
    };
    Some(format!(
        "Ground cover of {}: lowest in {} {}, at {} %{bad_year}.",
        runs.model.base.plots[plot].name,
        short_month_name(date),
        date.year(),
        figure(lowest, 0)
    ))
}

/// Share of the runs that are worse than a bad year.
const BAD_YEAR: f64 = 0.05;

/// Pests named at most: the page is one sheet.
const MOST_PESTS: usize = 4;

/// A plot, and the words for it.
type Emergence = (usize, String);

/// First emergence of each pest in the season.
fn pests(runs: &StrategyRuns<'_>) -> Option<String> {
    let site = &runs.draw.site;
    let mut first: Vec<(usize, usize, Vec<Emergence>)> = Vec::new();
    for &(day, what) in &runs.season.diary.events {
        let Event::EmergenceBegins { plot, pest } = what else { continue };
        let name = site.plots[plot].name.as_str();
        let on = date_of(site.start, day);
        let words = match shut_for_harvest(&site.plots[plot], &site.rules, on, on).is_empty() {
            true => name.to_owned(),
            false => format!("{name}, shut then by the waiting days"),
        };
        match first.iter_mut().find(|(of, ..)| *of == pest) {
            // Of a plot its first flight is told.
            Some((.., plots)) if plots.iter().all(|(of, _)| *of != plot) => plots.push((plot, words)),
            Some(_) => {}
            None => first.push((pest, day, vec![(plot, words)])),
        }
    }
    let told = first.iter().take(MOST_PESTS).map(|(pest, day, plots)| {
        format!(
            "{} from {} ({})",
            site.pests[*pest].name,
            plain_date(date_of(site.start, *day)),
            plots.iter().map(|(_, words)| words.as_str()).collect::<Vec<_>>().join(", ")
        )
    });
    let more = match first.len().saturating_sub(MOST_PESTS) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    let words = format!(
        "Pests leave the soil, in {}: {}{more}. Birds find them only where the gate is open then.",
        runs.words("this year", "a likely year"),
        told.collect::<Vec<_>>().join("; ")
    );
    (!first.is_empty()).then_some(words)
}

/// Pickings named at most; all of the year stand on the cards of their plots.
const MOST_PICKINGS: usize = 3;

/// The next pickings: birds' last day before each. The sheet of a season has a table of them instead.
fn pickings(runs: &StrategyRuns<'_>) -> Option<String> {
    let start = runs.model.base.start;
    let mut next = harvest_dates(runs.model);
    next.retain(|harvest| harvest.first_day >= start);
    next.sort_by_key(|harvest| (harvest.first_day, harvest.plot));
    let plot = |plot: usize| runs.model.base.plots[plot].name.as_str();
    let told = next.iter().take(MOST_PICKINGS).map(|harvest| {
        let first = plain_date(harvest.first_day);
        format!("{} ({}) from {first}, {}", harvest.name, plot(harvest.plot), birds_until(harvest))
    });
    let words = format!("Next to pick: {}. The rest stands with each plot.", told.collect::<Vec<_>>().join("; "));
    (!next.is_empty()).then_some(words)
}
