//! Waiting rules of countries: days between birds and a harvest, each with its source.

use super::WaitingRule;
use crate::quantity::Bound;
use crate::reader::{Item, Reader};

/// Days of a rule.
const DAYS: Bound = Bound { low: 0.0, high: 730.0, wording: "A waiting period is 0 to 730 days." };

/// All waiting rules of a library file.
pub(super) fn read(root: &Reader<'_>) -> Vec<WaitingRule> {
    let table = root.table("waiting_rule");
    table.map(|table| table.entries().iter().filter_map(one).collect()).unwrap_or_default()
}

fn one(item: &Item<'_>) -> Option<WaitingRule> {
    let reader = item.table(format!("waiting_rule {:?}", item.key))?;
    let text = |key| reader.need(key, "\"…\"").and_then(|item| item.text()).map(str::to_owned);
    let days = |key| reader.get(key).and_then(|item| item.whole(&DAYS));
    let (rule, clause, binds) = (text("rule"), text("clause"), text("binds"));
    let (source, status) = (text("source"), text("status"));
    let also = reader.get("also").and_then(|item| item.list()).unwrap_or_default();
    let days = days("touching").zip(days("other"));
    reader.finish();
    Some(WaitingRule {
        country: item.key.clone(),
        also: also.iter().filter_map(|item| item.text()).map(str::to_owned).collect(),
        rule: rule?,
        clause: clause?,
        days,
        binds: binds?,
        source: source?,
        status: status?,
    })
}
