//! New birds: not isolated, for too few days, or among crops.

use super::{Doubt, SiteView, Threshold, tidy};
use jiff::ToSpan;

/// New birds that go straight to the others.
pub(super) fn none(sight: &SiteView<'_>) -> Vec<Doubt> {
    let site = sight.site;
    let mut doubts = Vec::new();
    for (index, group) in site.groups.iter().enumerate() {
        let Some(arrive) = group.arrive.filter(|day| *day > site.start && group.isolate.is_none()) else { continue };
        let meets = |other: &sim_engine::site::Group| {
            other.number > 0.0
                && other.arrive.unwrap_or(site.start) < arrive
                && other.leave.is_none_or(|leave| leave > arrive)
        };
        if site.groups.iter().enumerate().any(|(at, other)| at != index && meets(other)) {
            let what = format!("{} go straight to the others on {arrive}", group.name);
            let because = "new birds can bring what they do not show";
            let remedy = "Add for example isolate = { plot = \"…\", days = 30 }, and ask a vet.";
            doubts.push(Doubt::new(format!("birds.{}.arrive", group.name), &what, because, remedy));
        }
    }
    doubts
}

/// Days an isolation lasts at the least.
const USUAL: Threshold =
    Threshold::new(21.0, "days", "30 on a biosecurity sheet of a state authority; 21 to 30 are common, from memory");

/// An isolation shorter than usual.
pub(super) fn short(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |group: &sim_engine::site::Group| {
        let (_, days) = group.isolate.filter(|(_, days)| f64::from(*days) < USUAL.value)?;
        let what = format!("{} are isolated for {} days", group.name, tidy(f64::from(days)));
        let because = format!("that is shorter than {USUAL}");
        Some(Doubt::new(format!("birds.{}.isolate.days", group.name), &what, &because, "Did you mean days = 30?"))
    };
    sight.site.groups.iter().filter_map(doubt).collect()
}

/// Isolations among crops.
pub(super) fn among_crops(sight: &SiteView<'_>) -> Vec<Doubt> {
    let site = sight.site;
    let mut doubts = Vec::new();
    for group in &site.groups {
        let Some((plot, days)) = group.isolate.and_then(|(plot, days)| Some((site.plots.get(plot)?, days))) else {
            continue;
        };
        let from = group.arrive.unwrap_or(site.start);
        let to = from.saturating_add(i64::from(days).days());
        for crop in sight.crops_of(plot).iter().filter(|crop| crop.stands(from, to)) {
            doubts.push(Doubt::new(
                format!("birds.{}.isolate", group.name),
                &format!("{} is isolated in {} from {from} to {to}", group.name, plot.name),
                &format!("{} is in the ground there", crop.name),
                "Isolate them in a plot without a crop, or guard the beds.",
            ));
        }
    }
    doubts
}
