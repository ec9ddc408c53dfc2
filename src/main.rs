//! The `hensward` program: which gate on which date, before the season.
//!
//! It reads what was asked, does it, and says how it went. Results go to stdout, talk
//! and faults to stderr; exit codes are 0 done, 2 the input is wrong, 1 anything else.

mod ask;
mod commands;
mod common;
mod demos;
mod describe;
mod external_strategy;
#[cfg(unix)]
mod file_limit;
mod line_faults;
mod options;
mod problem;
mod progress;
mod screen;
mod sites;
mod starters;
mod stop;
mod text;
mod whole;

use std::ffi::OsString;
use std::process::ExitCode;

fn main() -> ExitCode {
    let args = match line_faults::read() {
        Ok(args) => args,
        Err(asked) => {
            let line: Vec<OsString> = std::env::args_os().collect();
            return screen::of_the_line(&asked, &line_faults::words(&asked, &line));
        }
    };
    match commands::run(&args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => screen::tell(&problem, args.common.units),
    }
}
