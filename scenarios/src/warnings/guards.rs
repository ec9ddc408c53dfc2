//! Guards that do not do what they are put up for.

use super::site_view::{Named, StandingCropPlan};
use super::{SiteView, Threshold, Warning, tidy, typical, warning};
use crate::site_file::dates::shown;
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::spans;
use sim_engine::site::Plot;

/// Difference of shares that is none.
const ROUNDING: f64 = 1e-9;

/// Guards in a plot with crops that cover fewer than all beds: the gate stays shut all the same.
pub(super) fn small(_: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let beds = SiteView::beds(plot);
    let guarded: f64 = plot.guards.iter().map(|guard| guard.share).sum();
    let crops = plot.grounds.iter().any(|ground| !ground.crops.is_empty());
    (crops && !plot.guards.is_empty() && guarded + ROUNDING < beds).then_some(())?;
    let (guarded, beds) = (tidy(guarded), tidy(beds));
    warning(
        plot.at("guards.0.share"),
        format!("guards over {guarded} of a plot with {beds} in beds"),
        "the gate stays shut on a crop unless guards cover all beds",
        format!("Did you mean share = {beds}?"),
    )
}

/// Days in which a young crop is eaten or scratched out.
const YOUNG: Threshold = Threshold::new(28.0, "days", "common practice, no source");

/// Guards that are down while a crop is young.
pub(super) fn late(_: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    let guards = &crop.plot.guards;
    let (from, _) = typical::dates((crop.plan.from, crop.plan.to))?;
    let up = |day: Date| {
        guards.iter().any(|guard| {
            spans((guard.from, guard.to), day, day).iter().any(|(first, last)| *first <= day && *last >= day)
        })
    };
    let grown = from.saturating_add((YOUNG.value as i64).days());
    let down = !up(from) || !up(grown);
    (down && !guards.is_empty()).then_some(())?;
    let planted = shown(crop.plan.from);
    warning(
        crop.plot.at("guards.0.from"),
        format!("no guards in {} while {} is young", crop.plot.name, crop.name),
        format!("it is planted on {planted}, and for {YOUNG} birds scratch it out"),
        format!("Did you mean from = \"{planted}\"? Without guards the gate stays shut."),
    )
}
