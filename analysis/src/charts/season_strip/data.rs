//! What a strip shows, and how high its lanes are in pixels.

use super::events::{Mark, SpanKind};
use jiff::civil::Date;

pub(super) const BAND: f64 = 22.0;
pub(super) const MARK_LANE: f64 = 17.0;
pub(super) const GATE: f64 = 7.0;
pub(super) const GATE_GAP: f64 = 3.0;
pub(super) const SPAN_LANE: f64 = 10.0;

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
    /// Cover share (0..1) day by day; NaN where there is none; empty for no band.
    pub cover: Vec<f64>,
    /// Whether the gate is open, day by day.
    pub open: Vec<bool>,
    /// Events: day and kind.
    pub marks: Vec<(usize, Mark)>,
    /// Stretches: first day, day after the last, kind.
    pub spans: Vec<(usize, usize, SpanKind)>,
}
