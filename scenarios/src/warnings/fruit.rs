//! Fruit picked when none hangs, and fruit that falls of which nothing is said.

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

/// The path of a key of a canopy's fruit: one over the whole plot has it with the plot.
fn fruit_key(view: &SiteView<'_>, plot: &Plot, at: usize, [of_plot, of_canopy]: [&str; 2]) -> String {
    match view.places.has(&plot.at("canopy.0")) {
        true => format!("canopy.{at}.{of_canopy}"),
        false => of_plot.to_owned(),
    }
}

/// Share of fruit within birds' reach below which it hangs out of reach.
const IN_REACH: Threshold = Threshold::new(0.15, "", "from memory: a small tree, its lowest twigs bent down");

/// Fruit picked out of birds' reach, of which some falls: whether that is eaten decides how long birds are kept out, and
/// where none is, the keeper may have a reason for other days.
pub(super) fn windfalls(view: &SiteView<'_>) -> Vec<Warning> {
    let canopies = |plot: &'_ Plot| (0..plot.canopies.len()).filter_map(|at| of_windfalls(view, plot, at)).collect();
    view.site.plots.iter().flat_map(|plot| -> Vec<Warning> { canopies(plot) }).collect()
}

fn of_windfalls(view: &SiteView<'_>, plot: &Plot, at: usize) -> Option<Warning> {
    let here = &plot.canopies[at];
    let canopy = view.site.canopies.get(here.canopy)?;
    let picked = here.harvest.iter().find(|harvest| !harvest.touches_soil)?;
    let said = view.places.has(&plot.at(&fruit_key(view, plot, at, ["windfalls"; 2])));
    let falls = canopy.params.fruit_fall > 0.0 && IN_REACH.under(canopy.params.fruit_reach).is_some();
    (falls && !said).then_some(())?;
    let rules = &view.site.rules;
    let wait = fruit_key(view, plot, at, ["fruit_wait", "wait"]);
    let wait = wait.rsplit('.').next().unwrap_or_default();
    warning(
        plot.at(&fruit_key(view, plot, at, ["fruit_harvest", "harvest"])),
        format!("nothing is said of {} that fell in {}", canopy.name, plot.name),
        format!(
            "the {} days before picking are for fruit that hangs, and what lay where birds went waits {} days and is cooked, never eaten raw or pressed for raw juice",
            rules.waiting_days(picked),
            rules.waiting_days_by_rule(true),
        ),
        format!(
            "What becomes of windfalls? Write windfalls = \"left\", \"to the birds\", \"cooked\" or \"eaten\". May birds be in while fruit hangs out of their reach? Then set days of your own, with your reason: {wait} = {{ days = 30, reason = \"…\" }}"
        ),
    )
}

fn of_canopy(view: &SiteView<'_>, plot: &Plot, at: usize) -> Vec<Warning> {
    let harvests: Vec<_> = plot.canopies[at].harvest.iter().filter(|harvest| !harvest.windfall).collect();
    let key = fruit_key(view, plot, at, ["fruit_harvest", "harvest"]);
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
