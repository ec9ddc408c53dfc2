//! Trees, bushes and vines of a plot, and the harvest of their fruit.
//!
//! `canopy = "plum trees"` is one over the whole plot, its harvest in the plot's `fruit_harvest`; of a list of several
//! each has its share of the ground and its own `harvest`.

use super::beds::SHARE_ROOM;
use super::bounds;
use super::context::Context;
use super::dates::{in_order, window};
use super::waits;
use crate::library::EntryKind;
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, TableFormat, Taken, left_out, required, words};
use sim_engine::site::{HarvestWindow, PlotCanopy};

/// What becomes of fruit that fell, and whether people eat it.
pub(super) const WINDFALLS: &[(&str, bool)] =
    &[("eaten", true), ("cooked", true), ("to the birds", false), ("left", false)];

pub(super) const WHAT_WINDFALLS: &str = "What becomes of fruit that fell in the picking window: \"eaten\" and \"cooked\" are a harvest of their own that touches the soil, always to be cooked; of the others nothing is for people.";

/// The keys of a plot that are about the fruit of the one canopy over it, and what they are called with a canopy of a list.
const OF_ONE_CANOPY: [(&str, &str); 5] = [
    ("fruit_harvest", "harvest"),
    ("fruit_touches_soil", "touches_soil"),
    ("fruit_wait", "wait"),
    ("windfalls", "windfalls"),
    ("windfall_wait", "windfall_wait"),
];

pub(super) const CANOPY: TableFormat = TableFormat {
    heading: "[plot.NAME] canopy",
    written: "canopy = [{ … }]",
    what: "One of several canopies, instead of one over the whole plot; shade is spread evenly over the plot.",
    keys: &[
        required("plant", Kind::Entry(EntryKind::Canopy), "\"apple trees\"", "The trees, bushes or canes."),
        required(
            "share",
            Kind::Number(&bounds::CANOPY_SHARE),
            "0.4",
            "Share of the plot's ground under them; all add to 1 at most.",
        ),
        left_out(
            "harvest",
            Kind::Either(&[Kind::Window, Kind::List(&Kind::Window)]),
            Taken::Words("none"),
            "[\"09-01\", \"10-15\"]",
            "When their fruit is picked: one window, or a list of them.",
        ),
        left_out("touches_soil", Kind::Flag, Taken::Words("false"), "false", "Whether their fruit touches the soil."),
        left_out(
            "wait",
            Kind::Table(&waits::OF_CANOPY),
            Taken::Words("the rule's days"),
            "{ days = 60, reason = \"all of it is cooked\" }",
            "Days of your own before their fruit is picked from the plant; fewer than the rule only with a reason.",
        ),
        left_out(
            "windfalls",
            Kind::Choice(|| words(WINDFALLS)),
            Taken::Words("\"left\", and `check` asks"),
            "\"cooked\"",
            WHAT_WINDFALLS,
        ),
        left_out(
            "windfall_wait",
            Kind::Table(&waits::OF_CANOPY_WINDFALLS),
            Taken::Words("the rule's days"),
            "{ days = 90, reason = \"all of it is cooked\" }",
            waits::WHAT_OF_WINDFALLS,
        ),
    ],
    rest: None,
    examples: &[],
};

/// The canopies of a plot.
pub(super) fn read(context: &mut Context<'_>, reader: &Reader<'_>) -> Vec<PlotCanopy> {
    match reader.get("canopy") {
        Some(item) if item.value().as_array().is_some() => several(context, reader, &item),
        Some(item) => {
            let harvest = picking(context, reader, OF_ONE_CANOPY.map(|(of_plot, _)| of_plot));
            let canopy = context.named(EntryKind::Canopy, &item);
            canopy.map(|canopy| PlotCanopy { canopy, share: 1.0, harvest }).into_iter().collect()
        }
        None => {
            reader.get("fruit_touches_soil").and_then(|item| item.flag());
            for key in ["fruit_harvest", "fruit_wait", "windfalls", "windfall_wait"] {
                if let Some(item) = reader.get(key) {
                    let remedy = "Say what bears the fruit, for example: canopy = \"plum trees\"";
                    item.fault(format!("{key} without a canopy"), remedy);
                }
            }
            Vec::new()
        }
    }
}

fn several(context: &mut Context<'_>, reader: &Reader<'_>, list: &Item<'_>) -> Vec<PlotCanopy> {
    for (key, instead) in OF_ONE_CANOPY {
        if let Some(item) = reader.get(key) {
            let remedy =
                format!("Write it with the canopy that bears the fruit: {{ plant = …, share = …, {instead} = … }}");
            item.fault(format!("{key} beside a list of canopies: whose fruit is meant?"), remedy);
        }
    }
    let items = list.list().unwrap_or_default();
    let canopies: Vec<PlotCanopy> = items.iter().filter_map(|item| one(context, item)).collect();
    let covered: f64 = canopies.iter().map(|canopy| canopy.share).sum();
    if covered > 1.0 + SHARE_ROOM {
        let message = format!("the shares of the canopies add to {}", (covered * 1e6).round() / 1e6);
        list.fault(message, "They are shares of the plot's ground and add to 1 at most.");
    }
    canopies
}

fn one(context: &mut Context<'_>, item: &Item<'_>) -> Option<PlotCanopy> {
    let table = item.table("a canopy")?;
    let plant = table.needed("plant").and_then(|item| context.named(EntryKind::Canopy, &item));
    let share = table.needed("share").and_then(|item| item.number(&bounds::CANOPY_SHARE));
    let harvest = picking(context, &table, OF_ONE_CANOPY.map(|(_, of_canopy)| of_canopy));
    table.finish();
    Some(PlotCanopy { canopy: plant?, share: share?, harvest })
}

/// Harvests of fruit, by the keys of [`OF_ONE_CANOPY`]: picked from the plant, and of what fell where people eat it.
fn picking(
    context: &mut Context<'_>,
    reader: &Reader<'_>,
    [harvest, touches, wait, windfalls, fallen_wait]: [&'static str; 5],
) -> Vec<HarvestWindow> {
    let touches_soil = reader.get(touches).and_then(|item| item.flag()).unwrap_or(false);
    let own_wait = reader.get(wait);
    let fallen = reader.get(windfalls);
    let eaten = fallen.as_ref().and_then(|item| item.choice(WINDFALLS)) == Some(true);
    let fallen_wait = reader.get(fallen_wait);
    fallen_wait.iter().filter(|_| !eaten).for_each(waits::without_windfalls);
    let Some(item) = reader.get(harvest) else {
        own_wait.iter().for_each(|item| waits::without_harvest(item, harvest));
        fallen.iter().filter(|_| eaten).for_each(|item| waits::without_harvest(item, harvest));
        return Vec::new();
    };
    let own_wait = own_wait.and_then(|item| waits::own(context, &item, touches_soil));
    let from_plant = windows(item, touches_soil).into_iter().map(|window| HarvestWindow { own_wait, ..window });
    let mut all: Vec<HarvestWindow> = from_plant.collect();
    if eaten {
        let own_wait = fallen_wait.and_then(|item| waits::own(context, &item, true));
        let of_ground = |window: &HarvestWindow| HarvestWindow {
            windfall: true,
            own_wait,
            ..HarvestWindow::picked(window.from, window.to, true)
        };
        let from_ground: Vec<HarvestWindow> = all.iter().map(of_ground).collect();
        all.extend(from_ground);
    }
    all
}

/// One window, or a list of them.
fn windows(item: Item<'_>, touches_soil: bool) -> Vec<HarvestWindow> {
    let several = item.value().as_array().and_then(|list| list.first()).is_some_and(|first| first.get_ref().is_array());
    let windows = if several { item.list().unwrap_or_default() } else { vec![item] };
    let read = |item: &Item<'_>| {
        let (from, to) = window(item)?;
        in_order(item, from, to).then_some(HarvestWindow::picked(from, to, touches_soil))
    };
    windows.iter().filter_map(read).collect()
}
