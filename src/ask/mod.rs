//! Ten questions in the terminal, and the site file made of the answers.
//!
//! After each answer the file so far is read by the reader of site files: what it refuses is asked again in its words.

mod answers;
mod birds;
mod dates;
mod fruit;
mod gates;
mod grows;
mod limits;
mod place;
mod plots;
mod prompt;
mod size;
mod steps;
mod troubles;
mod written;
mod wrong;

use crate::problem::CommandError;
use crate::screen;
use analysis::table::paragraph;
use analysis::units::Units;
use answers::Answers;
use prompt::Prompt;
use scenarios::diagnose::Severity;
use scenarios::{Library, site_file};
use std::io::{BufRead, Read};
use steps::{Step, steps};
use wrong::Wrong;

/// Most bytes of an answer.
const LONGEST: u64 = 10_000;

const BEGINNING: &str = "Ten questions, some in parts. An empty line takes what stands in [brackets], ? tells more, \
                         back is the question before.";

/// Words that name the units, and whether they are US customary units.
const UNITS: [(&str, bool); 2] = [("metric", false), ("us", true)];

/// What came of the questions.
pub struct Asked {
    /// The site file.
    pub text: String,
    /// It is shown in US customary units.
    pub us_units: bool,
}

/// Asks all questions, with answers from `input`, one a line; what is asked goes to `say`.
///
/// # Errors
/// The answers end before the last question, or cannot be read.
pub fn ask(
    (site_name, us_units): (String, bool),
    library: &Library,
    input: &mut dyn BufRead,
    say: &dyn Fn(&str),
) -> Result<Asked, CommandError> {
    let mut answers = Answers { us_units, ..Answers::of(site_name) };
    let (mut at, mut listed) = (0, None);
    say(BEGINNING);
    while let Some(step) = steps(&answers).get(at).copied() {
        let mut prompt = step.prompt(&answers, library);
        // A long list is read once.
        if listed.replace(at) == Some(at) {
            prompt.list.clear();
        }
        say(&format!("\n{}", prompt.shown()));
        let line = line(input)?.ok_or_else(|| ended(&prompt))?;
        match (line.trim(), &prompt.taken) {
            ("?", _) => say(paragraph(prompt.more).trim_end()),
            (text, _) if text.eq_ignore_ascii_case("back") => at = at.saturating_sub(1),
            (text, _) if units_named(text).is_some() => {
                (answers.us_units, answers.units_said) = (units_named(text) == Some(true), true);
            }
            ("", None) => say("This one needs an answer; ? tells more."),
            (text, taken) => {
                let text = if text.is_empty() { taken.as_deref().unwrap_or_default() } else { text };
                match accepted(step, &answers, library, text) {
                    Ok(mut next) => {
                        next.heard.drain(..).for_each(|heard| say(&heard));
                        (answers, at) = (next, at + 1);
                    }
                    Err(wrong) => say(&format!("Question {}: {}.\n  {}", prompt.number, wrong.what, wrong.remedy)),
                }
            }
        }
    }
    Ok(Asked { text: written::site(&answers), us_units: answers.us_units })
}

fn units_named(text: &str) -> Option<bool> {
    UNITS.iter().find(|(word, _)| text.eq_ignore_ascii_case(word)).map(|(_, us)| *us)
}

/// The answers with one more, if the file still reads.
fn accepted(step: Step, answers: &Answers, library: &Library, text: &str) -> Result<Answers, Wrong> {
    if text.chars().any(char::is_control) {
        return Err(Wrong::new("the answer has characters that are not seen", "Type it anew."));
    }
    let mut next = answers.clone();
    step.take(&mut next, library, text)?;
    match site_file::read_text("site.toml", &written::site(&next), library, &|_| Err("there is no file".to_owned())) {
        Ok(_) => Ok(next),
        Err(faults) => {
            let units = Units::of(next.us_units);
            let fault = faults.all().iter().find(|fault| fault.severity == Severity::Error);
            let fault = fault.map(|fault| units.fault(fault));
            Err(fault
                .map_or_else(|| Wrong::new("it cannot be read", ""), |fault| Wrong::new(fault.message, fault.remedy)))
        }
    }
}

/// The next line; `None` at the end of the input.
fn line(input: &mut dyn BufRead) -> Result<Option<String>, CommandError> {
    let mut line = String::new();
    let read = input.take(LONGEST).read_line(&mut line);
    match read {
        Ok(0) => Ok(None),
        Ok(bytes) if bytes as u64 == LONGEST => {
            Err(CommandError::argument("--ask", "an answer is endless", "Give one answer a line."))
        }
        Ok(_) => Ok(Some(line.trim_start_matches('\u{feff}').to_owned())),
        Err(error) if error.kind() == std::io::ErrorKind::InvalidData => {
            Err(CommandError::argument("--ask", "an answer is not text in UTF-8", "Give one answer a line, as text."))
        }
        Err(error) => Err(CommandError::Other(anyhow::Error::new(error).context("cannot read the answers"))),
    }
}

fn ended(prompt: &Prompt) -> CommandError {
    CommandError::argument(
        "--ask",
        format!("the answers end before question {}: {}", prompt.number, prompt.ask),
        "Answer every question; an empty line takes what stands in brackets.",
    )
}

/// Says something of the questions: on a terminal always, else as other talk.
pub fn say(quiet: bool, text: &str) {
    use std::io::IsTerminal;
    screen::talk(quiet && !std::io::stdin().is_terminal(), text);
}
