//! Where everything on a strip stands: panels of a year, rows and lanes.

use super::super::canvas::{text_width, wrapped};
use super::super::theme::{LINE, MARGIN, TEXT, WIDTH};
use super::data::{BAND, GATE, GATE_GAP, MARK_LANE, SPAN_LANE, StripData, StripRow};
use super::events::{Mark, SpanKind};
use jiff::civil::Date;
use sim_engine::dates::days_of_years;
use std::ops::Range;

const ROW_GAP: f64 = 12.0;
const MOST_GUTTER: f64 = 124.0;

/// One plot in one panel.
pub(super) struct LaneRow {
    pub(super) name: Vec<String>,
    pub(super) marks: Vec<(usize, Mark)>,
    pub(super) band: bool,
    pub(super) spans: Vec<(usize, usize, SpanKind)>,
    pub(super) lanes: Vec<usize>,
    pub(super) lane_count: usize,
    pub(super) height: f64,
}

impl LaneRow {
    pub(super) fn new(row: &StripRow, gutter: f64, panel: &Range<usize>) -> Self {
        let name = wrapped(&row.name, gutter, TEXT, false);
        let shown = |span: &&(usize, usize, SpanKind)| span.0 < panel.end && span.1 > panel.start;
        let spans: Vec<_> = row.spans.iter().filter(shown).copied().collect();
        let (lanes, lane_count) = lanes(&spans);
        let mut marks: Vec<_> = row.marks.iter().filter(|(day, _)| panel.contains(day)).copied().collect();
        marks.sort();
        let band = !row.cover.is_empty();
        let body = if marks.is_empty() { 0.0 } else { MARK_LANE }
            + if band { BAND + GATE_GAP } else { 0.0 }
            + GATE
            + lane_count as f64 * SPAN_LANE;
        let height = body.max(name.len() as f64 * (LINE - 2.0)) + ROW_GAP;
        Self { name, marks, band, spans, lanes, lane_count, height }
    }
}

/// Puts stretches that overlap into lanes of their own.
pub(super) fn lanes(spans: &[(usize, usize, SpanKind)]) -> (Vec<usize>, usize) {
    let mut ends: Vec<usize> = Vec::new();
    let mut order: Vec<usize> = (0..spans.len()).collect();
    order.sort_by_key(|&i| spans[i].0);
    let mut lanes = vec![0; spans.len()];
    for i in order {
        let lane = ends.iter().position(|&end| end <= spans[i].0).unwrap_or(ends.len());
        if lane == ends.len() {
            ends.push(0);
        }
        ends[lane] = spans[i].1;
        lanes[i] = lane;
    }
    (lanes, ends.len())
}

pub(super) struct StripLayout {
    pub(super) left: f64,
    pub(super) px_per_day: f64,
    pub(super) panels: Vec<Panel>,
}

/// One year.
pub(super) struct Panel {
    pub(super) days: Range<usize>,
    pub(super) rows: Vec<LaneRow>,
}

impl Panel {
    pub(super) fn rows_height(&self) -> f64 {
        self.rows.iter().map(|row| row.height).fold(0.0, |total, height| total + height)
    }

    /// Heading, rows, months and space.
    pub(super) fn height(&self) -> f64 {
        LINE + 6.0 + self.rows_height() + LINE + 12.0
    }
}

impl StripLayout {
    pub(super) fn new(data: &StripData, days: usize) -> Self {
        let years = years(data.start, days);
        let longest = data.rows.iter().map(|row| text_width(&row.name, TEXT, false)).fold(0.0, f64::max);
        let gutter = longest.min(MOST_GUTTER);
        let left = MARGIN + gutter + 8.0;
        let widest = years.iter().map(Range::len).max().unwrap_or(1).max(1);
        Self {
            left,
            px_per_day: (WIDTH - MARGIN - left) / widest as f64,
            panels: years
                .into_iter()
                .map(|days| {
                    let rows = data.rows.iter().map(|row| LaneRow::new(row, gutter, &days)).collect();
                    Panel { days, rows }
                })
                .collect(),
        }
    }

    pub(super) fn x(&self, panel: &Range<usize>, day: usize) -> f64 {
        let day = day.clamp(panel.start, panel.end) - panel.start;
        self.left + day as f64 * self.px_per_day
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
