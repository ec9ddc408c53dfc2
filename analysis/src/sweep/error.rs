//! Why a sweep failed.

use crate::output::OutputError;
use crate::results::ResultsError;
use scenarios::{Fault, Faults};
use sim_engine::run::world::RunError;

/// Why a sweep failed.
#[derive(Debug, thiserror::Error)]
pub enum SweepError {
    /// What was asked or given cannot be used.
    #[error(transparent)]
    Input(#[from] Faults),
    /// A run failed: see [`RunError`].
    #[error(transparent)]
    Run(#[from] RunError),
    /// A file could not be written.
    #[error(transparent)]
    Output(#[from] OutputError),
    /// Our own document could not be written as JSON.
    #[error(transparent)]
    Json(#[from] serde_json::Error),
    /// Stopped by the user; finished blocks are kept.
    #[error("stopped")]
    Stopped,
}

impl From<ResultsError> for SweepError {
    fn from(error: ResultsError) -> Self {
        match error {
            ResultsError::Refused(faults) => Self::Input(faults),
            ResultsError::Output(error) => Self::Output(error),
        }
    }
}

impl SweepError {
    /// One fault of an argument or a file: its name, what is wrong, what would be right.
    #[must_use]
    pub fn argument(name: &str, fault: impl Into<String>, remedy: &str) -> Self {
        Self::Input(Faults::one(Fault::of_file(name, fault, remedy)))
    }
}
