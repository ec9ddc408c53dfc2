//! Beds of a plot and the crops in them.

use super::bounds;
use super::context::Context;
use super::dates::{shown, window};
use super::waits;
use crate::library::EntryKind;
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, TableFormat, Taken, left_out, required, words};
use jiff::civil::Date;
use sim_engine::dates::spans;
use sim_engine::site::{CropPlan, Ground, HarvestWindow, When};

/// The bed of crops that name none.
const ONLY_BED: &str = "";
/// Shares of beds or canopies that add up to within this of 1 are taken as 1.
pub(super) const SHARE_ROOM: f64 = 1e-9;

/// When a crop ends, and whether that is when it is ripe.
const ENDS: &[(&str, bool)] = &[("when ripe", true), ("on the date", false)];

pub(super) const BED: TableFormat = TableFormat {
    heading: "[plot.NAME.bed.NAME]",
    written: "[plot.orchard.bed.north]",
    what: "A bed with a name, for crops to stand in.",
    keys: &[left_out(
        "share",
        Kind::Number(&bounds::SHARE),
        Taken::Words("beds share alike"),
        "1",
        "Its share of the bedded part; all add to 1.",
    )],
    rest: None,
    examples: &[],
};

pub(super) const CROP: TableFormat = TableFormat {
    heading: "[[plot.NAME.crop]]",
    written: "[[plot.orchard.crop]]",
    what: "A crop in a bed; while it stands, and for the waiting period before its harvest, the gate stays shut.",
    keys: &[
        required("crop", Kind::Entry(EntryKind::Crop), "\"leek\"", "The crop."),
        required(
            "in_ground",
            Kind::Window,
            "[\"03-05\", \"07-12\"]",
            "From planting to clearing; it may run over the new year.",
        ),
        left_out("bed", Kind::Named("bed"), Taken::Words("the one bed"), "\"north\"", "The bed it stands in."),
        left_out(
            "harvest",
            Kind::Window,
            Taken::Words("none"),
            "[\"06-15\", \"07-10\"]",
            "First and last day of picking, while it is in the ground.",
        ),
        left_out(
            "touches_soil",
            Kind::Flag,
            Taken::Words("the library's"),
            "true",
            "Whether what is eaten touches the soil: it decides which waiting period holds.",
        ),
        left_out(
            "wait",
            Kind::Table(&waits::OF_CROP),
            Taken::Words("the rule's days"),
            "{ days = 60, reason = \"all of it is cooked\" }",
            "Days of your own before its harvest; fewer than the rule only with a reason.",
        ),
        left_out(
            "ends",
            Kind::Choice(|| words(ENDS)),
            Taken::Words("\"on the date\""),
            "\"when ripe\"",
            "Whether it leaves the ground on its last date, or before it when it is ripe.",
        ),
        left_out(
            "cleared",
            Kind::Flag,
            Taken::Words("false"),
            "false",
            "Whether what the crop leaves is carried away at its end, instead of standing as residue.",
        ),
    ],
    rest: None,
    examples: &[],
};

/// A bed while it is read.
struct BedDraft {
    name: String,
    share: Option<f64>,
    crops: Vec<(CropPlan, std::ops::Range<usize>, String)>,
}

/// The grounds of a plot: sward, then beds; `unsaid` is the share of beds where the plot states none.
pub(super) fn read(context: &mut Context<'_>, reader: &Reader<'_>, plot: &str, unsaid: f64) -> Vec<Ground> {
    let beds_item = reader.get("beds");
    let beds = beds_item.as_ref().and_then(|item| item.number(&bounds::SHARE)).unwrap_or(unsaid);
    let mut named = named_beds(reader);
    let crops = reader.get("crop").and_then(|item| item.list()).unwrap_or_default();
    for (position, item) in crops.iter().enumerate() {
        if let Some((bed, plan, name)) = crop(context, item, plot, position) {
            put(&mut named, bed, plan, item.span(), name);
        }
    }
    if beds == 0.0 && !crops.is_empty() && beds_item.is_none() {
        reader
            .fault(format!("plot {plot:?} has crops and no beds"), "Say which share is beds, for example: beds = 0.6");
    }
    for bed in &named {
        overlaps(context, reader, bed);
    }
    grounds(reader, beds, named)
}

fn named_beds(reader: &Reader<'_>) -> Vec<BedDraft> {
    let mut beds = Vec::new();
    let Some(table) = reader.table("bed") else { return beds };
    for item in table.entries() {
        item.key_is_name("bed");
        let Some(bed) = item.table(format!("bed {:?}", item.key)) else { continue };
        let share = bed.get("share").and_then(|item| item.number(&bounds::SHARE));
        bed.finish();
        beds.push(BedDraft { name: item.key.clone(), share, crops: Vec::new() });
    }
    beds
}

fn put(beds: &mut Vec<BedDraft>, bed: String, plan: CropPlan, span: std::ops::Range<usize>, name: String) {
    match beds.iter_mut().find(|known| known.name == bed) {
        Some(known) => known.crops.push((plan, span, name)),
        None => beds.push(BedDraft { name: bed, share: None, crops: vec![(plan, span, name)] }),
    }
}

fn crop(context: &mut Context<'_>, item: &Item<'_>, plot: &str, position: usize) -> Option<(String, CropPlan, String)> {
    let reader = item.table(format!("[[plot.{plot}.crop]]"))?;
    let named = reader.needed("crop");
    let index = named.as_ref().and_then(|item| context.named(EntryKind::Crop, item));
    let name = index.and_then(|crop| context.tables.crops.get(crop)).map(|crop| crop.name.clone()).unwrap_or_default();
    let bed = reader.get("bed").and_then(|item| item.name("bed")).unwrap_or(ONLY_BED).to_owned();
    let ground = reader.needed("in_ground").and_then(|item| window(&item));
    if let Some((from, _)) = ground {
        let key = format!("{plot}.{name}.{}", shown(from));
        context.crop_paths.push((key, format!("plot.{plot}.crop.{position}")));
    }
    let touches = reader.get("touches_soil").and_then(|item| item.flag());
    let touches_soil = touches.or_else(|| Some(context.tables.crops.get(index?)?.touches_soil)).unwrap_or(true);
    let harvest = reader.get("harvest").and_then(|item| {
        let (from, to) = window(&item)?;
        within_ground(&item, ground?, (from, to)).then_some(HarvestWindow::picked(from, to, touches_soil))
    });
    let harvest = with_own_wait(context, &reader, harvest, touches_soil);
    let ends_when_ripe = reader.get("ends").and_then(|item| item.choice(ENDS));
    let cleared = reader.get("cleared").and_then(|item| item.flag()).unwrap_or(false);
    reader.finish();
    let (crop, (from, to)) = (index?, ground?);
    Some((bed, CropPlan { crop, from, to, ends_when_ripe: ends_when_ripe.unwrap_or(false), harvest, cleared }, name))
}

/// The harvest with the keeper's own wait before it, if the crop has one.
fn with_own_wait(
    context: &mut Context<'_>,
    reader: &Reader<'_>,
    harvest: Option<HarvestWindow>,
    touches_soil: bool,
) -> Option<HarvestWindow> {
    let wait = reader.get("wait");
    if let (Some(wait), None) = (&wait, reader.get("harvest")) {
        waits::without_harvest(wait, "harvest");
    }
    let own_wait = wait.and_then(|wait| waits::own(context, &wait, touches_soil));
    harvest.map(|harvest| HarvestWindow { own_wait, ..harvest })
}

/// Whether the harvest lies within the time in the ground (both in the form of one of its years).
fn within_ground(item: &Item<'_>, ground: (When, When), harvest: (When, When)) -> bool {
    if !same_form(ground.0, harvest.0) {
        item.fault("harvest and in_ground: one has years and the other has none", "Give both years, or neither.");
        return false;
    }
    let year = match ground.0 {
        When::On(date) => date.year(),
        When::Yearly { .. } => 2027,
    };
    let around = (Date::constant(year - 1, 1, 1), Date::constant(year + 1, 12, 31));
    let inside = spans(ground, around.0, around.1)
        .iter()
        .any(|(first, last)| spans(harvest, around.0, around.1).iter().any(|(from, to)| from >= first && to <= last));
    if !inside {
        let message = format!(
            "harvest {} to {} is not within in_ground {} to {}",
            shown(harvest.0),
            shown(harvest.1),
            shown(ground.0),
            shown(ground.1)
        );
        item.fault(message, "Harvest while the crop is in the ground.");
    }
    inside
}

fn same_form(one: When, other: When) -> bool {
    matches!((one, other), (When::On(_), When::On(_)) | (When::Yearly { .. }, When::Yearly { .. }))
}

/// Notes crops of a bed that are in the ground at the same time.
fn overlaps(context: &Context<'_>, reader: &Reader<'_>, bed: &BedDraft) {
    let (from, to) = context.run;
    for (position, (plan, span, name)) in bed.crops.iter().enumerate() {
        let times = spans((plan.from, plan.to), from, to);
        for (other, _, earlier) in &bed.crops[..position] {
            let others = spans((other.from, other.to), from, to);
            if times.iter().any(|time| others.iter().any(|other| time.0 < other.1 && other.0 < time.1)) {
                let message = format!("{name} is in the ground while {earlier} still is, in the same bed");
                let remedy = "Change the dates, or give each a bed of its own, for example: bed = \"north\"";
                reader.page.error(span.clone(), message, remedy);
                break;
            }
        }
    }
}

fn grounds(reader: &Reader<'_>, beds: f64, named: Vec<BedDraft>) -> Vec<Ground> {
    let mut grounds = Vec::new();
    if beds < 1.0 {
        grounds.push(Ground { share: 1.0 - beds, bed: false, crops: Vec::new() });
    }
    let stated: f64 = named.iter().filter_map(|bed| bed.share).sum();
    let open = named.iter().filter(|bed| bed.share.is_none()).count();
    if stated > 1.0 + SHARE_ROOM || (open == 0 && !named.is_empty() && stated < 1.0 - SHARE_ROOM) {
        reader.fault(
            format!("the shares of the beds add to {stated}"),
            "They are shares of the bedded part and add to 1.",
        );
    }
    let each = (1.0 - stated).max(0.0) / open.max(1) as f64;
    for bed in named.into_iter().filter(|_| beds > 0.0) {
        let crops = bed.crops.into_iter().map(|(plan, ..)| plan).collect();
        grounds.push(Ground { share: beds * bed.share.unwrap_or(each), bed: true, crops });
    }
    if beds > 0.0 && grounds.iter().all(|ground| !ground.bed) {
        grounds.push(Ground { share: beds, bed: true, crops: Vec::new() });
    }
    grounds
}
