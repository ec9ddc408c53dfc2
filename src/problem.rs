//! What can go wrong; `screen.rs` tells it.

use scenarios::{Fault, Faults};

/// Why a command did not end as asked.
#[derive(Debug)]
pub enum CommandError {
    /// What was given cannot be used: exit code 2.
    Input(Faults),
    /// Stopped by the user; what is finished is kept: exit code 1.
    Stopped(String),
    /// Whoever read our results has seen enough: success.
    PipeClosed,
    /// Anything else: exit code 1.
    Other(anyhow::Error),
}

impl CommandError {
    /// One fault of an argument: its name, what is wrong, what would be right.
    pub fn argument(name: &str, fault: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Input(Faults::one(Fault::of_file(name, fault, remedy)))
    }
}

impl From<Faults> for CommandError {
    fn from(faults: Faults) -> Self {
        Self::Input(faults)
    }
}

impl From<analysis::sweep::SweepError> for CommandError {
    fn from(error: analysis::sweep::SweepError) -> Self {
        match error {
            analysis::sweep::SweepError::Input(faults) => Self::Input(faults),
            error => Self::Other(error.into()),
        }
    }
}

impl From<analysis::results::ResultsError> for CommandError {
    fn from(error: analysis::results::ResultsError) -> Self {
        match error {
            analysis::results::ResultsError::Refused(faults) => Self::Input(faults),
            analysis::results::ResultsError::Output(error) => Self::Other(error.into()),
        }
    }
}

impl<E: Into<anyhow::Error>> From<E> for CommandError
where
    E: NotFaults,
{
    fn from(error: E) -> Self {
        Self::Other(error.into())
    }
}

/// Errors that are not the user's input; each is named, so that none slips through unseen.
pub trait NotFaults {}
impl NotFaults for anyhow::Error {}
impl NotFaults for analysis::output::OutputError {}
impl NotFaults for analysis::compare::CompareError {}
impl NotFaults for sim_engine::run::world::RunError {}
impl NotFaults for serde_json::Error {}
