//! Plants that can harm birds, where birds come to them. The library's list is not one of
//! what birds may eat: what is missing there is unknown.

use super::site_view::{Named, StandingCropPlan};
use super::{SiteView, Warning, warning};
use crate::library::{HARMS, Hazard};
use sim_engine::site::Plot;

fn harms(about: String, what: String, hazard: &Hazard, remedy: &str) -> Option<Warning> {
    warning(about, what, format!("{} {HARMS} ({}; {})", hazard.plant, hazard.part, hazard.class), remedy)
}

/// Plots, canopies, covers and weeds called after a plant that can harm birds.
pub(super) fn plants(view: &SiteView<'_>) -> Vec<Warning> {
    view.site.plots.iter().flat_map(|plot| of_plot(view, plot)).collect()
}

fn of_plot(view: &SiteView<'_>, plot: &Plot) -> Vec<Warning> {
    let site = view.site;
    let canopies = view.canopies_of(plot).map(|(_, canopy)| (&canopy.name, "canopy"));
    let cover = site.covers.get(plot.cover).map(|cover| (&cover.name, "cover.plant"));
    let weeds = plot.weeds.iter().filter_map(|(at, _)| Some((&site.weeds.get(*at)?.name, "weeds")));
    let names = [(&plot.name, "name")].into_iter().chain(canopies).chain(cover).chain(weeds);
    let harmful = |(name, key): (&String, &str)| {
        let hazard = view.library.hazards().iter().find(|hazard| holds(name, &hazard.plant))?;
        // A crop of that name is another warning, and beds are shut while it stands.
        let crop = key == "name" && view.crops_of(plot).iter().any(|crop| crop.name == hazard.plant);
        (!crop).then_some(())?;
        let remedy = "Fence it off or take it out before a gate is opened there, and ask a vet.";
        harms(plot.at(key), format!("birds go to {name}"), hazard, remedy)
    };
    names.filter_map(harmful).collect()
}

/// Whether a name has the plant's name among its words.
fn holds(name: &str, plant: &str) -> bool {
    let words: Vec<&str> = name.split([' ', '-', '_']).collect();
    let wanted: Vec<&str> = plant.split(' ').collect();
    words.windows(wanted.len()).any(|some| some.iter().zip(&wanted).all(|(a, b)| a.eq_ignore_ascii_case(b)))
}

/// The part of what harms only in quantity: no leavings amount to it, and the cautions name it.
const MUCH: &str = "large amounts";

/// Haulm and leavings of a crop that can harm birds, left standing for them.
pub(super) fn residue(view: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    (!crop.plan.cleared).then_some(())?;
    let hazard = view.library.hazards().iter().find(|hazard| hazard.plant == crop.name && hazard.part != MUCH)?;
    let what = format!("what is left of {} stands for the birds", crop.name);
    harms(format!("{}.crop", crop.path), what, hazard, "Carry it away before the gate opens: cleared = true.")
}

#[cfg(test)]
mod tests {
    use super::holds;

    #[test]
    fn whole_words_only() {
        assert!(holds("yew-walk", "yew") && holds("by the black nightshade", "black nightshade"));
        assert!(!holds("yewtree", "yew") && !holds("black currants", "black nightshade"));
    }
}
