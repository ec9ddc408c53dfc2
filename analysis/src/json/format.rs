//! `hensward.format/1`: tables and keys of a site file.

use super::RunFacts;
use crate::format::{FoundTable, pasted};
use crate::provenance::{DIGEST, Provenance};
use scenarios::table_format::{KeyFormat, Kind, RestFormat, Taken};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name and number of the format.
const FORMAT: &str = "hensward.format/1";

/// `hensward format`: tables and keys of a site file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FormatDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers; the format needs none.
    pub seed: u64,
    /// `format`: no site is read.
    pub site: String,
    /// Digest of the schema of site files.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// What was looked up; empty: everything.
    pub word: String,
    /// Tables of which something was found.
    pub tables: Vec<TableSaid>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// A table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct TableSaid {
    /// As people speak of it, for example `[plot.NAME]`.
    pub heading: String,
    /// What it is for.
    pub what: String,
    /// Whether the table was found, and not only some of its keys.
    pub whole: bool,
    /// Keys found; all, where the table was.
    pub keys: Vec<KeySaid>,
    /// Keys that are names of something else; `null`: there are none.
    pub names: Option<NamesSaid>,
    /// Whole examples, as they can be pasted.
    pub examples: Vec<String>,
}

/// A key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct KeySaid {
    /// The key.
    pub key: String,
    /// What it means.
    pub what: String,
    /// What it may be.
    pub may_be: String,
    /// The unit its numbers are kept in; `null`: it has none.
    pub unit: Option<String>,
    /// Words it may be; empty: it is none of a few words.
    pub words: Vec<String>,
    /// Whether it must be there.
    pub required: bool,
    /// What is taken where it is left out; `null`: it must be there.
    pub taken: Option<String>,
    /// An example, as it is written.
    pub example: String,
}

/// Keys that are names.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct NamesSaid {
    /// What stands for the key where it is spoken of.
    pub name: String,
    /// What each means.
    pub what: String,
    /// What each may be.
    pub may_be: String,
    /// All there may be; empty: they are of the site.
    pub known: Vec<String>,
}

/// The document of what was found.
#[must_use]
pub fn format_document(word: &str, found: &[FoundTable], from: &Provenance, run: Option<RunFacts>) -> FormatDocument {
    FormatDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: "format".to_owned(),
        input_digest: from.input_digest.clone(),
        word: word.to_owned(),
        tables: found.iter().map(table_said).collect(),
        run,
    }
}

fn table_said(found: &FoundTable) -> TableSaid {
    TableSaid {
        heading: found.table.heading.to_owned(),
        what: found.table.what.to_owned(),
        whole: found.whole,
        keys: found.keys.iter().map(|key| key_said(key)).collect(),
        names: found.table.rest.map(names_said),
        examples: pasted(found.table, found.parent),
    }
}

fn key_said(key: &KeyFormat) -> KeySaid {
    let required = key.taken == Taken::Required;
    KeySaid {
        key: key.key.to_owned(),
        what: key.what.to_owned(),
        may_be: key.kind.words(),
        unit: unit(&key.kind).map(str::to_owned),
        words: words(&key.kind).into_iter().map(str::to_owned).collect(),
        required,
        taken: (!required).then(|| key.taken.words()),
        example: key.line(),
    }
}

fn unit(kind: &Kind) -> Option<&'static str> {
    match kind {
        Kind::Quantity(what, _) => Some(what.unit),
        Kind::Either(kinds) => kinds.iter().find_map(unit),
        _ => None,
    }
}

fn words(kind: &Kind) -> Vec<&'static str> {
    match kind {
        Kind::Choice(words) => words(),
        Kind::List(inner) => words(inner),
        Kind::Either(kinds) => kinds.iter().flat_map(words).collect(),
        _ => Vec::new(),
    }
}

fn names_said(rest: &RestFormat) -> NamesSaid {
    let known = rest.known.map(|known| known()).unwrap_or_default();
    NamesSaid {
        name: rest.name.to_owned(),
        what: rest.what.to_owned(),
        may_be: rest.kind.words(),
        known: known.into_iter().map(str::to_owned).collect(),
    }
}
