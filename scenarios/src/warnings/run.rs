//! How long, how often and from when on a run goes.

use super::typical::after_solstice;
use super::{SiteView, Threshold, Warning, tidy, warning};
use crate::site_file::dates::{shown, shown_day};
use crate::weather_source::WeatherSource;
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::{spans, yearly};
use sim_engine::species::Pest;

/// Possible years below which 9 in 10 cannot be told from 7 in 10.
const FEW_DRAWS: Threshold =
    Threshold::new(30.0, "possible years", "Wilson's interval: 27 of 30 lies between 0.74 and 0.97");

/// Too few possible years for a verdict.
pub(super) fn few_draws(view: &SiteView<'_>) -> Option<Warning> {
    let draws = FEW_DRAWS.under(f64::from(view.model.draws))?;
    let because = format!("\"holds in 9 of 10\" cannot be told with fewer than {FEW_DRAWS}");
    warning("run.draws", format!("{draws} possible years are few"), because, "Write draws = 200, or leave it away.")
}

/// Years in which nobody plans a season: a slip of the keys.
const LONG_PAST: Threshold = Threshold::new(2000.0, "", "from memory");

/// A start long past, though the weather is made up.
pub(super) fn long_past(view: &SiteView<'_>) -> Option<Warning> {
    let year = view.site.start.year();
    LONG_PAST.under(f64::from(year)).filter(|_| matches!(view.model.weather, WeatherSource::Climate { .. }))?;
    let meant = format!("Did you mean 20{:02}?", year.rem_euclid(100));
    warning("run.start", format!("the run starts in {year}"), "that is long past, and its weather is made up", meant)
}

/// Years a run needs for what birds do to a pest to come back; from memory.
const PEST_YEARS: Threshold = Threshold::new(2.0, "years", "pests of this year are next year's; from memory");

/// One year, though a pest comes back the next.
pub(super) fn one_year(view: &SiteView<'_>) -> Option<Warning> {
    PEST_YEARS.under(f64::from(view.model.years))?;
    let mut all = view.site.plots.iter().flat_map(|plot| &plot.pests);
    let name = &all.find_map(|pest| view.site.pests.get(pest.pest))?.name;
    let because = format!("what birds take of the {name} is only missed the year after; it needs {PEST_YEARS}");
    warning("run.years", "a run of one year with a pest in the soil", because, "Write years = 3.")
}

/// Days a summer crop may have stood when the run begins.
const STOOD: Threshold = Threshold::new(14.0, "days", "from memory");
/// Days after the winter solstice on which most gardens have their first crop to come.
const LATE_WINTER: Threshold = Threshold::new(70.0, "days after the solstice", "from memory");

/// A run that begins in the middle of a summer crop. Crops that lie over the winter cannot be helped.
pub(super) fn mid_crop(view: &SiteView<'_>) -> Option<Warning> {
    let start = view.site.start;
    let latitude = view.site.place.latitude_deg;
    let midwinter = yearly(after_solstice(0.0, latitude));
    let within = |(from, to): &(Date, Date)| {
        let through_winter = !spans((midwinter, midwinter), *from, *to).is_empty();
        !through_winter && from.saturating_add((STOOD.value as i64).days()) < start && *to > start
    };
    let crops = view.crops();
    let crop = crops.iter().find(|crop| spans((crop.plan.from, crop.plan.to), start, start).iter().any(within))?;
    let near = format!("{}-{:02}-01", start.year(), after_solstice(LATE_WINTER.value, latitude).month());
    warning(
        "run.start",
        format!("the run begins on {start}, in the middle of {} of {}", crop.name, crop.plot.name),
        format!("it would be as small as on the day it is planted ({})", shown(crop.plan.from)),
        format!("Did you mean start = {near}? Begin before the year's first crop."),
    )
}

/// A run that begins when a pest that is counted in the soil has flown.
pub(super) fn after_emergence(view: &SiteView<'_>) -> Option<Warning> {
    let start = view.site.start;
    let mut pests = view.site.plots.iter().flat_map(|plot| &plot.pests).filter(|pest| pest.start_per_m2 > 0.0);
    let (count, species, out) = pests.find_map(|pest| {
        let species = view.site.pests.get(pest.pest)?;
        let (out, end) = flown(view, species)?;
        let now = out < end && !spans((yearly(out), yearly(end)), start, start).is_empty();
        now.then_some((tidy(pest.start_per_m2), &species.name, out))
    })?;
    warning(
        "run.start",
        format!("the run begins on {start} with {count} per m2 of {species} in the soil"),
        format!("in this climate most have left the soil by {}", shown_day(out)),
        "Begin before they fly, in late winter, or count what is in the soil then.",
    )
}

/// When most of a pest have left the soil in a typical year, and when its season ends.
fn flown(view: &SiteView<'_>, species: &Pest) -> Option<(Date, Date)> {
    let (params, latitude) = (&species.params, view.site.place.latitude_deg);
    let counting = after_solstice(params.counting_from, latitude);
    let out =
        view.typical.reaches(counting, params.base_temperature, params.emergence + 2.0 * params.emergence_spread)?;
    Some((out, after_solstice(params.season_end, latitude)))
}
