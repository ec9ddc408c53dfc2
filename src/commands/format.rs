//! `hensward format [WORD]`: every table of a site file with its keys, each with an example.

use super::outputs::provenance;
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use analysis::format::{FoundTable, details, everything, find, overview, site_schema};
use analysis::json::{RunFacts, format_document, text as document_text};
use clap::Args;
use std::time::Instant;

/// What can be asked.
#[derive(Args, Debug)]
pub struct FormatArgs {
    /// A table, a key, or a word of what is said of them
    #[arg(value_name = "WORD")]
    pub words: Vec<String>,
    /// Print the JSON Schema of site files, for editors
    #[arg(long, conflicts_with_all = ["words", "json"])]
    pub schema: bool,
}

/// Looks up and prints.
///
/// # Errors
/// Nothing has the word, or files were asked for.
pub fn run(args: &FormatArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    if common.out.is_some() {
        let remedy = "Leave --out away; to keep what it prints: hensward format --schema > site.schema.json";
        return Err(CommandError::argument("--out", "format writes no files", remedy));
    }
    let schema = document_text(&site_schema())?;
    if args.schema {
        return screen::print(&schema);
    }
    let word = args.words.join(" ");
    let found = found(args, &word)?;
    if common.json {
        let run = RunFacts { seconds: begun.elapsed().as_secs_f64(), threads: 1, zone_days: 0, plot_days: 0 };
        let from = provenance(common, &[("schema", schema)]);
        return screen::print(&document_text(&format_document(&word, &found, &from, Some(run)))?);
    }
    screen::print(&if args.words.is_empty() { overview() } else { details(&found) })
}

fn found(args: &FormatArgs, word: &str) -> Result<Vec<FoundTable>, CommandError> {
    if args.words.is_empty() {
        return Ok(everything());
    }
    let fault = format!("a site file has nothing named \"{word}\"");
    find(word).map_err(|remedy| CommandError::argument("WORD", fault, remedy))
}
