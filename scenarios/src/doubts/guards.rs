//! Guards that do not do what they are put up for.

use super::{Doubt, SiteView, Threshold, tidy};
use crate::site_file::dates::{shown, spans};
use jiff::ToSpan;
use sim_engine::site::Plot;

/// Difference of shares that is none.
const ROUNDING: f64 = 1e-9;

/// Guards in a plot with crops that cover fewer than all beds: the gate stays shut all the same.
pub(super) fn small(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |plot: &Plot| {
        let beds = SiteView::beds(plot);
        let guarded: f64 = plot.guards.iter().map(|guard| guard.share).sum();
        let crops = plot.grounds.iter().any(|ground| !ground.crops.is_empty());
        (crops && !plot.guards.is_empty() && guarded + ROUNDING < beds).then(|| {
            Doubt::new(
                format!("plot.{}.guards.0.share", plot.name),
                &format!("guards over {} of a plot with {} in beds", tidy(guarded), tidy(beds)),
                "the gate stays shut on a crop unless guards cover all beds",
                format!("Did you mean share = {}?", tidy(beds)),
            )
        })
    };
    sight.site.plots.iter().filter_map(doubt).collect()
}

/// Days in which a young crop is eaten or scratched out.
const YOUNG: Threshold = Threshold::new(28.0, "days", "common practice, no source");

/// Guards that are down while a crop is young.
pub(super) fn late(sight: &SiteView<'_>) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    for plot in sight.site.plots.iter().filter(|plot| !plot.guards.is_empty()) {
        for crop in sight.crops_of(plot) {
            let Some((from, _)) = super::typical::dates((crop.plan.from, crop.plan.to)) else { continue };
            let young = (from, from.saturating_add((YOUNG.value as i64).days()));
            let up = |day: jiff::civil::Date| {
                plot.guards.iter().any(|guard| {
                    spans((guard.from, guard.to), day, day).iter().any(|(first, last)| *first <= day && *last >= day)
                })
            };
            if up(young.0) && up(young.1) {
                continue;
            }
            let what = format!("no guards in {} while {} is young", plot.name, crop.name);
            let because = format!("it is planted on {}, and for {YOUNG} birds scratch it out", shown(crop.plan.from));
            let remedy =
                format!("Did you mean from = \"{}\"? Without guards the gate stays shut.", shown(crop.plan.from));
            doubts.push(Doubt::new(format!("plot.{}.guards.0.from", plot.name), &what, &because, remedy));
        }
    }
    doubts
}
