//! `[[event]]`: housing orders, spreading the heap, gates set by hand.

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
    let plot = reader.need("plot", "\"short-beds\"").and_then(|item| context.plot(&item))?;
    Some(match what {
        EventWord::Gate(open) => SiteEventKind::GateByHand { plot, open },
        _ => SiteEventKind::SpreadHeap { plot },
    })
}
