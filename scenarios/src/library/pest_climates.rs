//! Climates in which pests are known to live, each with its source. What is missing here is not known, not impossible.

use super::PestClimates;
use crate::reader::{Item, Reader};

/// All of a library file.
pub(super) fn read(root: &Reader<'_>) -> Vec<PestClimates> {
    let table = root.table("pest_climates");
    table.map(|table| table.entries().iter().filter_map(one).collect()).unwrap_or_default()
}

fn one(item: &Item<'_>) -> Option<PestClimates> {
    let reader = item.table(format!("pest_climates {:?}", item.key))?;
    let climates = reader.need("climates", "[\"continental\"]").and_then(|item| item.list());
    let source = reader.need("source", "\"…\"").and_then(|item| item.text()).map(str::to_owned);
    reader.finish();
    let climates: Option<Vec<String>> = climates?.iter().map(|item| item.text().map(str::to_owned)).collect();
    Some(PestClimates { pest: item.key.clone(), climates: climates?, source: source? })
}
