//! `[birds.NAME]`: groups of birds of the same class, place and dates.

use super::bounds;
use super::context::Context;
use super::dates::when;
use crate::library::EntryKind;
use crate::quantity::kinds::DAYS;
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, TableFormat, Taken, left_out, required};
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::next_on_or_after;
use sim_engine::site::{Group, Isolation, Quarters, When};

pub(super) const BIRDS: TableFormat = TableFormat {
    heading: "[birds.NAME]",
    written: "[birds.newcomers]",
    what: "A group of birds of the same class, place and dates; 0 to 2000 birds in all.",
    keys: &[
        required("class", Kind::Entry(EntryKind::Bird), "\"layer\"", "Their class."),
        required("number", Kind::Whole(&bounds::BIRDS), "16", "How many there are."),
        left_out(
            "arrive",
            Kind::Day,
            Taken::Words("there from the start"),
            "\"07-12\"",
            "When they arrive: once, or on a day of every year (newcomers each year).",
        ),
        left_out(
            "leave",
            Kind::Day,
            Taken::Words("stay"),
            "\"05-01\"",
            "When they leave; a day of every year is the first such day after they arrive.",
        ),
        left_out(
            "isolate",
            Kind::Table(&ISOLATE),
            Taken::Words("none"),
            "{ plot = \"orchard\", days = 28 }",
            "Where and how long they are kept apart first.",
        ),
        left_out(
            "then_join",
            Kind::Named("group of birds"),
            Taken::Words("none"),
            "\"hens\"",
            "The group as whose class they are counted from the end of the isolation.",
        ),
        left_out(
            "infection",
            Kind::Number(&bounds::RELATIVE),
            Taken::Number(1.0),
            "1",
            "Their infection with gut worms on the first day, an ordinary flock's being 1.",
        ),
    ],
    rest: None,
    examples: &[],
};

const ISOLATE: TableFormat = TableFormat {
    heading: "[birds.NAME] isolate",
    written: "isolate = { … }",
    what: "Where newcomers are kept apart, and how long.",
    keys: &[
        left_out(
            "plot",
            Kind::Named("plot"),
            Taken::Words("one of `plot` and `indoors` must be there"),
            "\"orchard\"",
            "The plot.",
        ),
        left_out(
            "indoors",
            Kind::Flag,
            Taken::Words("no"),
            "true",
            "In a coop or pen of their own instead: they get to no ground, and their droppings go to the heap.",
        ),
        required(
            "days",
            Kind::Either(&[Kind::Whole(&bounds::ISOLATION_D), Kind::Quantity(&DAYS, &bounds::ISOLATION_D)]),
            "28",
            "How long, in days or with a unit.",
        ),
    ],
    rest: None,
    examples: &["isolate = { plot = \"orchard\", days = 28 }", "isolate = { indoors = true, days = 28 }"],
};

/// The groups.
pub(super) fn read(context: &mut Context<'_>, root: &Reader<'_>) -> Vec<Group> {
    let Some(table) = root.table("birds") else { return Vec::new() };
    let items = table.entries();
    let names: Vec<String> = items.iter().map(|item| item.key.clone()).collect();
    let stays: Vec<Vec<Group>> = items.iter().map(|item| group(context, item, &names).unwrap_or_default()).collect();
    // Where the groups of each table begin: `then_join` names a table.
    let first = |table: usize| stays[..table].iter().map(Vec::len).sum::<usize>();
    let joining = |group: &Group| Group { joins: group.joins.map(first), ..group.clone() };
    let groups: Vec<Group> = stays.iter().flatten().map(joining).collect();
    let total: f64 = groups.iter().map(|group| group.number).sum();
    if total > bounds::BIRDS.high {
        table.fault(format!("there are {total} birds in all"), bounds::BIRDS.wording);
    }
    groups
}

/// The birds of a table: one group, or one for each year in which such birds arrive; `joins` is a table yet.
fn group(context: &mut Context<'_>, item: &Item<'_>, names: &[String]) -> Option<Vec<Group>> {
    item.key_is_name("group of birds");
    let reader = item.table(format!("[birds.{}]", item.key))?;
    let class = reader.needed("class").and_then(|item| context.named(EntryKind::Bird, &item));
    let number = reader.needed("number").and_then(|item| item.whole(&bounds::BIRDS));
    let arrive = reader.get("arrive").and_then(|item| when(&item));
    let leaving = reader.get("leave");
    let leave = leaving.as_ref().and_then(when);
    if let (Some(When::On(arrive)), Some(When::On(leave)), Some(leaving)) = (arrive, leave, &leaving)
        && leave < arrive
    {
        leaving.fault(format!("leave {leave} is before arrive {arrive}"), "Put the earlier date first.");
    }
    let isolate = reader.get("isolate").and_then(|isolate| isolation(context, &isolate));
    let joins = reader.get("then_join").and_then(|join| joined(&join, &item.key, names));
    let infection = reader.get("infection").and_then(|item| item.number(&bounds::RELATIVE)).unwrap_or(1.0);
    reader.finish();
    let number = f64::from(number?);
    let class = class?;
    let name = &item.key;
    let of_stay =
        |(arrive, leave)| Group { name: name.clone(), class, number, arrive, leave, isolate, joins, infection };
    Some(stays(arrive, leave, context.run).into_iter().map(of_stay).collect())
}

/// From when to when birds are there: once, or once for each arrival within the run where `arrive` is a day of every year.
/// A yearly day of leaving is the first after the arrival.
fn stays(arrive: Option<When>, leave: Option<When>, (start, end): (Date, Date)) -> Vec<(Option<Date>, Option<Date>)> {
    let leaves = |arrival: Option<Date>| {
        let after = arrival.unwrap_or(start).saturating_add(1.day());
        leave.and_then(|leave| match leave {
            When::On(date) => Some(date),
            When::Yearly { .. } => next_on_or_after(leave, after),
        })
    };
    match arrive {
        None => vec![(None, leaves(None))],
        Some(When::On(date)) => vec![(Some(date), leaves(Some(date)))],
        Some(yearly) => {
            let next = |from: Date| next_on_or_after(yearly, from).filter(|date| *date < end);
            let arrivals = std::iter::successors(next(start), |date| next(date.saturating_add(1.day())));
            arrivals.map(|date| (Some(date), leaves(Some(date)))).collect()
        }
    }
}

fn joined(item: &Item<'_>, group: &str, names: &[String]) -> Option<usize> {
    let found = item.name_in("group of birds", names.iter().map(String::as_str))?;
    if names.get(found).map(String::as_str) == Some(group) {
        item.fault("the group joins itself", "Name another group, or take the line away.");
        return None;
    }
    Some(found)
}

fn isolation(context: &Context<'_>, item: &Item<'_>) -> Option<Isolation> {
    let reader = item.table("isolate")?;
    let quarters = quarters(context, &reader);
    let days = reader.needed("days").and_then(|item| match item.bare() {
        Some(_) => item.whole(&bounds::ISOLATION_D),
        None => item.quantity(&DAYS, &bounds::ISOLATION_D).map(|days| days.round() as u32),
    });
    reader.finish();
    Some(Isolation { quarters: quarters?, days: days? })
}

fn quarters(context: &Context<'_>, reader: &Reader<'_>) -> Option<Quarters> {
    let plot = reader.get("plot");
    match reader.get("indoors").map(|item| item.flag()) {
        None | Some(Some(false)) => {
            let plot = plot.or_else(|| reader.needed("plot"))?;
            context.plot(&plot).map(Quarters::Plot)
        }
        Some(Some(true)) => {
            if let Some(plot) = plot {
                plot.fault("they are kept in a plot and indoors", "Take one of the two away.");
                return None;
            }
            Some(Quarters::Indoors)
        }
        Some(None) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const RUN: (Date, Date) = (date(2027, 3, 1), date(2030, 3, 1));

    #[test]
    fn newcomers_of_every_year_are_a_group_each() {
        let arrive = When::Yearly { month: 7, day: 12 };
        let leave = When::Yearly { month: 5, day: 1 };
        let years = [2027, 2028, 2029];
        assert_eq!(stays(Some(arrive), None, RUN), years.map(|year| (Some(date(year, 7, 12)), None)));
        let until_may = years.map(|year| (Some(date(year, 7, 12)), Some(date(year + 1, 5, 1))));
        assert_eq!(stays(Some(arrive), Some(leave), RUN), until_may);
    }

    #[test]
    fn birds_with_a_date_or_none_come_once() {
        let on = date(2028, 8, 20);
        assert_eq!(stays(Some(When::On(on)), None, RUN), [(Some(on), None)]);
        assert_eq!(stays(None, Some(When::On(on)), RUN), [(None, Some(on))]);
        let may = When::Yearly { month: 5, day: 1 };
        assert_eq!(stays(None, Some(may), RUN), [(None, Some(date(2027, 5, 1)))]);
    }
}
