//! What a strip shows.

use super::events::{Mark, SpanKind};
use jiff::civil::Date;

/// What a strip shows.
#[derive(Clone, Debug, PartialEq)]
pub struct StripData {
    /// The finding.
    pub title: String,
    /// Date of day 0.
    pub start: Date,
    /// Plots from top to bottom; the yard may be one.
    pub rows: Vec<StripRow>,
}

/// One plot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripRow {
    /// Name.
    pub name: String,
    /// Cover share (0..1) day by day; NaN where there is none; empty for no line.
    pub cover: Vec<f64>,
    /// The same with the birds shut in; empty for no line.
    pub cover_shut_in: Vec<f64>,
    /// Whether the gate is open, day by day.
    pub open: Vec<bool>,
    /// Events: day and kind.
    pub marks: Vec<(usize, Mark)>,
    /// Stretches: first day, day after the last, kind. Those within the gate's bar tell why it is shut.
    pub spans: Vec<(usize, usize, SpanKind)>,
}

impl StripData {
    /// The same strip of its first so many days.
    #[must_use]
    pub fn first_days(mut self, days: usize) -> Self {
        for row in &mut self.rows {
            row.cover.truncate(days);
            row.cover_shut_in.truncate(days);
            row.open.truncate(days);
            row.marks.retain(|(day, _)| *day < days);
            row.spans.retain(|span| span.0 < days);
            row.spans.iter_mut().for_each(|span| span.1 = span.1.min(days));
        }
        self
    }

    /// Lowest cover that its lines reach down to, in steps of a quarter: the foot of their scale.
    pub(super) fn cover_foot(&self) -> f64 {
        let columns = self.rows.iter().flat_map(|row| row.cover.iter().chain(&row.cover_shut_in));
        let least = columns.copied().filter(|cover| !cover.is_nan()).fold(1.0, f64::min);
        ((least * 4.0).floor() / 4.0).clamp(0.0, 0.75)
    }
}
