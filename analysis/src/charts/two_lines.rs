//! One quantity of a year under two plans, or the same axes empty, to be drawn on by hand.
//!
//! The lines differ by dash and marker, for grey print.

use super::Chart;
use super::axis::{Scale, date_of, month_name, months};
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Key, SAMPLE};
use super::theme::{BASELINE, EDGE, GRID, INK, LINE, MARGIN, Shape, TEXT, WIDTH};
use jiff::civil::Date;

/// Dash and gap of the second plan, px.
const SECOND: &[f64] = &[9.0, 5.0];
/// Dash and gap of the line without birds, px.
const WITHOUT: &[f64] = &[1.5, 4.0];
/// Days between two markers.
const MARKED_D: usize = 30;
const RADIUS: f64 = 4.6;

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
    /// Names of the two plans.
    pub plans: [String; 2],
    /// The lines, %: the two plans and the year without birds; `None` for empty axes.
    pub lines: Option<[Vec<f64>; 3]>,
}

/// Draws the chart.
#[must_use]
pub fn two_lines(data: &TwoLines) -> Chart {
    let key = key(data);
    let top = 8.0;
    let foot = top + data.height;
    let x = Scale {
        low: 0.0,
        high: data.days.max(2) as f64 - 1.0,
        from_px: MARGIN + text_width("100 %", TEXT, false) + 8.0,
        to_px: WIDTH - MARGIN,
        step: 1.0,
    };
    let y = Scale { low: data.from, high: 100.0, from_px: foot, to_px: top, step: 10.0 };
    let alt = alternative(data);
    let svg = document(&data.title, &alt, foot + LINE + 6.0 + key.height(), |pen| {
        grid(pen, data, x, y);
        match &data.lines {
            Some(lines) => curves(pen, lines, x, y),
            None => pen.marker((x.px(0.0), y.px(data.begin)), Shape::Circle, RADIUS + 1.0, INK, true),
        }
        key.draw(pen, foot + LINE + 6.0);
    });
    Chart { svg, alt }
}

fn grid(pen: &mut Pen<'_>, data: &TwoLines, x: Scale, y: Scale) {
    for tick in y.ticks() {
        let at = y.px(tick);
        pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke::plain(GRID, 1.0));
        if (tick / y.step).round() as i64 % 2 == 0 {
            let look = Type { side: Side::End, ..Type::default() };
            pen.text((x.from_px - 6.0, at), &format!("{tick:.0} %"), look);
        }
    }
    let mut edges: Vec<usize> = months(data.start, data.days).iter().map(|tick| tick.day).collect();
    for &day in &edges {
        let at = x.px(day as f64);
        pen.line(&[(at, y.to_px), (at, y.from_px + 4.0)], Stroke::plain(GRID, 1.2));
    }
    if edges.first() != Some(&0) {
        edges.insert(0, 0);
    }
    for (i, &day) in edges.iter().enumerate() {
        let (from, to) = (x.px(day as f64), edges.get(i + 1).map_or(x.to_px, |&day| x.px(day as f64)));
        let name = month_name(date_of(data.start, day));
        if to - from >= text_width(name, TEXT, false) - 3.0 {
            let look = Type { side: Side::Middle, ..Type::default() };
            pen.text(((from + to) / 2.0, y.from_px + LINE / 2.0 + 1.0), name, look);
        }
    }
    pen.frame((x.from_px, y.to_px), (x.to_px - x.from_px, y.from_px - y.to_px), Stroke::plain(EDGE, 1.2));
    let at = y.px(data.limit.0);
    pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke::plain(INK, 1.6));
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

fn key(data: &TwoLines) -> Key<'_> {
    let mut key = Key::default();
    for (which, letter) in ["A", "B"].into_iter().enumerate() {
        key.add(&format!("{letter} {}", data.plans[which]), move |pen, x, y| {
            pen.line(&[(x, y), (x + SAMPLE, y)], stroke(which));
            marker(pen, which, (x + SAMPLE / 2.0, y));
        });
    }
    if data.lines.is_some() {
        key.add("no hens", |pen, x, y| pen.line(&[(x, y), (x + SAMPLE, y)], stroke(2)));
    } else {
        key.add("start", |pen, x, y| pen.marker((x + SAMPLE / 2.0, y), Shape::Circle, RADIUS + 1.0, INK, true));
    }
    key.add(&data.limit.1, |pen, x, y| pen.line(&[(x, y), (x + SAMPLE, y)], Stroke::plain(INK, 1.6)));
    key
}

fn alternative(data: &TwoLines) -> String {
    let Some(lines) = &data.lines else {
        return format!("Empty axes to draw on: months across, {:.0} to 100 % up.", data.from);
    };
    let least = |line: &[f64]| line.iter().copied().fold(f64::INFINITY, f64::min);
    let of = |which: usize| format!("{:.0} %", least(&lines[which]));
    format!(
        "Least cover of the year: A, {}, {}; B, {}, {}; without hens {}.",
        data.plans[0],
        of(0),
        data.plans[1],
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
            plans: ["one".to_owned(), "two".to_owned()],
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
        assert!(empty.svg.contains("Mar") && empty.svg.contains("100 %"));
    }
}
