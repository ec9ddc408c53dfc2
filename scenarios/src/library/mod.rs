//! The library: soils, plants, pests, canopies, bird classes, process numbers and
//! climates, each number with its range, unit, source and kind of evidence.
//!
//! The entries that ship are data in `scenarios/library/*.toml`, built into the
//! program; a site file may define entries of its own in the same form.

mod called;
mod climate;
mod climate_text;
mod collection;
mod entries;
mod entry;
mod entry_text;
mod hazards;
mod listed;
mod params;
mod pest_climates;
mod shipped;
mod waiting_rules;

/// What to do where numbers of an entry can come out of order.
pub(crate) const IN_ORDER: &str = "Part their ranges, or give both one tie, so that they are high together.";

pub use called::{Called, Meaning, called, is_called, plain_name};
pub use climate_text::climate_text;
pub use collection::Library;
pub use entries::{
    AGAINST, Entry, EntryFacts, EntryKind, Evidence, HARMS, Hazard, ModeratingView, NamedClimate, Number, PestClimates,
    SlugClimates, WaitingRule,
};
pub use entry::read_entries;
pub use entry_text::entry_text;
pub use listed::{Listed, listed};
