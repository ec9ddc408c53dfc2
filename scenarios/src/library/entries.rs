//! What a library holds: entries and their numbers, climates, harmful plants.

use sim_engine::orders::{self, Order};
use sim_engine::parameters::Field;
use sim_engine::species::{
    BirdParams, CanopyParams, CoverParams, CreeperParams, CropParams, Host, PestParams, ProcessParams, SlugParams,
    SoilParams, Thermometer, WeedParams,
};
use sim_engine::weather::climate::Climate;

/// The kinds of entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EntryKind {
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
    /// Slugs and snails.
    Slug,
    /// Bird classes.
    Bird,
    /// Processes; its one entry is "general".
    Process,
}

impl EntryKind {
    /// All kinds.
    pub const ALL: &'static [EntryKind] = &[
        EntryKind::Soil,
        EntryKind::Cover,
        EntryKind::Weed,
        EntryKind::Creeper,
        EntryKind::Crop,
        EntryKind::Canopy,
        EntryKind::Pest,
        EntryKind::Slug,
        EntryKind::Bird,
        EntryKind::Process,
    ];

    /// The word in files and names.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            EntryKind::Soil => "soil",
            EntryKind::Cover => "cover",
            EntryKind::Weed => "weed",
            EntryKind::Creeper => "creeper",
            EntryKind::Crop => "crop",
            EntryKind::Canopy => "canopy",
            EntryKind::Pest => "pest",
            EntryKind::Slug => "slug",
            EntryKind::Bird => "bird",
            EntryKind::Process => "process",
        }
    }

    /// In a keeper's words.
    #[must_use]
    pub fn plain(self) -> &'static str {
        match self {
            EntryKind::Cover => "ground cover",
            EntryKind::Creeper => "creeping weed",
            EntryKind::Slug => "slug or snail",
            EntryKind::Bird => "class of bird",
            other => other.key(),
        }
    }

    /// The numbers an entry of this kind has.
    #[must_use]
    pub fn fields(self) -> &'static [Field] {
        match self {
            EntryKind::Soil => SoilParams::FIELDS,
            EntryKind::Cover => CoverParams::FIELDS,
            EntryKind::Weed => WeedParams::FIELDS,
            EntryKind::Creeper => CreeperParams::FIELDS,
            EntryKind::Crop => CropParams::FIELDS,
            EntryKind::Canopy => CanopyParams::FIELDS,
            EntryKind::Pest => PestParams::FIELDS,
            EntryKind::Slug => SlugParams::FIELDS,
            EntryKind::Bird => BirdParams::FIELDS,
            EntryKind::Process => ProcessParams::FIELDS,
        }
    }

    /// Which of them are below which.
    #[must_use]
    pub fn orders(self) -> &'static [Order] {
        match self {
            EntryKind::Soil => orders::SOIL,
            EntryKind::Cover | EntryKind::Weed | EntryKind::Creeper | EntryKind::Crop | EntryKind::Slug => {
                orders::TEMPERATURES
            }
            EntryKind::Canopy => orders::CANOPY,
            EntryKind::Pest => orders::PEST,
            EntryKind::Process => orders::PROCESS,
            EntryKind::Bird => &[],
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

/// Begins a tie to another number of the same entry, which is high where this one is low.
pub const AGAINST: &str = "against ";

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
    /// Numbers of one tie are high together and low together; [`AGAINST`] and another number of the entry: high where that is low.
    pub tie: Option<String>,
    /// Entry it was taken over from by `like`; `None`: stated by the entry itself.
    pub taken_from: Option<String>,
}

/// What an entry says that is not a number.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EntryFacts {
    /// Pests: the thermometer of their degree-days.
    pub thermometer: Option<Thermometer>,
    /// Pests: what they feed on.
    pub host: Option<Host>,
    /// Pests of canopies: words of which a canopy they live on has one in its name; none: any canopy.
    pub fruit: Option<Vec<String>>,
    /// Pests: their larvae live on the roots of turf, be it a lawn without trees.
    pub larvae_in_turf: Option<bool>,
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
    pub kind: EntryKind,
    /// Its name.
    pub name: String,
    /// What it is, in a sentence.
    pub about: String,
    /// What else it is called.
    pub also: Vec<String>,
    /// Names that mean another plant elsewhere, and what this one is: who writes one is asked.
    pub ask: Vec<(String, String)>,
    /// What is not a number.
    pub facts: EntryFacts,
    /// Its numbers, in the order of [`EntryKind::fields`].
    pub params: Vec<Number>,
}

impl Entry {
    /// The likely values, in the order of [`EntryKind::fields`].
    #[must_use]
    pub fn values(&self) -> Vec<f64> {
        self.params.iter().map(|number| number.value).collect()
    }

    /// Name of one of its numbers, for example `pest.plum sawfly.search_soil`; `process.light_half` for processes.
    #[must_use]
    pub fn number_name(&self, field: usize) -> String {
        let name = self.kind.fields().get(field).map_or("", |field| field.name);
        match self.kind {
            EntryKind::Process => format!("process.{name}"),
            kind => format!("{}.{}.{name}", kind.key(), self.name),
        }
    }
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

/// What is said of every plant that can harm birds.
pub const HARMS: &str = "can harm birds";

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

/// What a country asks for between birds and a harvest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WaitingRule {
    /// The country.
    pub country: String,
    /// Other names of it.
    pub also: Vec<String>,
    /// Name of the rule.
    pub rule: String,
    /// Where it stands.
    pub clause: String,
    /// Days before a harvest that touches the soil, and before any other; `None` where no number is known.
    pub days: Option<(u32, u32)>,
    /// Whom it binds.
    pub binds: String,
    /// The source.
    pub source: String,
    /// How well it is known.
    pub status: String,
}

/// The climates of the library in which a pest is known to live.
#[derive(Clone, Debug, PartialEq)]
pub struct PestClimates {
    /// The pest.
    pub pest: String,
    /// Names of the climates.
    pub climates: Vec<String>,
    /// The source.
    pub source: String,
    /// What it is reported to take of plantings that nobody protects, %, from and to.
    pub damage_percent: [f64; 2],
    /// The source of that.
    pub damage_source: String,
}

/// The climates of the library in which a slug or snail is known to live.
#[derive(Clone, Debug, PartialEq)]
pub struct SlugClimates {
    /// The slug or snail.
    pub slug: String,
    /// Names of the climates.
    pub climates: Vec<String>,
    /// The source.
    pub source: String,
    /// What is counted of it on ground that nobody clears of it, all sizes per m², from and to.
    pub untouched_m2: [f64; 2],
    /// The source of that.
    pub untouched_source: String,
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
    /// Latitude it was made for, degrees; months shift by six on the other side of the equator, but not within 12
    /// degrees of it.
    pub latitude_deg: f64,
    /// The climate of the library whose pests and slugs it is taken to have, where it is near one.
    pub near: Option<String>,
    /// For the generator.
    pub climate: Climate,
}
