//! `hensward weather fit` and `hensward weather draw`.

mod both;
mod draw;
mod fit;

use crate::common::Common;
use crate::problem::CommandError;
use clap::{Args, Subcommand};

/// What can be asked.
#[derive(Args, Debug)]
pub struct WeatherArgs {
    #[command(subcommand)]
    what: WeatherCommand,
}

#[derive(Debug, Subcommand)]
enum WeatherCommand {
    /// Fit the weather generator to a station's days
    Fit(fit::FitArgs),
    /// Write generated days as CSV
    Draw(draw::DrawArgs),
}

/// Does it.
///
/// # Errors
/// A faulty station file, a climate that is not there, or what the system refused.
pub fn run(args: &WeatherArgs, common: &Common) -> Result<(), CommandError> {
    match &args.what {
        WeatherCommand::Fit(args) => fit::run(args, common),
        WeatherCommand::Draw(args) => draw::run(args, common),
    }
}
