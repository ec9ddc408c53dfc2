//! Events twice, or without an end.

use super::{Doubt, SiteView};
use sim_engine::site::{SiteEvent, SiteEventKind};

/// A housing order of one day.
pub(super) fn order_end(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(position, event): (usize, &SiteEvent)| {
        (event.what == SiteEventKind::HousingOrder && event.until.is_none()).then(|| {
            let because = "without until it lasts one day, and orders last for weeks";
            Doubt::new(
                format!("event.{position}"),
                "a housing order without an end",
                because,
                "Add the last day, for example: until = 2028-02-29",
            )
        })
    };
    sight.site.events.iter().enumerate().filter_map(doubt).collect()
}

/// The same event twice.
pub(super) fn twice(sight: &SiteView<'_>) -> Vec<Doubt> {
    let events = &sight.site.events;
    let doubt = |(position, event): (usize, &SiteEvent)| {
        let earlier = events[..position].iter();
        let same = earlier.clone().any(|other| other == event);
        let contrary = earlier.into_iter().any(|other| match (other.what, event.what) {
            (SiteEventKind::GateByHand { plot, open }, SiteEventKind::GateByHand { plot: again, open: now }) => {
                plot == again && open != now && other.on == event.on
            }
            _ => false,
        });
        if same {
            return Some(Doubt::new(
                format!("event.{position}"),
                "this event stands twice",
                "an earlier one says the same",
                "Take one out.",
            ));
        }
        contrary.then(|| {
            let because = "another event of that day says the other";
            Doubt::new(
                format!("event.{position}.what"),
                "a gate both opened and shut by hand",
                because,
                "Keep one, or change a date.",
            )
        })
    };
    events.iter().enumerate().filter_map(doubt).collect()
}
