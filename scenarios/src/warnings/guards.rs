//! Guards that do not do what they are put up for.

use super::site_view::{Named, StandingCropPlan};
use super::{SiteView, Threshold, Warning, tidy, typical, warning};
use crate::site_file::dates::shown;
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::spans;
use sim_engine::site::{Ground, Guard, Plant, Plot};

/// Difference of shares that is none.
const ROUNDING: f64 = 1e-9;

/// Guards in a plot with crops that cover fewer than all beds: the gate stays shut all the same.
pub(super) fn small(_: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let around_none = || plot.guards.iter().filter(|guard| guard.plants.is_none());
    let position = plot.guards.iter().position(|guard| guard.plants.is_none())?;
    let of_their_own = |ground: &&Ground| {
        plot.guards.iter().any(|guard| matches!(guard.plants, Some(Plant::Crop(crop)) if ground.grows(crop)))
    };
    let own: f64 = plot.grounds.iter().filter(of_their_own).map(|ground| ground.share).sum();
    let beds = SiteView::beds(plot) - own;
    let guarded: f64 = around_none().map(|guard| guard.share).sum();
    let crops = plot.grounds.iter().filter(|ground| !of_their_own(ground)).any(|ground| !ground.crops.is_empty());
    (crops && guarded + ROUNDING < beds).then_some(())?;
    let (guarded, beds) = (tidy(guarded), tidy(beds));
    warning(
        plot.at(&format!("guards.{position}.share")),
        format!("guards over {guarded} of a plot with {beds} in beds"),
        "the gate stays shut on a crop unless guards cover all beds",
        format!("Did you mean share = {beds}?"),
    )
}

/// Days in which a young crop is eaten or scratched out.
const YOUNG: Threshold = Threshold::new(28.0, "days", "common practice, no source");

/// Guards that are down while a crop is young.
pub(super) fn late(_: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    let meant = |guard: &Guard| guard.plants.is_none_or(|plants| plants == Plant::Crop(crop.plan.crop));
    let position = crop.plot.guards.iter().position(meant)?;
    let (from, _) = typical::dates((crop.plan.from, crop.plan.to))?;
    let up = |day: Date| {
        crop.plot.guards.iter().filter(|guard| meant(guard)).any(|guard| {
            spans((guard.from, guard.to), day, day).iter().any(|(first, last)| *first <= day && *last >= day)
        })
    };
    let grown = from.saturating_add((YOUNG.value as i64).days());
    let down = !up(from) || !up(grown);
    down.then_some(())?;
    let planted = shown(crop.plan.from);
    warning(
        crop.plot.at(&format!("guards.{position}.from")),
        format!("no guards in {} while {} is young", crop.plot.name, crop.name),
        format!("it is planted on {planted}, and for {YOUNG} birds scratch it out"),
        format!("Did you mean from = \"{planted}\"? Without guards the gate stays shut."),
    )
}
