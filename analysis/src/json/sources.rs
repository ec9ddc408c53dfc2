//! `hensward.sources/1`: numbers of the library with range, unit, source and evidence.

use super::RunFacts;
use crate::csv_text::csv_text;
use crate::provenance::{DIGEST, Provenance};
use crate::sources::{FoundEntry, count, from_memory};
use scenarios::Library;
use scenarios::library::{Evidence, Hazard, Listed, WaitingRule};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name and number of the format.
const FORMAT: &str = "hensward.sources/1";

/// `hensward sources`: numbers of the library with range, unit, source and kind of evidence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SourcesDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers; the library needs none.
    pub seed: u64,
    /// `library`: no site is read.
    pub site: String,
    /// Digest of the library.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// What was looked up; empty: everything.
    pub word: String,
    /// Numbers found.
    pub entries: Vec<SourceFigures>,
    /// How many of them are known in which way.
    pub kinds: Vec<KindFigures>,
    /// What rests on memory.
    pub from_memory: MemoryFigures,
    /// Plants found that can harm birds; one that is missing is unknown, not harmless.
    pub harmful_plants: Vec<HarmfulPlant>,
    /// Waiting rules of countries found; one that is missing is unknown, not without a rule.
    pub waiting_rules: Vec<CountryRule>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// One number.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SourceFigures {
    /// Unique name, for example `pest.plum sawfly.emergence`.
    pub name: String,
    /// Likely value.
    pub value: f64,
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
    /// Unit.
    pub unit: String,
    /// Source.
    pub source: String,
    /// Kind of evidence.
    #[schemars(extend("enum" = kinds_of_evidence()))]
    pub kind: String,
    /// What it means.
    pub what: String,
    /// Entry it was taken over from; `null`: the entry states it itself.
    pub taken_from: Option<String>,
}

/// How many numbers are known in one way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct KindFigures {
    /// Kind of evidence.
    #[schemars(extend("enum" = kinds_of_evidence()))]
    pub kind: String,
    /// Numbers.
    pub numbers: usize,
    /// Those the entry states itself.
    pub stated: usize,
}

fn kinds_of_evidence() -> Vec<&'static str> {
    Evidence::WORDS.iter().map(|&(word, _)| word).collect()
}

/// What rests on memory alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MemoryFigures {
    /// Share of the numbers that are not of an invented climate; `null` without any.
    #[schemars(range(min = 0, max = 1))]
    pub share: Option<f64>,
    /// Their names.
    pub names: Vec<String>,
}

/// A plant that can harm birds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct HarmfulPlant {
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

/// The waiting rule of a country.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CountryRule {
    /// The country.
    pub country: String,
    /// Other names of it.
    pub also: Vec<String>,
    /// Name of the rule.
    pub rule: String,
    /// Where it stands.
    pub clause: String,
    /// Days before a harvest that touches the soil; `null`: no number is known.
    pub days_touching: Option<u32>,
    /// Days before any other harvest; `null`: no number is known.
    pub days_other: Option<u32>,
    /// Whom it binds.
    pub binds: String,
    /// The source.
    pub source: String,
    /// How well it is known.
    pub status: String,
}

/// The document of what was found.
#[must_use]
pub fn sources_document(
    word: &str,
    found: &FoundEntry<'_>,
    from: &Provenance,
    run: Option<RunFacts>,
) -> SourcesDocument {
    let (memory, of) = from_memory(found);
    let share = (of > 0).then(|| memory.len() as f64 / of as f64);
    let kind = |count: crate::sources::Count| KindFigures {
        kind: count.evidence.word().to_owned(),
        numbers: count.params,
        stated: count.stated,
    };
    SourcesDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: "library".to_owned(),
        input_digest: from.input_digest.clone(),
        word: word.to_owned(),
        entries: found.params.iter().map(figures).collect(),
        kinds: count(found, None).into_iter().map(kind).collect(),
        from_memory: MemoryFigures { share, names: memory.iter().map(|number| number.name.clone()).collect() },
        harmful_plants: found.hazards.iter().map(|hazard| harmful(hazard)).collect(),
        waiting_rules: found.waiting_rules.iter().map(|rule| country(rule)).collect(),
        run,
    }
}

fn figures(number: &Listed<'_>) -> SourceFigures {
    SourceFigures {
        name: number.name.clone(),
        value: number.value,
        low: number.low,
        high: number.high,
        unit: number.unit.to_owned(),
        source: number.source.to_owned(),
        kind: number.evidence.word().to_owned(),
        what: number.what.to_owned(),
        taken_from: number.taken_from.map(str::to_owned),
    }
}

fn harmful(hazard: &Hazard) -> HarmfulPlant {
    let Hazard { plant, part, class, source, note } = hazard.clone();
    HarmfulPlant { plant, part, class, source, note }
}

fn country(found: &WaitingRule) -> CountryRule {
    let WaitingRule { country, also, rule, clause, days, binds, source, status } = found.clone();
    let (days_touching, days_other) = days.unzip();
    CountryRule { country, also, rule, clause, days_touching, days_other, binds, source, status }
}

/// The numbers as CSV: name, value, low, high, unit, source, kind.
#[must_use]
pub fn sources_csv(found: &FoundEntry<'_>) -> Vec<u8> {
    let mut rows = vec![["name", "value", "low", "high", "unit", "source", "kind"].map(str::to_owned)];
    rows.extend(found.params.iter().map(|number| {
        let [value, low, high] = [number.value, number.low, number.high].map(|figure| figure.to_string());
        [number.name.clone(), value, low, high, number.unit.into(), number.source.into(), number.evidence.word().into()]
    }));
    csv_text(rows)
}

/// Digest of a library: everything that is written out of it.
#[must_use]
pub fn library_digest(library: &Library) -> String {
    let found = FoundEntry::all(library);
    let plants: Vec<String> = library.hazards().iter().map(|hazard| format!("{hazard:?}")).collect();
    let homes: Vec<String> = library.pest_climates().iter().map(|known| format!("{known:?}")).collect();
    let slugs: Vec<String> = library.slug_climates().iter().map(|known| format!("{known:?}")).collect();
    let rules: Vec<String> = library.waiting_rules().iter().map(|rule| format!("{rule:?}")).collect();
    crate::provenance::input_digest(&[
        ("library", &sources_csv(&found)),
        ("plants", plants.join("\n").as_bytes()),
        ("pest climates", homes.join("\n").as_bytes()),
        ("slug climates", slugs.join("\n").as_bytes()),
        ("waiting rules", rules.join("\n").as_bytes()),
    ])
}
