//! Trees, bushes and vines of a plot, and the harvest of their fruit.
//!
//! `canopy = "plum trees"` is one over the whole plot, its harvest in the plot's `fruit_harvest`; of a list of several
//! each has its share of the ground and its own `harvest`.

use super::beds::SHARE_ROOM;
use super::bounds;
use super::context::Context;
use super::dates::{in_order, window};
use crate::library::EntryKind;
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, TableFormat, Taken, left_out, required};
use sim_engine::site::{HarvestWindow, PlotCanopy};

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
    ],
    rest: None,
    examples: &[],
};

/// The canopies of a plot.
pub(super) fn read(context: &mut Context<'_>, reader: &Reader<'_>) -> Vec<PlotCanopy> {
    match reader.get("canopy") {
        Some(item) if item.value().as_array().is_some() => several(context, reader, &item),
        Some(item) => {
            let harvest = whole_plot_harvest(reader);
            let canopy = context.named(EntryKind::Canopy, &item);
            canopy.map(|canopy| PlotCanopy { canopy, share: 1.0, harvest }).into_iter().collect()
        }
        None => {
            reader.get("fruit_touches_soil").and_then(|item| item.flag());
            if let Some(item) = reader.get("fruit_harvest") {
                let remedy = "Say what bears the fruit, for example: canopy = \"plum trees\"";
                item.fault("fruit_harvest without a canopy", remedy);
            }
            Vec::new()
        }
    }
}

fn several(context: &mut Context<'_>, reader: &Reader<'_>, list: &Item<'_>) -> Vec<PlotCanopy> {
    for (key, instead) in [("fruit_harvest", "harvest"), ("fruit_touches_soil", "touches_soil")] {
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
    let touches_soil = table.get("touches_soil").and_then(|item| item.flag()).unwrap_or(false);
    let harvest = table.get("harvest").map(|item| windows(item, touches_soil)).unwrap_or_default();
    table.finish();
    Some(PlotCanopy { canopy: plant?, share: share?, harvest })
}

fn whole_plot_harvest(reader: &Reader<'_>) -> Vec<HarvestWindow> {
    let touches_soil = reader.get("fruit_touches_soil").and_then(|item| item.flag()).unwrap_or(false);
    reader.get("fruit_harvest").map(|item| windows(item, touches_soil)).unwrap_or_default()
}

/// One window, or a list of them.
fn windows(item: Item<'_>, touches_soil: bool) -> Vec<HarvestWindow> {
    let several = item.value().as_array().and_then(|list| list.first()).is_some_and(|first| first.get_ref().is_array());
    let windows = if several { item.list().unwrap_or_default() } else { vec![item] };
    let read = |item: &Item<'_>| {
        let (from, to) = window(item)?;
        in_order(item, from, to).then_some(HarvestWindow { from, to, touches_soil })
    };
    windows.iter().filter_map(read).collect()
}
