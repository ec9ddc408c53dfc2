//! Fruit picked when none hangs.

use super::typical::{after_solstice, dates};
use super::{Doubt, SiteView, Threshold};
use crate::site_file::dates::{shown, spans};
use jiff::ToSpan;
use sim_engine::site::{Plot, When};

/// Days before the first and after the last fruit falls in which fruit is picked.
const AROUND: Threshold = Threshold::new(60.0, "days", "from memory");

/// A fruit harvest far from when the canopy bears: wrong dates, or the wrong hemisphere.
pub(super) fn season(sight: &SiteView<'_>) -> Vec<Doubt> {
    let latitude = sight.site.place.latitude_deg;
    let mut doubts = Vec::new();
    for plot in &sight.site.plots {
        let Some(canopy) = plot.canopy.and_then(|canopy| sight.site.canopies.get(canopy)) else { continue };
        let bears = (canopy.params.fruit_from, canopy.params.fruit_to);
        if canopy.params.fruit_fall <= 0.0 {
            continue;
        }
        for (position, harvest) in plot.canopy_harvest.iter().enumerate() {
            if !near(bears, latitude, (harvest.from, harvest.to)) {
                doubts.push(doubt(plot, position, &canopy.name, (harvest.from, harvest.to), bears, latitude));
            }
        }
    }
    doubts
}

/// Whether a harvest lies around the days from and to after the solstice.
fn near(bears: (f64, f64), latitude_deg: f64, harvest: (When, When)) -> bool {
    let Some((from, to)) = dates(harvest) else { return true };
    let first = after_solstice(bears.0 - AROUND.value, latitude_deg);
    let last = after_solstice(bears.1 + AROUND.value, latitude_deg);
    let yearly = |day: jiff::civil::Date| When::Yearly { month: day.month(), day: day.day() };
    first.saturating_add(364.days()) <= last
        || spans((yearly(first), yearly(last)), from, to).iter().any(|(first, last)| *first <= to && *last >= from)
}

fn doubt(
    plot: &Plot,
    position: usize,
    canopy: &str,
    harvest: (When, When),
    bears: (f64, f64),
    latitude_deg: f64,
) -> Doubt {
    let about = if plot.canopy_harvest.len() > 1 { format!(".{position}") } else { String::new() };
    let (first, last) = (after_solstice(bears.0, latitude_deg), after_solstice(bears.1, latitude_deg));
    let turned = near(bears, -latitude_deg, harvest);
    let remedy = if turned {
        "Correct the dates, or the sign of the latitude: south is negative."
    } else {
        "Correct the dates: month first, then day."
    };
    Doubt::new(
        format!("plot.{}.fruit_harvest{about}", plot.name),
        &format!("fruit of {canopy} is picked from {} to {}", shown(harvest.0), shown(harvest.1)),
        &format!(
            "at this latitude fruit falls from {:02}-{:02} to {:02}-{:02}, more than {AROUND} away",
            first.month(),
            first.day(),
            last.month(),
            last.day()
        ),
        remedy,
    )
}
