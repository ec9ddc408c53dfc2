//! The file finished blocks are kept in: safe against a crash at any moment.
//!
//! Lines of text, each `<digest> <kind> <content>`. The digest covers the line and the digest
//! before it, so that no line can be changed, lost or moved unseen. Kinds: `H` the head (plan
//! and shard), `B` a block of cells, `E` the end. A crash can only leave a last line without
//! its line end: that is dropped when the run goes on. Numbers stand as the hexadecimal digits
//! of their 64 bits, exactly as they were computed.

use super::tally::Tally;
use super::{Shard, SweepError, SweepPlan};
use crate::output::OutputError;
use crate::provenance::input_digest;
use crate::stats::blocks::Moments;
use scenarios::{io_errors, read_file};
use serde::{Deserialize, Serialize};
use sim_engine::measures::Measure;
use std::fmt::Write as _;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{BufRead, BufReader, ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

/// Format of the head.
const FORMAT: &str = "hensward.sweep-part/3";
/// Letters of a digest: 128 bits in hexadecimal.
const DIGEST_DIGITS: usize = 32;
/// Most bytes of a line, so that no file, whatever it holds, fills the memory.
const LONGEST_LINE: u64 = 32_000_000;

#[derive(Serialize, Deserialize)]
struct Head {
    format: String,
    shard: Shard,
    plan: SweepPlan,
}

/// Cells in a row with their tallies, by cell and strategy.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Number of the first cell.
    pub first: u64,
    /// Tallies.
    pub cells: Vec<Vec<Tally>>,
}

/// A part being read, line by line.
pub struct PartReader {
    lines: Lines,
    /// What it belongs to.
    pub plan: SweepPlan,
    /// Which part.
    pub shard: Shard,
    /// Cells up to this one were read.
    pub next: u64,
    /// The end was read: nothing is missing.
    pub finished: bool,
    /// The last line was torn by a crash.
    pub torn: bool,
}

/// One line: its kind and content.
enum PartLine {
    Whole(char, String),
    Torn,
    None,
}

impl PartReader {
    /// Opens a part and reads its head; `None` if not even the head was written whole.
    ///
    /// # Errors
    /// It cannot be read, is no part of a sweep, or is damaged.
    pub fn open(path: &Path) -> Result<Option<Self>, SweepError> {
        let file = read_file::open(path).map_err(|unread| unreadable(path, &unread.why))?;
        Self::of(path, file)
    }

    fn of(path: &Path, file: File) -> Result<Option<Self>, SweepError> {
        let mut lines =
            Lines { path: path.to_owned(), file: BufReader::new(file), digest: String::new(), line: 0, sound: 0 };
        let content = match lines.next()? {
            PartLine::Whole('H', content) => content,
            PartLine::Whole(..) => return Err(lines.damaged()),
            PartLine::Torn | PartLine::None => return Ok(None),
        };
        let head: Head = serde_json::from_str(&content).map_err(|_| lines.foreign())?;
        if head.format != FORMAT {
            return Err(lines.foreign());
        }
        if !head.plan.sound() || !head.shard.sound() {
            return Err(lines.damaged());
        }
        let next = head.shard.span(head.plan.cell_count().unwrap_or(0)).0;
        let (plan, shard) = (head.plan, head.shard);
        Ok(Some(Self { lines, plan, shard, next, finished: false, torn: false }))
    }

    /// The next block; `None` after the last whole one.
    ///
    /// # Errors
    /// The part is damaged, with the line.
    pub fn block(&mut self) -> Result<Option<Block>, SweepError> {
        let end = self.shard.span(self.plan.cell_count().unwrap_or(0)).1;
        match self.lines.next()? {
            PartLine::None => Ok(None),
            PartLine::Torn => {
                self.torn = true;
                Ok(None)
            }
            PartLine::Whole('B', content) if !self.finished => {
                let block = decode(&content, &self.plan).filter(|block| block.first == self.next);
                let block = block.ok_or_else(|| self.lines.damaged())?;
                self.next += block.cells.len() as u64;
                Ok(Some(block))
            }
            PartLine::Whole('E', content) if !self.finished && self.next == end && content == end.to_string() => {
                self.finished = true;
                self.block()
            }
            PartLine::Whole(..) => Err(self.lines.damaged()),
        }
    }
}

fn unreadable(path: &Path, why: &str) -> SweepError {
    let remedy = "Give the part files that sweeps with --shard wrote.";
    SweepError::argument(&path.display().to_string(), format!("cannot be read: {why}"), remedy)
}

/// Lines of a part, checked one by one.
struct Lines {
    path: PathBuf,
    file: BufReader<File>,
    digest: String,
    line: u64,
    /// Bytes of whole lines read so far.
    sound: u64,
}

impl Lines {
    fn next(&mut self) -> Result<PartLine, SweepError> {
        let told = |error: std::io::Error| unreadable(&self.path, &io_errors::unread(&error));
        let begin = self.file.fill_buf().map_err(told)?;
        if begin.is_empty() {
            return Ok(PartLine::None);
        }
        self.line += 1;
        // What is no part is somebody's file, and may be endless.
        if !begins_like_a_line(begin, self.line) {
            return Err(self.damaged());
        }
        let mut bytes = Vec::new();
        self.file.by_ref().take(LONGEST_LINE + 1).read_until(b'\n', &mut bytes).map_err(told)?;
        if bytes.len() as u64 > LONGEST_LINE {
            return Err(self.damaged());
        }
        if bytes.last() != Some(&b'\n') {
            return Ok(PartLine::Torn);
        }
        let length = bytes.len() as u64;
        bytes.pop();
        let text = String::from_utf8(bytes).map_err(|_| self.damaged())?;
        let (digest, body) = text.split_once(' ').ok_or_else(|| self.damaged())?;
        if digest != digest_of(&self.digest, body) {
            return Err(self.damaged());
        }
        let (kind, content) = body.split_once(' ').ok_or_else(|| self.damaged())?;
        self.digest = digest.to_owned();
        self.sound += length;
        Ok(PartLine::Whole(kind.chars().next().unwrap_or(' '), content.to_owned()))
    }

    fn damaged(&self) -> SweepError {
        let fault = if self.line <= 1 {
            "is no part of a sweep, or damaged in line 1".to_owned()
        } else {
            format!("is damaged in line {}", self.line)
        };
        let remedy = if self.line <= 1 {
            "Give the files that sweeps with --shard wrote. Remove it, if it was one of them, and run that part again."
        } else {
            "Remove it and run this sweep, or this part of it, again."
        };
        SweepError::argument(&self.path.display().to_string(), fault, remedy)
    }

    fn foreign(&self) -> SweepError {
        let remedy = "Use the version of the program that wrote it, or remove it and run the sweep again.";
        SweepError::argument(&self.path.display().to_string(), "was written by another version of the program", remedy)
    }
}

/// Whether bytes may begin a line: its digest, then its kind, which of the first line is the head's.
fn begins_like_a_line(bytes: &[u8], line: u64) -> bool {
    let (digest, rest) = bytes.split_at(bytes.len().min(DIGEST_DIGITS));
    let kind: &[u8] = if line == 1 { b" H {" } else { b" " };
    digest.iter().all(u8::is_ascii_hexdigit) && rest.iter().zip(kind).all(|(one, two)| one == two)
}

fn digest_of(before: &str, body: &str) -> String {
    input_digest(&[("before", before.as_bytes()), ("line", body.as_bytes())])
}

/// A part being written.
pub struct PartWriter {
    path: PathBuf,
    file: File,
    digest: String,
    /// The next cell to be run.
    pub next: u64,
    /// All its cells are done.
    pub finished: bool,
    /// A line torn by a crash was dropped.
    pub dropped: bool,
}

impl PartWriter {
    /// Opens a part to go on with (`resume`) or to begin; a part that is not there is begun. One whose
    /// cells are all done stands, asked for or not: only its tables are missing.
    ///
    /// # Errors
    /// There is unfinished work and `resume` was not asked for; it belongs to another run; it
    /// is damaged; another program is writing it; the system refuses.
    pub fn open(path: &Path, plan: &SweepPlan, shard: Shard, resume: bool) -> Result<Self, SweepError> {
        let system = |cause| SweepError::Output(OutputError { path: path.to_owned(), cause });
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(system)?;
        }
        if path.exists() {
            read_file::open(path).map_err(|unread| unreadable(path, &unread.why))?;
        }
        let mut file =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path).map_err(system)?;
        let shown = path.display().to_string();
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => {
                let remedy = "Wait for it, stop it, or take another folder with --out.";
                return Err(SweepError::argument(&shown, "another sweep is writing here", remedy));
            }
            // A disk without locks: nothing can be known of others.
            Err(TryLockError::Error(cause)) if cause.kind() != ErrorKind::Unsupported => return Err(system(cause)),
            _ => {}
        }
        let mut found = PartReader::of(path, file.try_clone().map_err(system)?)?;
        if let Some(reader) = &mut found {
            let begun = reader.next;
            while reader.block()?.is_some() {}
            let end = shard.span(plan.cell_count().unwrap_or(0)).1;
            let all_done = reader.finished || reader.next == end;
            if !resume && !all_done && reader.next > begun {
                let remedy = "Add --resume to go on with it, or remove the file to begin again.";
                return Err(SweepError::argument(
                    &shown,
                    "holds the finished cells of a sweep that was stopped",
                    remedy,
                ));
            }
            // A head alone is no work.
            if !resume && !all_done {
                found = None;
            }
        }
        let Some(reader) = found else {
            file.set_len(0).and_then(|()| file.seek(SeekFrom::Start(0))).map_err(system)?;
            let next = shard.span(plan.cell_count().unwrap_or(0)).0;
            let mut writer =
                Self { path: path.to_owned(), file, digest: String::new(), next, finished: false, dropped: false };
            let head = Head { format: FORMAT.to_owned(), shard, plan: plan.clone() };
            writer.line('H', &serde_json::to_string(&head)?)?;
            return Ok(writer);
        };
        belongs(&shown, &reader, plan, shard)?;
        file.set_len(reader.lines.sound).and_then(|()| file.seek(SeekFrom::End(0))).map_err(system)?;
        let (digest, next) = (reader.lines.digest, reader.next);
        Ok(Self { path: path.to_owned(), file, digest, next, finished: reader.finished, dropped: reader.torn })
    }

    /// Keeps a finished block.
    ///
    /// # Errors
    /// The system refuses: the disk is full.
    pub fn keep(&mut self, cells: &[Vec<Tally>]) -> Result<(), SweepError> {
        let content = encode(self.next, cells);
        self.line('B', &content)?;
        self.next += cells.len() as u64;
        Ok(())
    }

    /// Says that all cells are done.
    ///
    /// # Errors
    /// As [`Self::keep`].
    pub fn finish(&mut self) -> Result<(), SweepError> {
        if !self.finished {
            self.line('E', &self.next.to_string())?;
            self.finished = true;
        }
        Ok(())
    }

    fn line(&mut self, kind: char, content: &str) -> Result<(), SweepError> {
        let body = format!("{kind} {content}");
        let digest = digest_of(&self.digest, &body);
        let text = format!("{digest} {body}\n");
        if text.len() as u64 > LONGEST_LINE {
            let remedy = "Take greater steps, or give ranges without a step and --sample 1000.";
            return Err(SweepError::argument("--vary", "it names too many values to be kept", remedy));
        }
        let written = self.file.write_all(text.as_bytes()).and_then(|()| self.file.sync_data());
        written.map_err(|cause| SweepError::Output(OutputError { path: self.path.clone(), cause }))?;
        self.digest = digest;
        Ok(())
    }
}

fn belongs(shown: &str, reader: &PartReader, plan: &SweepPlan, shard: Shard) -> Result<(), SweepError> {
    let other = match reader.plan.difference(plan) {
        None if reader.shard != shard => {
            Some(format!("the part: {}/{} and {}/{}", reader.shard.number, reader.shard.of, shard.number, shard.of))
        }
        difference => difference,
    };
    let Some(difference) = other else { return Ok(()) };
    let remedy =
        "Give the same site and options to go on with it, choose another folder with --out, or remove the file.";
    Err(SweepError::argument(shown, format!("belongs to another run; they differ in {difference}"), remedy))
}

fn encode(first: u64, cells: &[Vec<Tally>]) -> String {
    let mut text = format!("{first} {}", cells.len());
    // Writing to a string cannot fail.
    let mut word = |number: u64| write!(text, " {number:x}").unwrap_or(());
    for tally in cells.iter().flatten() {
        word(tally.draws);
        tally.held.iter().for_each(|&held| word(held));
        word(tally.all_held);
        for moments in std::iter::once(&tally.aim).chain(&tally.measures) {
            word(moments.count);
            if moments.count > 0 {
                word(moments.mean.to_bits());
                word(moments.squares.to_bits());
                word(moments.blocks);
                word(moments.between.to_bits());
            }
        }
    }
    text
}

fn decode(content: &str, plan: &SweepPlan) -> Option<Block> {
    let mut words = content.split(' ');
    let first = words.next()?.parse().ok()?;
    let count: u64 = words.next()?.parse().ok().filter(|count| Some(*count) <= plan.cell_count())?;
    let mut word = || u64::from_str_radix(words.next()?, 16).ok();
    let mut cells = Vec::new();
    for _ in 0..count {
        let strategies = plan.strategies.iter().map(|_| tally(&mut word, plan.limits.len()));
        cells.push(strategies.collect::<Option<Vec<Tally>>>()?);
    }
    words.next().is_none().then_some(Block { first, cells })
}

fn tally(word: &mut impl FnMut() -> Option<u64>, limits: usize) -> Option<Tally> {
    let draws = word()?;
    let held = (0..limits).map(|_| word()).collect::<Option<Vec<u64>>>()?;
    let all_held = word()?;
    let aim = moments(word)?;
    let measures = Measure::ALL.iter().map(|_| moments(word)).collect::<Option<Vec<Moments>>>()?;
    Some(Tally { draws, held, all_held, aim, measures })
}

fn moments(word: &mut impl FnMut() -> Option<u64>) -> Option<Moments> {
    let count = word()?;
    if count == 0 {
        return Some(Moments::default());
    }
    let (mean, squares) = (f64::from_bits(word()?), f64::from_bits(word()?));
    Some(Moments::kept(count, mean, squares, word()?, f64::from_bits(word()?)))
}
