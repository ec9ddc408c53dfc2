//! What is wrong with a command line, in words: which option, what it takes, what to do.

use crate::options::CommandLine;
use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Arg, Command, CommandFactory, FromArgMatches};
use std::ffi::OsString;

/// Last line of what clap tells.
const MORE: &str = "For more information, try '--help'.";

/// Reads the command line of the program.
///
/// # Errors
/// Help and version where they are asked for; else what is wrong.
pub fn read() -> Result<CommandLine, clap::Error> {
    let matches = negatives(CommandLine::command()).try_get_matches()?;
    CommandLine::from_arg_matches(&matches)
}

/// A number with a minus is the value of its option, which says what it takes, and no option itself.
fn negatives(command: Command) -> Command {
    let takes = |arg: &Arg| !arg.is_positional() && arg.get_action().takes_values();
    let command = command.mut_args(|arg| if takes(&arg) { arg.allow_negative_numbers(true) } else { arg });
    command.mut_subcommands(negatives)
}

/// What is wrong with a line, with what the option at fault takes.
pub fn words(fault: &clap::Error, line: &[OsString]) -> String {
    if let (ErrorKind::InvalidUtf8, Some(words)) = (fault.kind(), no_text(line)) {
        return words;
    }
    let mut told = without_tips(&fault.render().to_string());
    let help = match fault.kind() {
        ErrorKind::ArgumentConflict => Some("Leave one of the two out.".to_owned()),
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => taken(fault, line),
        _ => None,
    };
    if let Some(help) = help {
        told = told.replace(MORE, &format!("{help}\n\n{MORE}"));
    }
    told
}

/// The word of a line that is no text, and the option it belongs to.
fn no_text(line: &[OsString]) -> Option<String> {
    let at = line.iter().position(|word| word.to_str().is_none())?;
    let option = line[..at].last().and_then(|word| word.to_str()).filter(|word| word.starts_with("--"));
    let option = option.map_or(String::new(), |option| format!(", given to {option},"));
    let shown = line[at].to_string_lossy();
    Some(format!(
        "error: {shown:?}{option} is not text in UTF-8\n\nWrite it in letters; a file of such a name can be renamed."
    ))
}

/// To pass an option as a value is never what was meant here.
fn without_tips(told: &str) -> String {
    let parts = told.split("\n\n").filter(|part| !part.trim_start().starts_with("tip: to pass "));
    parts.collect::<Vec<_>>().join("\n\n")
}

/// What the option at fault is for.
fn taken(fault: &clap::Error, line: &[OsString]) -> Option<String> {
    let Some(ContextValue::String(named)) = fault.get(ContextKind::InvalidArg) else { return None };
    let mut root = CommandLine::command();
    root.build();
    let mut command = &root;
    for word in line {
        command = word.to_str().and_then(|word| command.find_subcommand(word)).unwrap_or(command);
    }
    let mut args = command.get_arguments().chain(root.get_arguments());
    let help = args.find(|arg| arg.to_string() == *named).and_then(Arg::get_help).map(StyledStr::to_string)?;
    Some(format!("{named}: {help}."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(line: &[&str]) -> String {
        let line: Vec<OsString> = ["hensward"].iter().chain(line).map(OsString::from).collect();
        words(&negatives(CommandLine::command()).try_get_matches_from(&line).unwrap_err(), &line)
    }

    #[test]
    fn the_option_at_fault_says_what_it_takes() {
        for (line, wants) in [
            (
                ["compare", "s", "--draws", "-5"],
                ["whole number from 1 to 100000", "--draws <N>: Possible years [default: those"],
            ),
            (["compare", "s", "--worth", "-0.1"], ["a share from 0 to 1", "--worth <SHARE>: Lead worth a change"]),
            (["season", "s", "--draw", "-1"], ["whole number, 0 or more", "--draw <N>: Which possible year"]),
            (["check", "s", "--units", "ell"], ["metric, us", "--units <UNITS>: Units of words"]),
            (["weather", "fit", "s", "--years=1"], ["from 20 to", "--years <N>: Generated years"]),
        ] {
            let told = told(&line);
            assert!(wants.iter().all(|want| told.contains(want)), "{told}");
        }
    }

    #[test]
    fn no_remedy_is_to_take_an_option_for_a_value() {
        for line in [["check", "s", "--draws", "3"], ["check", "s", "-x", "3"], ["check", "s", "--seed", "-1"]] {
            let told = told(&line);
            assert!(!told.contains("tip: to pass") && told.ends_with(&format!("{MORE}\n")), "{told}");
        }
    }

    #[test]
    fn of_two_that_exclude_each_other_one_is_left_out() {
        let told = told(&["compare", "s", "--draws", "3", "--until-sure", "0.9"]);
        assert!(told.contains("cannot be used with") && told.contains("Leave one of the two out."), "{told}");
    }
}
