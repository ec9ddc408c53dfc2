//! Plants that can harm birds, with the class of the source beside each. What is
//! missing here is unknown, not harmless.

use super::{Hazard, ModeratingView};
use crate::reader::{Item, Reader};

/// All hazards of a library file.
pub(super) fn read(root: &Reader<'_>) -> Vec<Hazard> {
    let table = root.table("hazard");
    table.map(|table| table.entries().iter().filter_map(one).collect()).unwrap_or_default()
}

/// What speaks for calm, if the file has it.
pub(super) fn moderating_view(root: &Reader<'_>) -> Option<ModeratingView> {
    let reader = root.table("moderating_view")?;
    let text = |key| reader.need(key, "\"…\"").and_then(|item| item.text()).map(str::to_owned);
    let (class, source, note) = (text("class"), text("source"), text("note"));
    reader.finish();
    Some(ModeratingView { class: class?, source: source?, note: note? })
}

fn one(item: &Item<'_>) -> Option<Hazard> {
    let reader = item.table(format!("hazard {:?}", item.key))?;
    let text = |key| reader.need(key, "\"…\"").and_then(|item| item.text()).map(str::to_owned);
    let (part, class, source) = (text("part"), text("class"), text("source"));
    let note = reader.get("note").and_then(|item| item.text()).unwrap_or_default().to_owned();
    reader.finish();
    Some(Hazard { plant: item.key.clone(), part: part?, class: class?, source: source?, note })
}
