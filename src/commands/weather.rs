//! `hensward weather fit` and `hensward weather draw`.

mod both;
mod draw;
mod fit;

use crate::common::Common;
use crate::problem::Problem;
use clap::{Args, Subcommand};

/// What can be asked.
#[derive(Args, Debug)]
pub struct Asked {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Fit the weather generator to a station's days
    Fit(fit::Asked),
    /// Write generated days as CSV
    Draw(draw::Asked),
}

/// Does it.
///
/// # Errors
/// A faulty station file, a climate that is not there, or what the system refused.
pub fn run(asked: &Asked, common: &Common) -> Result<(), Problem> {
    match &asked.what {
        What::Fit(asked) => fit::run(asked, common),
        What::Draw(asked) => draw::run(asked, common),
    }
}
