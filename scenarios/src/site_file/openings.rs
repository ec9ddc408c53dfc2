//! How many birds a gate lets through, and from when to when it stands open.

use super::bounds;
use crate::reader::Item;
use sim_engine::gates::OpenHours;

/// How many birds a strategy lets through.
pub(super) fn let_through(item: &Item<'_>) -> Option<f64> {
    if item.bare() == Some(0.0) {
        let remedy = "Leave birds out to let the whole flock through, or write all_shut = {} to let none out.";
        item.fault("birds = 0 opens gates and lets none through", remedy);
        return None;
    }
    item.whole(&bounds::LET_THROUGH).map(f64::from)
}

/// From when to when a gate stands open.
pub(super) fn open_hours(item: &Item<'_>) -> Option<OpenHours> {
    if let Some(bare) = item.bare() {
        let remedy = "Say when, in quotes: hours = \"last 3 hours\" (before dusk) or \"15:00 to dusk\".";
        item.fault(format!("hours = {bare} says how long, not when"), remedy);
        return None;
    }
    match crate::open_hours::parse(item.text()?) {
        Ok(hours) => Some(hours),
        Err(error) => {
            item.fault(format!("hours: {}", error.message), error.remedy);
            None
        }
    }
}
