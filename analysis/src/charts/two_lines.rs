//! One quantity of a year under two strategies, or the same axes empty, to be drawn on by hand.
//!
//! The lines differ by dash and marker, for grey print.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, document, text_width};
use super::printed::{LINE, SAMPLE, TEXT, key, key_height, month_axis, type_of};
use super::theme::{BASELINE, EDGE, GRID, INK, MARGIN, Shape, WIDTH};
use jiff::civil::Date;

/// Dash and gap of the second strategy, px.
const SECOND: &[f64] = &[9.0, 5.0];
/// Dash and gap of the line of birds shut in, px.
const WITHOUT: &[f64] = &[1.5, 4.0];
/// Days between two markers.
const MARKED_D: usize = 30;
const RADIUS: f64 = 4.2;
const TOP: f64 = 8.0;

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoLines {
    /// What it is.
    pub title: String,
    /// Date of day 0.
    pub start: Date,
    /// Days across.
    pub days: usize,
    /// Height of the field, px.
    pub height: f64,
    /// Lowest value of the axis, %; the highest is 100.
    pub from: f64,
    /// Where both lines start, %; marked on the empty chart.
    pub begin: f64,
    /// A line to stay above, %, with its words.
    pub limit: (f64, String),
    /// Names of the two strategies.
    pub strategies: [String; 2],
    /// The lines, %: the two strategies and the year with the birds shut in; `None` for empty axes.
    pub lines: Option<[Vec<f64>; 3]>,
}

/// Draws the chart.
#[must_use]
pub fn two_lines(data: &TwoLines) -> Chart {
    let foot = TOP + data.height;
    let x = Scale {
        low: 0.0,
        high: data.days.max(2) as f64 - 1.0,
        from_px: MARGIN + text_width("100 %", TEXT, false) + 8.0,
        to_px: WIDTH - MARGIN,
        step: 1.0,
    };
    let y = Scale { low: data.from, high: 100.0, from_px: foot, to_px: TOP, step: 10.0 };
    let (alt, words) = (alternative(data), key_words(data));
    let svg = document(&data.title, &alt, data.height + around(data), |pen| {
        grid(pen, data, x, y);
        match &data.lines {
            Some(lines) => curves(pen, lines, x, y),
            None => pen.marker((x.px(0.0), y.px(data.begin)), Shape::Circle, RADIUS + 1.0, INK, true),
        }
        let drawn = data.lines.is_some();
        key(pen, &words, foot + LINE + 4.0, &|pen, item, x, y| sample(pen, drawn, item, x, y));
    });
    Chart { svg, alt }
}

/// Height of all but the field, px.
#[must_use]
pub fn around(data: &TwoLines) -> f64 {
    TOP + LINE + 4.0 + key_height(&key_words(data)) + 2.0
}

fn grid(pen: &mut Pen<'_>, data: &TwoLines, x: Scale, y: Scale) {
    for tick in y.ticks() {
        let at = y.px(tick);
        pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke::plain(GRID, 1.0));
        if (tick / y.step).round() as i64 % 2 == 0 {
            pen.text((x.from_px - 6.0, at), &format!("{tick:.0} %"), type_of(Side::End));
        }
    }
    month_axis(pen, data.start, data.days, |day| x.px(day as f64), (y.to_px, y.from_px));
    pen.frame((x.from_px, y.to_px), (x.to_px - x.from_px, y.from_px - y.to_px), Stroke::plain(EDGE, 1.2));
    let at = y.px(data.limit.0);
    pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke::plain(INK, 1.2));
}

fn curves(pen: &mut Pen<'_>, lines: &[Vec<f64>; 3], x: Scale, y: Scale) {
    for (which, line) in [2, 1, 0].map(|which| (which, &lines[which])) {
        let points: Vec<(f64, f64)> =
            line.iter().enumerate().map(|(day, &value)| (x.px(day as f64), y.px(value))).collect();
        pen.line(&points, stroke(which));
        // Markers of the two plans take turns, so that none hides another.
        for &point in points.iter().skip(15 + 15 * which).step_by(MARKED_D).filter(|_| which < 2) {
            marker(pen, which, point);
        }
    }
}

fn stroke(which: usize) -> Stroke {
    match which {
        0 => Stroke::plain(INK, 2.4),
        1 => Stroke { dash: SECOND, ..Stroke::plain(INK, 2.4) },
        _ => Stroke { dash: WITHOUT, ..Stroke::plain(BASELINE, 1.8) },
    }
}

fn marker(pen: &mut Pen<'_>, which: usize, at: (f64, f64)) {
    if which == 0 {
        pen.marker(at, Shape::Circle, RADIUS, INK, true);
    } else {
        pen.marker(at, Shape::Square, RADIUS, INK, false);
    }
}

fn key_words(data: &TwoLines) -> Vec<String> {
    if data.lines.is_none() {
        return vec!["A".to_owned(), "B".to_owned(), "start".to_owned(), data.limit.1.clone()];
    }
    vec![
        format!("A {}", data.strategies[0]),
        format!("B {}", data.strategies[1]),
        "birds shut in".to_owned(),
        data.limit.1.clone(),
    ]
}

fn sample(pen: &mut Pen<'_>, drawn: bool, item: usize, x: f64, y: f64) {
    let (ends, middle) = ([(x, y), (x + SAMPLE, y)], (x + SAMPLE / 2.0, y));
    match item {
        2 if !drawn => pen.marker(middle, Shape::Circle, RADIUS + 1.0, INK, true),
        3 => pen.line(&ends, Stroke::plain(INK, 1.2)),
        _ => {
            pen.line(&ends, stroke(item));
            if item < 2 {
                marker(pen, item, middle);
            }
        }
    }
}

fn alternative(data: &TwoLines) -> String {
    let Some(lines) = &data.lines else {
        return format!("Empty axes to draw on: months across, {:.0} to 100 % up.", data.from);
    };
    let least = |line: &[f64]| line.iter().copied().fold(f64::INFINITY, f64::min);
    let of = |which: usize| format!("{:.0} %", least(&lines[which]));
    format!(
        "Least cover of the year: A, {}, {}; B, {}, {}; birds shut in {}.",
        data.strategies[0],
        of(0),
        data.strategies[1],
        of(1),
        of(2)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look;
    use jiff::civil::date;

    fn data(lines: Option<[Vec<f64>; 3]>) -> TwoLines {
        TwoLines {
            title: "Cover".to_owned(),
            start: date(2027, 3, 15),
            days: 365,
            height: 200.0,
            from: 20.0,
            begin: 90.0,
            limit: (60.0, "wanted: 60 %".to_owned()),
            strategies: ["one".to_owned(), "two".to_owned()],
            lines,
        }
    }

    #[test]
    fn the_empty_chart_has_axes_and_no_line() {
        let line = |least: f64| (0..365).map(|day| least + f64::from((day % 40) as u32)).collect::<Vec<f64>>();
        let full = two_lines(&data(Some([line(43.0), line(51.0), line(57.0)])));
        let empty = two_lines(&data(None));
        look::check("two-lines", &full);
        look::check("two-lines-empty", &empty);
        assert!(full.alt.contains("43 %") && full.alt.contains("51 %"));
        assert!(!empty.svg.contains("43 %") && empty.svg.len() < full.svg.len());
        assert!(empty.svg.contains("Apr") && empty.svg.contains("100 %"));
    }
}
