//! A harvest on its dates, in a line.

use super::plain_date;
use crate::harvest_dates::{HarvestDates, WaitSetBy};

/// What is told with fruit that is eaten from ground birds were on (from memory: outbreaks of E. coli O157 from raw juice).
pub const WINDFALL: &str = "cook, never raw, never raw juice";

/// "onion: last day with birds in 3 Apr 2027, pick from 1 Aug to 20 Aug 2027", and whose days it waits where they are not the usual
/// rule's.
#[must_use]
pub fn harvest_in_words(harvest: &HarvestDates<'_>) -> String {
    let what = if harvest.window.windfall { ", fallen fruit" } else { "" };
    let caution = if harvest.window.windfall { format!("; {WINDFALL}") } else { String::new() };
    format!(
        "{}{what}: {}, pick from {} to {}{}{caution}",
        harvest.name,
        birds_until(harvest),
        plain_date(harvest.first_day),
        plain_date(harvest.last_day),
        set_by(harvest)
    )
}

/// Until when birds may be in: "last day with birds in 3 Apr 2027".
#[must_use]
pub fn birds_until(harvest: &HarvestDates<'_>) -> String {
    match (harvest.birds_in_while_picked, harvest.shut_from_start) {
        (true, _) => "birds may be in while you pick".to_owned(),
        (_, true) => "no birds from the start".to_owned(),
        _ => format!("last day with birds in {}", plain_date(harvest.last_bird_day)),
    }
}

/// Whose days a wait has, where they are not those of the rule that stands unless the site says otherwise.
fn set_by(harvest: &HarvestDates<'_>) -> String {
    let days = match harvest.wait_days {
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    };
    let because = harvest.set_by.reason().map(|reason| format!(", because: “{}”", reason.trim_end_matches('.')));
    let because = because.unwrap_or_default();
    match harvest.set_by {
        WaitSetBy::UsOrganicRule => String::new(),
        WaitSetBy::Country(rule) => format!(" ({days}: {})", rule.rule),
        WaitSetBy::Site(_) | WaitSetBy::Harvest(_) => {
            format!(" ({days} of your own instead of {}{because})", harvest.rule_days)
        }
    }
}
