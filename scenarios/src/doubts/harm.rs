//! Plants that can harm birds, where birds come to them. The library's list is not one of
//! what birds may eat: what is missing there is unknown.

use super::{Doubt, SiteView};
use crate::library::Hazard;
use sim_engine::site::Plot;

fn doubt(about: String, what: &str, hazard: &Hazard, remedy: &str) -> Doubt {
    let because = format!("{} can harm birds ({}; {})", hazard.plant, hazard.part, hazard.class);
    Doubt::new(about, what, &because, remedy)
}

/// Plots, canopies, covers and weeds called after a plant that can harm birds.
pub(super) fn plants(sight: &SiteView<'_>) -> Vec<Doubt> {
    let site = sight.site;
    let mut doubts = Vec::new();
    for plot in &site.plots {
        let canopy = plot.canopy.and_then(|at| site.canopies.get(at)).map(|canopy| (canopy.name.as_str(), "canopy"));
        let cover = site.covers.get(plot.cover).map(|cover| (cover.name.as_str(), "cover.plant"));
        let weeds =
            plot.weeds.iter().filter_map(|(at, _)| site.weeds.get(*at)).map(|weed| (weed.name.as_str(), "weeds"));
        let names = [(plot.name.as_str(), "name")].into_iter().chain(canopy).chain(cover).chain(weeds);
        for (name, key) in names {
            let Some(hazard) = sight.library.hazards().iter().find(|hazard| holds(name, &hazard.plant)) else {
                continue;
            };
            // A crop of that name is another doubt, and beds are shut while it stands.
            if key == "name" && sight.crops_of(plot).iter().any(|crop| crop.name == hazard.plant) {
                continue;
            }
            let remedy = "Fence it off or take it out before a gate is opened there, and ask a vet.";
            doubts.push(doubt(format!("plot.{}.{key}", plot.name), &format!("birds go to {name}"), hazard, remedy));
        }
    }
    doubts
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
pub(super) fn residue(sight: &SiteView<'_>) -> Vec<Doubt> {
    let left = |plot: &Plot| {
        let crops = sight.crops_of(plot).into_iter().filter(|crop| !crop.plan.cleared);
        let hazards = sight.library.hazards();
        let one = |crop: super::sight::StandingCropPlan<'_>| {
            let hazard = hazards.iter().find(|hazard| hazard.plant == crop.name && hazard.part != MUCH)?;
            let what = format!("what is left of {} stands for the birds", crop.name);
            let remedy = "Carry it away before the gate opens: cleared = true.";
            Some(doubt(format!("{}.crop", crop.path), &what, hazard, remedy))
        };
        crops.filter_map(one).collect::<Vec<_>>()
    };
    sight.site.plots.iter().flat_map(left).collect()
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
