//! The two streams: results on stdout, talk and faults on stderr.

use crate::problem::Problem;
use std::io::{ErrorKind, Write};

/// Prints a result.
///
/// # Errors
/// [`Problem::PipeClosed`] if nobody reads any more; else what the system says.
pub fn print(text: &str) -> Result<(), Problem> {
    let mut out = std::io::stdout().lock();
    let ending = if text.ends_with('\n') { "" } else { "\n" };
    match write!(out, "{text}{ending}").and_then(|()| out.flush()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Err(Problem::PipeClosed),
        Err(error) => Err(Problem::Other(anyhow::Error::new(error).context("cannot print the result"))),
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
    writeln!(std::io::stderr().lock(), "{text}").ok();
}
