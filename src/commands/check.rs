//! `hensward check SITE`: what a site file says, in plain words, and what looks wrong.

use super::outputs::{provenance, take, write};
use crate::common::Common;
use crate::describe;
use crate::problem::CommandError;
use crate::screen;
use crate::sites;
use analysis::charts::site_plan::site_plan;
use analysis::json::{RunFacts, check_document, check_faults_document, text as document_text};
use analysis::output::Files;
use clap::Args;
use std::time::Instant;

/// What can be asked.
#[derive(Args, Debug)]
pub struct CheckArgs {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// Say everything: every plot, date, rule, limit, caution, and what the file left open
    #[arg(long)]
    pub all: bool,
}

/// Checks a site. It writes files only where `--out` asks for them.
///
/// # Errors
/// All faults of the site.
pub fn run(args: &CheckArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let opened = match sites::open(&args.site) {
        Err(CommandError::Input(faults)) if common.json => {
            let document = check_faults_document(&args.site, &faults, &provenance(common, &[]), None);
            screen::print(&document_text(&document)?)?;
            return Err(CommandError::Input(faults));
        }
        opened => opened?,
    };
    let units = common.units_of(&opened.model);
    let whole = || describe::site(&opened.model, &opened.library, units);
    let mut document = check_document(&opened.model, &opened.library, &provenance(common, &opened.inputs), None);
    if common.out.is_some() {
        let mut files = Files::default();
        files.add("check.txt", whole());
        files.add("site.svg", site_plan(&opened.model, units).svg);
        files.add("summary.json", document_text(&document)?);
        write(&files, &mut take(common, &opened.label, "check", &opened.origin, &[])?, common)?;
    }
    if common.json {
        document.run = Some(RunFacts::of(&opened.model, 0, begun.elapsed().as_secs_f64(), 1));
        return screen::print(&document_text(&document)?);
    }
    if args.all {
        return screen::print(&whole());
    }
    screen::print(&describe::brief::site(&opened.model, &args.site, units))
}
