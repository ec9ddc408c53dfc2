//! What a finished sweep leaves: files, and words on the screen.

use crate::commands::outputs::{add_charts, check_png, write};
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use analysis::json::{RunFacts, sweep_document, text as document_text};
use analysis::output::Files;
use analysis::results::ResultsFolder;
use analysis::sweep::merge::Whole;
use analysis::sweep::pictures::pictures;
use analysis::sweep::rows::{SweepView, tell};
use analysis::table::sweep_table;
use clap::Args;

/// Files every whole sweep writes.
pub const FILES: [&str; 2] = [TABLE, "summary.json"];
/// The table of all cells.
const TABLE: &str = "cells.csv";
/// The same as Parquet.
#[cfg(feature = "parquet")]
const PARQUET: &str = "cells.parquet";

/// Files that are written only where they are asked for.
#[derive(Args, Clone, Copy, Debug)]
pub struct Extras {
    /// Charts as .png too, beside each .svg
    #[arg(long)]
    pub png: bool,
    /// The table as cells.parquet too, beside cells.csv
    #[arg(long)]
    pub parquet: bool,
}

impl Extras {
    /// Refuses what this program was built without.
    ///
    /// # Errors
    /// PNG or Parquet is asked for, and its cargo feature is off.
    pub fn check(self) -> Result<(), CommandError> {
        check_png(self.png)?;
        if self.parquet && cfg!(not(feature = "parquet")) {
            let remedy = "Leave it out, cells.csv holds the same table; or build it in: cargo build --release --features parquet.";
            return Err(CommandError::argument("--parquet", "this hensward was built without Parquet", remedy));
        }
        Ok(())
    }

    /// Writes the tables asked for beside cells.csv.
    #[cfg(feature = "parquet")]
    fn tables(self, whole: &Whole, folder: &mut ResultsFolder) -> Result<(), CommandError> {
        if self.parquet {
            let path = folder.path().join(PARQUET);
            folder.stream(PARQUET, |file| analysis::sweep::parquet::write(whole, file, &path))?;
        }
        Ok(())
    }

    #[cfg(not(feature = "parquet"))]
    fn tables(self, _: &Whole, _: &mut ResultsFolder) -> Result<(), CommandError> {
        self.check()
    }
}

/// Writes the files of a whole sweep and shows what stands out. `ran` says, for a number of
/// threads, what this machine did.
///
/// # Errors
/// A file that could not be written.
pub fn finish(
    whole: &Whole,
    folder: &mut ResultsFolder,
    extras: Extras,
    common: &Common,
    ran: impl Fn(usize) -> Option<RunFacts>,
) -> Result<(), CommandError> {
    let path = folder.path().join(TABLE);
    let output: SweepView = folder.stream(TABLE, |table| tell(whole, table, &path))?;
    extras.tables(whole, folder)?;
    let mut document = sweep_document(&output, None);
    let mut files = Files::default();
    add_charts(&mut files, &pictures(&output), extras.png)?;
    files.add("summary.json", document_text(&document)?);
    write(&files, folder, common)?;
    if !common.json {
        return screen::print(&sweep_table(&output));
    }
    document.run = ran(rayon::current_num_threads());
    screen::print(&document_text(&document)?)
}
