//! `[[event]]`: housing orders, spreading the heap, gates set by hand.

use super::bounds;
use super::context::Context;
use super::dates::{in_order, when};
use crate::reader::{Item, Reader};
use sim_engine::site::{SiteEvent, SiteEventKind};

#[derive(Clone, Copy)]
enum EventWord {
    Order,
    Spread,
    Gate(bool),
}

const WORDS: &[(&str, EventWord)] = &[
    ("housing order", EventWord::Order),
    ("spread heap", EventWord::Spread),
    ("open gate", EventWord::Gate(true)),
    ("shut gate", EventWord::Gate(false)),
];

/// The events of a site.
pub(super) fn read(context: &mut Context<'_>, root: &Reader<'_>) -> Vec<SiteEvent> {
    let list = root.get("event").and_then(|item| item.list()).unwrap_or_default();
    list.iter().filter_map(|item| one(context, item)).collect()
}

fn one(context: &Context<'_>, item: &Item<'_>) -> Option<SiteEvent> {
    let reader = item.table("[[event]]")?;
    let on = reader.need("on", "2027-12-01").and_then(|item| when(&item));
    let until = reader.get("until").and_then(|item| {
        let until = when(&item)?;
        in_order(&item, on?, until).then_some(until)
    });
    let what = reader.need("what", "\"housing order\"").and_then(|item| item.choice(WORDS));
    let kind = what.and_then(|what| kind(context, &reader, what));
    reader.finish();
    Some(SiteEvent { on: on?, until, what: kind? })
}

fn kind(context: &Context<'_>, reader: &Reader<'_>, what: EventWord) -> Option<SiteEventKind> {
    if matches!(what, EventWord::Order) {
        return Some(SiteEventKind::HousingOrder);
    }
    if matches!(what, EventWord::Spread) {
        return Some(SiteEventKind::SpreadHeap { plots: heap(context, reader)? });
    }
    let plot = reader.need("plot", "\"short-beds\"").and_then(|item| context.plot(&item))?;
    let open = matches!(what, EventWord::Gate(true));
    Some(SiteEventKind::GateByHand { plot, open })
}

/// The plots a heap goes to, with their shares: all on `plot`, or as `plots` has it.
fn heap(context: &Context<'_>, reader: &Reader<'_>) -> Option<Vec<(usize, f64)>> {
    let Some(item) = reader.get("plots") else {
        let plot = reader.need("plot", "\"short-beds\"").and_then(|item| context.plot(&item))?;
        return Some(vec![(plot, 1.0)]);
    };
    if let Some(one) = reader.get("plot") {
        one.fault("an event has plot or plots, not both", "Take one of them out.");
        return None;
    }
    let shares: Option<Vec<(usize, f64)>> = item
        .table("plots")?
        .entries()
        .iter()
        .map(|entry| Some((context.plot_of_key(entry)?, entry.number(&bounds::SHARE)?)))
        .collect();
    let shares = shares?;
    let all: f64 = shares.iter().map(|(_, share)| share).sum();
    if (all - 1.0).abs() > 1e-6 {
        item.fault(
            format!("the shares of the heap add up to {all}"),
            "Together they are 1: plots = { \"short-beds\" = 0.2, \"back-meadow\" = 0.8 }",
        );
        return None;
    }
    Some(shares)
}
