//! What is wrong with a file, where exactly, and what would be right.
//!
//! A [`Fault`] has a place, a fault and a remedy. Reading never stops at the
//! first: all [`Faults`] of a file come at once, in the order of its lines.

use crate::shown_text::{LINE_CHARS, MESSAGE_CHARS, bounded, window};
use std::cell::RefCell;
use std::fmt;
use std::ops::Range;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file can be used; a keeper should look at it again.
    Unusual,
}

/// A place in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextPlace {
    /// The file, as its reader called it.
    pub file: String,
    /// Line, from 1; 0: the file as a whole.
    pub line: usize,
    /// Column in characters, from 1; 0: the file as a whole.
    pub column: usize,
    /// Bytes of the file.
    pub span: Range<usize>,
    /// The line, for showing: what of a long one is about the place.
    pub text: String,
    /// Column within `text`, from 1.
    pub text_column: usize,
}

impl TextPlace {
    /// A file as a whole.
    #[must_use]
    pub fn whole(file: &str) -> Self {
        Self { file: file.to_owned(), line: 0, column: 0, span: 0..0, text: String::new(), text_column: 0 }
    }

    /// Characters under which the caret stands: the span, cut at the end of what is shown.
    fn width(&self) -> usize {
        let start = self.text.char_indices().nth(self.text_column - 1).map_or(self.text.len(), |(at, _)| at);
        let end = (start + self.span.len()).min(self.text.len());
        self.text.get(start..end).map_or(1, |marked| marked.chars().count()).max(1)
    }
}

/// One fault of a file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct Fault {
    /// How bad.
    pub severity: Severity,
    /// Where.
    pub place: TextPlace,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// What would be right.
    pub remedy: String,
}

impl Fault {
    /// A fault of a file as a whole: it is missing, or cannot be read.
    #[must_use]
    pub fn of_file(file: &str, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::new(Severity::Error, TextPlace::whole(file), &message.into(), &remedy.into())
    }

    /// A fault; message and remedy are cut where they are endless.
    #[must_use]
    pub fn new(severity: Severity, place: TextPlace, message: &str, remedy: &str) -> Self {
        let cut = |text| bounded(text, MESSAGE_CHARS).into_owned();
        Self { severity, place, message: cut(message), remedy: cut(remedy) }
    }
}

impl fmt::Display for Fault {
    /// Place and fault, the line with a caret under the exact key or value, the remedy.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = &self.place;
        let word = if self.severity == Severity::Unusual { "unusual: " } else { "" };
        // An example may have lines.
        let remedy = self.remedy.replace('\n', "\n  ");
        if place.line == 0 {
            return write!(out, "{}: {word}{}\n  {remedy}", bounded(&place.file, LINE_CHARS), self.message);
        }
        let gutter = place.line.to_string().len().max(3);
        let before: String =
            place.text.chars().take(place.text_column - 1).map(|c| if c == '\t' { '\t' } else { ' ' }).collect();
        writeln!(out, "{}, line {}, column {}: {word}{}", place.file, place.line, place.column, self.message)?;
        writeln!(out, "  {:>gutter$} | {}", place.line, place.text)?;
        writeln!(out, "  {:>gutter$} | {before}{}", "", "^".repeat(place.width()))?;
        write!(out, "  {remedy}")
    }
}

/// Most faults that are shown; the rest are counted.
pub const MOST_SHOWN: usize = 40;

/// Faults after which a list of days is not read on: the last that is shown says so.
pub(crate) const ENOUGH_FAULTS: usize = MOST_SHOWN - 1;

/// The faults of what was read, in order of file and line; never empty as an error.
#[derive(Clone, Debug, Default, PartialEq, Eq, thiserror::Error)]
pub struct Faults {
    all: Vec<Fault>,
    us_units: bool,
}

impl Faults {
    /// One fault alone.
    #[must_use]
    pub fn one(fault: Fault) -> Self {
        Self { all: vec![fault], us_units: false }
    }

    /// Faults file by file (the first met first), each file's in the order of its lines.
    #[must_use]
    pub fn sorted(mut faults: Vec<Fault>) -> Self {
        let mut files: Vec<String> = Vec::new();
        for fault in &faults {
            if !files.contains(&fault.place.file) {
                files.push(fault.place.file.clone());
            }
        }
        let rank = |file: &str| files.iter().position(|name| name == file);
        faults.sort_by_key(|fault| (rank(&fault.place.file), fault.place.line, fault.place.column));
        faults.dedup();
        Self { all: faults, us_units: false }
    }

    /// The same, of a file that says whether it is shown in US customary units.
    #[must_use]
    pub fn in_us_units(self, us_units: bool) -> Self {
        Self { us_units, ..self }
    }

    /// Whether the file says it is shown in US customary units.
    #[must_use]
    pub fn us_units(&self) -> bool {
        self.us_units
    }

    /// All of them.
    #[must_use]
    pub fn all(&self) -> &[Fault] {
        &self.all
    }

    /// Whether any makes the file unusable.
    #[must_use]
    pub fn any_error(&self) -> bool {
        self.all.iter().any(|fault| fault.severity == Severity::Error)
    }

    /// The first of them, as many as are shown, and how many more there are.
    #[must_use]
    pub fn shown(&self) -> (&[Fault], usize) {
        let shown = self.all.len().min(MOST_SHOWN);
        (&self.all[..shown], self.all.len() - shown)
    }

    /// The faults themselves.
    #[must_use]
    pub fn into_vec(self) -> Vec<Fault> {
        self.all
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (shown, more) = self.shown();
        for (position, fault) in shown.iter().enumerate() {
            if position > 0 {
                write!(out, "\n\n")?;
            }
            write!(out, "{fault}")?;
        }
        if more > 0 { write!(out, "\n\n… and {more} more.") } else { Ok(()) }
    }
}

/// A text being read, and where its lines begin.
#[derive(Debug)]
pub struct SourceText {
    file: String,
    text: String,
    lines: Vec<usize>,
}

impl SourceText {
    /// A text under the name it is spoken of.
    #[must_use]
    pub fn new(file: &str, text: &str) -> Self {
        let starts = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        Self { file: file.to_owned(), text: text.to_owned(), lines: std::iter::once(0).chain(starts).collect() }
    }

    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The name.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }

    /// The place of these bytes.
    #[must_use]
    pub fn place(&self, span: Range<usize>) -> TextPlace {
        let at = span.start.min(self.text.len());
        let line = self.lines.partition_point(|start| *start <= at);
        let start = self.lines.get(line - 1).copied().unwrap_or(0);
        let text = self.text.get(start..).and_then(|rest| rest.lines().next()).unwrap_or("");
        let column = self.text.get(start..at).map_or(1, |before| before.chars().count() + 1);
        let (text, text_column) = window(text, column, LINE_CHARS);
        TextPlace { file: self.file.clone(), line, column, span, text, text_column }
    }

    /// The place of a whole line, from 1.
    #[must_use]
    pub fn line(&self, number: usize) -> TextPlace {
        let start = self.lines.get(number.saturating_sub(1)).copied().unwrap_or(self.text.len());
        let length = self.text.get(start..).and_then(|rest| rest.lines().next()).map_or(0, str::len);
        self.place(start..start + length)
    }
}

/// A source together with the place its faults are gathered.
#[derive(Clone, Copy, Debug)]
pub struct FaultPage<'r> {
    /// What is read.
    pub source: &'r SourceText,
    /// Where faults go.
    pub faults: &'r RefCell<Vec<Fault>>,
}

impl FaultPage<'_> {
    /// Notes an error at these bytes.
    pub fn error(&self, span: Range<usize>, message: impl Into<String>, remedy: impl Into<String>) {
        self.note(Severity::Error, self.source.place(span), message, remedy);
    }

    /// Notes an error of a whole line, from 1.
    pub fn error_in_line(&self, number: usize, message: impl Into<String>, remedy: impl Into<String>) {
        self.note(Severity::Error, self.source.line(number), message, remedy);
    }

    /// Notes something unusual at these bytes.
    pub fn unusual(&self, span: Range<usize>, message: impl Into<String>, remedy: impl Into<String>) {
        self.note(Severity::Unusual, self.source.place(span), message, remedy);
    }

    /// Notes a fault at a place.
    pub fn note(&self, severity: Severity, place: TextPlace, message: impl Into<String>, remedy: impl Into<String>) {
        self.faults.borrow_mut().push(Fault::new(severity, place, &message.into(), &remedy.into()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_caret_stands_under_the_value() {
        let source = SourceText::new("a.toml", "x = 1\nläge = \"5 kg\"\n");
        let faults = RefCell::new(Vec::new());
        FaultPage { source: &source, faults: &faults }.error(14..20, "wrong", "do this");
        let shown = Faults::sorted(faults.into_inner()).to_string();
        assert_eq!(shown, "a.toml, line 2, column 8: wrong\n    2 | läge = \"5 kg\"\n      |        ^^^^^^\n  do this");
    }

    #[test]
    fn a_place_at_the_end_of_an_empty_text_can_be_shown() {
        let source = SourceText::new("a.toml", "");
        let place = source.place(0..0);
        assert_eq!((place.line, place.column), (1, 1));
        let fault = Fault { severity: Severity::Unusual, place, message: "m".into(), remedy: "r".into() };
        assert_eq!(fault.to_string(), "a.toml, line 1, column 1: unusual: m\n    1 | \n      | ^\n  r");
    }
}
