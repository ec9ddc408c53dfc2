//! A strategy in another program: it is told each morning what a keeper could see, as one line
//! of JSON on its standard input, and answers with one line on its standard output which
//! gates to open. The lines are described in `scenarios/problems/README.md`.
//!
//! The program is not trusted: a line it does not write in time, that is too long, that is not
//! an answer or answers another day, and its own end, all end the scoring with one fault, and
//! the program and all that it started are killed.

mod family;
mod lines;
mod process;

pub use family::Family;

use lines::{ProgramAnswer, day_of, read};
use process::{Process, Said};
use sim_engine::gates::reason::Reason;
use sim_engine::gates::{Observation, Opening, Proposal, Strategy};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// What to do about most faults.
const READ_THE_PAGE: &str = "What it is told and how it must answer: scenarios/problems/README.md.";

/// How long a program may take.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// For each answer.
    pub within: Duration,
    /// From its start to its last answer.
    pub in_all: Duration,
}

/// Why a program is asked no more.
#[derive(Clone, Debug)]
pub enum Halt {
    /// A stop is asked for.
    Stopped,
    /// In words, what is wrong and what to do.
    Fault(String, &'static str),
}

/// A running program that answers for a keeper.
pub struct ExternalStrategy<'s> {
    process: Process,
    begun: Instant,
    limits: Limits,
    stopped: &'s (dyn Fn() -> bool + Sync),
    plots: Vec<String>,
    pests: Vec<String>,
    /// Number of the possible year.
    year: usize,
    /// The next day is the first of a possible year.
    first: bool,
    halt: Option<Halt>,
}

impl<'s> ExternalStrategy<'s> {
    /// Starts a program as the head of a family: its name and arguments, divided by blanks; quotes hold words
    /// together. While it is waited for, `stopped` is asked.
    ///
    /// # Errors
    /// If it cannot be started.
    pub fn start(
        command: &str,
        limits: Limits,
        family: Arc<Family>,
        stopped: &'s (dyn Fn() -> bool + Sync),
    ) -> Result<Self, Halt> {
        let process = Process::start(&words(command), family).map_err(|fault| Halt::Fault(fault, READ_THE_PAGE))?;
        let (plots, pests) = (Vec::new(), Vec::new());
        let begun = Instant::now();
        Ok(Self { process, begun, limits, stopped, plots, pests, year: 0, first: true, halt: None })
    }

    /// A site with these plots and pests is next.
    pub fn on(&mut self, plots: Vec<String>, pests: Vec<String>) {
        (self.plots, self.pests) = (plots, pests);
        self.year = 0;
    }

    /// A possible year is next.
    pub fn new_year(&mut self) {
        self.year += 1;
        self.first = true;
    }

    /// Why it is asked no more, once it is not.
    pub fn halt(&self) -> Option<&Halt> {
        self.halt.as_ref()
    }

    /// Asks about a day.
    fn ask(&mut self, observation: &Observation) -> Result<ProgramAnswer, Halt> {
        let date = observation.date.to_string();
        let line = day_of(observation, self.first, &self.plots, &self.pests);
        self.first = false;
        let at_last = self.begun + self.limits.in_all;
        let until = at_last.min(Instant::now() + self.limits.within);
        let said = self.process.ask(&line, until, self.stopped).map_err(|said| self.blame(&said, until == at_last));
        let fault_of = |said: &str| read(said, &date, &self.plots).map_err(|fault| Halt::Fault(fault, READ_THE_PAGE));
        said.and_then(|said| fault_of(&said)).map_err(|halt| match halt {
            // A stop may have been meant for the program too, and have reached it first.
            _ if (self.stopped)() => Halt::Stopped,
            Halt::Fault(fault, remedy) => {
                Halt::Fault(format!("on {date} of possible year {}: {fault}", self.year), remedy)
            }
            Halt::Stopped => Halt::Stopped,
        })
    }

    /// Why there is no answer, with the last it said on its standard error.
    fn blame(&self, said: &Said, at_last: bool) -> Halt {
        let seconds = |limit: Duration| limit.as_secs_f64();
        let (fault, remedy) = match said {
            Said::Stopped => return Halt::Stopped,
            Said::Nothing if at_last => (
                format!("its time for all answers, {} s, is over", seconds(self.limits.in_all)),
                "Give it longer with --in-all, or fewer problems with --problem.",
            ),
            Said::Nothing => (
                format!("it did not answer within {} s", seconds(self.limits.within)),
                "Give it longer with --within, and see that it writes each answer out at once (flush).",
            ),
            Said::TooMuch => (format!("it wrote a line longer than {} bytes", process::LONGEST), READ_THE_PAGE),
            Said::NoText => ("it wrote what is not text (UTF-8)".to_owned(), READ_THE_PAGE),
            Said::Ended(last) if last.is_empty() => ("it ended".to_owned(), READ_THE_PAGE),
            Said::Ended(last) => (format!("it ended, saying {last:?}"), READ_THE_PAGE),
        };
        Halt::Fault(fault, remedy)
    }
}

impl Strategy for ExternalStrategy<'_> {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        if self.halt.is_some() {
            return false;
        }
        match self.ask(observation) {
            Ok(answer) => {
                proposal.reason = Reason::ByHand;
                let opening = |&plot: &usize| Opening { plot, hours: answer.hours, birds: answer.birds };
                proposal.openings.extend(answer.open.iter().map(opening));
                true
            }
            Err(halt) => {
                self.halt = Some(halt);
                false
            }
        }
    }
}

/// Words of a command line; blanks within single or double quotes do not divide.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![];
    let (mut word, mut quote): (Option<String>, Option<char>) = (None, None);
    for letter in command.chars() {
        match (quote, letter) {
            (Some(open), _) if letter == open => quote = None,
            (None, '"' | '\'') => {
                quote = Some(letter);
                word.get_or_insert_default();
            }
            (None, _) if letter.is_whitespace() => words.extend(word.take()),
            _ => word.get_or_insert_default().push(letter),
        }
    }
    words.extend(word);
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_divide_words_but_not_within_quotes() {
        assert_eq!(words(" python3  'my keeper.py' --a=\"b c\" ''"), ["python3", "my keeper.py", "--a=b c", ""]);
        assert!(words("  ").is_empty());
    }
}
