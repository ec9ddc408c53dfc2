//! Pests: too many, without a host, on the wrong fruit, in the wrong climate.

use super::typical::after_solstice;
use super::{Doubt, SiteView, Threshold, tidy};
use sim_engine::site::{Plot, PlotPest};
use sim_engine::species::{Host, Pest};

/// Pests per m2 in the soil above which a count is doubted.
const MANY: Threshold = Threshold::new(300.0, "per m2", "from memory");

/// A pest of a plot: plot, its place in the plot's list, the species.
type There<'a> = (&'a Plot, usize, &'a PlotPest, &'a Pest);

fn all<'a>(sight: &'a SiteView<'_>) -> impl Iterator<Item = There<'a>> {
    sight.site.plots.iter().flat_map(move |plot| {
        let pests = plot.pests.iter().enumerate();
        pests.filter_map(move |(at, pest)| Some((plot, at, pest, sight.site.pests.get(pest.pest)?)))
    })
}

fn path((plot, at, ..): &There<'_>, key: &str) -> String {
    format!("plot.{}.pest.{at}.{key}", plot.name)
}

/// Pests very high.
pub(super) fn many(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |there: There<'_>| {
        let what = format!("{} per m2 of {} is very many", tidy(there.2.start_per_m2), there.3.name);
        let because = format!("more than {MANY} is hardly ever found");
        let one = tidy(there.2.start_per_m2 / there.0.area_m2);
        Doubt::new(
            path(&there, "start"),
            &what,
            &because,
            format!("Did you mean \"{one} per m2\"? Was the whole plot counted, not one m2?"),
        )
    };
    all(sight).filter(|there| there.2.start_per_m2 > MANY.value).map(doubt).collect()
}

/// Pests where nothing they feed on grows.
pub(super) fn hostless(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |there: There<'_>| {
        let (plot, _, _, pest) = there;
        let wanted = match &pest.host {
            Host::Canopy if plot.canopy.is_none() => "trees, bushes or canes".to_owned(),
            Host::Crops(families) => {
                let grown = sight.crops_of(plot).iter().any(|crop| {
                    sight.site.crops.get(crop.plan.crop).is_some_and(|crop| families.contains(&crop.family))
                });
                if grown {
                    return None;
                }
                format!("a crop of the {}", families.join(" or "))
            }
            Host::Canopy => return None,
        };
        let what = format!("{} in {}", pest.name, plot.name);
        let remedy = match &pest.host {
            Host::Canopy => {
                "Add them, for example: canopy = \"plum trees\"; or move the pest to the plot that has them."
            }
            Host::Crops(_) => "Add the crop, or move the pest to the plot that has it.",
        };
        Some(Doubt::new(
            path(&there, "species"),
            &what,
            &format!("it lives on {wanted}, and there are none in this plot"),
            remedy,
        ))
    };
    all(sight).filter_map(doubt).collect()
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
pub(super) fn other_fruit(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |there: There<'_>| {
        let (plot, _, _, pest) = there;
        let canopy = sight.site.canopies.get(plot.canopy?)?;
        let (_, fruit) = FRUIT.iter().find(|(name, _)| *name == pest.name)?;
        // Canopies the keeper made up are the keeper's to know.
        let shipped = sight.library.get(crate::library::EntryKind::Canopy, &canopy.name).is_some();
        (shipped && !fruit.iter().any(|word| canopy.name.contains(word))).then(|| {
            let near: Vec<&str> = FRUIT
                .iter()
                .filter(|(_, fruit)| fruit.iter().any(|word| canopy.name.contains(word)))
                .map(|(name, _)| *name)
                .collect();
            let remedy = match near.as_slice() {
                [] => "Move it to the plot that has its fruit.".to_owned(),
                near => format!(
                    "Did you mean {}?",
                    near.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(" or ")
                ),
            };
            let what = format!("{} under {}", pest.name, canopy.name);
            Doubt::new(
                path(&there, "species"),
                &what,
                &format!("it lives on {} (from memory)", fruit.join(", ")),
                remedy,
            )
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Pests that never fly in this climate.
pub(super) fn never(sight: &SiteView<'_>) -> Vec<Doubt> {
    let latitude = sight.site.place.latitude_deg;
    let doubt = |there: There<'_>| {
        let n = &there.3.params;
        let (from, to) = (after_solstice(n.counting_from, latitude), after_solstice(n.season_end, latitude));
        let has = sight.typical.degree_days(from, to, n.base_temperature);
        let needs = n.emergence - n.emergence_spread;
        (has < needs).then(|| {
            Doubt::new(
                path(&there, "species"),
                &format!("{} in this climate", there.3.name),
                &format!("it flies after {} degree-days and a season here has {}", tidy(n.emergence), tidy(has)),
                "Is the climate right, and the latitude's sign? Else take the pest out: it cannot live there.",
            )
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Pests that are neither there nor fly in.
pub(super) fn nothing(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |there: There<'_>| {
        let what = format!("no {} in the soil and none flying in", there.3.name);
        Doubt::new(
            path(&there, "start"),
            &what,
            "then there is none in any year",
            "Write how many you find, for example start = \"5 per m2\".",
        )
    };
    all(sight).filter(|there| there.2.start_per_m2 == 0.0 && there.2.neighbours == 0.0).map(doubt).collect()
}

/// The same pest twice in a plot.
pub(super) fn twice(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |there: There<'_>| {
        let what = format!("{} stands twice in {}", there.3.name, there.0.name);
        Doubt::new(path(&there, "species"), &what, "both are counted", "Take one out.")
    };
    let again = |(plot, at, pest, _): &There<'_>| plot.pests[..*at].iter().any(|other| other.pest == pest.pest);
    all(sight).filter(again).map(doubt).collect()
}
