//! What a finished sweep leaves: files, and words on the screen.

use crate::commands::add_charts;
use crate::options::Common;
use crate::problem::Problem;
use crate::screen;
use analysis::json::{RunFacts, sweep_document, text as document_text};
use analysis::output::{Files, stream};
use analysis::sweep::SweepError;
use analysis::sweep::merge::Whole;
use analysis::sweep::pictures::pictures;
use analysis::sweep::rows::{Told, tell};
use analysis::table::sweep_table;
use std::path::Path;

/// The table of all cells.
const TABLE: &str = "cells.csv";

/// Writes the files of a whole sweep and shows what stands out. `ran` says, for a number of
/// threads, what this machine did.
///
/// # Errors
/// A file that could not be written.
pub fn finish(
    whole: &Whole,
    folder: &Path,
    png: bool,
    common: &Common,
    ran: impl Fn(usize) -> Option<RunFacts>,
) -> Result<(), Problem> {
    let path = folder.join(TABLE);
    std::fs::create_dir_all(folder).map_err(|error| anyhow::Error::new(error).context(folder.display().to_string()))?;
    let told: Told =
        stream(&path, |table| tell(whole, table, &path)).map_err(|error: SweepError| Problem::from(error))?;
    let mut document = sweep_document(&told, None);
    let mut files = Files::default();
    add_charts(&mut files, &pictures(&told), png)?;
    files.add("summary.json", document_text(&document)?);
    files.write(folder)?;
    let names: Vec<&str> = std::iter::once(TABLE).chain(files.names()).collect();
    screen::talk(common.quiet, &format!("Written to {}: {}", folder.display(), names.join(", ")));
    if !common.json {
        return screen::print(&sweep_table(&told));
    }
    document.run = ran(rayon::current_num_threads());
    screen::print(&document_text(&document)?)
}
