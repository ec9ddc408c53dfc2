//! The gate calendar: plots down, days across, one lane a strategy, filled where the gate is open.
//!
//! It shows what is done and nothing of what comes of it, so that it may stand on a sheet on
//! which the outcome is still to be guessed. The lanes differ in shape and pattern, not in
//! colour alone: it is printed in grey.

use super::Chart;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::printed::{LINE, SAMPLE, TEXT, key, key_height, month_axis};
use super::theme::{EDGE, GRID, INK, MARGIN, PAPER, SOFT_INK, WIDTH};
use jiff::civil::Date;

/// Height of all rows together that is aimed at, px.
const ROWS: f64 = 168.0;
/// Least and most height of a row, px.
const ROW: (f64, f64) = (13.0, 23.0);
/// Share of a row's height that is a lane.
const LANE_SHARE: f64 = 0.4;
const LETTER: f64 = 9.0;
const HATCH: f64 = 4.0;
const TOP: f64 = 2.0;

/// What the calendar shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CalendarData {
    /// What it is, for those who hear it read.
    pub title: String,
    /// Date of day 0.
    pub start: Date,
    /// Names of the two strategies.
    pub strategies: [String; 2],
    /// Plots from top to bottom.
    pub rows: Vec<CalendarRow>,
}

/// One plot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CalendarRow {
    /// Name.
    pub name: String,
    /// Whether the gate is open under each strategy, day by day.
    pub open: [Vec<bool>; 2],
    /// Days on which a rule known beforehand keeps it shut.
    pub shut: Vec<bool>,
}

struct CalendarLayout {
    left: f64,
    per_day: f64,
    days: usize,
    row: f64,
}

impl CalendarLayout {
    fn new(data: &CalendarData) -> Self {
        let row = (ROWS / data.rows.len().max(1) as f64).clamp(ROW.0, ROW.1);
        let widest = data.rows.iter().map(|line| text_width(&line.name, text_size(row), false)).fold(0.0, f64::max);
        let left = MARGIN + widest + LETTER + 10.0;
        let days = data.rows.iter().map(|line| line.open[0].len()).max().unwrap_or(0);
        Self { left, per_day: (WIDTH - MARGIN - left) / days.max(1) as f64, days, row }
    }

    fn x(&self, day: usize) -> f64 {
        self.left + self.per_day * day as f64
    }

    fn lane(&self) -> f64 {
        self.row * LANE_SHARE
    }
}

/// Text is no higher than its row.
fn text_size(row: f64) -> f64 {
    TEXT.min(row - 1.0)
}

/// Draws the calendar.
#[must_use]
pub fn gate_calendar(data: &CalendarData) -> Chart {
    let layout = CalendarLayout::new(data);
    let foot = TOP + layout.row * data.rows.len() as f64;
    let words = key_words(data);
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height(data), |pen| {
        month_axis(pen, data.start, layout.days, |day| layout.x(day), (TOP, foot));
        for (i, row) in data.rows.iter().enumerate() {
            draw_row(pen, row, &layout, TOP + i as f64 * layout.row);
        }
        key(pen, &words, foot + LINE + 4.0, &sample);
    });
    Chart { svg, alt }
}

/// Height of the calendar, px.
#[must_use]
pub fn height(data: &CalendarData) -> f64 {
    let rows = CalendarLayout::new(data).row * data.rows.len() as f64;
    TOP + rows + LINE + 4.0 + key_height(&key_words(data)) + 2.0
}

fn draw_row(pen: &mut Pen<'_>, row: &CalendarRow, layout: &CalendarLayout, top: f64) {
    let (lane_height, gap) = (layout.lane(), 1.0);
    let whole = 2.0 * lane_height + gap;
    let look = Type { side: Side::End, size: text_size(layout.row), ..Type::default() };
    pen.text((layout.left - LETTER - 7.0, top + whole / 2.0), &row.name, look);
    for (from, to) in runs(&row.shut) {
        pen.rect((layout.x(from), top), (layout.x(to) - layout.x(from), whole), GRID, 1.0);
    }
    for strategy in 0..2 {
        let y = top + strategy as f64 * (lane_height + gap);
        let size = LETTER.min(lane_height + 1.0);
        let letter = Type { size, colour: SOFT_INK, side: Side::End, bold: true };
        pen.text((layout.left - 3.0, y + lane_height / 2.0), if strategy == 0 { "A" } else { "B" }, letter);
        for (from, to) in runs(&row.open[strategy]) {
            lane(pen, strategy, (layout.x(from), y), (layout.x(to) - layout.x(from), lane_height));
        }
    }
    let foot = top + layout.row - 1.5;
    pen.line(&[(layout.left, foot), (layout.x(layout.days), foot)], Stroke::plain(GRID, 0.8));
}

/// A stretch open: solid for the first strategy, framed and hatched for the second.
fn lane(pen: &mut Pen<'_>, strategy: usize, at: (f64, f64), size: (f64, f64)) {
    if strategy == 0 {
        pen.rect(at, size, INK, 1.0);
        return;
    }
    pen.rect(at, size, PAPER, 1.0);
    pen.hatch(at, size, HATCH, Stroke::plain(INK, 0.9));
    pen.frame(at, size, Stroke::plain(INK, 1.1));
}

fn sample(pen: &mut Pen<'_>, item: usize, x: f64, y: f64) {
    let (at, size) = ((x, y - 5.0), (SAMPLE, 10.0));
    if item < 2 {
        lane(pen, item, at, size);
        return;
    }
    pen.rect(at, size, GRID, 1.0);
    pen.frame(at, size, Stroke::plain(EDGE, 0.6));
}

fn key_words(data: &CalendarData) -> Vec<String> {
    let mut words = vec![format!("A {}", data.strategies[0]), format!("B {}", data.strategies[1])];
    if data.rows.iter().any(|row| row.shut.contains(&true)) {
        words.push("must stay shut".to_owned());
    }
    words
}

/// Stretches of true: first day, day after the last.
fn runs(days: &[bool]) -> Vec<(usize, usize)> {
    let (mut first, mut found) = (0, Vec::new());
    for run in days.chunk_by(|a, b| a == b) {
        if run[0] {
            found.push((first, first + run.len()));
        }
        first += run.len();
    }
    found
}

fn alternative(data: &CalendarData) -> String {
    let count = |days: &[bool]| days.iter().filter(|&&open| open).count();
    let row = |row: &CalendarRow| {
        format!("{}: open {} days under A, {} under B", row.name, count(&row.open[0]), count(&row.open[1]))
    };
    let rows: Vec<String> = data.rows.iter().map(row).collect();
    format!(
        "Days on which each gate is open. A is {}, B is {}. {}.",
        data.strategies[0],
        data.strategies[1],
        rows.join("; ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look;
    use jiff::civil::date;

    fn data() -> CalendarData {
        let open = |turn: usize| (0..365).map(|day| (day / 20) % 3 == turn).collect::<Vec<bool>>();
        let row = |name: &str, turn| CalendarRow {
            name: name.to_owned(),
            open: [open(turn), open((turn + 1) % 3)],
            shut: (0..365).map(|day| turn == 2 && day < 60).collect(),
        };
        CalendarData {
            title: "Gates".to_owned(),
            start: date(2027, 3, 15),
            strategies: ["one".to_owned(), "two".to_owned()],
            rows: vec![row("long-orchard", 0), row("paddock", 1), row("beds", 2)],
        }
    }

    #[test]
    fn both_plans_are_told_with_their_days() {
        let chart = gate_calendar(&data());
        look::check("gate-calendar", &chart);
        assert!(chart.alt.contains("beds: open "));
        assert!(chart.svg.contains("must stay shut"));
    }

    #[test]
    fn runs_have_their_ends() {
        assert_eq!(runs(&[true, true, false, true]), [(0, 2), (3, 4)]);
        assert!(runs(&[]).is_empty());
    }
}
