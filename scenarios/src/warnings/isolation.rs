//! New birds: not isolated, for too few days, or among crops.

use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::days_between;
use sim_engine::site::{Group, Plant, Plot};
use sim_engine::waiting::{Picking, pickings};

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
        format!("the {} go straight to the others on {arrive}", group.name),
        "new birds can bring what they do not show",
        "Add for example isolate = { plot = \"…\", days = 30 }, or isolate = { indoors = true, days = 30 } for a coop of \
         their own, and ask a vet.",
    )
}

/// Days an isolation lasts at the least.
const USUAL: Threshold =
    Threshold::new(21.0, "days", "30 on a biosecurity sheet of a state authority; 21 to 30 are common, from memory");

/// An isolation shorter than usual.
pub(super) fn short(_: &SiteView<'_>, group: &Group) -> Option<Warning> {
    let days = USUAL.under(f64::from(group.isolate?.days))?;
    warning(
        group.at("isolate.days"),
        format!("the {} are kept apart for {} days", group.name, tidy(days)),
        format!("that is shorter than {USUAL}"),
        "Did you mean days = 30?",
    )
}

/// Birds kept apart in a plot, and the first and last day of it.
struct KeptApart<'a> {
    group: &'a Group,
    plot: &'a Plot,
    from: Date,
    to: Date,
}

impl KeptApart<'_> {
    fn words(&self) -> String {
        format!("the {} are kept apart in {} from {} to {}", self.group.name, self.plot.name, self.from, self.to)
    }

    /// Whether any crop of a plot, guarded or not, is in the ground on these days.
    fn meets_crop(&self, view: &SiteView<'_>, plot: &Plot) -> bool {
        view.crops_of(plot).iter().any(|crop| crop.stands(self.from, self.to))
    }

    fn pickings(&self, view: &SiteView<'_>, plot: &Plot) -> Vec<Picking> {
        let all = pickings(plot, &view.site.rules, self.from, self.to).into_iter();
        all.filter(Picking::keeps_out).collect()
    }
}

/// Every isolation that comes to pass.
fn kept_apart<'a>(view: &SiteView<'a>) -> impl Iterator<Item = KeptApart<'a>> {
    let site = view.site;
    site.groups.iter().filter_map(|group| {
        let isolation = group.isolate.filter(|_| group.number > 0.0)?;
        let from = group.arrive.unwrap_or(site.start).max(site.start);
        let to = from.saturating_add((i64::from(isolation.days) - 1).days());
        Some(KeptApart { group, plot: site.plots.get(isolation.quarters.plot()?)?, from, to })
    })
}

/// Isolations among crops.
pub(super) fn among_crops(view: &SiteView<'_>) -> Vec<Warning> {
    let of = |apart: KeptApart<'_>| {
        let crops = view.crops_of(apart.plot).into_iter().filter(|crop| crop.stands(apart.from, apart.to));
        let told = crops.filter_map(|crop| {
            warning(
                apart.group.at("isolate"),
                apart.words(),
                format!("{} is in the ground there", crop.name),
                "Isolate them in a plot without a crop, or guard the beds.",
            )
        });
        told.collect::<Vec<_>>()
    };
    kept_apart(view).flat_map(of).collect()
}

/// Isolations while a harvest keeps birds out: the rule binds every bird in the plot.
pub(super) fn before_a_harvest(view: &SiteView<'_>) -> Vec<Warning> {
    let of = |apart: KeptApart<'_>| {
        let picking = apart.pickings(view, apart.plot).into_iter().min_by_key(|picking| picking.first)?;
        let fruit = if picking.window.windfall { "windfalls of " } else { "" };
        let message = format!(
            "{}, and {fruit}{} there are picked from {} to {}: {} days before it birds must be out, from {} on",
            apart.words(),
            view.site.plant_name(picking.plant),
            picking.first,
            picking.last,
            picking.wait_days,
            picking.shut_from
        );
        Some(Warning { about: apart.group.at("isolate"), message, remedy: elsewhere(view, &apart, &picking) })
    };
    kept_apart(view).filter_map(of).collect()
}

/// Where else, when else, or by which rule of the keeper's own birds can be kept apart.
fn elsewhere(view: &SiteView<'_>, apart: &KeptApart<'_>, picking: &Picking) -> String {
    let free = |plot: &&Plot| apart.pickings(view, plot).is_empty() && !apart.meets_crop(view, plot);
    let place = match view.site.plots.iter().find(free) {
        Some(plot) => format!("Isolate them in {}, which is free on those days, or at another time", plot.name),
        None => {
            "No plot is free on all those days: isolate them in a coop of their own (indoors = true) or at another time"
                .to_owned()
        }
    };
    // Where picking goes on no wait of any length helps.
    let gap = days_between(apart.to, picking.first);
    if gap <= 0 {
        return format!("{place}.");
    }
    let key = match picking.plant {
        _ if picking.window.windfall => "windfall_wait",
        Plant::Canopy(_) if !view.places.has(&apart.plot.at("canopy.0")) => "fruit_wait",
        _ => "wait",
    };
    format!(
        "{place}; or give that harvest days of its own, with your reason: {key} = {{ days = {gap}, reason = \"…\" }}"
    )
}
