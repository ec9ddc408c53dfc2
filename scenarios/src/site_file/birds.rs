//! `[birds.NAME]`: groups of birds of the same class, place and dates.

use super::bounds;
use super::context::Context;
use super::dates::full;
use crate::library::EntryKind;
use crate::quantity::kinds::DAYS;
use crate::reader::{Item, Reader};
use sim_engine::site::Group;

/// The groups.
pub(super) fn read(context: &mut Context<'_>, root: &Reader<'_>) -> Vec<Group> {
    let Some(table) = root.table("birds") else { return Vec::new() };
    let items = table.entries();
    let names: Vec<String> = items.iter().map(|item| item.key.clone()).collect();
    let groups: Vec<Group> = items.iter().filter_map(|item| group(context, item, &names)).collect();
    let total: f64 = groups.iter().map(|group| group.number).sum();
    if total > bounds::BIRDS.high {
        table.fault(format!("there are {total} birds in all"), bounds::BIRDS.wording);
    }
    groups
}

fn group(context: &mut Context<'_>, item: &Item<'_>, names: &[String]) -> Option<Group> {
    item.key_is_name("group of birds");
    let reader = item.table(format!("[birds.{}]", item.key))?;
    let class = reader.need("class", "\"layer\"").and_then(|item| context.named(EntryKind::Bird, &item));
    let number = reader.need("number", "16").and_then(|item| item.whole(&bounds::BIRDS));
    let arrive = reader.get("arrive").and_then(|item| full(&item));
    let leaving = reader.get("leave");
    let leave = leaving.as_ref().and_then(full);
    if let (Some(arrive), Some(leave), Some(leaving)) = (arrive, leave, &leaving)
        && leave < arrive
    {
        leaving.fault(format!("leave {leave} is before arrive {arrive}"), "Put the earlier date first.");
    }
    let isolate = reader.get("isolate").and_then(|isolate| isolation(context, &isolate));
    let joins = reader.get("then_join").and_then(|join| joined(&join, &item.key, names));
    let infection = reader.get("infection").and_then(|item| item.number(&bounds::RELATIVE)).unwrap_or(1.0);
    reader.finish();
    let number = f64::from(number?);
    Some(Group { name: item.key.clone(), class: class?, number, arrive, leave, isolate, joins, infection })
}

fn joined(item: &Item<'_>, group: &str, names: &[String]) -> Option<usize> {
    let found = item.name_in("group of birds", names.iter().map(String::as_str))?;
    if names.get(found).map(String::as_str) == Some(group) {
        item.fault("the group joins itself", "Name another group, or take the line away.");
        return None;
    }
    Some(found)
}

fn isolation(context: &Context<'_>, item: &Item<'_>) -> Option<(usize, u32)> {
    let reader = item.table("isolate")?;
    let plot = reader.need("plot", "\"hazel-strip\"").and_then(|item| context.plot(&item));
    let days = reader.need("days", "28").and_then(|item| match item.bare() {
        Some(_) => item.whole(&bounds::ISOLATION_D),
        None => item.quantity(&DAYS, &bounds::ISOLATION_D).map(|days| days.round() as u32),
    });
    reader.finish();
    Some((plot?, days?))
}
