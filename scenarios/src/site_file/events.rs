//! `[[event]]`: housing orders, spreading the heap, gates set by hand, spray and bait.

use super::bounds;
use super::context::Context;
use super::dates::{in_order, when};
use crate::quantity::kinds::DAYS;
use crate::reader::{Item, Reader};
use sim_engine::site::{SiteEvent, SiteEventKind, Treatment};

#[derive(Clone, Copy)]
enum EventWord {
    Order,
    Spread,
    Gate(bool),
    KeepOut(Treatment),
}

const WORDS: &[(&str, EventWord)] = &[
    ("housing order", EventWord::Order),
    ("spread heap", EventWord::Spread),
    ("open gate", EventWord::Gate(true)),
    ("shut gate", EventWord::Gate(false)),
    (Treatment::Sprayed.word(), EventWord::KeepOut(Treatment::Sprayed)),
    (Treatment::BaitLaid.word(), EventWord::KeepOut(Treatment::BaitLaid)),
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
    let plot = reader.need("plot", "\"short-beds\"").and_then(|item| context.plot(&item));
    match what {
        EventWord::Gate(open) => Some(SiteEventKind::GateByHand { plot: plot?, open }),
        EventWord::KeepOut(treatment) => keep_out(reader, plot, treatment),
        EventWord::Order | EventWord::Spread => None,
    }
}

/// How long birds are kept out is on the label, never assumed.
fn keep_out(reader: &Reader<'_>, plot: Option<usize>, treatment: Treatment) -> Option<SiteEventKind> {
    if let Some(until) = reader.get("until") {
        until.fault("spray and bait have keep_out, not until", "Write the days of its label: keep_out = \"21 days\"");
        return None;
    }
    let example = "\"21 days\", the days of its label";
    let days = reader.need("keep_out", example).and_then(|item| item.quantity(&DAYS, &bounds::KEEP_OUT_D))?;
    Some(SiteEventKind::KeepOut { plot: plot?, treatment, days: days.ceil() as u32 })
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
