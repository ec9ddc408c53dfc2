//! `hensward new FOLDER`: a starter site whose comments ask what matters, or a site made of answers.

use super::outputs::provenance;
use crate::ask;
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::{label, our_fault};
use crate::starters::{STARTERS, Starter, listed};
use analysis::json::{NewDocument, RunFacts, new_document, text as document_text};
use analysis::output::{OutputError, create};
use analysis::units::Units;
use clap::Args;
use scenarios::Library;
use scenarios::io_errors::unwritten;
use scenarios::nearest::nearest;
use std::borrow::Cow;
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
    /// The starter nearest to your ground; they are listed below [default: orchard]
    #[arg(long, value_name = "NAME", conflicts_with = "ask")]
    pub like: Option<String>,
    /// Asks ten questions here and makes the site file of the answers (one a line, if they are piped in)
    #[arg(long)]
    pub ask: bool,
}

/// What is written, and what is told of it.
struct New {
    text: Cow<'static, str>,
    /// Name and for whom, as the document has it.
    like: (&'static str, &'static str),
    us_units: bool,
    /// The first thing to do, and whose file it is.
    begin: (String, String),
}

/// Writes the starter, or the site of the answers. It never overwrites.
///
/// # Errors
/// No such starter, a folder that has a site file, answers that end too soon, or what the system refused.
pub fn run(args: &NewArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    free(&args.folder, common)?;
    let new = if args.ask { asked(&args.folder, common)? } else { of_starter(args.like.as_deref())? };
    create(&args.folder.join(SITE_FILE), new.text.as_bytes()).map_err(refused)?;
    if common.json {
        let run = RunFacts { seconds: begun.elapsed().as_secs_f64(), threads: 1, zone_days: 0, plot_days: 0 };
        return screen::print(&document_text(&document(&new, &args.folder, common, run))?);
    }
    screen::print(&words(&new, &args.folder, common))
}

fn of_starter(like: Option<&str>) -> Result<New, CommandError> {
    let like = like.unwrap_or(STARTERS[0].name);
    let starter = Starter::named(like).ok_or_else(|| unknown(like))?;
    let begin = format!("Open it in any text editor and answer its {} numbered questions.", starter.questions());
    Ok(New {
        text: Cow::Borrowed(starter.site),
        like: (starter.name, starter.about()),
        us_units: starter.us_units(),
        begin: (begin, starter.about().to_owned()),
    })
}

/// Asks, and makes a site of the answers; they come from standard input.
fn asked(folder: &Path, common: &Common) -> Result<New, CommandError> {
    let library = Library::shipped().map_err(our_fault)?;
    let us_units = common.units == Some(Units::Us);
    let name = label(&folder.join(SITE_FILE));
    let asked =
        ask::ask((name, us_units), &library, &mut std::io::stdin().lock(), &|text| ask::say(common.quiet, text))?;
    Ok(New {
        text: Cow::Owned(asked.text),
        like: ("answers", "Made of the answers to ten questions."),
        us_units: asked.us_units,
        begin: (
            "Open it in any text editor: what you left out stands there as lines to fill in.".to_owned(),
            "made of your answers".to_owned(),
        ),
    })
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

/// The commands to go on with, in the units asked for where the site does not say them itself.
fn next(folder: &Path, new: &New, common: &Common) -> [String; 2] {
    let units = match common.units {
        Some(Units::Us) if !new.us_units => " --units us",
        Some(Units::Metric) if new.us_units => " --units metric",
        _ => "",
    };
    ["check", "compare"].map(|command| format!("hensward {command} {}{units}", folder.display()))
}

fn words(new: &New, folder: &Path, common: &Common) -> String {
    let [check, compare] = next(folder, new, common);
    format!(
        "Written: {}\n  {}\n\nNext:\n  1. {}\n  2. {check}\n     says back what it understood, what it took for granted, and what looks unusual.\n  3. {compare}\n     tries your strategies on 200 possible years.\n\nWhat every key may be: hensward format\nFor an editor that completes and checks by a schema:\n  hensward format --schema > {}\n",
        folder.join(SITE_FILE).display(),
        new.begin.1,
        new.begin.0,
        folder.join(SCHEMA_FILE).display(),
    )
}

fn document(new: &New, folder: &Path, common: &Common, run: RunFacts) -> NewDocument {
    let from = provenance(common, &[("site", new.text.to_string())]);
    let site = label(&folder.join(SITE_FILE));
    let file = folder.join(SITE_FILE).display().to_string();
    new_document(&site, new.like, &file, &next(folder, new, common), &from, Some(run))
}
