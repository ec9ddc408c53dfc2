//! The commands, one file each.

pub mod carry;
pub mod check;
pub mod compare;
pub mod format;
mod inputs;
pub mod lesson;
pub mod merge;
pub mod new;
mod outputs;
pub mod score;
pub mod season;
pub mod sources;
pub mod station_days;
pub mod sweep;
pub mod weather;

use crate::options::{Command, CommandLine};
use crate::problem::CommandError;

/// Does what was asked.
///
/// # Errors
/// Wrong input, a stop, or what the system refused.
pub fn run(args: &CommandLine) -> Result<(), CommandError> {
    let common = &args.common;
    #[cfg(unix)]
    crate::file_limit::fails_the_write()?;
    use_threads(common.threads)?;
    match &args.command {
        Command::New(args) => new::run(args, common),
        Command::Carry(args) => carry::run(args, common),
        Command::Check(args) => check::run(args, common),
        Command::Season(args) => season::run(args, common),
        Command::Compare(args) => compare::run(args, common),
        Command::Lesson(args) => lesson::run(args, common),
        Command::Sources(args) => sources::run(args, common),
        Command::Format(args) => format::run(args, common),
        Command::Sweep(args) => sweep::run(args, common),
        Command::Merge(args) => merge::run(args, common),
        Command::Score(args) => score::run(args, common),
        Command::Weather(args) => weather::run(args, common),
    }
}

fn use_threads(threads: Option<u16>) -> Result<(), CommandError> {
    let Some(threads) = threads else { return Ok(()) };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build_global();
    pool.map_err(|error| CommandError::Other(anyhow::Error::new(error).context("cannot start the threads")))
}
