//! New birds: not isolated, for too few days, or among crops.

use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use jiff::ToSpan;
use sim_engine::site::Group;
use sim_engine::waiting::shut_for_harvest;

/// New birds that go straight to the others.
pub(super) fn none(view: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let start = view.site.start;
    let arrive = group.arrive.filter(|day| *day > start && group.isolate.is_none())?;
    let meets = |other: &&Group| {
        other.number > 0.0 && other.arrive.unwrap_or(start) < arrive && other.leave.is_none_or(|leave| leave > arrive)
    };
    view.site.groups.iter().find(meets)?;
    warning(
        group.at("arrive"),
        format!("{} go straight to the others on {arrive}", group.name),
        "new birds can bring what they do not show",
        "Add for example isolate = { plot = \"…\", days = 30 }, and ask a vet.",
    )
}

/// Days an isolation lasts at the least.
const USUAL: Threshold =
    Threshold::new(21.0, "days", "30 on a biosecurity sheet of a state authority; 21 to 30 are common, from memory");

/// An isolation shorter than usual.
pub(super) fn short(_: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let days = USUAL.under(f64::from(group.isolate?.1))?;
    warning(
        group.at("isolate.days"),
        format!("{} are isolated for {} days", group.name, tidy(days)),
        format!("that is shorter than {USUAL}"),
        "Did you mean days = 30?",
    )
}

/// Isolations among crops.
pub(super) fn among_crops(view: &SiteView<'_>) -> Vec<Warning> {
    let site = view.site;
    let mut warnings = Vec::new();
    for group in &site.groups {
        let Some((plot, days)) = group.isolate.and_then(|(plot, days)| Some((site.plots.get(plot)?, days))) else {
            continue;
        };
        let from = group.arrive.unwrap_or(site.start);
        let to = from.saturating_add(i64::from(days).days());
        for crop in view.crops_of(plot).iter().filter(|crop| crop.stands(from, to)) {
            warnings.extend(warning(
                group.at("isolate"),
                format!("{} is isolated in {} from {from} to {to}", group.name, plot.name),
                format!("{} is in the ground there", crop.name),
                "Isolate them in a plot without a crop, or guard the beds.",
            ));
        }
        // What is in the ground was told above; a harvest to come is spoilt by droppings too.
        let stands = view.crops_of(plot).iter().any(|crop| crop.stands(from, to));
        if let Some((_, last)) = shut_for_harvest(plot, &site.rules, from, to).first().filter(|_| !stands) {
            warnings.extend(warning(
                group.at("isolate"),
                format!("{} is isolated in {} from {from} to {to}", group.name, plot.name),
                format!("their fresh droppings fall within the waiting period before a harvest there, which ends on {last}"),
                "Isolate them in a plot without a harvest to come, at another time of the year, or leave that harvest unpicked.",
            ));
        }
    }
    warnings
}
