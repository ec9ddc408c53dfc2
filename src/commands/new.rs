//! `hensward new FOLDER`: a starter site whose comments ask what matters.

use super::outputs::provenance;
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::label;
use crate::starters::{STARTERS, Starter, listed};
use analysis::json::{NewDocument, RunFacts, new_document, text as document_text};
use analysis::output::{OutputError, create};
use analysis::units::Units;
use clap::Args;
use scenarios::io_errors::unwritten;
use scenarios::nearest::nearest;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// The site file of a folder.
const SITE_FILE: &str = "site.toml";

/// The schema that the first line of a starter names, beside it.
const SCHEMA_FILE: &str = "site.schema.json";

/// What can be asked.
#[derive(Args, Debug)]
#[command(after_help = listed())]
pub struct NewArgs {
    /// The folder; it is made if need be and gets a site.toml
    pub folder: PathBuf,
    /// The starter nearest to your ground; they are listed below
    #[arg(long, value_name = "NAME", default_value = "orchard")]
    pub like: String,
}

/// Writes the starter. It never overwrites.
///
/// # Errors
/// No such starter, a folder that has a site file, or what the system refused.
pub fn run(args: &NewArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let starter = Starter::named(&args.like).ok_or_else(|| unknown(&args.like))?;
    free(&args.folder, common)?;
    create(&args.folder.join(SITE_FILE), starter.site.as_bytes()).map_err(refused)?;
    if common.json {
        let run = RunFacts { seconds: begun.elapsed().as_secs_f64(), threads: 1, zone_days: 0, plot_days: 0 };
        return screen::print(&document_text(&document(starter, &args.folder, common, run))?);
    }
    screen::print(&words(starter, &args.folder, common))
}

fn unknown(like: &str) -> CommandError {
    let names = STARTERS.iter().map(|starter| starter.name);
    let near = nearest(like, names).map_or(String::new(), |near| format!("Did you mean \"{near}\"? "));
    CommandError::argument("--like", format!("there is no starter \"{like}\""), format!("{near}{}", listed()))
}

/// Whether the folder may get a site file.
fn free(folder: &Path, common: &Common) -> Result<(), CommandError> {
    let shown = folder.display().to_string();
    if common.out.is_some() {
        return Err(CommandError::argument("--out", "new writes into the folder it is given", "Leave --out away."));
    }
    if let Some(file) = folder.ancestors().find(|part| part.exists() && !part.is_dir()) {
        return Err(CommandError::argument(
            &file.display().to_string(),
            "it is a file",
            "Give a folder that is to hold the site, for example my-garden.",
        ));
    }
    if folder.is_symlink() && !folder.exists() {
        let remedy = "Give a folder that is to hold the site, for example my-garden.";
        return Err(CommandError::argument(&shown, "it is a link that leads to no folder", remedy));
    }
    let site = folder.join(SITE_FILE);
    if site.symlink_metadata().is_ok() {
        let remedy = format!("Nothing was overwritten. Give another folder, or go on with it: hensward check {shown}");
        return Err(CommandError::argument(&site.display().to_string(), "it is there already", remedy));
    }
    Ok(())
}

/// What the system refused: this command takes its folder as it stands, not by `--out`.
fn refused(error: OutputError) -> anyhow::Error {
    anyhow::anyhow!("cannot write {}: {}; give another folder", error.path.display(), unwritten(&error.cause))
}

/// The commands to go on with, in the units asked for.
fn next(folder: &Path, common: &Common) -> [String; 2] {
    let units = if common.units == Units::Us { " --units us" } else { "" };
    ["check", "compare"].map(|command| format!("hensward {command} {}{units}", folder.display()))
}

fn words(starter: &Starter, folder: &Path, common: &Common) -> String {
    let [check, compare] = next(folder, common);
    format!(
        "Written: {}\n  {}\n\nNext:\n  1. Open it in any text editor and answer its {} numbered questions.\n  2. {check}\n     says back what it understood, what it took for granted, and what looks unusual.\n  3. {compare}\n     tries your strategies on 200 possible years.\n\nWhat every key may be: hensward format\nFor an editor that completes and checks by a schema:\n  hensward format --schema > {}\n",
        folder.join(SITE_FILE).display(),
        starter.about(),
        starter.questions(),
        folder.join(SCHEMA_FILE).display(),
    )
}

fn document(starter: &Starter, folder: &Path, common: &Common, run: RunFacts) -> NewDocument {
    let from = provenance(common, &[("site", starter.site.to_owned())]);
    let site = label(&folder.join(SITE_FILE));
    let file = folder.join(SITE_FILE).display().to_string();
    new_document(&site, (starter.name, starter.about()), &file, &next(folder, common), &from, Some(run))
}
