//! The season strip: plots down, days across, ground cover shaded, gates and events.
//!
//! One panel a year, so that several years stay legible; a panel begins on the day
//! of the year on which the strip begins.

mod data;
mod events;
mod layout;

pub use data::{StripData, StripRow};
pub use events::{Mark, SpanKind};

use super::Chart;
use super::axis::months;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Heading, Key};
use super::theme::{COVER_STEPS, EDGE, GRID, INK, LINE, PAPER, SOFT_INK, TEXT, cover_colour, cover_step};
use crate::wording::{plain_date, short_month_name};
use data::{BAND, GATE, GATE_GAP, MARK_LANE, SPAN_LANE};
use events::MARK_RADIUS;
use jiff::civil::Date;
use layout::{LaneRow, Panel, StripLayout};
use sim_engine::dates::date_of;
use std::ops::Range;

/// Draws the strip.
#[must_use]
pub fn season_strip(data: &StripData) -> Chart {
    let days = day_count(data);
    let layout = StripLayout::new(data, days);
    let key = key(data);
    let heading = Heading::new(&data.title, "");
    let height = heading.height()
        + layout.panels.iter().map(Panel::height).fold(0.0, |total, height| total + height)
        + key.height();
    let alt = alternative(data, days);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        let mut top = heading.height();
        for panel in &layout.panels {
            draw_panel(pen, data, &layout, panel, top);
            top += panel.height();
        }
        key.draw(pen, top);
    });
    Chart { svg, alt }
}

fn day_count(data: &StripData) -> usize {
    data.rows.iter().map(|row| row.cover.len().max(row.open.len())).max().unwrap_or(0)
}

fn draw_panel(pen: &mut Pen<'_>, data: &StripData, layout: &StripLayout, whole: &Panel, top: f64) {
    let panel = &whole.days;
    let dates = format!(
        "{} to {}",
        plain_date(date_of(data.start, panel.start)),
        plain_date(date_of(data.start, panel.end - 1))
    );
    let heading = Type { bold: true, ..Type::default() };
    pen.text((layout.left, top + LINE / 2.0), &dates, heading);
    let rows_top = top + LINE + 6.0;
    let foot = rows_top + whole.rows_height();
    month_lines(pen, data.start, layout, panel, (rows_top, foot));
    let mut y = rows_top;
    for (row, place) in data.rows.iter().zip(&whole.rows) {
        draw_row(pen, row, place, layout, panel, y);
        y += place.height;
    }
    year_line(pen, data.start, layout, panel, (rows_top, foot));
}

fn month_lines(pen: &mut Pen<'_>, start: Date, layout: &StripLayout, panel: &Range<usize>, (top, foot): (f64, f64)) {
    let right = layout.x(panel, panel.end);
    let ticks = months(date_of(start, panel.start), panel.len());
    let mut edges: Vec<usize> = ticks.iter().map(|tick| panel.start + tick.day).collect();
    edges.iter().for_each(|&day| {
        let x = layout.x(panel, day);
        pen.line(&[(x, top), (x, foot + 5.0)], Stroke::plain(GRID, 1.0));
    });
    pen.line(&[(layout.left, foot), (right, foot)], Stroke::plain(EDGE, 1.0));
    if edges.first() != Some(&panel.start) {
        edges.insert(0, panel.start);
    }
    for (i, &day) in edges.iter().enumerate() {
        let (from, to) = (layout.x(panel, day), edges.get(i + 1).map_or(right, |&d| layout.x(panel, d)));
        let name = short_month_name(date_of(start, day));
        // A month cut short by the panel's edge has no room for its name.
        if to - from >= text_width(name, TEXT, false) - 3.0 {
            let look = Type { side: Side::Middle, colour: SOFT_INK, ..Type::default() };
            pen.text(((from + to) / 2.0, foot + LINE / 2.0 + 2.0), name, look);
        }
    }
}

fn year_line(pen: &mut Pen<'_>, start: Date, layout: &StripLayout, panel: &Range<usize>, (top, foot): (f64, f64)) {
    for tick in months(date_of(start, panel.start), panel.len()) {
        if tick.new_year && tick.day > 0 {
            let x = layout.x(panel, panel.start + tick.day);
            pen.line(&[(x, top - 4.0), (x, foot + 8.0)], Stroke::plain(INK, 1.2));
            let look = Type { side: Side::Start, colour: SOFT_INK, ..Type::default() };
            let right_of_line = (x + 4.0, top - LINE / 2.0 - 6.0);
            if right_of_line.0 > layout.left + 300.0 {
                pen.text(right_of_line, &tick.date.year().to_string(), look);
            }
        }
    }
}

fn draw_row(pen: &mut Pen<'_>, row: &StripRow, place: &LaneRow, layout: &StripLayout, panel: &Range<usize>, top: f64) {
    let band_top = top + if place.marks.is_empty() { 0.0 } else { MARK_LANE };
    let gate_top = band_top + if place.band { BAND + GATE_GAP } else { 0.0 };
    let lanes_foot = gate_top + GATE + place.lane_count as f64 * SPAN_LANE;
    let middle = if place.band { band_top + BAND / 2.0 } else { (gate_top + lanes_foot) / 2.0 };
    let first = middle - (place.name.len() as f64 - 1.0) * (LINE - 2.0) / 2.0;
    for (i, line) in place.name.iter().enumerate() {
        let y = first.max(top + LINE / 2.0 - 2.0) + i as f64 * (LINE - 2.0);
        pen.text((layout.left - 8.0, y), line, Type { side: Side::End, ..Type::default() });
    }
    if place.band {
        draw_cover(pen, row, layout, panel, band_top);
    }
    draw_open(pen, row, layout, panel, gate_top);
    for (&(from, to, kind), &lane) in place.spans.iter().zip(&place.lanes) {
        let y = gate_top + GATE + (lane as f64 + 0.5) * SPAN_LANE + 2.0;
        kind.draw(pen, layout.x(panel, from), layout.x(panel, to), y);
    }
    draw_marks(pen, &place.marks, layout, panel, band_top);
}

fn draw_cover(pen: &mut Pen<'_>, row: &StripRow, layout: &StripLayout, panel: &Range<usize>, top: f64) {
    let steps: Vec<Option<usize>> = row.cover.iter().map(|&cover| cover_step(cover)).collect();
    for (run, step) in runs(&steps, panel) {
        let (left, right) = (layout.x(panel, run.start), layout.x(panel, run.end));
        let Some(step) = step else {
            blank(pen, (left, top), (right - left, BAND));
            continue;
        };
        // Half a px over the seam, or the paper shines through between runs.
        let over = if run.end < panel.end { 0.5 } else { 0.0 };
        pen.rect((left, top), (right - left + over, BAND), cover_colour(step), 1.0);
    }
    let width = layout.x(panel, panel.end) - layout.left;
    pen.frame((layout.left, top), (width, BAND), Stroke::plain(EDGE, 0.8));
}

/// Days on which cover is not counted, as on a plot that is all beds.
fn blank(pen: &mut Pen<'_>, at: (f64, f64), size: (f64, f64)) {
    pen.rect(at, size, PAPER, 1.0);
    pen.hatch(at, size, 9.0, Stroke::plain(GRID, 1.4));
}

fn draw_open(pen: &mut Pen<'_>, row: &StripRow, layout: &StripLayout, panel: &Range<usize>, top: f64) {
    for (run, open) in runs(&row.open, panel) {
        if open {
            let (left, right) = (layout.x(panel, run.start), layout.x(panel, run.end));
            pen.rect((left, top), (right - left, GATE), INK, 1.0);
        }
    }
}

fn draw_marks(pen: &mut Pen<'_>, marks: &[(usize, Mark)], layout: &StripLayout, panel: &Range<usize>, band: f64) {
    let mut free = f64::NEG_INFINITY;
    for &(day, mark) in marks {
        let at = layout.x(panel, day);
        let x = at.max(free).min(layout.x(panel, panel.end));
        let y = band - MARK_LANE / 2.0 - 1.0;
        pen.line(&[(x, y), (at, band), (at, band + BAND * 0.3)], Stroke::plain(INK, 1.0));
        mark.draw(pen, x, y);
        free = x + 2.0 * MARK_RADIUS + 3.0;
    }
}

/// Runs of equal values within a range of days.
fn runs<T: Copy + PartialEq>(values: &[T], within: &Range<usize>) -> Vec<(Range<usize>, T)> {
    let mut runs: Vec<(Range<usize>, T)> = Vec::new();
    let days = within.start.min(values.len())..within.end.min(values.len());
    for day in days {
        match runs.last_mut() {
            Some((run, value)) if *value == values[day] => run.end = day + 1,
            _ => runs.push((day..day + 1, values[day])),
        }
    }
    runs
}

fn key(data: &StripData) -> Key<'_> {
    let mut key = Key::default();
    if data.rows.iter().any(|row| !row.cover.is_empty()) {
        key.add_wide("ground cover, 0 to 100 %", 110.0, |pen, x, y| {
            let step = 110.0 / COVER_STEPS as f64;
            for i in 0..COVER_STEPS {
                pen.rect((x + i as f64 * step, y - 8.0), (step + 0.3, 16.0), cover_colour(i), 1.0);
            }
            pen.frame((x, y - 8.0), (110.0, 16.0), Stroke::plain(EDGE, 0.8));
        });
    }
    if data.rows.iter().any(|row| row.cover.iter().any(|cover| cover.is_nan())) {
        key.add("not counted", |pen, x, y| {
            blank(pen, (x, y - 8.0), (30.0, 16.0));
            pen.frame((x, y - 8.0), (30.0, 16.0), Stroke::plain(EDGE, 0.8));
        });
    }
    key.add("gate open", |pen, x, y| pen.rect((x, y - GATE / 2.0), (30.0, GATE), INK, 1.0));
    for kind in SpanKind::ALL {
        if data.rows.iter().any(|row| row.spans.iter().any(|span| span.2 == kind)) {
            key.add(kind.words(), move |pen, x, y| kind.draw(pen, x, x + 30.0, y));
        }
    }
    for mark in Mark::ALL {
        if data.rows.iter().any(|row| row.marks.iter().any(|event| event.1 == mark)) {
            key.add_wide(mark.words(), 14.0, move |pen, x, y| mark.draw(pen, x + 7.0, y));
        }
    }
    key
}

fn alternative(data: &StripData, days: usize) -> String {
    let last = date_of(data.start, days.saturating_sub(1));
    let rows: Vec<String> = data.rows.iter().map(|row| row_words(row, data.start)).collect();
    format!(
        "{}. Plots day by day from {} to {}. {}",
        data.title.trim_end_matches('.'),
        plain_date(data.start),
        plain_date(last),
        rows.join(" ")
    )
}

fn row_words(row: &StripRow, start: Date) -> String {
    let open = row.open.iter().filter(|&&open| open).count();
    let gate = format!("gate open on {open} of {} days", row.open.len());
    let least = (0..row.cover.len())
        .filter(|&day| !row.cover[day].is_nan())
        .reduce(|least, day| if row.cover[day] < row.cover[least] { day } else { least });
    let cover = least.map_or_else(String::new, |day| {
        format!(", least cover {:.0} % on {}", row.cover[day] * 100.0, plain_date(date_of(start, day)))
    });
    format!("{}: {gate}{cover}.", row.name)
}

#[cfg(test)]
mod tests;
