//! Where everything on a strip stands: panels of a year, and the heights of their rows.

use super::super::canvas::{text_width, wrapped};
use super::super::theme::{LINE, MARGIN, TEXT, WIDTH};
use super::data::{StripData, StripRow};
use jiff::civil::Date;
use sim_engine::dates::days_of_years;
use std::ops::Range;

const MOST_GUTTER: f64 = 124.0;
/// From so many rows on they are drawn low, so that 24 plots stay on a sheet of paper.
const MANY_ROWS: usize = 9;

/// Heights within a row, px.
pub(super) struct RowHeights {
    /// The gate's bar, the main mark.
    pub(super) gate: f64,
    /// Guards and nets, where any row has some.
    pub(super) below: f64,
    /// The line of cover, where any row has one.
    pub(super) cover: f64,
    gap: f64,
}

impl RowHeights {
    fn new(data: &StripData) -> Self {
        let [gate, cover, gap] = if data.rows.len() < MANY_ROWS { [19.0, 22.0, 11.0] } else { [14.0, 10.0, 5.0] };
        let covered = data.rows.iter().any(|row| !row.cover.is_empty());
        let below = data.rows.iter().any(|row| row.spans.iter().any(|span| span.2.below()));
        Self { gate, below: if below { 5.0 } else { 0.0 }, cover: if covered { cover + 2.0 } else { 0.0 }, gap }
    }

    fn all(&self) -> f64 {
        self.gate + self.below + self.cover + self.gap
    }
}

/// One plot in one panel.
pub(super) struct PlacedRow<'d> {
    pub(super) row: &'d StripRow,
    pub(super) name: Vec<String>,
    pub(super) height: f64,
}

pub(super) struct StripLayout<'d> {
    pub(super) left: f64,
    pub(super) px_per_day: f64,
    pub(super) heights: RowHeights,
    pub(super) rows: Vec<PlacedRow<'d>>,
    /// One a year.
    pub(super) panels: Vec<Range<usize>>,
}

impl<'d> StripLayout<'d> {
    pub(super) fn new(data: &'d StripData, days: usize) -> Self {
        let panels = years(data.start, days);
        let longest = data.rows.iter().map(|row| text_width(&row.name, TEXT, false)).fold(0.0, f64::max);
        let gutter = longest.min(MOST_GUTTER);
        let left = MARGIN + gutter + 8.0;
        let widest = panels.iter().map(Range::len).max().unwrap_or(1).max(1);
        let heights = RowHeights::new(data);
        let placed = |row: &'d StripRow| {
            let name = wrapped(&row.name, gutter, TEXT, false);
            let height = heights.all().max(name.len() as f64 * (LINE - 3.0));
            PlacedRow { row, name, height }
        };
        let rows = data.rows.iter().map(placed).collect();
        Self { left, px_per_day: (WIDTH - MARGIN - left) / widest as f64, heights, rows, panels }
    }

    pub(super) fn x(&self, panel: &Range<usize>, day: usize) -> f64 {
        let day = day.clamp(panel.start, panel.end) - panel.start;
        self.left + day as f64 * self.px_per_day
    }

    pub(super) fn rows_height(&self) -> f64 {
        self.rows.iter().map(|row| row.height).sum()
    }

    /// Heading, rows, months and space of a panel.
    pub(super) fn panel_height(&self) -> f64 {
        LINE + 6.0 + self.rows_height() + LINE + 12.0
    }
}

/// Day ranges of the panels: one a year.
pub(super) fn years(start: Date, days: usize) -> Vec<Range<usize>> {
    let mut panels = Vec::new();
    let mut from = 0;
    while from < days {
        let to = days_of_years(start, panels.len() as u32 + 1).clamp(from + 1, days);
        panels.push(from..to);
        from = to;
    }
    panels
}
