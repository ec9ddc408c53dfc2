//! `[[event]]`: housing orders, spreading the heap, gates set by hand, spray and bait.

use super::bounds;
use super::context::Context;
use super::dates::{in_order, when};
use crate::quantity::kinds::DAYS;
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, RestFormat, TableFormat, Taken, left_out, required, words};
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

pub(super) const EVENT: TableFormat = TableFormat {
    heading: "[[event]]",
    written: "[[event]]",
    what: "Something that happens on a day.",
    keys: &[
        required("on", Kind::Day, "2027-12-01", "The day, or the first."),
        required(
            "what",
            Kind::Choice(|| words(WORDS)),
            "\"housing order\"",
            "What happens. A housing order keeps the birds in; gates set by hand stay so until the day; after spray and bait no bird goes in for the days of the label, whatever a strategy says.",
        ),
        left_out(
            "until",
            Kind::Day,
            Taken::Words("a gate: that day; a housing order: from then on"),
            "2028-01-31",
            "The last day; not with spray and bait.",
        ),
        left_out(
            "plot",
            Kind::Named("plot"),
            Taken::Words("it must be there with all but a housing order and a heap that is shared out"),
            "\"orchard\"",
            "The plot it happens on.",
        ),
        left_out(
            "plots",
            Kind::Table(&SHARED_OUT),
            Taken::Words("the one plot"),
            "{ \"orchard\" = 0.2, \"vegetables\" = 0.8 }",
            "Instead of a plot: what share of the heap goes to which plot.",
        ),
        left_out(
            "keep_out",
            Kind::Quantity(&DAYS, &bounds::KEEP_OUT_D),
            Taken::Words("it must be there with spray and bait"),
            "\"21 days\"",
            "The days of the label in which no bird goes in.",
        ),
    ],
    rest: None,
    examples: &[
        "[[event]]\non = 2027-12-01\nuntil = 2028-01-31\nwhat = \"housing order\"",
        "[[event]]\non = \"11-10\"\nwhat = \"spread heap\"\nplots = { \"orchard\" = 0.2, \"vegetables\" = 0.8 }",
        "[[event]]\non = 2027-05-04\nwhat = \"sprayed\"\nplot = \"orchard\"\nkeep_out = \"21 days\"",
        "[[event]]\non = 2027-06-01\nuntil = 2027-06-14\nwhat = \"open gate\"\nplot = \"orchard\"",
    ],
};

const SHARED_OUT: TableFormat = TableFormat {
    heading: "[[event]] plots",
    written: "plots = { … }",
    what: "How a heap is shared out.",
    keys: &[],
    rest: Some(&RestFormat {
        name: "PLOT",
        what: "Share of the heap that goes to the plot; all add to 1.",
        known: None,
        kind: Kind::Number(&bounds::SHARE),
        example: "\"orchard\" = 0.2, \"vegetables\" = 0.8",
    }),
    examples: &[],
};

/// The events of a site.
pub(super) fn read(context: &mut Context<'_>, root: &Reader<'_>) -> Vec<SiteEvent> {
    let list = root.get("event").and_then(|item| item.list()).unwrap_or_default();
    list.iter().filter_map(|item| one(context, item)).collect()
}

fn one(context: &Context<'_>, item: &Item<'_>) -> Option<SiteEvent> {
    let reader = item.table("[[event]]")?;
    let on = reader.needed("on").and_then(|item| when(&item));
    let until = reader.get("until").and_then(|item| {
        let until = when(&item)?;
        in_order(&item, on?, until).then_some(until)
    });
    let what = reader.needed("what").and_then(|item| item.choice(WORDS));
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
    let plot = reader.needed("plot").and_then(|item| context.plot(&item));
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
    let days = reader.needed("keep_out").and_then(|item| item.quantity(&DAYS, &bounds::KEEP_OUT_D))?;
    Some(SiteEventKind::KeepOut { plot: plot?, treatment, days: days.ceil() as u32 })
}

/// The plots a heap goes to, with their shares: all on `plot`, or as `plots` has it.
fn heap(context: &Context<'_>, reader: &Reader<'_>) -> Option<Vec<(usize, f64)>> {
    let Some(item) = reader.get("plots") else {
        let plot = reader.needed("plot").and_then(|item| context.plot(&item))?;
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
