//! Events twice, or without an end.

use super::{SiteView, Warning, warning};
use sim_engine::site::{SiteEvent, SiteEventKind};

/// A housing order of one day.
pub(super) fn order_end(_: &SiteView<'_>, position: usize, event: &SiteEvent) -> Option<Warning> {
    (event.what == SiteEventKind::HousingOrder && event.until.is_none()).then_some(())?;
    warning(
        format!("event.{position}"),
        "a housing order without an end",
        "without until it lasts one day, and orders last for weeks",
        "Add the last day, for example: until = 2028-02-29",
    )
}

/// The same event twice.
pub(super) fn twice(view: &SiteView<'_>, position: usize, event: &SiteEvent) -> Option<Warning> {
    let earlier = &view.site.events[..position];
    if earlier.contains(event) {
        let because = "an earlier one says the same";
        return warning(format!("event.{position}"), "this event stands twice", because, "Take one out.");
    }
    let contrary = |other: &SiteEvent| match (&other.what, &event.what) {
        (SiteEventKind::GateByHand { plot, open }, SiteEventKind::GateByHand { plot: again, open: now }) => {
            plot == again && open != now && other.on == event.on
        }
        _ => false,
    };
    earlier.iter().any(contrary).then_some(())?;
    warning(
        format!("event.{position}.what"),
        "a gate both opened and shut by hand",
        "another event of that day says the other",
        "Keep one, or change a date.",
    )
}
