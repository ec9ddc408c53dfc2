//! `hensward.new/1`: a starter that was written.

use super::RunFacts;
use crate::provenance::{DIGEST, Provenance};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name and number of the format.
const FORMAT: &str = "hensward.new/1";

/// `hensward new`: a starter site that was written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NewDocument {
    /// Name and number of this format.
    #[schemars(extend("const" = FORMAT))]
    pub format: String,
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers; a starter uses none.
    pub seed: u64,
    /// Name of the folder.
    pub site: String,
    /// Digest of the starter's bytes.
    #[schemars(regex(pattern = DIGEST))]
    pub input_digest: String,
    /// Name of the starter.
    pub starter: String,
    /// For whom it is.
    pub about: String,
    /// The file that was written.
    pub file: String,
    /// Commands to go on with.
    pub next: Vec<String>,
    /// What this machine did; only on standard output.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<RunFacts>,
}

/// The document of a starter (name, for whom) written to `file`.
#[must_use]
pub fn new_document(
    site: &str,
    starter: (&str, &str),
    file: &str,
    next: &[String],
    from: &Provenance,
    run: Option<RunFacts>,
) -> NewDocument {
    NewDocument {
        format: FORMAT.to_owned(),
        version: from.version.clone(),
        seed: from.seed,
        site: site.to_owned(),
        input_digest: from.input_digest.clone(),
        starter: starter.0.to_owned(),
        about: starter.1.to_owned(),
        file: file.to_owned(),
        next: next.to_vec(),
        run,
    }
}
