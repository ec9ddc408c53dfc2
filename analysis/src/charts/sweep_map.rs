//! The sweep map: what a strategy is worth over two varied numbers, and where its limits hold.

use super::Chart;
use super::canvas::{Pen, Side, Stroke, Type, document, text_width};
use super::contour::{Grid, contour};
use super::frame::{Heading, Key};
use super::theme::{EDGE, INK, LINE, MARGIN, PAPER, SOFT_INK, Shape, TEXT, WIDTH, WORTH_STEPS, series, worth_colour};
use super::worth::{RAMP_HEIGHT, draw_ramp, ends, step};
use crate::wording::number;

const PLOT_HEIGHT: f64 = 400.0;
/// Px between the strokes over cells in which limits fail.
const HATCH: f64 = 11.0;
/// Least px between two numbers of the lower axis.
const NUMBER_GAP: f64 = 14.0;

/// What the map shows.
#[derive(Clone, Debug, PartialEq)]
pub struct MapData {
    /// The finding.
    pub title: String,
    /// Whose map it is, and what else was held where.
    pub note: String,
    /// What runs to the right: words with unit, and its values.
    pub across: (String, Vec<f64>),
    /// What runs up.
    pub up: (String, Vec<f64>),
    /// What shades the cells, in words with unit.
    pub shade: String,
    /// Cells, row by row from the lowest value of `up`, each from the lowest of `across`.
    pub cells: Vec<MapCell>,
    /// Limits in words: where each is the first reason not to hold, its line is drawn.
    pub limits: Vec<String>,
    /// Share of possible years in which limits must hold.
    pub required_reliability: f64,
    /// Place of the best cell among those that hold.
    pub best: Option<usize>,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub struct MapCell {
    /// What shades it.
    pub value: f64,
    /// Every limit holds often enough.
    pub holds: bool,
    /// Share of possible years in which each limit held.
    pub held: Vec<f64>,
}

/// Where the cells lie on the page.
struct Frame {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
    columns: usize,
    rows: usize,
}

impl Frame {
    fn size(&self) -> (f64, f64) {
        (self.width / self.columns as f64, self.height / self.rows as f64)
    }

    /// Upper left corner of a cell.
    fn corner(&self, place: usize) -> (f64, f64) {
        let (wide, high) = self.size();
        let (column, row) = (place % self.columns, place / self.columns);
        (self.left + column as f64 * wide, self.top + self.height - (row + 1) as f64 * high)
    }

    /// A point in units of cells from the centre of the first.
    fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        let (wide, high) = self.size();
        (self.left + (x + 0.5) * wide, self.top + self.height - (y + 0.5) * high)
    }
}

/// Draws the map.
#[must_use]
pub fn sweep_map(data: &MapData) -> Chart {
    let heading = Heading::new(&data.title, &data.note);
    let top = heading.height() + LINE + 12.0;
    let widest = data.up.1.iter().map(|v| text_width(&plain(*v), TEXT, false)).fold(0.0, f64::max);
    let left = MARGIN + widest + 9.0;
    let (columns, rows) = (data.across.1.len().max(1), data.up.1.len().max(1));
    let frame = Frame { left, top, width: WIDTH - MARGIN - left, height: PLOT_HEIGHT, columns, rows };
    let key = key(data);
    let ramp = top + PLOT_HEIGHT + 2.0 * LINE + 22.0;
    let height = ramp + RAMP_HEIGHT + key.height();
    let alt = alternative(data);
    let svg = document(&data.title, &alt, height, |pen| {
        heading.draw(pen);
        draw_cells(pen, data, &frame);
        draw_limits(pen, data, &frame);
        draw_axes(pen, data, &frame);
        draw_best(pen, data, &frame);
        draw_ramp(pen, &data.shade, range(data), ramp);
        key.draw(pen, ramp + 2.0 * LINE + 20.0);
    });
    Chart { svg, alt }
}

/// Least and greatest finite value of the cells.
fn range(data: &MapData) -> (f64, f64) {
    ends(data.cells.iter().map(|cell| cell.value))
}

fn draw_cells(pen: &mut Pen<'_>, data: &MapData, frame: &Frame) {
    let ((wide, high), range) = (frame.size(), range(data));
    for (place, cell) in data.cells.iter().enumerate() {
        let corner = frame.corner(place);
        // A hair wider, so that no paper shows between neighbours.
        if let Some(step) = step(range, cell.value) {
            pen.rect(corner, (wide + 0.15, high + 0.15), worth_colour(step), 1.0);
        }
    }
    for (place, _) in data.cells.iter().enumerate().filter(|(_, cell)| !cell.holds) {
        hatch(pen, frame, place);
    }
    pen.frame((frame.left, frame.top), (frame.width, frame.height), Stroke::plain(EDGE, 1.4));
}

/// Strokes over a cell that run on in its neighbours.
fn hatch(pen: &mut Pen<'_>, frame: &Frame, place: usize) {
    let ((x, y), (wide, high)) = (frame.corner(place), frame.size());
    let stroke = Stroke { alpha: 0.85, ..Stroke::plain(PAPER, 2.6) };
    // Lines x + y = k · HATCH through the cell, so that cells join without a seam.
    let first = ((x + y) / HATCH).ceil() as i64;
    let last = ((x + wide + y + high) / HATCH).floor() as i64;
    for k in first..=last {
        let sum = k as f64 * HATCH;
        let from = (sum - (y + high)).max(x);
        let to = (sum - y).min(x + wide);
        if to > from {
            pen.line(&[(from, sum - from), (to, sum - to)], stroke);
        }
    }
}

/// Lines along which each limit holds just often enough.
fn draw_limits(pen: &mut Pen<'_>, data: &MapData, frame: &Frame) {
    for limit in 0..data.limits.len() {
        let look = limit_look(limit);
        let values: Vec<f64> = data.cells.iter().map(|cell| cell.held[limit]).collect();
        let grid = Grid { values: &values, columns: frame.columns, rows: frame.rows };
        for line in contour(&grid, data.required_reliability) {
            let line: Vec<(f64, f64)> = line.into_iter().map(|point| frame.at(point)).collect();
            pen.line(&line, Stroke { alpha: 0.9, ..Stroke::plain(PAPER, look.width + 2.6) });
            pen.line(&line, look);
        }
    }
}

fn limit_look(limit: usize) -> Stroke {
    // Ink for all: told apart by their dashes, clear on every shade.
    const DASHES: [&[f64]; 4] = [&[], &[9.0, 5.0], &[2.5, 4.0], &[12.0, 4.0, 2.5, 4.0]];
    Stroke { dash: DASHES[limit % DASHES.len()], ..Stroke::plain(INK, 2.8) }
}

fn draw_axes(pen: &mut Pen<'_>, data: &MapData, frame: &Frame) {
    let soft = Type { colour: SOFT_INK, ..Type::default() };
    let foot = frame.top + frame.height;
    let widths: Vec<f64> = data.across.1.iter().map(|v| text_width(&plain(*v), TEXT, false)).collect();
    let widest = widths.iter().fold(0.0_f64, |a, &b| a.max(b)) + NUMBER_GAP;
    let every = |size: f64, room: f64| ((room / size).ceil() as usize).max(1);
    for (column, value) in data.across.1.iter().enumerate().step_by(every(frame.size().0, widest)) {
        let at = frame.at((column as f64, 0.0)).0;
        pen.text((at, foot + 16.0), &plain(*value), Type { side: Side::Middle, ..soft });
    }
    for (row, value) in data.up.1.iter().enumerate().step_by(every(frame.size().1, LINE)) {
        let at = frame.at((0.0, row as f64)).1;
        pen.text((frame.left - 8.0, at), &plain(*value), Type { side: Side::End, ..soft });
    }
    pen.text((MARGIN, frame.top - LINE / 2.0 - 4.0), &format!("↑ {}", data.up.0), Type::default());
    let right = Type { side: Side::End, ..Type::default() };
    pen.text((WIDTH - MARGIN, foot + LINE + 17.0), &format!("{} →", data.across.0), right);
}

fn draw_best(pen: &mut Pen<'_>, data: &MapData, frame: &Frame) {
    let Some(best) = data.best else { return };
    let at = frame.at(((best % frame.columns) as f64, (best / frame.columns) as f64));
    pen.marker(at, Shape::Diamond, 9.0, series(1).colour, true);
}

fn key(data: &MapData) -> Key<'_> {
    let mut key = Key::default();
    if data.best.is_some() {
        key.add_wide("best where all limits hold", 20.0, |pen, x, y| {
            pen.marker((x + 10.0, y), Shape::Diamond, 8.0, series(1).colour, true);
        });
    }
    if data.cells.iter().any(|cell| !cell.holds) {
        key.add("some limit fails too often", |pen, x, y| {
            pen.rect((x, y - 8.0), (30.0, 16.0), worth_colour(WORTH_STEPS / 2), 1.0);
            for k in 0..3 {
                let from = x + f64::from(k) * HATCH;
                pen.line(&[(from, y + 8.0), ((from + 16.0).min(x + 30.0), y - 8.0)], Stroke::plain(PAPER, 2.6));
            }
        });
    }
    for (limit, words) in data.limits.iter().enumerate() {
        let crossed = |cell: &MapCell| cell.held[limit] < data.required_reliability;
        if data.cells.iter().any(crossed) && !data.cells.iter().all(crossed) {
            key.add(words, move |pen, x, y| pen.line(&[(x, y), (x + 30.0, y)], limit_look(limit)));
        }
    }
    key
}

/// A value as it was written: no more decimals than it has.
fn plain(value: f64) -> String {
    value.to_string().replace('-', "−")
}

fn alternative(data: &MapData) -> String {
    let (low, high) = range(data);
    let holding = data.cells.iter().filter(|cell| cell.holds).count();
    let span = |(words, values): &(String, Vec<f64>)| match (values.first(), values.last()) {
        (Some(first), Some(last)) => format!("{words} from {} to {}", plain(*first), plain(*last)),
        _ => words.clone(),
    };
    format!(
        "{}. {}. A map of {} against {}. {} runs from {} to {}. All limits hold in {holding} of {} cells.",
        data.title.trim_end_matches('.'),
        data.note.trim_end_matches('.'),
        span(&data.up),
        span(&data.across),
        data.shade,
        number(low, 1),
        number(high, 1),
        data.cells.len()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::charts::look::check;

    fn invented() -> MapData {
        let across: Vec<f64> = (3..=28).map(f64::from).collect();
        let up: Vec<f64> = (2..=20).map(|k| f64::from(2 * k)).collect();
        let cell = |birds: f64, stay: f64| {
            let load = birds * (0.8 + (stay - 12.0).abs() / 24.0);
            let cover = (1.6 - load / 26.0).clamp(0.0, 1.0);
            let bare = (1.9 - load / 30.0).clamp(0.0, 1.0);
            let space = if birds <= 32.0 { 1.0 } else { 0.0 };
            let held = vec![cover, bare, space];
            MapCell { value: 1.6 * birds - load * load / 28.0, holds: held.iter().all(|&h| h >= 0.9), held }
        };
        let cells: Vec<MapCell> = up.iter().flat_map(|&b| across.iter().map(move |&s| cell(b, s))).collect();
        let best =
            (0..cells.len()).filter(|&i| cells[i].holds).max_by(|&a, &b| cells[a].value.total_cmp(&cells[b].value));
        MapData {
            title: "Up to 22 birds with stays of 12 days; beyond that least cover fails first".into(),
            note: "turn-by-area, 200 possible years a cell".into(),
            across: ("stay, days".into(), across),
            up: ("birds".into(), up),
            shade: "What it is worth, hours a year over birds shut in".into(),
            cells,
            limits: vec![
                "no plot's cover falls below 60 %".into(),
                "bare at most 30 days".into(),
                "4 m2 a bird".into(),
            ],
            required_reliability: 0.9,
            best,
        }
    }

    #[test]
    fn an_invented_map_draws() {
        let data = invented();
        let chart = sweep_map(&data);
        check("sweep_map", &chart);
        assert!(chart.alt.contains("All limits hold in"));
        // Three limits are crossed: each has its line in the key.
        assert!(chart.svg.contains("4 m2 a bird"));
    }

    #[test]
    fn blank_and_single_cells_draw() {
        let mut data = invented();
        (data.across.1, data.up.1, data.best) = (vec![1.0, 2.0], vec![5.0], None);
        data.cells = vec![MapCell { value: f64::NAN, holds: false, held: vec![0.0; 3] }; 2];
        let chart = sweep_map(&data);
        assert!(chart.svg.ends_with("</svg>\n"));
    }
}
