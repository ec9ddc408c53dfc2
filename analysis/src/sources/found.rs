//! What was found in the library, and the kinds of thing there are.

use scenarios::Library;
use scenarios::library::{EntryKind, Evidence, Hazard, Listed, WaitingRule, listed};

/// What was found.
#[derive(Clone, Debug, Default)]
pub struct FoundEntry<'l> {
    /// Numbers, those of an entry together.
    pub params: Vec<Listed<'l>>,
    /// Plants that can harm birds.
    pub hazards: Vec<&'l Hazard>,
    /// Waiting rules of countries.
    pub waiting_rules: Vec<&'l WaitingRule>,
}

impl<'l> FoundEntry<'l> {
    /// The whole library.
    #[must_use]
    pub fn all(library: &'l Library) -> Self {
        Self {
            params: listed(library),
            hazards: library.hazards().iter().collect(),
            waiting_rules: library.waiting_rules().iter().collect(),
        }
    }

    /// Nothing at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.params.is_empty() && self.hazards.is_empty() && self.waiting_rules.is_empty()
    }

    /// Only what is known in this way; harmful plants and waiting rules have words of their own and go.
    #[must_use]
    pub fn known_by(mut self, evidence: Evidence) -> Self {
        self.params.retain(|number| number.evidence == evidence);
        self.hazards.clear();
        self.waiting_rules.clear();
        self
    }

    /// Entries the numbers belong to: kind of thing and name, each once.
    #[must_use]
    pub fn entries(&self) -> Vec<(&'static str, &'l str)> {
        let mut entries: Vec<_> = self.params.iter().map(|number| (number.kind, number.entry)).collect();
        entries.dedup();
        entries
    }
}

/// The kinds of thing in a keeper's words, one and many, with the key that names begin with.
pub(crate) const THINGS: &[(&str, &str, &str)] = &[
    ("soil", "soil", "soils"),
    ("cover", "ground cover", "ground covers"),
    ("weed", "annual weed", "annual weeds"),
    ("creeper", "creeping weed", "creeping weeds"),
    ("crop", "crop", "crops"),
    ("canopy", "tree, bush or cane", "trees, bushes and canes"),
    ("pest", "pest", "pests"),
    ("slug", "slug or snail", "slugs and snails"),
    ("bird", "class of bird", "classes of bird"),
    ("process", "process", "processes"),
    ("climate", "climate", "climates"),
];

/// What an entry is, in a sentence.
pub(crate) fn about<'l>(library: &'l Library, kind: &str, name: &str) -> &'l str {
    if kind == "climate" {
        return library.climate(name).map_or("", |climate| &climate.about);
    }
    let kind = EntryKind::ALL.iter().find(|of| of.key() == kind);
    kind.and_then(|kind| library.get(*kind, name)).map_or("", |entry| &entry.about)
}
