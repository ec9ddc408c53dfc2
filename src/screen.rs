//! The two streams: results on stdout, talk and faults on stderr; and the exit code.

use crate::problem::CommandError;
use analysis::units::Units;
use scenarios::Faults;
use scenarios::shown_text::harmless;
use std::io::{ErrorKind, Write};
use std::process::ExitCode;

/// The input is wrong.
const WRONG_INPUT: u8 = 2;

/// Prints a result.
///
/// # Errors
/// [`CommandError::PipeClosed`] if nobody reads any more; else what the system says.
pub fn print(text: &str) -> Result<(), CommandError> {
    let mut out = std::io::stdout().lock();
    let ending = if text.ends_with('\n') { "" } else { "\n" };
    match write!(out, "{}{ending}", harmless(text)).and_then(|()| out.flush()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Err(CommandError::PipeClosed),
        Err(error) => Err(CommandError::Other(anyhow::Error::new(error).context("cannot print the result"))),
    }
}

/// Says something besides the result; silent under `--quiet`.
pub fn talk(quiet: bool, text: &str) {
    if !quiet {
        complain(text);
    }
}

/// Says what is wrong, always.
pub fn complain(text: &str) {
    // If even stderr is gone there is nobody left to tell.
    writeln!(std::io::stderr().lock(), "{}", harmless(text)).ok();
}

/// What the command line was answered: help and version on stdout, faults on stderr in these words; the exit code.
pub fn of_the_line(answer: &clap::Error, words: &str) -> ExitCode {
    if !answer.use_stderr() {
        // In colour where the terminal has it.
        answer.print().ok();
        return ExitCode::SUCCESS;
    }
    complain(words.trim_end());
    ExitCode::from(WRONG_INPUT)
}

/// Tells on stderr why a command did not end as asked, in the units asked for, else those of the file at fault; the exit
/// code.
pub fn tell(problem: &CommandError, asked: Option<Units>) -> ExitCode {
    match problem {
        CommandError::Input(faults) => {
            let units = asked.unwrap_or_else(|| Units::of(faults.us_units()));
            let (shown, more) = faults.shown();
            let mut said: Vec<String> = shown.iter().map(|fault| units.fault(fault).to_string()).collect();
            if more > 0 {
                said.push(format!("… and {more} more."));
            }
            complain(&format!("{}\n\n{}", said.join("\n\n"), count(faults)));
            ExitCode::from(WRONG_INPUT)
        }
        CommandError::Stopped(words) => {
            complain(words);
            ExitCode::FAILURE
        }
        CommandError::PipeClosed => ExitCode::SUCCESS,
        CommandError::Other(error) => {
            complain(&format!("hensward could not finish: {}", reasons(error)));
            ExitCode::FAILURE
        }
    }
}

/// An error and what lies behind it; the system's part in plain words.
fn reasons(error: &anyhow::Error) -> String {
    let one = |cause: &(dyn std::error::Error + 'static)| match cause.downcast_ref::<std::io::Error>() {
        Some(system) => scenarios::io_errors::words(system),
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
