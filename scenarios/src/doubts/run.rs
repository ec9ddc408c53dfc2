//! How long, how often and from when on a run goes.

use super::typical::after_solstice;
use super::{Doubt, SiteView, Threshold, tidy};
use crate::site_file::dates::{shown, spans};
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::site::When;

/// Possible years below which 9 in 10 cannot be told from 7 in 10.
const FEW_DRAWS: Threshold =
    Threshold::new(30.0, "possible years", "Wilson's interval: 27 of 30 lies between 0.74 and 0.97");

/// Too few possible years for a verdict.
pub(super) fn few_draws(sight: &SiteView<'_>) -> Vec<Doubt> {
    let draws = sight.model.draws;
    if f64::from(draws) >= FEW_DRAWS.value {
        return Vec::new();
    }
    let what = format!("{draws} possible years are few");
    let because = format!("\"holds in 9 of 10\" cannot be told with fewer than {FEW_DRAWS}");
    vec![Doubt::new("run.draws", &what, &because, "Write draws = 200, or leave it away.")]
}

/// Years a run needs for what birds do to a pest to come back; from memory.
const PEST_YEARS: Threshold = Threshold::new(2.0, "years", "pests of this year are next year's; from memory");

/// One year, though a pest comes back the next.
pub(super) fn one_year(sight: &SiteView<'_>) -> Vec<Doubt> {
    let all = sight.site.plots.iter().flat_map(|plot| &plot.pests);
    let name = all.filter_map(|pest| sight.site.pests.get(pest.pest)).map(|pest| pest.name.as_str()).next();
    let Some(name) = name.filter(|_| f64::from(sight.model.years) < PEST_YEARS.value) else { return Vec::new() };
    let because = format!("what birds take of the {name} is only missed the year after; it needs {PEST_YEARS}");
    vec![Doubt::new("run.years", "a run of one year with a pest in the soil", &because, "Write years = 3.")]
}

/// Days a summer crop may have stood when the run begins.
const STOOD: Threshold = Threshold::new(14.0, "days", "from memory");
/// Days after the winter solstice on which most gardens have their first crop to come.
const LATE_WINTER: Threshold = Threshold::new(70.0, "days after the solstice", "from memory");

/// A run that begins in the middle of a summer crop. Crops that lie over the winter cannot be helped.
pub(super) fn mid_crop(sight: &SiteView<'_>) -> Vec<Doubt> {
    let start = sight.site.start;
    let latitude = sight.site.place.latitude_deg;
    let midwinter = yearly(after_solstice(0.0, latitude));
    for crop in sight.crops() {
        let within = |(from, to): &(Date, Date)| {
            let through_winter = !spans((midwinter, midwinter), *from, *to).is_empty();
            !through_winter && from.saturating_add((STOOD.value as i64).days()) < start && *to > start
        };
        if spans((crop.plan.from, crop.plan.to), start, start).iter().any(within) {
            let what = format!("the run begins on {start}, in the middle of {} of {}", crop.name, crop.plot.name);
            let because = format!("it would be as small as on the day it is planted ({})", shown(crop.plan.from));
            let late_winter = after_solstice(LATE_WINTER.value, latitude);
            let near = format!("{}-{:02}-01", start.year(), late_winter.month());
            let remedy = format!("Did you mean start = {near}? Begin before the year's first crop.");
            return vec![Doubt::new("run.start", &what, &because, remedy)];
        }
    }
    Vec::new()
}

fn yearly(date: Date) -> When {
    When::Yearly { month: date.month(), day: date.day() }
}

/// A run that begins when a pest that is counted in the soil has flown.
pub(super) fn after_emergence(sight: &SiteView<'_>) -> Vec<Doubt> {
    let start = sight.site.start;
    let latitude = sight.site.place.latitude_deg;
    for plot in &sight.site.plots {
        for pest in plot.pests.iter().filter(|pest| pest.start_per_m2 > 0.0) {
            let Some(species) = sight.site.pests.get(pest.pest) else { continue };
            let n = &species.params;
            let counting = after_solstice(n.counting_from, latitude);
            let all_out = sight.typical.reaches(counting, n.base_temperature, n.emergence + 2.0 * n.emergence_spread);
            let (Some(all_out), end) = (all_out, after_solstice(n.season_end, latitude)) else { continue };
            if spans((yearly(all_out), yearly(end)), start, start).is_empty() || all_out >= end {
                continue;
            }
            let what = format!(
                "the run begins on {start} with {} per m2 of {} in the soil",
                tidy(pest.start_per_m2),
                species.name
            );
            let because = format!("in this climate most have left the soil by {}", shown(yearly(all_out)));
            let remedy = "Begin before they fly, in late winter, or count what is in the soil then.";
            return vec![Doubt::new("run.start", &what, &because, remedy)];
        }
    }
    Vec::new()
}
