//! The library: soils, plants, pests, canopies, bird classes, process numbers and
//! climates, each number with its range, unit, source and kind of evidence.
//!
//! The entries that ship are data in `scenarios/library/*.toml`, built into the
//! program; a site file may define entries of its own in the same form.

mod climate;
mod climate_text;
mod entry;
mod entry_text;
mod hazards;
mod listed;
mod numbers;
mod shipped;

pub use climate_text::climate_text;
pub use entry::read_entries;
pub use entry_text::entry_text;
pub use listed::{Listed, listed};

use crate::diagnose::Faults;
use crate::reader::Reader;
use sim_engine::kinds::{
    BirdNumbers, CanopyNumbers, CoverNumbers, CreeperNumbers, CropNumbers, Host, PestNumbers, ProcessNumbers,
    SoilNumbers, Thermometer, WeedNumbers,
};
use sim_engine::parameters::Field;
use sim_engine::weather::generator::Climate;
use std::collections::BTreeMap;

/// The kinds of entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Soils.
    Soil,
    /// Perennial ground covers.
    Cover,
    /// Annual weeds.
    Weed,
    /// Creeping weeds.
    Creeper,
    /// Crops.
    Crop,
    /// Trees, bushes, canes.
    Canopy,
    /// Pests.
    Pest,
    /// Bird classes.
    Bird,
    /// Processes; its one entry is "general".
    Process,
}

impl Kind {
    /// All kinds.
    pub const ALL: &'static [Kind] = &[
        Kind::Soil,
        Kind::Cover,
        Kind::Weed,
        Kind::Creeper,
        Kind::Crop,
        Kind::Canopy,
        Kind::Pest,
        Kind::Bird,
        Kind::Process,
    ];

    /// The word in files and names.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Kind::Soil => "soil",
            Kind::Cover => "cover",
            Kind::Weed => "weed",
            Kind::Creeper => "creeper",
            Kind::Crop => "crop",
            Kind::Canopy => "canopy",
            Kind::Pest => "pest",
            Kind::Bird => "bird",
            Kind::Process => "process",
        }
    }

    /// In a keeper's words.
    #[must_use]
    pub fn plain(self) -> &'static str {
        match self {
            Kind::Cover => "ground cover",
            Kind::Creeper => "creeping weed",
            Kind::Bird => "class of bird",
            other => other.key(),
        }
    }

    /// The numbers an entry of this kind has.
    #[must_use]
    pub fn fields(self) -> &'static [Field] {
        match self {
            Kind::Soil => SoilNumbers::FIELDS,
            Kind::Cover => CoverNumbers::FIELDS,
            Kind::Weed => WeedNumbers::FIELDS,
            Kind::Creeper => CreeperNumbers::FIELDS,
            Kind::Crop => CropNumbers::FIELDS,
            Kind::Canopy => CanopyNumbers::FIELDS,
            Kind::Pest => PestNumbers::FIELDS,
            Kind::Bird => BirdNumbers::FIELDS,
            Kind::Process => ProcessNumbers::FIELDS,
        }
    }
}

/// How a number is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Evidence {
    /// A paper.
    Paper,
    /// A handbook.
    Handbook,
    /// A regulation.
    Regulation,
    /// Common practice, without a source.
    CommonPractice,
    /// From memory, not looked up.
    FromMemory,
    /// Set so that patterns of the whole model show.
    Calibrated,
    /// Made up for an invented place.
    Invented,
}

impl Evidence {
    /// Every kind with its word in files.
    pub const WORDS: &'static [(&'static str, Evidence)] = &[
        ("paper", Evidence::Paper),
        ("handbook", Evidence::Handbook),
        ("regulation", Evidence::Regulation),
        ("common practice", Evidence::CommonPractice),
        ("from memory", Evidence::FromMemory),
        ("calibrated", Evidence::Calibrated),
        ("invented", Evidence::Invented),
    ];

    /// The word in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, kind)| *kind == self).map_or("", |(word, _)| word)
    }
}

/// A number with its range and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// Likely value.
    pub value: f64,
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
    /// Source.
    pub source: String,
    /// Kind of evidence.
    pub evidence: Evidence,
    /// Numbers of one tie are high together and low together.
    pub tie: Option<String>,
    /// Entry it was taken over from by `like`; `None`: stated by the entry itself.
    pub taken_from: Option<String>,
}

/// What an entry says that is not a number.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Facts {
    /// Pests: the thermometer of their degree-days.
    pub thermometer: Option<Thermometer>,
    /// Pests: what they feed on.
    pub host: Option<Host>,
    /// Crops: botanical family.
    pub family: Option<String>,
    /// Crops: the edible part touches the soil.
    pub touches_soil: Option<bool>,
    /// Canopies: keeps its leaves.
    pub evergreen: Option<bool>,
}

/// An entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its kind.
    pub kind: Kind,
    /// Its name.
    pub name: String,
    /// What it is, in a sentence.
    pub about: String,
    /// What is not a number.
    pub facts: Facts,
    /// Its numbers, in the order of [`Kind::fields`].
    pub numbers: Vec<Number>,
}

impl Entry {
    /// The likely values, in the order of [`Kind::fields`].
    #[must_use]
    pub fn values(&self) -> Vec<f64> {
        self.numbers.iter().map(|number| number.value).collect()
    }

    /// Name of one of its numbers, for example `pest.plum sawfly.search_soil`; `process.light_half` for processes.
    #[must_use]
    pub fn number_name(&self, field: usize) -> String {
        let name = self.kind.fields().get(field).map_or("", |field| field.name);
        match self.kind {
            Kind::Process => format!("process.{name}"),
            kind => format!("{}.{}.{name}", kind.key(), self.name),
        }
    }
}

/// A set of entries and climates.
#[derive(Clone, Debug, Default)]
pub struct Library {
    entries: BTreeMap<(Kind, String), Entry>,
    climates: BTreeMap<String, NamedClimate>,
    hazards: Vec<Hazard>,
    moderating_view: Option<ModeratingView>,
}

/// What a source says against too much alarm about harmful plants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModeratingView {
    /// What kind of source says so.
    pub class: String,
    /// The source.
    pub source: String,
    /// What it says.
    pub note: String,
}

/// A plant that can harm birds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hazard {
    /// The plant.
    pub plant: String,
    /// The part that harms.
    pub part: String,
    /// What kind of source says so.
    pub class: String,
    /// The source.
    pub source: String,
    /// What else is known; may be empty.
    pub note: String,
}

/// A climate under its name.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedClimate {
    /// What it is, in a sentence.
    pub about: String,
    /// Where its figures come from.
    pub source: String,
    /// How they are known.
    pub evidence: Evidence,
    /// Source and evidence of the matrices `a` and `b`, where they differ.
    pub ab_origin: Option<(String, Evidence)>,
    /// Latitude it was made for, degrees; months shift by six on the other side of the equator.
    pub latitude_deg: f64,
    /// For the generator.
    pub climate: Climate,
}

impl Library {
    /// The library that ships with the program.
    ///
    /// # Errors
    /// A fault of the shipped data: a bug of ours.
    pub fn shipped() -> Result<Self, Faults> {
        shipped::read()
    }

    /// Reads one text in the library's form (tests, other people's collections).
    ///
    /// # Errors
    /// All faults of the text.
    pub fn from_text(file: &str, text: &str) -> Result<Self, Faults> {
        shipped::read_texts(&[(file, text)])
    }

    /// The entry of this name.
    #[must_use]
    pub fn get(&self, kind: Kind, name: &str) -> Option<&Entry> {
        self.entries.get(&(kind, name.to_owned()))
    }

    /// Names of the entries of a kind.
    pub fn names(&self, kind: Kind) -> impl Iterator<Item = &str> {
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

    /// What a source says against too much alarm about them.
    #[must_use]
    pub fn moderating_view(&self) -> Option<&ModeratingView> {
        self.moderating_view.as_ref()
    }

    /// Takes in the climates of a table.
    pub(crate) fn read_climates(&mut self, root: &Reader<'_>) {
        for item in root.table("climate").map(|table| table.entries()).unwrap_or_default() {
            if let Some(climate) = climate::read(&item) {
                self.climates.insert(item.key.clone(), climate);
            }
        }
    }

    /// Adds an entry; one of the same kind and name is replaced.
    pub(crate) fn put(&mut self, entry: Entry) {
        self.entries.insert((entry.kind, entry.name.clone()), entry);
    }
}
