//! The other program's process: asked a line at a time, with a time limit, and killed at the end.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// Longest line taken, bytes: a hundred times an honest answer.
pub const LONGEST: usize = 65_536;
/// Bytes kept of what it said last on its standard error.
const KEPT: usize = 400;
/// How long its last words are waited for once it has ended.
const LAST_WORDS: Duration = Duration::from_millis(200);

/// Why there is no line.
pub enum Said {
    /// Nothing in time.
    Nothing,
    /// A line without end.
    TooMuch,
    /// Not text.
    NoText,
    /// It ended; its last words.
    Ended(String),
}

/// A running program. Dropping it kills it and all it started.
pub struct Process {
    child: Child,
    /// Lines to be written; a thread writes them, so that a program that does not read cannot hold us up.
    to: SyncSender<String>,
    from: Receiver<Result<String, Said>>,
    last_words: Arc<Mutex<String>>,
}

impl Process {
    /// Starts a program.
    ///
    /// # Errors
    /// In words, if it cannot be started.
    pub fn start(words: &[String]) -> Result<Self, String> {
        let (name, arguments) = words.split_first().ok_or("no program is named")?;
        let mut command = Command::new(name);
        command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        in_its_own_group(&mut command);
        let mut child = command
            .spawn()
            .map_err(|error| format!("{name} cannot be started: {}", scenarios::io_errors::words(&error)))?;
        let last_words = Arc::new(Mutex::new(String::new()));
        let (to, lines_to) = sync_channel(1);
        let (answers, from) = sync_channel(1);
        if let Some(stdin) = child.stdin.take() {
            std::thread::spawn(move || write_lines(stdin, &lines_to));
        }
        if let Some(stdout) = child.stdout.take() {
            std::thread::spawn(move || read_lines(BufReader::new(stdout), &answers));
        }
        if let Some(stderr) = child.stderr.take() {
            let kept = Arc::clone(&last_words);
            std::thread::spawn(move || keep_last(stderr, &kept));
        }
        Ok(Self { child, to, from, last_words })
    }

    /// Writes a line and waits for the next one from it.
    ///
    /// # Errors
    /// Why there is none.
    pub fn ask(&mut self, line: &str, within: Duration) -> Result<String, Said> {
        // A full queue: it has not read the last line yet; then no answer comes in time either.
        self.to.try_send(line.to_owned()).ok();
        match self.from.recv_timeout(within) {
            Ok(said) => said.map_err(|said| self.with_last_words(said)),
            Err(RecvTimeoutError::Timeout) => Err(Said::Nothing),
            Err(RecvTimeoutError::Disconnected) => Err(self.with_last_words(Said::Ended(String::new()))),
        }
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
        kill(&mut self.child);
        // Fails only if it is gone already.
        self.child.wait().ok();
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

#[cfg(unix)]
fn in_its_own_group(command: &mut Command) {
    std::os::unix::process::CommandExt::process_group(command, 0);
}

#[cfg(not(unix))]
fn in_its_own_group(_: &mut Command) {}

/// Kills it with all it started.
#[cfg(unix)]
fn kill(child: &mut Child) {
    let group = i32::try_from(child.id()).ok().and_then(rustix::process::Pid::from_raw);
    if let Some(group) = group {
        rustix::process::kill_process_group(group, rustix::process::Signal::KILL).ok();
    }
    child.kill().ok();
}

#[cfg(not(unix))]
fn kill(child: &mut Child) {
    child.kill().ok();
}
