//! A strategy in another program: it is told each morning what a keeper could see, as one line
//! of JSON on its standard input, and answers with one line on its standard output which
//! gates to open. The lines are described in `scenarios/problems/README.md`.
//!
//! The program is not trusted: a line it does not write in time, that is too long, that is not
//! an answer or answers another day, and its own end, all end the scoring with one fault, and
//! its whole process group is killed.

mod lines;
mod process;

use lines::{ProgramAnswer, day_of, read};
use process::{Process, Said};
use sim_engine::gates::reason::Reason;
use sim_engine::gates::{Observation, Opening, Proposal, Strategy};
use std::time::Duration;

/// A running program that answers for a keeper.
pub struct ExternalStrategy {
    process: Process,
    within: Duration,
    plots: Vec<String>,
    pests: Vec<String>,
    /// The next day is the first of a possible year.
    first: bool,
    fault: Option<String>,
}

impl ExternalStrategy {
    /// Starts a program: its name and arguments, divided by blanks; quotes hold words together.
    ///
    /// # Errors
    /// In words, if it cannot be started.
    pub fn start(command: &str, within: Duration) -> Result<Self, String> {
        let process = Process::start(&words(command))?;
        Ok(Self { process, within, plots: Vec::new(), pests: Vec::new(), first: true, fault: None })
    }

    /// A site with these plots and pests is next.
    pub fn on(&mut self, plots: Vec<String>, pests: Vec<String>) {
        (self.plots, self.pests) = (plots, pests);
    }

    /// A possible year is next.
    pub fn new_year(&mut self) {
        self.first = true;
    }

    /// What went wrong, in words; from then on it is asked no more.
    pub fn fault(&self) -> Option<&str> {
        self.fault.as_deref()
    }

    /// Asks about a day.
    fn ask(&mut self, observation: &Observation) -> Result<ProgramAnswer, String> {
        let date = observation.date.to_string();
        let line = day_of(observation, self.first, &self.plots, &self.pests);
        self.first = false;
        let said = self.process.ask(&line, self.within).map_err(|fault| format!("{} on {date}", self.blame(&fault)))?;
        read(&said, &date, &self.plots)
    }

    /// The fault, and the last the program said on its standard error.
    fn blame(&mut self, fault: &Said) -> String {
        let within = self.within.as_secs_f64();
        match fault {
            Said::Nothing => format!("it did not answer within {within} s"),
            Said::TooMuch => format!("it wrote a line longer than {} bytes", process::LONGEST),
            Said::NoText => "it wrote what is not text (UTF-8)".to_owned(),
            Said::Ended(last) if last.is_empty() => "it ended".to_owned(),
            Said::Ended(last) => format!("it ended, saying {last:?},"),
        }
    }
}

impl Strategy for ExternalStrategy {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        if self.fault.is_some() {
            return false;
        }
        match self.ask(observation) {
            Ok(answer) => {
                proposal.reason = Reason::ByHand;
                let opening = |&plot: &usize| Opening { plot, hours: answer.hours, birds: answer.birds };
                proposal.openings.extend(answer.open.iter().map(opening));
                true
            }
            Err(fault) => {
                self.fault = Some(fault);
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
