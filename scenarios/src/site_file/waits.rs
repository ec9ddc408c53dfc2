//! `wait = { days = …, reason = … }`: the keeper's own days before one harvest, in place of the rule's.

use super::bounds;
use super::context::Context;
use crate::quantity::kinds::DAYS;
use crate::reader::Item;
use crate::table_format::{KeyFormat, Kind, TableFormat, Taken, left_out, required};
use sim_engine::site::OwnWait;

const KEYS: &[KeyFormat] = &[
    required(
        "days",
        Kind::Either(&[Kind::Whole(&bounds::WAITING_D), Kind::Quantity(&DAYS, &bounds::WAITING_D)]),
        "60",
        "Days from the birds' last day in to the first picking, in days or with a unit.",
    ),
    left_out(
        "reason",
        Kind::Text,
        Taken::Words("none, and then no fewer days than the rule"),
        "\"all of it is cooked\"",
        "Why they are fewer than the rule; it is repeated wherever the wait is told.",
    ),
];

pub(super) const OF_CROP: TableFormat = format("[[plot.NAME.crop]] wait", "wait = { … }");
pub(super) const OF_FRUIT: TableFormat = format("[plot.NAME] fruit_wait", "fruit_wait = { … }");
pub(super) const OF_CANOPY: TableFormat = format("[plot.NAME] canopy wait", "wait = { … }");
pub(super) const OF_WINDFALLS: TableFormat = format("[plot.NAME] windfall_wait", "windfall_wait = { … }");
pub(super) const OF_CANOPY_WINDFALLS: TableFormat = format("[plot.NAME] canopy windfall_wait", "windfall_wait = { … }");

/// What a wait for windfalls is, with one canopy and with several.
pub(super) const WHAT_OF_WINDFALLS: &str = "Days of your own before fruit from the ground is gathered, in place of those of a harvest that touches the soil; fewer only with a reason.";

const fn format(heading: &'static str, written: &'static str) -> TableFormat {
    let what = "Days of one's own before one harvest, in place of the rule's.";
    TableFormat { heading, written, what, keys: KEYS, rest: None, examples: &[] }
}

/// The place of a keeper's own wait among those of the site; a fault where it is shorter than the rule for a harvest that
/// touches the soil, or does not, and no reason is given.
pub(super) fn own(context: &mut Context<'_>, item: &Item<'_>, touches_soil: bool) -> Option<usize> {
    let reader = item.table(item.key.clone())?;
    let days = reader.needed("days").and_then(|days| match days.bare() {
        Some(_) => days.whole(&bounds::WAITING_D),
        None => days.quantity(&DAYS, &bounds::WAITING_D).map(|days| days.round() as u32),
    });
    let reason = reader.get("reason").and_then(|reason| reason.text()).map(str::trim).filter(|text| !text.is_empty());
    reader.finish();
    let (days, rule, key) = (days?, context.rules.waiting_days_by_rule(touches_soil), &item.key);
    if days < rule && reason.is_none() {
        let remedy = format!(
            "Say why; it is repeated wherever the wait is told: {key} = {{ days = {days}, reason = \"all of it is cooked\" }}"
        );
        item.fault(format!("{key} is {days} days, fewer than the rule of {rule}, without a reason"), remedy);
    }
    let waits = &mut context.rules.own_waits;
    waits.push(OwnWait { days, reason: reason.map(str::to_owned) });
    Some(waits.len() - 1)
}

/// A wait before windfalls that nobody eats.
pub(super) fn without_windfalls(item: &Item<'_>) {
    let message = format!("{} without windfalls that are eaten", item.key);
    item.fault(message, "Write what becomes of them too: windfalls = \"cooked\" or windfalls = \"eaten\"");
}

/// A wait before no harvest.
pub(super) fn without_harvest(item: &Item<'_>, harvest: &str) {
    let remedy = format!("Write the first and last day you pick too: {harvest} = [\"08-01\", \"09-10\"]");
    item.fault(format!("{} without {harvest}", item.key), remedy);
}
