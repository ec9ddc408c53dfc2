//! The gate calendar: plots down, days across, one lane a plan, filled where the gate is open.
//!
//! It shows what is done and nothing of what comes of it, so that it may stand on a sheet on
//! which the outcome is still to be guessed. The lanes differ in shape and pattern, not in
//! colour alone: it is printed in grey.

use super::Chart;
use super::axis::{date_of, month_name, months};
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Key, SAMPLE};
use super::theme::{EDGE, GRID, INK, LINE, MARGIN, SOFT_INK, TEXT, WIDTH};
use jiff::civil::Date;

const LANE: f64 = 10.0;
const LANE_GAP: f64 = 2.0;
const ROW_GAP: f64 = 7.0;
const LETTER: f64 = 11.0;
const HATCH: f64 = 4.0;

/// What the calendar shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CalendarData {
    /// What it is, for those who hear it read.
    pub title: String,
    /// Date of day 0.
    pub start: Date,
    /// Names of the two plans.
    pub plans: [String; 2],
    /// Plots from top to bottom.
    pub rows: Vec<CalendarRow>,
}

/// One plot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CalendarRow {
    /// Name.
    pub name: String,
    /// Whether the gate is open under each plan, day by day.
    pub open: [Vec<bool>; 2],
    /// Days on which a rule known beforehand keeps it shut.
    pub shut: Vec<bool>,
}

struct Layout {
    left: f64,
    per_day: f64,
    days: usize,
}

impl Layout {
    fn new(data: &CalendarData) -> Self {
        let widest = data.rows.iter().map(|row| text_width(&row.name, TEXT, false)).fold(0.0, f64::max);
        let left = MARGIN + widest + LETTER + 12.0;
        let days = data.rows.iter().map(|row| row.open[0].len()).max().unwrap_or(0);
        Self { left, per_day: (WIDTH - MARGIN - left) / days.max(1) as f64, days }
    }

    fn x(&self, day: usize) -> f64 {
        self.left + self.per_day * day as f64
    }
}

/// Draws the calendar.
#[must_use]
pub fn gate_calendar(data: &CalendarData) -> Chart {
    let layout = Layout::new(data);
    let row_height = 2.0 * LANE + LANE_GAP + ROW_GAP;
    let foot = 4.0 + row_height * data.rows.len() as f64;
    let key = key(data);
    let height = foot + LINE + 4.0 + key.height();
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height, |pen| {
        month_lines(pen, data.start, &layout, foot);
        for (i, row) in data.rows.iter().enumerate() {
            draw_row(pen, row, &layout, 4.0 + i as f64 * row_height);
        }
        key.draw(pen, foot + LINE + 4.0);
    });
    Chart { svg, alt }
}

fn month_lines(pen: &mut Pen<'_>, start: Date, layout: &Layout, foot: f64) {
    let mut edges: Vec<usize> = months(start, layout.days).iter().map(|tick| tick.day).collect();
    for &day in &edges {
        pen.line(&[(layout.x(day), 2.0), (layout.x(day), foot + 4.0)], Stroke::plain(GRID, 1.2));
    }
    if edges.first() != Some(&0) {
        edges.insert(0, 0);
    }
    for (i, &day) in edges.iter().enumerate() {
        let (from, to) = (layout.x(day), edges.get(i + 1).map_or(WIDTH - MARGIN, |&day| layout.x(day)));
        let name = month_name(date_of(start, day));
        if to - from >= text_width(name, TEXT, false) - 3.0 {
            let look = Type { side: Side::Middle, ..Type::default() };
            pen.text(((from + to) / 2.0, foot + LINE / 2.0), name, look);
        }
    }
}

fn draw_row(pen: &mut Pen<'_>, row: &CalendarRow, layout: &Layout, top: f64) {
    let whole = 2.0 * LANE + LANE_GAP;
    let look = Type { side: Side::End, ..Type::default() };
    pen.text((layout.left - LETTER - 8.0, top + whole / 2.0), &row.name, look);
    for (from, to) in runs(&row.shut) {
        pen.rect((layout.x(from), top), (layout.x(to) - layout.x(from), whole), GRID, 1.0);
    }
    for plan in 0..2 {
        let y = top + plan as f64 * (LANE + LANE_GAP);
        let letter = Type { size: LETTER, colour: SOFT_INK, side: Side::End, bold: true };
        pen.text((layout.left - 4.0, y + LANE / 2.0), if plan == 0 { "A" } else { "B" }, letter);
        let foot = y + LANE;
        pen.line(&[(layout.left, foot), (layout.x(layout.days), foot)], Stroke::plain(GRID, 0.8));
        for (from, to) in runs(&row.open[plan]) {
            lane(pen, plan, (layout.x(from), y), layout.x(to) - layout.x(from));
        }
    }
}

/// A stretch open: solid for the first plan, framed and hatched for the second.
fn lane(pen: &mut Pen<'_>, plan: usize, at: (f64, f64), width: f64) {
    if plan == 0 {
        pen.rect(at, (width, LANE), INK, 1.0);
        return;
    }
    pen.rect(at, (width, LANE), super::theme::PAPER, 1.0);
    pen.hatch(at, (width, LANE), HATCH, Stroke::plain(INK, 0.9));
    pen.frame(at, (width, LANE), Stroke::plain(INK, 1.1));
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

fn key(data: &CalendarData) -> Key<'_> {
    let mut key = Key::default();
    for (plan, letter) in ["A", "B"].into_iter().enumerate() {
        let words = format!("{letter} open: {}", data.plans[plan]);
        key.add(&words, move |pen, x, y| lane(pen, plan, (x, y - LANE / 2.0), SAMPLE));
    }
    if data.rows.iter().any(|row| row.shut.contains(&true)) {
        key.add("must stay shut: crop or order", |pen, x, y| {
            pen.rect((x, y - LANE), (SAMPLE, 2.0 * LANE), GRID, 1.0);
            pen.frame((x, y - LANE), (SAMPLE, 2.0 * LANE), Stroke::plain(EDGE, 0.6));
        });
    }
    key
}

fn alternative(data: &CalendarData) -> String {
    let count = |days: &[bool]| days.iter().filter(|&&open| open).count();
    let row = |row: &CalendarRow| {
        format!("{}: open {} days under A, {} under B", row.name, count(&row.open[0]), count(&row.open[1]))
    };
    let rows: Vec<String> = data.rows.iter().map(row).collect();
    format!("Days on which each gate is open. A is {}, B is {}. {}.", data.plans[0], data.plans[1], rows.join("; "))
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
            plans: ["one".to_owned(), "two".to_owned()],
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
