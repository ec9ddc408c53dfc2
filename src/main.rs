//! The `hensward` program: which gate on which date, before the season.
//!
//! It reads what was asked, does it, and says how it went. Results go to stdout, talk
//! and faults to stderr; exit codes are 0 done, 2 the input is wrong, 1 anything else.

mod commands;
mod common;
mod demos;
mod describe;
mod external_strategy;
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

use std::process::ExitCode;

fn main() -> ExitCode {
    let args = match line_faults::read() {
        Ok(args) => args,
        Err(asked) => return screen::of_the_line(&asked),
    };
    match commands::run(&args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => screen::tell(&problem, args.common.units),
    }
}
