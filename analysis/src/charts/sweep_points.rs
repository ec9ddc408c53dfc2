//! Sampled cells over two varied numbers: each a dot where it lies, shaded by what it is worth.
//!
//! Nothing is drawn between the dots: what was not tried is not told.

use super::Chart;
use super::axis::Scale;
use super::canvas::{Pen, Side, Type, document};
use super::field;
use super::frame::{Heading, Key};
use super::theme::{EDGE, LINE, MARGIN, Shape, WORTH_STEPS, series, worth_colour};
use super::worth::{RAMP_HEIGHT, draw_ramp, ends, step};
use crate::wording::number;

const PLOT_HEIGHT: f64 = 400.0;
/// Radius of a dot, px: for few dots, and where there are more than [`MANY`].
const DOT: [f64; 2] = [8.5, 5.0];
const MANY: usize = 150;
/// From a dot to the outside of its rim, px: the palest steps of the ramp need a rim on paper, and
/// all have it, so that nobody asks what it means.
const RIM: f64 = 2.4;

/// What the chart shows.
#[derive(Clone, Debug, PartialEq)]
pub struct PointsData {
    /// The finding.
    pub title: String,
    /// Whose points they are, and what else varies.
    pub note: String,
    /// What runs to the right, in words with unit.
    pub across: String,
    /// What runs up.
    pub up: String,
    /// What shades the dots, in words with unit.
    pub shade: String,
    /// The dots.
    pub points: Vec<SampledPoint>,
    /// Place of the best among those that hold.
    pub best: Option<usize>,
}

/// One sampled cell.
#[derive(Clone, Debug, PartialEq)]
pub struct SampledPoint {
    /// Where it lies: to the right, and up.
    pub at: (f64, f64),
    /// What shades it; NaN if blank.
    pub value: f64,
    /// Every limit holds often enough.
    pub holds: bool,
}

/// Draws the chart.
#[must_use]
pub fn sweep_points(data: &PointsData) -> Chart {
    let heading = Heading::new(&data.title, &data.note);
    let top = heading.height() + LINE + 18.0;
    let foot = top + PLOT_HEIGHT;
    let (x, y) = field::scales(
        data.points.iter().map(|point| point.at.0),
        data.points.iter().map(|point| point.at.1),
        (top, foot),
    );
    let range = ends(data.points.iter().map(|point| point.value));
    let key = key(data);
    let ramp = foot + 2.0 * LINE + 24.0;
    let height = ramp + RAMP_HEIGHT + key.height();
    let alt = alternative(data, range);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        draw_axes(pen, data, x, y);
        draw_dots(pen, data, range, |(across, up)| (x.px(across), y.px(up)));
        draw_ramp(pen, &data.shade, range, ramp);
        key.draw(pen, ramp + 2.0 * LINE + 20.0);
    });
    Chart { svg, alt }
}

fn draw_axes(pen: &mut Pen<'_>, data: &PointsData, x: Scale, y: Scale) {
    field::grid(pen, x, y, x.low);
    field::edges(pen, x, y);
    let (right, top, foot) = (x.to_px, y.to_px, y.from_px);
    pen.text((MARGIN, top - LINE / 2.0 - 10.0), &format!("↑ {}", data.up), Type::default());
    let look = Type { side: Side::End, ..Type::default() };
    pen.text((right, foot + LINE + 19.0), &format!("{} →", data.across), look);
}

fn draw_dots(pen: &mut Pen<'_>, data: &PointsData, range: (f64, f64), spot: impl Fn((f64, f64)) -> (f64, f64)) {
    let size = DOT[usize::from(data.points.len() > MANY)];
    for (place, point) in data.points.iter().enumerate() {
        if data.best == Some(place) {
            continue;
        }
        if let Some(step) = step(range, point.value) {
            pen.marker(spot(point.at), Shape::Circle, size + RIM, EDGE, true);
            pen.marker(spot(point.at), Shape::Circle, size, worth_colour(step), point.holds);
        }
    }
    if let Some(best) = data.best {
        pen.marker(spot(data.points[best].at), Shape::Diamond, 9.0, series(1).colour, true);
    }
}

fn key(data: &PointsData) -> Key<'_> {
    let mut key = Key::default();
    let shade = worth_colour(WORTH_STEPS - 2);
    if data.best.is_some() {
        key.add_wide("best where all limits hold", 20.0, |pen, x, y| {
            pen.marker((x + 10.0, y), Shape::Diamond, 8.0, series(1).colour, true);
        });
    }
    if data.points.iter().any(|point| point.holds) {
        key.add_wide("all limits hold", 20.0, move |pen, x, y| {
            pen.marker((x + 10.0, y), Shape::Circle, DOT[0], shade, true);
        });
    }
    if data.points.iter().any(|point| !point.holds) {
        key.add_wide("some limit fails too often", 20.0, move |pen, x, y| {
            pen.marker((x + 10.0, y), Shape::Circle, DOT[0], shade, false);
        });
    }
    key
}

fn alternative(data: &PointsData, (low, high): (f64, f64)) -> String {
    let holding = data.points.iter().filter(|point| point.holds).count();
    format!(
        "{}. {}. Dots of {} against {}. {} runs from {} to {}. All limits hold in {holding} of {} cells.",
        data.title.trim_end_matches('.'),
        data.note.trim_end_matches('.'),
        data.up,
        data.across,
        data.shade,
        number(low, 1),
        number(high, 1),
        data.points.len()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look::check;

    fn invented(count: u32) -> PointsData {
        let point = |k: u32| {
            // Steps of the golden ratio in one direction, even steps in the other.
            let (stay, birds) = (3.0 + 25.0 * (f64::from(k) * 0.618_034).fract(), f64::from(2 + k % 37));
            let load = birds * (0.8 + (stay - 12.0).abs() / 24.0);
            SampledPoint { at: (stay, birds), value: 1.6 * birds - load * load / 28.0, holds: load < 20.0 }
        };
        let points: Vec<SampledPoint> = (0..count).map(point).collect();
        let holding = (0..points.len()).filter(|&place| points[place].holds);
        let best = holding.max_by(|&a, &b| points[a].value.total_cmp(&points[b].value));
        PointsData {
            title: "turn-by-area does best with stay 11.8 days, birds 23".into(),
            note: "turn-by-area, each cell over 200 possible years".into(),
            across: "stay, days".into(),
            up: "birds, the whole flock".into(),
            shade: "What it is worth, points over birds shut in".into(),
            points,
            best,
        }
    }

    #[test]
    fn invented_points_draw() {
        for count in [60, 500] {
            let chart = sweep_points(&invented(count));
            check(&format!("sweep_points_{count}"), &chart);
            assert!(chart.alt.contains(&format!("of {count} cells")));
            assert!(chart.svg.contains("some limit fails too often") && chart.svg.contains("all limits hold"));
        }
    }

    #[test]
    fn blank_points_draw_without_a_dot() {
        let mut data = invented(2);
        data.points.iter_mut().for_each(|point| point.value = f64::NAN);
        data.best = None;
        assert!(sweep_points(&data).svg.ends_with("</svg>\n"));
    }
}
