//! The trade-off of a whole sweep: every cell and strategy a dot, the front joined.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::field;
use super::frame::{Heading, Key};
use super::labels::{Area, place};
use super::theme::{INK, LINE, MARGIN, PAPER, SOFT_INK, TEXT, WIDTH, series};
use crate::wording::number;
use std::collections::BTreeSet;

const PLOT_HEIGHT: f64 = 380.0;
const DOT: f64 = 3.4;
const MARKER: f64 = 6.5;
/// Dots nearer than this to another of their strategy are left out, px: they add ink, not news.
const THIN_PX: f64 = 3.0;
/// Most points of the front that are named.
const NAMED: usize = 4;
/// Most strategies the key names; the rest are counted.
const KEYED: usize = 14;

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontData {
    /// The finding.
    pub title: String,
    /// What stands below it: how much the front holds.
    pub note: String,
    /// What runs up, in words with unit.
    pub up: String,
    /// Names of the strategies.
    pub strategies: Vec<String>,
    /// All points.
    pub points: Vec<FrontPoint>,
    /// Places of those nothing beats on both, by cover lost.
    pub front: Vec<usize>,
}

/// One cell under one strategy.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontPoint {
    /// Position of its strategy.
    pub strategy: usize,
    /// What was varied: "stay 12 days, birds 16".
    pub settings: String,
    /// Cover lost, points.
    pub cover_loss: f64,
    /// What it buys; NaN if blank.
    pub bought: f64,
    /// Every limit holds often enough.
    pub holds: bool,
}

/// Draws the chart.
#[must_use]
pub fn sweep_front(data: &FrontData) -> Chart {
    let heading = Heading::new(&data.title, &data.note);
    let key = key(data);
    let top = heading.height() + LINE + 18.0;
    let foot = top + PLOT_HEIGHT;
    let height = foot + 2.0 * LINE + 22.0 + key.height();
    let alt = alternative(data);
    let (x, y) =
        field::scales(data.points.iter().map(|p| p.cover_loss), data.points.iter().map(|p| p.bought), (top, foot));
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        draw_axes(pen, data, x, y);
        draw_dots(pen, data, x, y);
        draw_front(pen, data, x, y);
        key.draw(pen, foot + 2.0 * LINE + 19.0);
    });
    Chart { svg, alt }
}

fn draw_axes(pen: &mut Pen<'_>, data: &FrontData, x: Scale, y: Scale) {
    field::grid(pen, x, y, x.low);
    field::edges(pen, x, y);
    let (right, top, foot) = (x.to_px, y.to_px, y.from_px);
    pen.text((MARGIN, top - LINE / 2.0 - 13.0), &data.up, Type::default());
    let look = Type { side: Side::End, ..Type::default() };
    pen.text((right, foot + LINE + 19.0), "Ground cover lost, points of cover  →", look);
}

fn draw_dots(pen: &mut Pen<'_>, data: &FrontData, x: Scale, y: Scale) {
    let mut drawn: BTreeSet<(usize, bool, i64, i64)> = BTreeSet::new();
    for point in data.points.iter().filter(|p| p.cover_loss.is_finite() && p.bought.is_finite()) {
        let at = (x.px(point.cover_loss), y.px(point.bought));
        let spot = |px: f64| (px / THIN_PX).round() as i64;
        if drawn.insert((point.strategy, point.holds, spot(at.0), spot(at.1))) {
            let look = series(point.strategy);
            let (size, filled) = (DOT, point.holds);
            pen.marker(at, look.shape, size, look.colour, filled);
        }
    }
}

fn draw_front(pen: &mut Pen<'_>, data: &FrontData, x: Scale, y: Scale) {
    let at = |place: &usize| (x.px(data.points[*place].cover_loss), y.px(data.points[*place].bought));
    let line: Vec<(f64, f64)> = data.front.iter().map(at).collect();
    if line.len() > 1 {
        pen.line(&line, Stroke { alpha: 0.9, dash: &[7.0, 4.0], ..Stroke::plain(INK, 1.8) });
    }
    for (place, &spot) in data.front.iter().zip(&line) {
        let point = &data.points[*place];
        let look = series(point.strategy);
        pen.marker(spot, look.shape, MARKER, look.colour, point.holds);
    }
    let named = named(data);
    let spots: Vec<(f64, f64)> = named.iter().map(at).collect();
    let words: Vec<&str> = named.iter().map(|&place| data.points[place].settings.as_str()).collect();
    let widths: Vec<f64> = words.iter().map(|words| text_width(words, TEXT, false)).collect();
    let round = |&(px, py): &(f64, f64)| Area { left: px - 8.0, top: py - 8.0, right: px + 8.0, foot: py + 8.0 };
    let taken: Vec<Area> = line.iter().map(round).collect();
    let frame = Area { left: x.from_px + 2.0, top: y.to_px, right: WIDTH - 4.0, foot: y.from_px - 2.0 };
    for ((area, &spot), words) in place(&spots, &widths, &taken, frame).iter().zip(&spots).zip(words) {
        let near = area.nearest(spot);
        pen.line(&[spot, near], Stroke::plain(SOFT_INK, 1.0));
        pen.rect((area.left, area.top), (area.right - area.left, area.foot - area.top), PAPER, 0.82);
        let middle = ((area.left + area.right) / 2.0, (area.top + area.foot) / 2.0);
        pen.text(middle, words, Type { side: Side::Middle, ..Type::default() });
    }
}

/// Some points of the front, evenly along it: those that hold before others.
fn named(data: &FrontData) -> Vec<usize> {
    let holding: Vec<usize> = data.front.iter().copied().filter(|&place| data.points[place].holds).collect();
    let pick = if holding.is_empty() { data.front.clone() } else { holding };
    let count = pick.len().min(NAMED);
    let mut named: Vec<usize> = (0..count).map(|k| pick[k * (pick.len() - 1) / (count.max(2) - 1)]).collect();
    named.dedup();
    named
}

fn key(data: &FrontData) -> Key<'_> {
    let mut key = Key::default();
    for (position, name) in data.strategies.iter().enumerate().take(KEYED) {
        key.add_wide(name, 14.0, move |pen, x, y| {
            pen.marker((x + 7.0, y), series(position).shape, 5.0, series(position).colour, true);
        });
    }
    if let Some(more) = data.strategies.len().checked_sub(KEYED).filter(|&more| more > 0) {
        key.add_wide(&format!("and {more} more"), 0.0, |_, _, _| {});
    }
    key.add("none better on both", |pen, x, y| {
        pen.line(&[(x, y), (x + 30.0, y)], Stroke { dash: &[7.0, 4.0], ..Stroke::plain(INK, 1.8) });
    });
    if data.points.iter().any(|point| !point.holds) {
        key.add_wide("hollow: breaks a limit", 16.0, |pen, x, y| {
            pen.marker((x + 8.0, y), super::theme::Shape::Circle, MARKER, INK, false);
        });
    }
    key
}

fn alternative(data: &FrontData) -> String {
    let words = |&place: &usize| {
        let point = &data.points[place];
        let tail = if point.holds { "" } else { ", but breaks a limit" };
        format!(
            "{}, {}: cover lost {}, bought {}{tail}.",
            data.strategies[point.strategy],
            point.settings,
            number(point.cover_loss, 1),
            number(point.bought, 1)
        )
    };
    let named: Vec<String> = named(data).iter().map(words).collect();
    format!(
        "{}. {}. {} against cover lost. {}",
        data.title.trim_end_matches('.'),
        data.note.trim_end_matches('.'),
        data.up,
        named.join(" ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look::check;
    use crate::stats::front::front_of_two;

    #[test]
    fn an_invented_sweep_draws() {
        let point = |k: usize| {
            let (strategy, stay, birds) = (k % 3, 3 + k / 3 % 12, 4 + k / 36);
            let loss = birds as f64 * (1.0 + 0.3 * strategy as f64) * (0.6 + (stay as f64 - 9.0).abs() / 20.0);
            let bought = 60.0 * (1.0 - (-loss / 14.0).exp()) - stay as f64 * 0.6 + 4.0 * strategy as f64;
            let settings = format!("stay {stay} days, birds {birds}");
            FrontPoint { strategy, settings, cover_loss: loss, bought, holds: loss < 16.0 }
        };
        let points: Vec<FrontPoint> = (0..900).map(point).collect();
        let front = front_of_two(&points.iter().map(|p| [p.cover_loss, -p.bought]).collect::<Vec<_>>());
        let data = FrontData {
            title: "Of 900 strategies 14 are none better on both".into(),
            note: "Front holds 1,210 points × %".into(),
            up: "Pests kept down, % fewer emerging adults".into(),
            strategies: vec!["turn-by-area".into(), "by-eye".into(), "long-stays".into()],
            points,
            front,
        };
        let chart = sweep_front(&data);
        check("sweep_front", &chart);
        assert!(chart.alt.contains("stay"));
    }

    #[test]
    fn an_empty_sweep_draws() {
        let data = FrontData {
            title: "Nothing".into(),
            note: String::new(),
            up: "Pests".into(),
            strategies: vec![],
            points: vec![],
            front: vec![],
        };
        check("sweep_front_empty", &sweep_front(&data));
    }
}
