//! The season strip: plots down, days across. A gate that stands open is the darkest mark; what keeps it shut, guards and
//! nets, events and the ground's cover beside that of birds shut in are drawn round it.
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
use super::theme::{COVERED, EDGE, GATE_OPEN, GATE_SHUT, GRID, LINE, SOFT_INK, TEXT};
use crate::wording::{plain_date, short_month_name};
use events::MARK_RADIUS;
use jiff::civil::Date;
use layout::{PlacedRow, StripLayout};
use sim_engine::dates::date_of;
use std::ops::Range;

/// Draws the strip.
#[must_use]
pub fn season_strip(data: &StripData) -> Chart {
    let days = day_count(data);
    let layout = StripLayout::new(data, days);
    let foot = data.cover_foot();
    let key = key(data, foot);
    let heading = Heading::new(&data.title, "");
    let height = heading.height() + layout.panels.len() as f64 * layout.panel_height() + key.height();
    let alt = alternative(data, days);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        let mut top = heading.height();
        for panel in &layout.panels {
            draw_panel(pen, data.start, &layout, (panel, foot), top);
            top += layout.panel_height();
        }
        key.draw(pen, top);
    });
    Chart { svg, alt }
}

fn day_count(data: &StripData) -> usize {
    data.rows.iter().map(|row| row.cover.len().max(row.open.len())).max().unwrap_or(0)
}

fn draw_panel(
    pen: &mut Pen<'_>,
    start: Date,
    layout: &StripLayout<'_>,
    (panel, cover_foot): (&Range<usize>, f64),
    top: f64,
) {
    let dates = format!("{} to {}", plain_date(date_of(start, panel.start)), plain_date(date_of(start, panel.end - 1)));
    let heading = Type { bold: true, ..Type::default() };
    pen.text((layout.left, top + LINE / 2.0), &dates, heading);
    let rows_top = top + LINE + 6.0;
    let mut y = rows_top;
    for placed in &layout.rows {
        draw_row(pen, placed, layout, (panel, cover_foot), y);
        y += placed.height;
    }
    month_lines(pen, start, layout, panel, (rows_top, y));
    year_line(pen, start, layout, panel, (rows_top, y));
}

fn month_lines(
    pen: &mut Pen<'_>,
    start: Date,
    layout: &StripLayout<'_>,
    panel: &Range<usize>,
    (top, foot): (f64, f64),
) {
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

/// The turn of the year: a dashed line with the new year's number.
fn year_line(pen: &mut Pen<'_>, start: Date, layout: &StripLayout<'_>, panel: &Range<usize>, (top, foot): (f64, f64)) {
    for tick in months(date_of(start, panel.start), panel.len()) {
        if tick.new_year && tick.day > 0 {
            let x = layout.x(panel, panel.start + tick.day);
            pen.line(&[(x, top - 4.0), (x, foot)], Stroke { dash: &[2.0, 4.0], ..Stroke::plain(SOFT_INK, 1.0) });
            let look = Type { side: Side::Start, colour: SOFT_INK, ..Type::default() };
            let right_of_line = (x + 4.0, top - LINE / 2.0 - 6.0);
            if right_of_line.0 > layout.left + 300.0 {
                pen.text(right_of_line, &tick.date.year().to_string(), look);
            }
        }
    }
}

fn draw_row(
    pen: &mut Pen<'_>,
    placed: &PlacedRow<'_>,
    layout: &StripLayout<'_>,
    (panel, cover_foot): (&Range<usize>, f64),
    top: f64,
) {
    let heights = &layout.heights;
    let middle = top + heights.gate / 2.0;
    for (i, line) in placed.name.iter().enumerate() {
        let y = middle + i as f64 * (LINE - 3.0);
        pen.text((layout.left - 8.0, y), line, Type { side: Side::End, ..Type::default() });
    }
    draw_gate(pen, placed.row, layout, panel, top);
    let below = top + heights.gate + heights.below + 2.0;
    draw_cover(pen, placed.row, layout, (panel, cover_foot), below);
    draw_marks(pen, &placed.row.marks, layout, panel, middle);
}

/// The bar of a gate: shut, why it is shut, open.
fn draw_gate(pen: &mut Pen<'_>, row: &StripRow, layout: &StripLayout<'_>, panel: &Range<usize>, top: f64) {
    let heights = &layout.heights;
    let width = layout.x(panel, panel.end) - layout.left;
    pen.rect((layout.left, top), (width, heights.gate), GATE_SHUT, 1.0);
    let shown = row.spans.iter().filter(|span| span.0 < panel.end && span.1 > panel.start);
    for &(from, to, kind) in shown {
        let (left, right) = (layout.x(panel, from), layout.x(panel, to));
        let (y, height) = if kind.below() { (top + heights.gate, heights.below) } else { (top, heights.gate) };
        kind.draw(pen, (left, y), (right - left, height));
    }
    for (run, _) in runs(&row.open, panel).into_iter().filter(|(_, open)| *open) {
        let (left, right) = (layout.x(panel, run.start), layout.x(panel, run.end));
        pen.rect((left, top), (right - left, heights.gate), GATE_OPEN, 1.0);
    }
    pen.frame((layout.left, top), (width, heights.gate), Stroke::plain(EDGE, 0.7));
}

/// Cover as a line over its own ground, with that of the birds shut in behind it.
fn draw_cover(
    pen: &mut Pen<'_>,
    row: &StripRow,
    layout: &StripLayout<'_>,
    (panel, cover_foot): (&Range<usize>, f64),
    top: f64,
) {
    let foot = top + layout.heights.cover - 2.0;
    let at = |day: usize, cover: f64| {
        let share = (cover - cover_foot) / (1.0 - cover_foot);
        (layout.x(panel, day), foot - share * (foot - top))
    };
    for run in known(&row.cover, panel) {
        let line: Vec<(f64, f64)> = run.clone().map(|day| at(day, row.cover[day])).collect();
        let ends = [(layout.x(panel, run.end - 1), foot), (layout.x(panel, run.start), foot)];
        let area: Vec<(f64, f64)> = line.iter().copied().chain(ends).collect();
        pen.polygon(&area, COVERED, 0.8);
        pen.line(&line, Stroke::plain(GATE_OPEN, 1.1));
    }
    for run in known(&row.cover_shut_in, panel) {
        let line: Vec<(f64, f64)> = run.map(|day| at(day, row.cover_shut_in[day])).collect();
        pen.line(&line, Stroke { dash: &[4.0, 3.0], ..Stroke::plain(SOFT_INK, 1.0) });
    }
}

/// Stretches of a panel on which a column is known, of two days at least.
fn known(column: &[f64], panel: &Range<usize>) -> Vec<Range<usize>> {
    let known: Vec<bool> = column.iter().map(|value| !value.is_nan()).collect();
    let runs = runs(&known, panel).into_iter();
    runs.filter(|(run, known)| *known && run.len() > 1).map(|(run, _)| run).collect()
}

fn draw_marks(pen: &mut Pen<'_>, marks: &[(usize, Mark)], layout: &StripLayout<'_>, panel: &Range<usize>, middle: f64) {
    let mut marks: Vec<_> = marks.iter().filter(|(day, _)| panel.contains(day)).copied().collect();
    marks.sort();
    let mut free = f64::NEG_INFINITY;
    for (day, mark) in marks {
        let x = layout.x(panel, day).max(free).min(layout.x(panel, panel.end));
        mark.draw(pen, x, middle);
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

fn key(data: &StripData, cover_foot: f64) -> Key<'_> {
    const BOX: (f64, f64) = (30.0, 14.0);
    let mut key = Key::default();
    let boxed = |y: f64| y - BOX.1 / 2.0;
    key.add("gate open", move |pen, x, y| pen.rect((x, boxed(y)), BOX, GATE_OPEN, 1.0));
    key.add("shut", move |pen, x, y| {
        pen.rect((x, boxed(y)), BOX, GATE_SHUT, 1.0);
        pen.frame((x, boxed(y)), BOX, Stroke::plain(EDGE, 0.7));
    });
    for kind in SpanKind::ALL {
        if data.rows.iter().any(|row| row.spans.iter().any(|span| span.2 == kind)) {
            key.add(kind.words(), move |pen, x, y| kind.draw(pen, (x, boxed(y)), BOX));
        }
    }
    for mark in Mark::ALL {
        if data.rows.iter().any(|row| row.marks.iter().any(|event| event.1 == mark)) {
            key.add_wide(mark.words(), 14.0, move |pen, x, y| mark.draw(pen, x + 7.0, y));
        }
    }
    if data.rows.iter().any(|row| !row.cover.is_empty()) {
        let words = match (100.0 * cover_foot).round() as u32 {
            0 => "ground cover, 0 to 100 %",
            25 => "ground cover, 25 to 100 %",
            50 => "ground cover, 50 to 100 %",
            _ => "ground cover, 75 to 100 %",
        };
        key.add(words, move |pen, x, y| {
            pen.rect((x, y - 3.0), (BOX.0, 9.0), COVERED, 0.8);
            pen.line(&[(x, y - 3.0), (x + BOX.0, y - 3.0)], Stroke::plain(GATE_OPEN, 1.1));
        });
    }
    if data.rows.iter().any(|row| !row.cover_shut_in.is_empty()) {
        let look = Stroke { dash: &[4.0, 3.0], ..Stroke::plain(SOFT_INK, 1.0) };
        key.add("the same, birds shut in", move |pen, x, y| pen.line(&[(x, y), (x + BOX.0, y)], look));
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
    let beds = if row.cover.is_empty() { String::new() } else { ", all beds".to_owned() };
    let cover = least.map_or(beds, |day| {
        format!(", least cover {:.0} % on {}", row.cover[day] * 100.0, plain_date(date_of(start, day)))
    });
    format!("{}: {gate}{cover}.", row.name)
}

#[cfg(test)]
mod tests;
