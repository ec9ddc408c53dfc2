//! The other program's process: asked a line at a time, with a time limit, and ended with all that it started.

use super::family::Family;
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Longest line taken, bytes: a hundred times an honest answer.
pub const LONGEST: usize = 65_536;
/// Bytes kept of what it said last on its standard error.
const KEPT: usize = 400;
/// How long its last words are waited for once it has ended.
const LAST_WORDS: Duration = Duration::from_millis(200);
/// How long an answer is waited for between two looks whether a stop is asked for.
const BETWEEN_LOOKS: Duration = Duration::from_millis(100);

/// Why there is no line.
pub enum Said {
    /// Nothing in time.
    Nothing,
    /// A stop is asked for.
    Stopped,
    /// A line without end.
    TooMuch,
    /// Not text.
    NoText,
    /// It ended; its last words.
    Ended(String),
}

/// A running program. Dropping it ends it and all it started.
pub struct Process {
    family: Arc<Family>,
    /// Lines to be written; a thread writes them, so that a program that does not read cannot hold us up.
    to: SyncSender<String>,
    from: Receiver<Result<String, Said>>,
    last_words: Arc<Mutex<String>>,
}

impl Process {
    /// Starts a program as the head of a family.
    ///
    /// # Errors
    /// In words, if it cannot be started.
    pub fn start(words: &[String], family: Arc<Family>) -> Result<Self, String> {
        let (name, arguments) = words.split_first().ok_or("no program is named")?;
        let mut command = Command::new(name);
        command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let (to, lines_to) = sync_channel(1);
        let (answers, from) = sync_channel(1);
        let streams = family
            .start(&mut command)
            .map_err(|error| format!("{name} cannot be started: {}", scenarios::io_errors::words(&error)))?;
        // From here on it is ended whatever happens.
        let process = Self { family, to, from, last_words: Arc::default() };
        if let Some(stdin) = streams.stdin {
            std::thread::spawn(move || write_lines(stdin, &lines_to));
        }
        if let Some(stdout) = streams.stdout {
            std::thread::spawn(move || read_lines(BufReader::new(stdout), &answers));
        }
        if let Some(stderr) = streams.stderr {
            let kept = Arc::clone(&process.last_words);
            std::thread::spawn(move || keep_last(stderr, &kept));
        }
        Ok(process)
    }

    /// Writes a line and waits for the next one from it, but no longer than `until` or a stop.
    ///
    /// # Errors
    /// Why there is none.
    pub fn ask(&mut self, line: &str, until: Instant, stopped: &dyn Fn() -> bool) -> Result<String, Said> {
        // A full queue: it has not read the last line yet; then no answer comes in time either.
        self.to.try_send(line.to_owned()).ok();
        while !stopped() {
            let left = until.saturating_duration_since(Instant::now());
            match self.from.recv_timeout(left.min(BETWEEN_LOOKS)) {
                Ok(said) => return said.map_err(|said| self.with_last_words(said)),
                Err(RecvTimeoutError::Timeout) if left <= BETWEEN_LOOKS => return Err(Said::Nothing),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => {
                    return Err(self.with_last_words(Said::Ended(String::new())));
                }
            }
        }
        Err(Said::Stopped)
    }

    fn with_last_words(&self, said: Said) -> Said {
        let Said::Ended(_) = said else { return said };
        std::thread::sleep(LAST_WORDS);
        let words = self.last_words.lock().map(|words| words.lines().last().unwrap_or("").trim().to_owned());
        Said::Ended(words.unwrap_or_default())
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        self.family.end();
    }
}

fn write_lines(mut stdin: ChildStdin, lines: &Receiver<String>) {
    while let Ok(line) = lines.recv() {
        if stdin.write_all(line.as_bytes()).and_then(|()| stdin.flush()).is_err() {
            return;
        }
    }
}

/// Hands on line after line; waits while one lies unasked, so that a flood stays in the program.
fn read_lines(mut stdout: impl BufRead, answers: &SyncSender<Result<String, Said>>) {
    loop {
        let said = read_line(&mut stdout);
        let last = said.is_err();
        if answers.send(said).is_err() || last {
            return;
        }
    }
}

fn read_line(stdout: &mut impl BufRead) -> Result<String, Said> {
    let mut line = Vec::new();
    let read = stdout.by_ref().take(LONGEST as u64).read_until(b'\n', &mut line);
    if read.is_err() || line.is_empty() {
        return Err(Said::Ended(String::new()));
    }
    if line.len() == LONGEST && line.last() != Some(&b'\n') {
        return Err(Said::TooMuch);
    }
    String::from_utf8(line).map(|line| line.trim().to_owned()).map_err(|_| Said::NoText)
}

/// Reads to the end, so that the program is never held up, and keeps the last of it.
fn keep_last(mut stderr: impl Read, kept: &Mutex<String>) {
    let mut piece = [0; 4096];
    while let Ok(count @ 1..) = stderr.read(&mut piece) {
        let Ok(mut kept) = kept.lock() else { return };
        kept.push_str(&String::from_utf8_lossy(&piece[..count]));
        let over = kept.len().saturating_sub(KEPT);
        let cut = (over..=kept.len()).find(|&at| kept.is_char_boundary(at)).unwrap_or(0);
        kept.drain(..cut);
    }
}
