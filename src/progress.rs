//! Progress on stderr: a bar with the time left on a terminal, or plain lines.

use crate::common::Progress;
use analysis::carry::ground::SearchProgress;
use indicatif::{ProgressBar, ProgressStyle};
use std::io::IsTerminal;
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// Least time between two plain lines.
const BETWEEN_LINES: Duration = Duration::from_secs(2);

/// What a bar says of possible years.
const YEARS: &str = "{pos} of {len} possible years  {wide_bar}  {eta} left";
/// What a bar says of a search.
const SEARCH: &str = "round {msg}: {pos} of about {len} runs  {wide_bar}  {eta} left";

/// Shows how far a count of possible years, or a search, has come.
pub enum Meter {
    /// A bar.
    Bar(ProgressBar),
    /// A line now and then: the total, when begun, when last told.
    Lines(usize, Instant, Mutex<Instant>),
    /// Silence.
    Silent,
}

impl Meter {
    /// A meter up to `total` possible years, as asked.
    pub fn new(how: Progress, quiet: bool, total: usize) -> Self {
        Self::with(how, quiet, total, YEARS)
    }

    /// A meter of a search, whose end shows as it goes.
    pub fn search(how: Progress, quiet: bool) -> Self {
        Self::with(how, quiet, 0, SEARCH)
    }

    fn with(how: Progress, quiet: bool, total: usize, words: &str) -> Self {
        let now = Instant::now();
        match how {
            _ if quiet => Self::Silent,
            Progress::Plain => Self::Lines(total, now, Mutex::new(now)),
            Progress::Auto if std::io::stderr().is_terminal() => Self::Bar(bar(total, words)),
            Progress::Auto | Progress::None => Self::Silent,
        }
    }

    /// So many are done.
    pub fn done(&self, count: usize) {
        match self {
            Self::Bar(bar) => bar.set_position(count as u64),
            Self::Lines(total, begun, last) => {
                line(count, *total, *begun, last, &format!("{count} of {total} possible years"));
            }
            Self::Silent => {}
        }
    }

    /// So far a search has come.
    pub fn round(&self, SearchProgress { round, done, all }: SearchProgress) {
        match self {
            Self::Bar(bar) => {
                // The length first: a bar of no length would show as done.
                bar.set_length(all);
                bar.set_position(done);
                bar.set_message(round.to_string());
            }
            Self::Lines(_, begun, last) => {
                let words = format!("round {round}: {done} of about {all} runs");
                line(done as usize, all as usize, *begun, last, &words);
            }
            Self::Silent => {}
        }
    }

    /// Takes the bar off the screen.
    pub fn finish(&self) {
        if let Self::Bar(bar) = self {
            bar.finish_and_clear();
        }
    }
}

fn bar(total: usize, words: &str) -> ProgressBar {
    let bar = ProgressBar::new(total as u64).with_message("1");
    let style = ProgressStyle::with_template(words);
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar
}

fn line(count: usize, total: usize, begun: Instant, last: &Mutex<Instant>, words: &str) {
    let Ok(mut last) = last.lock() else { return };
    if count < total && last.elapsed() < BETWEEN_LINES {
        return;
    }
    *last = Instant::now();
    let left = begun.elapsed().as_secs_f64() / count.max(1) as f64 * total.saturating_sub(count) as f64;
    crate::screen::complain(&format!("{words}, about {left:.0} s left"));
}
