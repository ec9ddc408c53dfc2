//! What can go wrong, how it is told, and the exit code.

use crate::screen;
use analysis::units::Units;
use scenarios::{Fault, Faults};
use std::process::ExitCode;

/// The input is wrong.
const WRONG_INPUT: u8 = 2;

/// Why a command did not end as asked.
#[derive(Debug)]
pub enum Problem {
    /// What was given cannot be used: exit code 2.
    Input(Faults),
    /// Stopped by the user; what is finished is kept: exit code 1.
    Stopped(String),
    /// Whoever read our results has seen enough: success.
    PipeClosed,
    /// Anything else: exit code 1.
    Other(anyhow::Error),
}

impl Problem {
    /// One fault of an argument: its name, what is wrong, what would be right.
    pub fn argument(name: &str, fault: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Input(Faults::one(Fault::of_file(name, fault, remedy)))
    }

    /// Tells it on stderr, in these units; the exit code.
    pub fn tell(&self, units: Units) -> ExitCode {
        match self {
            Problem::Input(faults) => {
                let said: Vec<String> = faults.all().iter().map(|fault| units.fault(fault).to_string()).collect();
                screen::complain(&format!("{}\n\n{}", said.join("\n\n"), count(faults)));
                ExitCode::from(WRONG_INPUT)
            }
            Problem::Stopped(words) => {
                screen::complain(words);
                ExitCode::FAILURE
            }
            Problem::PipeClosed => ExitCode::SUCCESS,
            Problem::Other(error) => {
                screen::complain(&format!("hensward could not finish: {}", reasons(error)));
                ExitCode::FAILURE
            }
        }
    }
}

/// An error and what lies behind it; the system's part in plain words.
fn reasons(error: &anyhow::Error) -> String {
    let one = |cause: &(dyn std::error::Error + 'static)| match cause.downcast_ref::<std::io::Error>() {
        Some(system) => scenarios::system::words(system),
        None => cause.to_string(),
    };
    error.chain().map(one).collect::<Vec<_>>().join(": ")
}

/// "1 fault; nothing was written."
fn count(faults: &Faults) -> String {
    let errors = faults.all().iter().filter(|fault| fault.severity == scenarios::diagnose::Severity::Error);
    match errors.count() {
        1 => "1 fault; nothing was written.".to_owned(),
        many => format!("{many} faults; nothing was written."),
    }
}

impl From<Faults> for Problem {
    fn from(faults: Faults) -> Self {
        Self::Input(faults)
    }
}

impl From<analysis::sweep::SweepError> for Problem {
    fn from(error: analysis::sweep::SweepError) -> Self {
        match error {
            analysis::sweep::SweepError::Input(faults) => Self::Input(faults),
            error => Self::Other(error.into()),
        }
    }
}

impl<E: Into<anyhow::Error>> From<E> for Problem
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
