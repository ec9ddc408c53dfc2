//! Carry curves: the chance that all limits hold, and the ground cover, by flock size.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::frame::{Heading, Key};
use super::theme::{GRID, INK, LINE, MARGIN, PAPER, Rgb, SOFT_INK, SeriesLook, TEXT, WIDTH, series};
use crate::wording::number;

const UPPER: f64 = 250.0;
const LOWER: f64 = 150.0;
const PANEL_GAP: f64 = 44.0;
const BAND_ALPHA: f64 = 0.16;

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CarryData {
    /// The finding.
    pub title: String,
    /// What else a reader should know.
    pub note: String,
    /// Share of possible years in which all limits must hold.
    pub required_reliability: f64,
    /// The flock of the site.
    pub present: f64,
    /// A line a strategy.
    pub lines: Vec<CarryLine>,
}

/// One strategy.
#[derive(Clone, Debug, PartialEq)]
pub struct CarryLine {
    /// Name.
    pub name: String,
    /// Birds borne.
    pub birds: f64,
    /// By flock.
    pub points: Vec<CarrySpot>,
}

/// One flock of a line: birds; chance with low and high; mean cover with low and high. All shares.
pub type CarrySpot = (f64, [f64; 3], [f64; 3]);
/// What is drawn of it: the middle, the low and the high end.
type Pick<'p> = dyn Fn(&CarrySpot) -> [f64; 3] + 'p;

/// Draws the curves.
#[must_use]
pub fn carry(data: &CarryData) -> Chart {
    let heading = Heading::new(&data.title, &data.note);
    let key = key(data);
    let top = heading.height() + LINE + 8.0;
    let middle = top + UPPER + PANEL_GAP;
    let foot = middle + LOWER;
    let height = foot + 2.0 * LINE + 16.0 + key.height();
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        let (x, left) = across(data);
        for (from, to, words, cover) in [
            (top + UPPER, top, "All limits hold, % of possible years", false),
            (foot, middle, "Mean ground cover, %", true),
        ] {
            let y = Scale { low: 0.0, high: 100.0, from_px: from, to_px: to, step: if cover { 50.0 } else { 20.0 } };
            pen.text((MARGIN, to - LINE / 2.0 - 4.0), words, Type::default());
            draw_grid(pen, x, y, left);
            draw_lines(pen, data, x, y, cover);
            if !cover {
                draw_sure(pen, data, x, y);
            }
        }
        draw_foot(pen, data, x, foot);
        key.draw(pen, foot + 2.0 * LINE + 14.0);
    });
    Chart { svg, alt }
}

fn across(data: &CarryData) -> (Scale, f64) {
    let left = MARGIN + text_width("100", TEXT, false) + 8.0;
    let flocks = data.lines.iter().flat_map(|line| line.points.iter().map(|point| point.0));
    (Scale::around(flocks, left, WIDTH - MARGIN - 6.0), left)
}

fn draw_grid(pen: &mut Pen<'_>, x: Scale, y: Scale, left: f64) {
    let soft = Type { colour: SOFT_INK, side: Side::End, ..Type::default() };
    for tick in y.ticks() {
        pen.line(&[(x.from_px, y.px(tick)), (x.to_px, y.px(tick))], Stroke::plain(GRID, 1.0));
        pen.text((left - 8.0, y.px(tick)), &y.tick_text(tick), soft);
    }
    for tick in x.ticks() {
        pen.line(&[(x.px(tick), y.from_px), (x.px(tick), y.to_px)], Stroke::plain(GRID, 1.0));
    }
}

fn draw_lines(pen: &mut Pen<'_>, data: &CarryData, x: Scale, y: Scale, cover: bool) {
    let pick = |point: &CarrySpot| if cover { point.2 } else { point.1 };
    for (position, line) in data.lines.iter().enumerate() {
        band(pen, line, x, y, &pick, series(position).colour);
    }
    for (position, line) in data.lines.iter().enumerate() {
        let SeriesLook { colour, dash, .. } = series(position);
        let points: Vec<(f64, f64)> = line
            .points
            .iter()
            .filter(|p| pick(p)[0].is_finite())
            .map(|p| (x.px(p.0), y.px(100.0 * pick(p)[0])))
            .collect();
        pen.line(&points, Stroke { dash, ..Stroke::plain(colour, 2.6) });
    }
}

fn band(pen: &mut Pen<'_>, line: &CarryLine, x: Scale, y: Scale, pick: &Pick<'_>, colour: Rgb) {
    let known: Vec<&CarrySpot> =
        line.points.iter().filter(|p| pick(p)[1].is_finite() && pick(p)[2].is_finite()).collect();
    let edge = |p: &&CarrySpot, end: usize| (x.px(p.0), y.px(100.0 * pick(p)[end]));
    let mut outline: Vec<(f64, f64)> = known.iter().map(|p| edge(p, 2)).collect();
    outline.extend(known.iter().rev().map(|p| edge(p, 1)));
    if outline.len() > 2 {
        pen.polygon(&outline, colour, BAND_ALPHA);
    }
}

/// The wanted share as a line, and a marker where each strategy crosses it.
fn draw_sure(pen: &mut Pen<'_>, data: &CarryData, x: Scale, y: Scale) {
    let at = y.px(100.0 * data.required_reliability);
    pen.line(&[(x.from_px, at), (x.to_px, at)], Stroke { dash: &[2.0, 4.0], ..Stroke::plain(INK, 1.8) });
    for (position, line) in data.lines.iter().enumerate() {
        let look = series(position);
        let chance = line.points.iter().find(|p| p.0 == line.birds).map_or(data.required_reliability, |p| p.1[0]);
        pen.marker((x.px(line.birds), y.px(100.0 * chance)), look.shape, 7.0, look.colour, true);
    }
}

fn draw_foot(pen: &mut Pen<'_>, data: &CarryData, x: Scale, foot: f64) {
    let soft = Type { colour: SOFT_INK, side: Side::Middle, ..Type::default() };
    for tick in x.ticks() {
        pen.text((x.px(tick), foot + 16.0), &x.tick_text(tick), soft);
    }
    let now = x.px(data.present);
    pen.polygon(&[(now - 6.0, foot + 9.0), (now + 6.0, foot + 9.0), (now, foot + 1.0)], INK, 1.0);
    pen.line(&[(now, foot), (now, foot - LOWER)], Stroke { alpha: 0.5, ..Stroke::plain(INK, 1.0) });
    pen.text((x.to_px, foot + LINE + 15.0), "Birds, the whole flock →", Type { side: Side::End, ..Type::default() });
}

fn key(data: &CarryData) -> Key<'_> {
    let mut key = Key::default();
    for (position, line) in data.lines.iter().enumerate() {
        let words = format!("{}: {} birds", line.name, number(line.birds, 0));
        key.add(&words, move |pen, x, y| {
            let look = series(position);
            pen.line(&[(x, y), (x + 30.0, y)], Stroke { dash: look.dash, ..Stroke::plain(look.colour, 2.6) });
            pen.marker((x + 15.0, y), look.shape, 6.0, look.colour, true);
        });
    }
    key.add("wanted", |pen, x, y| {
        pen.line(&[(x, y), (x + 30.0, y)], Stroke { dash: &[2.0, 4.0], ..Stroke::plain(INK, 1.8) });
    });
    key.add("95 % interval", |pen, x, y| {
        pen.rect((x, y - 7.0), (30.0, 14.0), PAPER, 1.0);
        pen.rect((x, y - 7.0), (30.0, 14.0), series(0).colour, BAND_ALPHA * 1.6);
    });
    key.add_wide("flock now", 14.0, |pen, x, y| {
        pen.polygon(&[(x + 1.0, y + 5.0), (x + 13.0, y + 5.0), (x + 7.0, y - 4.0)], INK, 1.0);
    });
    key
}

fn alternative(data: &CarryData) -> String {
    let words = |line: &CarryLine| {
        let end = line.points.last().map_or(0.0, |p| p.0);
        let chance = line.points.last().map_or(f64::NAN, |p| 100.0 * p.1[0]);
        format!(
            "{} carries {} birds; with {} all limits hold in {} % of possible years.",
            line.name,
            number(line.birds, 0),
            number(end, 0),
            number(chance, 0)
        )
    };
    let lines: Vec<String> = data.lines.iter().map(words).collect();
    format!("{}. {}", data.title.trim_end_matches('.'), lines.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look::check;

    #[test]
    fn invented_curves_draw() {
        let line = |name: &str, bears: f64| {
            let point = |k: u32| {
                let birds = f64::from(3 * k);
                let chance = 1.0 / (1.0 + ((birds - bears - 4.0) / 2.5).exp());
                let cover = 0.95 - 0.5 * birds / (birds + 20.0);
                let ends = |v: f64, reach: f64| [v, (v - reach).max(0.0), (v + reach).min(1.0)];
                (birds, ends(chance, 0.05 * (1.0 - (2.0 * chance - 1.0).abs()) + 0.01), ends(cover, 0.02))
            };
            CarryLine { name: name.into(), birds: (bears / 3.0).floor() * 3.0, points: (0..=14).map(point).collect() }
        };
        let data = CarryData {
            title: "by-eye carries most: 26 birds (22 to 30); least cover fails first".into(),
            note: "All limits together, in 9 of 10 possible years; 200 tried".into(),
            required_reliability: 0.9,
            present: 18.0,
            lines: vec![line("by-eye", 26.0), line("turn-by-area", 15.0), line("all-open", 5.0)],
        };
        let chart = carry(&data);
        check("carry", &chart);
        assert!(chart.alt.contains("by-eye carries 24 birds"));
    }
}
