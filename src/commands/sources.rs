//! `hensward sources [WORD]`: every number with its range, unit, source and evidence.

use super::outputs::{take, write};
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::our_fault;
use analysis::json::{RunFacts, library_digest, sources_csv, sources_document, text as document_text};
use analysis::output::Files;
use analysis::provenance::Provenance;
use analysis::results::SiteOrigin;
use analysis::sources::{FoundEntry, by_entry, details, find, markdown, overview};
use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use scenarios::Library;
use scenarios::library::{EntryKind, Evidence, climate_text, entry_text};
use std::time::Instant;

/// The command's name in folders, and the part of the label there.
const NAME: &str = "sources";

/// What can be asked.
#[derive(Args, Debug)]
pub struct SourcesArgs {
    /// An entry, a kind of thing, a number, or a word of a name, a meaning or a source
    #[arg(value_name = "WORD")]
    pub words: Vec<String>,
    /// Only what is known in this way
    #[arg(long, value_name = "KIND", value_parser = evidence())]
    pub kind: Option<Evidence>,
    /// Write what was found as TOML that can be pasted into a site file
    #[arg(long, requires = "words", conflicts_with_all = ["kind", "json", "markdown"])]
    pub export: bool,
    /// The whole library as a page of tables
    #[arg(long, conflicts_with_all = ["words", "kind", "json"])]
    pub markdown: bool,
}

fn evidence() -> impl TypedValueParser<Value = Evidence> {
    let words = PossibleValuesParser::new(Evidence::WORDS.iter().map(|(word, _)| *word));
    words.map(|said| {
        Evidence::WORDS.iter().find(|(word, _)| *word == said).map_or(Evidence::FromMemory, |(_, kind)| *kind)
    })
}

/// Looks up and prints. It writes files only where `--out` asks for them.
///
/// # Errors
/// Nothing has the word; or nothing of what was found can be exported.
pub fn run(args: &SourcesArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let library = Library::shipped().map_err(our_fault)?;
    let word = args.words.join(" ");
    let found = found(&library, args, &word)?;
    let text = if args.export { export(&library, &found, &word)? } else { output(&library, args, &found, common) };
    let from = Provenance::new(common.seed, library_digest(&library));
    let mut document = sources_document(&word, &found, &from, None);
    if common.out.is_some() {
        let mut files = Files::default();
        files.add(file_name(args), text.clone());
        files.add("sources.csv", sources_csv(&found));
        files.add("summary.json", document_text(&document)?);
        let library = SiteOrigin::Named("the library".to_owned());
        write(&files, &mut take(common, "library", NAME, &library, &[])?, common)?;
    }
    if common.json {
        let seconds = begun.elapsed().as_secs_f64();
        document.run = Some(RunFacts { seconds, threads: 1, zone_days: 0, plot_days: 0 });
        return screen::print(&document_text(&document)?);
    }
    screen::print(&text)
}

fn file_name(args: &SourcesArgs) -> &'static str {
    match (args.export, args.markdown) {
        (true, _) => "export.toml",
        (_, true) => "library.md",
        _ => "sources.txt",
    }
}

fn found<'l>(library: &'l Library, args: &SourcesArgs, word: &str) -> Result<FoundEntry<'l>, CommandError> {
    let found = if args.words.is_empty() {
        FoundEntry::all(library)
    } else {
        find(library, word).map_err(|remedy| {
            CommandError::argument("WORD", format!("the library has nothing named \"{word}\""), remedy)
        })?
    };
    let Some(kind) = args.kind else { return Ok(found) };
    let found = found.known_by(kind);
    if found.is_empty() {
        let fault = format!("nothing of \"{word}\" is known in this way: {}", kind.word());
        return Err(CommandError::argument("--kind", fault, "Leave --kind out to see how it is known."));
    }
    Ok(found)
}

fn output(library: &Library, args: &SourcesArgs, found: &FoundEntry<'_>, common: &Common) -> String {
    let text = match (args.markdown, args.words.is_empty(), args.kind) {
        (true, ..) => return markdown(library),
        (_, true, None) => overview(library),
        (_, true, Some(_)) => by_entry(found),
        _ => details(library, found, common.units.unwrap_or_default()),
    };
    text.trim_start_matches('\n').to_owned()
}

/// The entries found, each whole, in the form of a site file.
fn export(library: &Library, found: &FoundEntry<'_>, word: &str) -> Result<String, CommandError> {
    let texts = found.entries().into_iter().filter_map(|(kind, name)| one(library, kind, name));
    let text = texts.collect::<Vec<_>>().join("\n");
    if text.is_empty() {
        let fault = format!("\"{word}\" is no entry with numbers, a site file has no place for it");
        return Err(CommandError::argument(
            "--export",
            fault,
            "Export a soil, cover, weed, crop, tree, pest, bird or climate.",
        ));
    }
    Ok(text)
}

fn one(library: &Library, kind: &str, name: &str) -> Option<String> {
    if kind == "climate" {
        return library.climate(name).map(|climate| climate_text("library.climate", name, climate));
    }
    let kind = EntryKind::ALL.iter().find(|of| of.key() == kind)?;
    library.get(*kind, name).map(|entry| entry_text("library", entry))
}
