//! Climates in which pests and slugs are known to live, each with its source. What is missing here is not known, not impossible.

use super::{PestClimates, SlugClimates};
use crate::reader::{Item, Reader};

/// Those of pests of a library file.
pub(super) fn of_pests(root: &Reader<'_>) -> Vec<PestClimates> {
    let table = root.table("pest_climates");
    table.map(|table| table.entries().iter().filter_map(of_pest).collect()).unwrap_or_default()
}

/// Those of slugs and snails of a library file.
pub(super) fn of_slugs(root: &Reader<'_>) -> Vec<SlugClimates> {
    let table = root.table("slug_climates");
    table.map(|table| table.entries().iter().filter_map(of_slug).collect()).unwrap_or_default()
}

fn of_pest(item: &Item<'_>) -> Option<PestClimates> {
    let reader = item.table(format!("pest_climates {:?}", item.key))?;
    let (climates, source) = home(&reader);
    let damage = reader.need("unprotected_damage", "[5, 60]").and_then(|item| range(&item, 100.0));
    let damage_source = text(&reader, "damage_source");
    reader.finish();
    Some(PestClimates {
        pest: item.key.clone(),
        climates: climates?,
        source: source?,
        damage_percent: damage?,
        damage_source: damage_source?,
    })
}

fn of_slug(item: &Item<'_>) -> Option<SlugClimates> {
    let reader = item.table(format!("slug_climates {:?}", item.key))?;
    let (climates, source) = home(&reader);
    let number = reader.need("untouched", "[5, 100]").and_then(|item| range(&item, 1000.0));
    let number_source = text(&reader, "untouched_source");
    reader.finish();
    Some(SlugClimates {
        slug: item.key.clone(),
        climates: climates?,
        source: source?,
        untouched_m2: number?,
        untouched_source: number_source?,
    })
}

/// Climates and the source of them.
fn home(reader: &Reader<'_>) -> (Option<Vec<String>>, Option<String>) {
    let climates = reader.need("climates", "[\"continental\"]").and_then(|item| item.list());
    let names = climates.map(|list| list.iter().map(|item| item.text().map(str::to_owned)).collect::<Option<Vec<_>>>());
    (names.flatten(), text(reader, "source"))
}

fn text(reader: &Reader<'_>, key: &'static str) -> Option<String> {
    reader.need(key, "\"…\"").and_then(|item| item.text()).map(str::to_owned)
}

/// Two numbers from 0 to `most`, the lower first.
fn range(item: &Item<'_>, most: f64) -> Option<[f64; 2]> {
    let numbers: Vec<f64> = item.list()?.iter().filter_map(Item::bare).collect();
    match numbers.as_slice() {
        &[low, high] if 0.0 <= low && low <= high && high <= most => Some([low, high]),
        _ => {
            item.fault(
                format!("{} is not two numbers from 0 to {most}", item.key),
                "Write the lower first, for example [5, 60].",
            );
            None
        }
    }
}
