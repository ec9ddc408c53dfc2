//! The files that ship, built into the program, and how a set of them is read.

use super::{Library, hazards, pest_climates, read_entries, waiting_rules};
use crate::diagnose::{Fault, FaultPage, Faults, SourceText};
use crate::reader::Reader;
use std::cell::RefCell;
use toml::de::DeTable;

/// Every file of `scenarios/library/`.
const FILES: &[(&str, &str)] = &[
    ("library/process.toml", include_str!("../../library/process.toml")),
    ("library/soils.toml", include_str!("../../library/soils.toml")),
    ("library/covers.toml", include_str!("../../library/covers.toml")),
    ("library/weeds.toml", include_str!("../../library/weeds.toml")),
    ("library/creepers.toml", include_str!("../../library/creepers.toml")),
    ("library/crops.toml", include_str!("../../library/crops.toml")),
    ("library/canopies.toml", include_str!("../../library/canopies.toml")),
    ("library/pests.toml", include_str!("../../library/pests.toml")),
    ("library/slugs.toml", include_str!("../../library/slugs.toml")),
    ("library/birds.toml", include_str!("../../library/birds.toml")),
    ("library/climates.toml", include_str!("../../library/climates.toml")),
    ("library/hazards.toml", include_str!("../../library/hazards.toml")),
    ("library/pest_climates.toml", include_str!("../../library/pest_climates.toml")),
    ("library/waiting_rules.toml", include_str!("../../library/waiting_rules.toml")),
];

impl Library {
    /// The library that ships with the program.
    ///
    /// # Errors
    /// A fault of the shipped data: a bug of ours.
    pub fn shipped() -> Result<Self, Faults> {
        read_texts(FILES)
    }

    /// Reads one text in the library's form (tests, other people's collections).
    ///
    /// # Errors
    /// All faults of the text.
    pub fn from_text(file: &str, text: &str) -> Result<Self, Faults> {
        read_texts(&[(file, text)])
    }
}

/// Texts in the library's form, in this order; later ones may be `like` earlier ones.
fn read_texts(texts: &[(&str, &str)]) -> Result<Library, Faults> {
    let faults = RefCell::new(Vec::new());
    let mut library = Library::default();
    for (file, text) in texts {
        let source = SourceText::new(file, text);
        read_one(FaultPage { source: &source, faults: &faults }, &mut library);
    }
    let faults: Vec<Fault> = faults.into_inner();
    if faults.is_empty() { Ok(library) } else { Err(Faults::sorted(faults)) }
}

fn read_one(page: FaultPage<'_>, library: &mut Library) {
    let (document, errors) = DeTable::parse_recoverable(page.source.text());
    for error in errors {
        page.error(error.span().unwrap_or(0..0), error.message(), "Correct the TOML.");
    }
    let root = Reader::new(page, "the library", document.get_ref(), 0..0);
    for entry in read_entries(&root, library) {
        library.put(entry);
    }
    library.read_climates(&root);
    library.hazards.extend(hazards::read(&root));
    library.pest_climates.extend(pest_climates::of_pests(&root));
    library.slug_climates.extend(pest_climates::of_slugs(&root));
    library.moderating_view = hazards::moderating_view(&root).or(library.moderating_view.take());
    library.waiting_rules.extend(waiting_rules::read(&root));
    root.finish();
}
