//! The commands, one file each.

pub mod carry;
pub mod check;
pub mod compare;
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
pub fn run(asked: &CommandLine) -> Result<(), CommandError> {
    let common = &asked.common;
    use_threads(common.threads)?;
    match &asked.command {
        Command::New(asked) => new::run(asked, common),
        Command::Carry(asked) => carry::run(asked, common),
        Command::Check(asked) => check::run(asked, common),
        Command::Season(asked) => season::run(asked, common),
        Command::Compare(asked) => compare::run(asked, common),
        Command::Lesson(asked) => lesson::run(asked, common),
        Command::Sources(asked) => sources::run(asked, common),
        Command::Sweep(asked) => sweep::run(asked, common),
        Command::Merge(asked) => merge::run(asked, common),
        Command::Score(asked) => score::run(asked, common),
        Command::Weather(asked) => weather::run(asked, common),
    }
}

fn use_threads(threads: Option<u16>) -> Result<(), CommandError> {
    let Some(threads) = threads else { return Ok(()) };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build_global();
    pool.map_err(|error| CommandError::Other(anyhow::Error::new(error).context("cannot start the threads")))
}
