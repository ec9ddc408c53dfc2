//! A library: entries, climates and harmful plants by their names.

use super::entries::{Entry, EntryKind, Hazard, ModeratingView, NamedClimate, PestClimates, SlugClimates, WaitingRule};
use std::collections::BTreeMap;

/// A set of entries and climates.
#[derive(Clone, Debug, Default)]
pub struct Library {
    entries: BTreeMap<(EntryKind, String), Entry>,
    pub(super) climates: BTreeMap<String, NamedClimate>,
    pub(super) hazards: Vec<Hazard>,
    pub(super) pest_climates: Vec<PestClimates>,
    pub(super) slug_climates: Vec<SlugClimates>,
    pub(super) moderating_view: Option<ModeratingView>,
    pub(super) waiting_rules: Vec<WaitingRule>,
}

impl Library {
    /// The entry of this name.
    #[must_use]
    pub fn get(&self, kind: EntryKind, name: &str) -> Option<&Entry> {
        self.entries.get(&(kind, name.to_owned()))
    }

    /// Names of the entries of a kind.
    pub fn names(&self, kind: EntryKind) -> impl Iterator<Item = &str> {
        self.entries.keys().filter(move |(of, _)| *of == kind).map(|(_, name)| name.as_str())
    }

    /// All entries, by kind and name.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.entries.values()
    }

    /// The climate of this name.
    #[must_use]
    pub fn climate(&self, name: &str) -> Option<&NamedClimate> {
        self.climates.get(name)
    }

    /// All climates, by name.
    pub fn climates(&self) -> impl Iterator<Item = (&str, &NamedClimate)> {
        self.climates.iter().map(|(name, climate)| (name.as_str(), climate))
    }

    /// Plants that can harm birds; a plant missing here is unknown, not harmless.
    #[must_use]
    pub fn hazards(&self) -> &[Hazard] {
        &self.hazards
    }

    /// Where pests are known to live; a pest that is missing is not judged.
    #[must_use]
    pub fn pest_climates(&self) -> &[PestClimates] {
        &self.pest_climates
    }

    /// Where slugs and snails are known to live; one that is missing is not judged.
    #[must_use]
    pub fn slug_climates(&self) -> &[SlugClimates] {
        &self.slug_climates
    }

    /// What a source says against too much alarm about them.
    #[must_use]
    pub fn moderating_view(&self) -> Option<&ModeratingView> {
        self.moderating_view.as_ref()
    }

    /// Waiting rules of countries; one that is missing is not known.
    #[must_use]
    pub fn waiting_rules(&self) -> &[WaitingRule] {
        &self.waiting_rules
    }

    /// Adds an entry; one of the same kind and name is replaced.
    pub(crate) fn put(&mut self, entry: Entry) {
        self.entries.insert((entry.kind, entry.name.clone()), entry);
    }
}
