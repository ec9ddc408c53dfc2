//! Fruit picked when none hangs.

use super::site_view::Named;
use super::typical::{after_solstice, dates};
use super::{SiteView, Threshold, Warning, warning};
use crate::site_file::dates::{shown, shown_day};
use jiff::ToSpan;
use sim_engine::dates::{spans, yearly};
use sim_engine::plot::constants::Season;
use sim_engine::site::{HarvestWindow, Plot, When};

/// Days before the first and after the last fruit falls in which fruit is picked.
const AROUND: Threshold = Threshold::new(60.0, "days", "from memory");

/// A fruit harvest far from when the canopy bears: wrong dates, or the wrong hemisphere.
pub(super) fn season(view: &SiteView<'_>) -> Vec<Warning> {
    view.site
        .plots
        .iter()
        .flat_map(|plot| plot.canopies.iter().enumerate().flat_map(move |(canopy, _)| of_canopy(view, plot, canopy)))
        .collect()
}

fn of_canopy(view: &SiteView<'_>, plot: &Plot, at: usize) -> Vec<Warning> {
    let harvests = &plot.canopies[at].harvest;
    // One over the whole plot has its harvest with the plot.
    let key = if plot.canopies.len() == 1 && plot.canopies[at].share == 1.0 {
        "fruit_harvest".to_owned()
    } else {
        format!("canopy.{at}.harvest")
    };
    let path = |window: usize| if harvests.len() > 1 { format!("{key}.{window}") } else { key.clone() };
    let windows = harvests.iter().enumerate();
    windows.filter_map(|(window, harvest)| out_of_season(view, plot, at, harvest, &path(window))).collect()
}

fn out_of_season(view: &SiteView<'_>, plot: &Plot, at: usize, harvest: &HarvestWindow, path: &str) -> Option<Warning> {
    let latitude = view.site.place.latitude_deg;
    let canopy = view.site.canopies.get(plot.canopies[at].canopy)?;
    let bears = Season { from: canopy.params.fruit_from, until: canopy.params.fruit_to };
    let harvest = (harvest.from, harvest.to);
    (canopy.params.fruit_fall > 0.0 && !near(bears, latitude, harvest)).then_some(())?;
    let falls = |days: f64| shown_day(after_solstice(days, latitude));
    let remedy = if near(bears, -latitude, harvest) {
        "Correct the dates, or the sign of the latitude: south is negative."
    } else {
        "Correct the dates: month first, then day."
    };
    let (first, last) = (falls(bears.from), falls(bears.until));
    warning(
        plot.at(path),
        format!("fruit of {} is picked from {} to {}", canopy.name, shown(harvest.0), shown(harvest.1)),
        format!("at this latitude fruit falls from {first} to {last}, more than {AROUND} away"),
        remedy,
    )
}

/// Whether a harvest lies around the days from and to after the solstice.
fn near(bears: Season, latitude_deg: f64, harvest: (When, When)) -> bool {
    let Some((from, to)) = dates(harvest) else { return true };
    let first = after_solstice(bears.from - AROUND.value, latitude_deg);
    let last = after_solstice(bears.from + bears.days() + AROUND.value, latitude_deg);
    first.saturating_add(364.days()) <= last || !spans((yearly(first), yearly(last)), from, to).is_empty()
}
