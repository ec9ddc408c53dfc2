//! Pests: too many, without a host, on the wrong fruit, in the wrong climate.

use super::typical::after_solstice;
use super::{Part, SiteView, Threshold, Warning, tidy, warning};
use crate::library;
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
    let (wanted, remedy) = match &pest.host {
        Host::Canopy if here.plot.canopy.is_none() => (
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

/// Fruit each canopy pest lives on, as the words its canopies have in their names; from memory.
const FRUIT: &[(&str, &[&str])] = &[
    ("apple sawfly", &["apple"]),
    ("plum sawfly", &["plum"]),
    ("pear slug", &["pear", "cherry"]),
    ("currant sawfly", &["currant", "gooseberry"]),
    ("european cherry fruit fly", &["cherry"]),
    ("western cherry fruit fly", &["cherry"]),
    ("apple maggot", &["apple"]),
    ("plum curculio", &["plum", "apple", "cherry", "pear", "peach"]),
    ("pear midge", &["pear"]),
    ("raspberry beetle", &["raspberry"]),
    ("codling moth", &["apple", "pear"]),
];

/// Pests under fruit they do not live on.
pub(super) fn other_fruit(view: &SiteView<'_>, here: &Part<'_, PlotPest>, pest: &Pest) -> Option<Warning> {
    let canopy = &view.site.canopies.get(here.plot.canopy?)?.name;
    let bears = |fruit: &[&str]| fruit.iter().any(|word| canopy.contains(word));
    let (_, fruit) = FRUIT.iter().find(|(name, _)| *name == pest.name)?;
    // Canopies the keeper made up are the keeper's to know.
    let shipped = view.library.get(library::EntryKind::Canopy, canopy).is_some();
    (shipped && !bears(fruit)).then_some(())?;
    let near = FRUIT.iter().filter(|(_, fruit)| bears(fruit)).map(|(name, _)| format!("\"{name}\""));
    let near = near.collect::<Vec<_>>().join(" or ");
    let remedy = if near.is_empty() {
        "Move it to the plot that has its fruit.".to_owned()
    } else {
        format!("Did you mean {near}?")
    };
    warning(
        format!("{}.species", here.path),
        format!("{} under {canopy}", pest.name),
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
