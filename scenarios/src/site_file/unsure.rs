//! `[unsure]`: the keeper's own ranges, and from them and the library every unknown.

use super::context::Context;
use crate::headings;
use crate::library::{AGAINST, Entry, EntryKind, Evidence, IN_ORDER, Number};
use crate::nearest::did_you_mean;
use crate::orders::{Drawn, broken};
use crate::quantity::kinds::{G_M2, Measured, PER_M2};
use crate::quantity::{Bound, convert, parse};
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, RestFormat, TableFormat};
use crate::unknowns::{Target, Unknown};

/// What a number may be is declared with it.
const ANY: Bound = Bound { low: f64::MIN, high: f64::MAX, wording: "Where it has no unit." };

pub(super) const UNSURE: TableFormat = TableFormat {
    heading: "[unsure]",
    written: "[unsure]",
    what: "Your own ranges; what is not named has that of the library or the site.",
    keys: &[],
    rest: Some(&RestFormat {
        name: "\"NUMBER\"",
        what: "Least and most, or least, likely and most, each within what that number may be: a share 0 to 1, a day 0 to 366 after the winter solstice, a rate not negative; and no draw may put numbers of an entry out of order, such as a wilting point above field capacity.",
        known: None,
        kind: Kind::List(&Kind::Either(&[Kind::Form("a number with its unit, in quotes"), Kind::Number(&ANY)])),
        example: "\"plot.orchard.cover.start\" = [0.8, 0.9, 0.95]",
    }),
    examples: &[],
};

/// Every number that may be unknown, exact ones too, the keeper's ranges taken in.
pub(super) fn read(context: &Context<'_>, root: &Reader<'_>) -> Vec<Unknown> {
    let mut candidates = params(context);
    candidates.extend(context.starts.iter().cloned());
    if let Some(table) = root.table("unsure") {
        for item in table.entries() {
            one(&mut candidates, &item);
        }
        in_order(context, &candidates, &table.entries());
    }
    candidates
}

/// The numbers of the entries in use, processes first.
fn params(context: &Context<'_>) -> Vec<Unknown> {
    let mut all = Vec::new();
    for (kind, index, entry) in &context.used {
        for (position, (number, field)) in entry.params.iter().zip(kind.fields()).enumerate() {
            let tie = tie(entry, number);
            all.push(Unknown {
                name: entry.number_name(position),
                unit: field.unit,
                domain: field.domain,
                low: number.low,
                value: number.value,
                high: number.high,
                tie: tie.0,
                against: tie.1,
                source: number.source.clone(),
                evidence: number.evidence,
                target: Target::Number(*kind, *index, position),
            });
        }
    }
    all.sort_by_key(|unknown| !matches!(unknown.target, Target::Number(EntryKind::Process, ..)));
    all
}

/// The tie of a number of an entry, and whether it is drawn against it. Where the number it is drawn against is exact, it is
/// drawn by itself.
fn tie(entry: &Entry, number: &Number) -> (Option<String>, bool) {
    let Some(tie) = &number.tie else { return (None, false) };
    let Some(of) = tie.strip_prefix(AGAINST) else { return (Some(tie.clone()), false) };
    let fields = entry.kind.fields().iter();
    let position = fields.zip(&entry.params).position(|(field, other)| field.name == of && other.low < other.high);
    (position.map(|position| entry.number_name(position)), position.is_some())
}

/// Numbers of an entry that the keeper's ranges let out of order; the entry's own were in order.
fn in_order(context: &Context<'_>, candidates: &[Unknown], stated: &[Item<'_>]) {
    for (kind, _, entry) in &context.used {
        for order in kind.orders() {
            let find = |field: &str| {
                let position = kind.fields().iter().position(|of| of.name == field)?;
                candidates.iter().find(|unknown| unknown.name == entry.number_name(position))
            };
            let (Some(below), Some(above)) = (find(order.below), find(order.above)) else { continue };
            let item = stated.iter().find(|item| [&below.name, &above.name].contains(&&item.key));
            if let (Some(item), Some(said)) = (item, broken(*order, &drawn(below), &drawn(above))) {
                item.fault(said, IN_ORDER);
            }
        }
    }
}

fn drawn(unknown: &Unknown) -> Drawn<'_> {
    let range = (unknown.low, unknown.value, unknown.high);
    let tie = unknown.tie.as_ref().unwrap_or(&unknown.name);
    Drawn { name: &unknown.name, range, tie, against: unknown.against }
}

fn one(candidates: &mut [Unknown], item: &Item<'_>) {
    let Some(position) = candidates.iter().position(|unknown| unknown.name == item.key) else {
        let names = candidates.iter().map(|unknown| unknown.name.as_str());
        let remedy = headings::remedy(&item.key).unwrap_or_else(|| did_you_mean(&item.key, names));
        item.page.error(item.key_span.clone(), format!("nothing here is called {:?}", item.key), remedy);
        return;
    };
    let unknown = &mut candidates[position];
    let Some(list) = item.list() else { return };
    let values: Vec<Option<f64>> = list.iter().map(|item| value(item, unknown)).collect();
    let Some(values) = values.into_iter().collect::<Option<Vec<f64>>>() else { return };
    let (low, middle, high) = match values.as_slice() {
        [low, high] => (*low, unknown.value, *high),
        [low, middle, high] => (*low, *middle, *high),
        _ => {
            item.fault(format!("{} values", values.len()), "Write the least, the likely and the most.");
            return;
        }
    };
    if low > middle || middle > high {
        let message = format!("{low}, {middle}, {high} are not in order");
        item.fault(message, "Write the least, the likely and the most.");
        return;
    }
    if middle != unknown.value {
        differs(item, unknown, middle);
    }
    (unknown.low, unknown.value, unknown.high) = (low, middle, high);
    unknown.source = "the keeper".to_owned();
    unknown.evidence = Evidence::FromMemory;
}

/// The likely value was stated elsewhere too: the keeper's range wins.
fn differs(item: &Item<'_>, unknown: &Unknown, middle: f64) {
    let message = format!("the likely value {middle} is not the {} stated elsewhere", unknown.value);
    item.unusual(message, "The one here is taken; write the same in both places if that is not meant.");
}

/// A value: with its unit in quotes; bare where the number has no unit.
fn value(item: &Item<'_>, unknown: &Unknown) -> Option<f64> {
    if let Some(value) = item.bare().filter(|_| matches!(unknown.unit, "-" | "1" | "share")) {
        return item.of_domain(value, unknown.domain, unknown.unit);
    }
    let text = item.text()?;
    let site = site_unit(unknown.unit).filter(|_| !matches!(unknown.target, Target::Number(..)));
    if let Some(what) = site {
        return match parse(text, what) {
            Ok(value) => item.of_domain(value, unknown.domain, unknown.unit),
            Err(error) => {
                item.fault(error.message, error.remedy);
                None
            }
        };
    }
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let stated = number.parse::<f64>().ok();
    match stated.and_then(|value| in_unit(value, unit.trim(), unknown.unit)) {
        Some(value) => item.of_domain(value, unknown.domain, unknown.unit),
        None => {
            item.fault(
                format!("{text:?} is not in {}", unknown.unit),
                format!("Write it as \"{} {}\".", unknown.value, unknown.unit),
            );
            None
        }
    }
}

/// A value in the unit of the number; other units of the same kind are converted.
fn in_unit(value: f64, stated: &str, wanted: &str) -> Option<f64> {
    if stated == wanted { Some(value) } else { convert(value, stated, wanted) }
}

fn site_unit(unit: &str) -> Option<&'static Measured> {
    match unit {
        "per m2" => Some(&PER_M2),
        "g/m2" => Some(&G_M2),
        _ => None,
    }
}
