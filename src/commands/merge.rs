//! `hensward merge PART…`: joins the parts of a sweep that was shared out.

use super::outputs::folder;
use super::sweep;
use crate::common::Common;
use crate::problem::CommandError;
use analysis::results::{Origin, ResultsFolder, SiteOrigin};
use analysis::sweep::merge::Whole;
use clap::Args;
use std::path::PathBuf;

/// What can be asked.
#[derive(Args, Debug)]
pub struct MergeArgs {
    /// The part files that sweeps with --shard wrote, all of one run
    #[arg(required = true, value_name = "PART")]
    pub parts: Vec<PathBuf>,
    /// What is written besides.
    #[command(flatten)]
    pub extras: sweep::Extras,
}

/// Merges.
///
/// # Errors
/// Parts that do not make up one run; what the system refused.
pub fn run(args: &MergeArgs, common: &Common) -> Result<(), CommandError> {
    args.extras.check()?;
    let whole = Whole::of(&args.parts)?;
    // Beside the parts, unless said otherwise.
    let beside = args.parts.first().and_then(|part| part.parent()).map(PathBuf::from);
    let folder = match (&common.out, beside) {
        (None, Some(beside)) => beside,
        _ => folder(common, "merged", "sweep"),
    };
    let origin = Origin { command: "sweep".to_owned(), site: SiteOrigin::Unknown };
    let mut folder = ResultsFolder::open(&folder, &origin, &sweep::FILES)?;
    sweep::finish(&whole, &mut folder, args.extras, common, |_| None)
}
