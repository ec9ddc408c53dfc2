//! A trade-off: cover lost against what is gained for it (pests kept down, or hours of work saved), one marker a strategy.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::field;
use super::frame::{Heading, Key};
use super::labels::{Area, place};
use super::theme::{BASELINE, EDGE, INK, LINE, MARGIN, PAPER, SOFT_INK, SeriesLook, Shape, TEXT, WIDTH, series};
use crate::stats::Estimate;
use crate::stats::front::not_beaten;
use crate::wording::number;

const PLOT_HEIGHT: f64 = 380.0;
const MARKER: f64 = 7.0;

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct TradeOffData {
    /// The finding; [`finding`] suggests one.
    pub title: String,
    /// What goes up.
    pub gain: Gain,
    /// Strategies and baselines.
    pub points: Vec<TradePoint>,
}

/// One marker.
#[derive(Clone, Debug, PartialEq)]
pub struct TradePoint {
    /// Name.
    pub name: String,
    /// Cover lost against birds shut in, in points of cover, with its interval.
    pub cover_loss: Estimate,
    /// What is gained against birds shut in, with its interval; NaN mean if blank.
    pub gain: Estimate,
    /// What it is.
    pub kind: PointKind,
    /// Whether it keeps every limit.
    pub holds: bool,
}

/// What may be gained for cover lost; more is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gain {
    /// Fewer emerging adults than with the birds shut in, %.
    Pests,
    /// Hours of work saved a year.
    Hours,
}

impl Gain {
    /// What stands above the axis, also where it goes `below` nought.
    fn axis(self, below: bool) -> &'static str {
        match (self, below) {
            (Gain::Pests, false) => "Pests kept down, % fewer emerging adults",
            (Gain::Pests, true) => "Pests kept down, % fewer emerging adults (below 0: more)",
            (Gain::Hours, false) => "Work saved, hours a year",
            (Gain::Hours, true) => "Work saved, hours a year (below 0: more work)",
        }
    }

    /// What a better strategy gives besides more cover.
    fn better(self) -> &'static str {
        match self {
            Gain::Pests => "fewer pests",
            Gain::Hours => "less work",
        }
    }

    fn blank(self) -> &'static str {
        match self {
            Gain::Pests => "pests blank",
            Gain::Hours => "work blank",
        }
    }

    fn said(self, value: f64) -> String {
        let value = number(value, 1);
        match self {
            Gain::Pests => format!("pests kept down {value} %"),
            Gain::Hours => format!("work saved {value} h a year"),
        }
    }
}

/// Kinds of points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PointKind {
    /// Birds shut in: the origin.
    ShutIn,
    /// Manual care (weeding, mowing) that is done anyway.
    UsualCare,
    /// A gate strategy.
    Strategy,
}

/// A title that says which strategies nothing beats on both counts.
#[must_use]
pub fn finding(gain: Gain, points: &[TradePoint]) -> String {
    let better = gain.better();
    let front = front(points);
    let names: Vec<&str> =
        front.iter().filter(|&&i| points[i].kind == PointKind::Strategy).map(|&i| points[i].name.as_str()).collect();
    match names.as_slice() {
        [] => format!("No strategy gives {better} for the cover it costs"),
        [one] => format!("Nothing else gives both more cover and {better} than {one}"),
        [some @ .., last] if names.len() <= 3 => {
            format!("Nothing else gives both more cover and {better} than {} or {last}", some.join(", "))
        }
        _ => {
            let all = points.iter().filter(|p| p.kind == PointKind::Strategy).count();
            let front = names.len();
            format!("For {front} of {all} strategies, nothing else gives both more cover and {better}")
        }
    }
}

/// Indices of points that nothing beats on both, by cover lost.
fn front(points: &[TradePoint]) -> Vec<usize> {
    let goals: Vec<Vec<f64>> = points.iter().map(|p| vec![p.cover_loss.mean, -p.gain.mean]).collect();
    let kept = not_beaten(&goals);
    let mut front: Vec<usize> = (0..points.len()).filter(|&i| kept[i]).collect();
    front.sort_by(|&a, &b| goals[a][0].total_cmp(&goals[b][0]));
    front
}

/// Draws the chart.
#[must_use]
pub fn trade_off(data: &TradeOffData) -> Chart {
    let heading = Heading::new(&data.title, "");
    let key = key(data);
    let top = heading.height() + LINE + 18.0;
    let foot = top + PLOT_HEIGHT;
    let height = foot + 2.0 * LINE + 22.0 + key.height();
    let alt = alternative(data);
    let scales = scales(data, (top, foot));
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        draw_axes(pen, data, scales.0, scales.1);
        draw_points(pen, data, scales.0, scales.1);
        key.draw(pen, foot + 2.0 * LINE + 19.0);
    });
    Chart { svg, alt }
}

fn scales(data: &TradeOffData, place: (f64, f64)) -> (Scale, Scale) {
    let ends = |e: Estimate| [e.low, e.mean, e.high];
    let across = data.points.iter().flat_map(|p| ends(p.cover_loss));
    field::scales(across, data.points.iter().flat_map(|p| ends(p.gain)), place)
}

fn draw_axes(pen: &mut Pen<'_>, data: &TradeOffData, x: Scale, y: Scale) {
    let (left, right, top, foot) = (x.from_px, x.to_px, y.to_px, y.from_px);
    // Room for names left of nought is no cover won: no minus stands there unless a strategy does.
    let least = data.points.iter().map(|p| p.cover_loss.mean).fold(0.0, f64::min);
    field::grid(pen, x, y, if least < -0.5 * x.step { x.low } else { 0.0 });
    let zero = Stroke::plain(EDGE, 1.4);
    pen.line(&[(x.px(0.0), top), (x.px(0.0), foot)], zero);
    pen.line(&[(left, y.px(0.0)), (right, y.px(0.0))], zero);
    pen.text((MARGIN, top - LINE / 2.0 - 13.0), data.gain.axis(y.low < 0.0), Type::default());
    let look = Type { side: Side::End, ..Type::default() };
    pen.text((right, foot + LINE + 19.0), "Ground cover lost, points of cover  →", look);
}

fn draw_points(pen: &mut Pen<'_>, data: &TradeOffData, x: Scale, y: Scale) {
    let at = |p: &TradePoint| (x.px(p.cover_loss.mean), y.px(p.gain.mean));
    let line: Vec<(f64, f64)> = front(&data.points).iter().map(|&i| at(&data.points[i])).collect();
    if line.len() > 1 {
        pen.line(&line, Stroke { alpha: 0.75, dash: &[7.0, 4.0], ..Stroke::plain(INK, 1.6) });
    }
    let shown: Vec<(usize, &TradePoint)> = data
        .points
        .iter()
        .enumerate()
        .filter(|(_, p)| p.cover_loss.mean.is_finite() && p.gain.mean.is_finite())
        .collect();
    let crosses: Vec<[(f64, f64); 4]> = shown.iter().map(|(_, p)| cross(p, x, y)).collect();
    for (&(i, point), cross) in shown.iter().zip(&crosses) {
        let stroke = Stroke { alpha: 0.8, ..Stroke::plain(look(data, i, point).colour, 1.8) };
        pen.line(&cross[..2], stroke);
        pen.line(&cross[2..], stroke);
    }
    let spots: Vec<(f64, f64)> = shown.iter().map(|(_, p)| at(p)).collect();
    let mut taken = obstacles(&spots, &crosses, &line);
    let corner = (x.from_px, y.to_px);
    taken.push(Area { left: corner.0, top: corner.1, right: corner.0 + 90.0, foot: corner.1 + LINE + 6.0 });
    draw_labels(pen, &shown, &spots, &taken, (x, y));
    for (&(i, point), &spot) in shown.iter().zip(&spots) {
        let look = look(data, i, point);
        pen.marker(spot, look.shape, MARKER, look.colour, point.holds);
    }
}

fn draw_labels(
    pen: &mut Pen<'_>,
    shown: &[(usize, &TradePoint)],
    spots: &[(f64, f64)],
    taken: &[Area],
    (x, y): (Scale, Scale),
) {
    let better = Type { colour: SOFT_INK, ..Type::default() };
    pen.text((x.from_px + 8.0, y.to_px + LINE / 2.0 + 4.0), "↖ better", better);
    let widths: Vec<f64> = shown.iter().map(|(_, p)| text_width(&p.name, TEXT, false)).collect();
    let frame = Area { left: x.from_px + 2.0, top: y.to_px, right: WIDTH - 4.0, foot: y.from_px - 2.0 };
    let areas = place(spots, &widths, taken, frame);
    for ((&(_, point), area), &spot) in shown.iter().zip(&areas).zip(spots) {
        let near = area.nearest(spot);
        let far = (near.0 - spot.0).abs() + (near.1 - spot.1).abs();
        if far > 26.0 {
            pen.line(&[spot, near], Stroke::plain(SOFT_INK, 1.0));
        }
        let size = (area.right - area.left, area.foot - area.top);
        pen.rect((area.left, area.top), size, PAPER, 0.72);
        let middle = ((area.left + area.right) / 2.0, (area.top + area.foot) / 2.0);
        pen.text(middle, &point.name, Type { side: Side::Middle, ..Type::default() });
    }
}

/// Ends of the two intervals of a point: across, then up and down.
fn cross(point: &TradePoint, x: Scale, y: Scale) -> [(f64, f64); 4] {
    let (cx, cy) = (x.px(point.cover_loss.mean), y.px(point.gain.mean));
    // An unknown end (a single draw) is left out, not drawn to the edge.
    let end = |scale: Scale, value: f64, centre: f64| {
        if value.is_finite() { scale.px(value) } else { centre }
    };
    [
        (end(x, point.cover_loss.low, cx), cy),
        (end(x, point.cover_loss.high, cx), cy),
        (cx, end(y, point.gain.low, cy)),
        (cx, end(y, point.gain.high, cy)),
    ]
}

/// What labels must not cover: markers, intervals and the joined front.
fn obstacles(spots: &[(f64, f64)], crosses: &[[(f64, f64); 4]], line: &[(f64, f64)]) -> Vec<Area> {
    let round = |(x, y): (f64, f64), r: f64| Area { left: x - r, top: y - r, right: x + r, foot: y + r };
    let between = |a: (f64, f64), b: (f64, f64)| Area {
        left: a.0.min(b.0) - 2.0,
        top: a.1.min(b.1) - 2.0,
        right: a.0.max(b.0) + 2.0,
        foot: a.1.max(b.1) + 2.0,
    };
    let markers = spots.iter().map(|&spot| round(spot, MARKER + 3.0));
    let arms = crosses.iter().flat_map(|c| [between(c[0], c[1]), between(c[2], c[3])]);
    let beads = line.windows(2).flat_map(|pair| {
        let (a, b) = (pair[0], pair[1]);
        (0..=20).map(move |i| {
            let share = f64::from(i) / 20.0;
            round((a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share), 3.0)
        })
    });
    markers.chain(arms).chain(beads).collect()
}

fn look(data: &TradeOffData, index: usize, point: &TradePoint) -> SeriesLook {
    match point.kind {
        PointKind::ShutIn => SeriesLook { colour: BASELINE, shape: Shape::Plus, dash: &[] },
        PointKind::UsualCare => SeriesLook { colour: BASELINE, shape: Shape::Times, dash: &[] },
        PointKind::Strategy => {
            let before = &data.points[..index];
            series(before.iter().filter(|p| p.kind == PointKind::Strategy).count())
        }
    }
}

fn key(data: &TradeOffData) -> Key<'_> {
    let mut key = Key::default();
    key.add("95 % interval", |pen, x, y| {
        pen.line(&[(x + 3.0, y), (x + 27.0, y)], Stroke::plain(INK, 1.8));
        pen.line(&[(x + 15.0, y - 8.0), (x + 15.0, y + 8.0)], Stroke::plain(INK, 1.8));
    });
    key.add("none better on both", |pen, x, y| {
        let stroke = Stroke { dash: &[7.0, 4.0], ..Stroke::plain(INK, 1.6) };
        pen.line(&[(x, y), (x + 30.0, y)], stroke);
    });
    if data.points.iter().any(|point| !point.holds) {
        key.add_wide("hollow: breaks a limit", 16.0, |pen, x, y| {
            pen.marker((x + 8.0, y), Shape::Circle, MARKER, INK, false);
        });
    }
    key
}

fn alternative(data: &TradeOffData) -> String {
    let kept = front(&data.points);
    let points: Vec<String> =
        data.points.iter().enumerate().map(|(i, p)| point_words(data.gain, p, kept.contains(&i))).collect();
    format!("{}. {}", data.title.trim_end_matches('.'), points.join(" "))
}

fn point_words(gain: Gain, point: &TradePoint, kept: bool) -> String {
    let ends = |e: Estimate| {
        if e.low.is_finite() && e.low < e.high {
            format!(" ({} to {})", number(e.low, 1), number(e.high, 1))
        } else {
            String::new()
        }
    };
    let gained = if point.gain.mean.is_nan() {
        gain.blank().to_owned()
    } else {
        format!("{}{}", gain.said(point.gain.mean), ends(point.gain))
    };
    let tail = match (kept, point.holds) {
        (true, true) => "; none better on both",
        (true, false) => "; none better on both, but breaks a limit",
        (false, true) => "",
        (false, false) => "; breaks a limit",
    };
    format!(
        "{}: cover lost {} points{}, {gained}{tail}.",
        point.name,
        number(point.cover_loss.mean, 1),
        ends(point.cover_loss)
    )
}

#[cfg(test)]
mod tests;
