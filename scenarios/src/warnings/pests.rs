//! Pests: too many, without a host, on the wrong fruit, in the wrong climate.

use super::typical::after_solstice;
use super::{Part, SiteView, Threshold, Warning, tidy, warning};
use crate::hosts;
use crate::library::EntryKind;
use sim_engine::site::PlotPest;
use sim_engine::species::{Host, Pest};

/// Pests per m2 in the soil above which a count is doubted.
const MANY: Threshold = Threshold::new(300.0, "per m2", "from memory");

/// Pests very high.
pub(super) fn many(_: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    let count = MANY.over(here.it.start_per_m2)?;
    let one = tidy(count / here.plot.area_m2);
    warning(
        format!("{}.start", here.path),
        format!("{} per m2 of {} is very many", tidy(count), pest.name),
        format!("more than {MANY} is hardly ever found"),
        format!("Did you mean \"{one} per m2\"? Was the whole plot counted, not one m2?"),
    )
}

/// Pests where nothing they feed on grows.
pub(super) fn hostless(view: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    let grown = |families: &[String]| {
        let crops = view.crops_of(here.plot);
        crops.iter().filter_map(|crop| view.site.crops.get(crop.plan.crop)).any(|crop| families.contains(&crop.family))
    };
    let in_turf = || {
        let entry = view.entry(EntryKind::Pest, &pest.name);
        let sward = here.plot.grounds.iter().any(|ground| !ground.bed);
        sward && entry.is_some_and(|entry| entry.facts.larvae_in_turf == Some(true))
    };
    let (wanted, remedy) = match &pest.host {
        // Grubs of a lawn are at home there; only what their beetles do to leaves and fruit has no place.
        Host::Canopy if here.plot.canopies.is_empty() && in_turf() => return None,
        Host::Canopy if here.plot.canopies.is_empty() => (
            "trees, bushes or canes".to_owned(),
            "Add them, for example: canopy = \"plum trees\"; or move the pest to the plot that has them.",
        ),
        Host::Crops(families) if !grown(families) => (
            format!("a crop of the {}", families.join(" or ")),
            "Add the crop, or move the pest to the plot that has it.",
        ),
        Host::Canopy | Host::Crops(_) => return None,
    };
    warning(
        format!("{}.species", here.path),
        format!("{} in {}", pest.name, here.plot.name),
        format!("it lives on {wanted}, and there are none in this plot"),
        remedy,
    )
}

/// Pests in a climate that is not known to hold them.
pub(super) fn elsewhere(view: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    let (climate, _) = view.climate()?;
    // Of a site's own climate or pest nothing is known.
    if view.own.climate(climate).is_some() || view.own.get(EntryKind::Pest, &pest.name).is_some() {
        return None;
    }
    let known = view.library.pest_climates().iter().find(|known| known.pest == pest.name)?;
    (!view.is_or_near(climate, &known.climates)).then_some(())?;
    warning(
        format!("{}.species", here.path),
        format!("{} is not known to live on in the {climate} climate", pest.name),
        format!(
            "it is known of {} ({}); elsewhere it is not found, or dies out by our numbers",
            known.climates.join(", "),
            known.source
        ),
        "Take it out, or take the figures of it for a guess; if you have it here, say so with a count of your own.",
    )
}

/// Pests under fruit they do not live on.
pub(super) fn other_fruit(view: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    let fruit = view.entry(EntryKind::Pest, &pest.name)?.facts.fruit.as_deref()?;
    let canopies: Vec<&str> = view.canopies_of(here.plot).map(|(_, canopy)| canopy.name.as_str()).collect();
    (!canopies.is_empty() && !canopies.iter().any(|name| hosts::lives_on(view.library, fruit, name))).then_some(())?;
    let mut near: Vec<String> = Vec::new();
    for name in
        canopies.iter().flat_map(|canopy| hosts::pests_of(view.library, canopy)).map(|name| format!("\"{name}\""))
    {
        if !near.contains(&name) {
            near.push(name);
        }
    }
    let near = near.join(" or ");
    let remedy = if near.is_empty() {
        "Move it to the plot that has its fruit.".to_owned()
    } else {
        format!("Did you mean {near}?")
    };
    warning(
        format!("{}.species", here.path),
        format!("{} under {}", pest.name, canopies.join(" and ")),
        format!("it lives on {} (from memory)", fruit.join(", ")),
        remedy,
    )
}

/// Pests that never fly in this climate.
pub(super) fn never(view: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    let params = &pest.params;
    let has = season_degree_days(view, pest);
    (has < params.emergence - params.emergence_spread).then_some(())?;
    warning(
        format!("{}.species", here.path),
        format!("{} in this climate", pest.name),
        format!("it flies after {} degree-days and a season here has {}", tidy(params.emergence), tidy(has)),
        "Is the climate right, and the latitude's sign? Else take the pest out: it cannot live there.",
    )
}

/// Degree-days of a pest's whole season in a typical year.
pub(super) fn season_degree_days(view: &SiteView<'_>, pest: &Pest) -> f64 {
    let (params, latitude) = (&pest.params, view.site.place.latitude_deg);
    let (from, to) = (after_solstice(params.counting_from, latitude), after_solstice(params.season_end, latitude));
    view.typical.degree_days(from, to, params.base_temperature)
}

/// Pests that are neither there nor fly in.
pub(super) fn nothing(_: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    (here.it.start_per_m2 == 0.0 && here.it.neighbours == 0.0).then_some(())?;
    warning(
        format!("{}.start", here.path),
        format!("no {} in the soil and none flying in", pest.name),
        "then there is none in any year",
        "Write how many you find, for example start = \"5 per m2\".",
    )
}

/// The same pest twice in a plot.
pub(super) fn twice(_: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    here.plot.pests[..here.at].iter().find(|other| other.pest == here.it.pest)?;
    let what = format!("{} stands twice in {}", pest.name, here.plot.name);
    warning(format!("{}.species", here.path), what, "both are counted", "Take one out.")
}
