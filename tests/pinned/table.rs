//! What is pinned of a dated CSV: a digest a column, with a few figures that say how far it moved.

use crate::common::{FNV, fnv_on};
use std::fmt::Write;
use std::ops::Range;

/// Days to a mark of a column.
const STRETCH: usize = 42;
/// Days to a line of marks of the whole file.
const LINE: usize = 84;

/// A dated CSV, read column by column.
pub struct Table {
    /// Its dates in their order, each once.
    pub dates: Vec<String>,
    rows: usize,
    columns: Vec<Column>,
}

/// What is kept of a column.
struct Column {
    name: String,
    /// A digest of its cells' text for each date.
    days: Vec<u64>,
    /// None where a cell is a word.
    figures: Option<Figures>,
}

/// Of the numbers of a column, blanks aside.
struct Figures {
    sum: f64,
    least: f64,
    most: f64,
    /// Added up over the rows of the last date: of a stock the state at the end.
    last: f64,
}

impl Table {
    /// Reads a CSV whose first column is the date, in order.
    pub fn read(csv: &[u8]) -> Self {
        let mut reader = csv::Reader::from_reader(csv);
        let columns = reader.headers().unwrap().iter().map(Column::new).collect();
        let mut table = Self { dates: Vec::new(), rows: 0, columns };
        let mut row = csv::StringRecord::new();
        while reader.read_record(&mut row).unwrap() {
            table.row(&row);
        }
        table
    }

    fn row(&mut self, row: &csv::StringRecord) {
        self.rows += 1;
        if self.dates.last().is_none_or(|last| *last != row[0]) {
            self.dates.push(row[0].to_owned());
            self.columns.iter_mut().for_each(Column::begin_day);
        }
        for (column, cell) in self.columns.iter_mut().zip(row) {
            column.cell(cell);
        }
    }

    /// What is pinned of it. A day's mark takes in the columns `named` alone (all for `None`): so
    /// that against an older pin a new column parts no day.
    pub fn pin(&self, named: Option<&[&str]>) -> String {
        let mut lines = format!("[rows]\nall,{}\n[days]\n", self.rows);
        let days: Vec<usize> = (0..self.dates.len()).collect();
        for days in days.chunks(LINE) {
            let marks: String = days.iter().map(|&day| self.mark(day, named)).collect();
            writeln!(lines, "{},{marks}", self.dates[days[0]]).unwrap();
        }
        lines += "[columns]\n";
        lines.extend(self.columns.iter().map(Column::line));
        lines
    }

    fn mark(&self, day: usize, named: Option<&[&str]>) -> char {
        let counts = |column: &&Column| named.is_none_or(|names| names.contains(&column.name.as_str()));
        mark(self.columns.iter().filter(counts).map(|column| column.day(day)).fold(0, u64::wrapping_add))
    }
}

/// The days of a column's mark by its number.
pub fn stretch(number: usize) -> Range<usize> {
    number * STRETCH..(number + 1) * STRETCH
}

impl Column {
    fn new(name: &str) -> Self {
        let figures = Figures { sum: 0.0, least: f64::INFINITY, most: f64::NEG_INFINITY, last: 0.0 };
        Self { name: name.to_owned(), days: Vec::new(), figures: Some(figures) }
    }

    fn begin_day(&mut self) {
        self.days.push(FNV);
        if let Some(figures) = &mut self.figures {
            figures.last = 0.0;
        }
    }

    fn cell(&mut self, cell: &str) {
        let day = self.days.last_mut().unwrap();
        *day = fnv_on(fnv_on(*day, cell.as_bytes()), b",");
        match (cell.parse(), &mut self.figures) {
            _ if cell.is_empty() => {}
            (Ok(value), Some(figures)) => figures.add(value),
            _ => self.figures = None,
        }
    }

    /// A day's digest, with the name, so that columns that change places are seen.
    fn day(&self, day: usize) -> u64 {
        fnv_on(fnv_on(FNV, self.name.as_bytes()), &self.days[day].to_le_bytes())
    }

    /// Name, digest, figures, marks.
    fn line(&self) -> String {
        let digest = |days: &[u64]| days.iter().fold(FNV, |state, day| fnv_on(state, &day.to_le_bytes()));
        let figures = self.figures.as_ref().map_or_else(|| ",,,".to_owned(), Figures::text);
        let marks: String = self.days.chunks(STRETCH).map(|days| mark(digest(days))).collect();
        format!("{},{},{figures},{marks}\n", self.name, letters(digest(&self.days)))
    }
}

impl Figures {
    fn add(&mut self, value: f64) {
        self.sum += value;
        self.least = self.least.min(value);
        self.most = self.most.max(value);
        self.last += value;
    }

    /// The sum to twelve digits, so that one cell of thousands shows; the others to six.
    fn text(&self) -> String {
        [short(self.sum, 12), short(self.least, 6), short(self.most, 6), short(self.last, 6)].join(",")
    }
}

/// A number to so many significant digits; nothing for the bounds of no numbers.
fn short(value: f64, digits: usize) -> String {
    if value.is_infinite() {
        return String::new();
    }
    let rounded: f64 = format!("{value:.*e}", digits - 1).parse().unwrap();
    let text = format!("{rounded:?}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// A letter for six bits.
const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// A digest in eleven letters.
pub fn letters(digest: u64) -> String {
    (0..11).map(|at| char::from(LETTERS[(digest >> (6 * at) & 63) as usize])).collect()
}

/// Six bits of a digest: of FNV the highest, which hang on every byte.
pub fn mark(digest: u64) -> char {
    char::from(LETTERS[(digest >> 58) as usize])
}
