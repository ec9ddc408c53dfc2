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
    let damage = reader.need("unprotected_damage", "[5, 60]").and_then(|item| range(&item));
    let damage_source = reader.need("damage_source", "\"…\"").and_then(|item| item.text()).map(str::to_owned);
    let climates: Option<Vec<String>> = climates?.iter().map(|item| item.text().map(str::to_owned)).collect();
    reader.finish();
    Some(PestClimates {
        pest: item.key.clone(),
        climates: climates?,
        source: source?,
        damage_percent: damage?,
        damage_source: damage_source?,
    })
}

/// Two numbers, the lower first.
fn range(item: &Item<'_>) -> Option<[f64; 2]> {
    let numbers: Vec<f64> = item.list()?.iter().filter_map(Item::bare).collect();
    match numbers.as_slice() {
        &[low, high] if low <= high && (0.0..=100.0).contains(&low) && high <= 100.0 => Some([low, high]),
        _ => {
            item.fault(
                format!("{} is not two shares in per cent", item.key),
                "Write the lower first, for example [5, 60].",
            );
            None
        }
    }
}
