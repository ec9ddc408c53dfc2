//! A thin layer over the drawing library's SVG backend.
//!
//! The backend takes whole pixels, so everything is drawn at ten times its size and
//! scaled by the view box; it writes neither title nor role, so the head of the
//! document is ours. We use its shapes only, not its axes: those hang on an infinite
//! axis end and at nought light lines, ours ([`super::axis`]) cannot.

use super::theme::{FONTS, INK, PAPER, Rgb, Shape, TEXT, WIDTH};
use core::f64::consts::FRAC_1_SQRT_2;
use plotters::backend::{DrawingBackend, SVGBackend};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{FontStyle, RGBAColor, RGBColor, ShapeStyle, TextStyle};

/// Backend units in one px.
const SCALE: f64 = 10.0;
/// The backend divides font sizes by this (its own constant, undone here).
const BACKEND_FONT_FACTOR: f64 = 1.24;

/// A stroke.
#[derive(Clone, Copy, Debug)]
pub struct Stroke {
    /// Colour.
    pub colour: Rgb,
    /// Width in px.
    pub width: f64,
    /// Opacity 0..1.
    pub alpha: f64,
    /// Dash and gap lengths in px; empty for an unbroken line.
    pub dash: &'static [f64],
}

impl Stroke {
    /// An unbroken, opaque stroke.
    #[must_use]
    pub fn plain(colour: Rgb, width: f64) -> Self {
        Self { colour, width, alpha: 1.0, dash: &[] }
    }
}

/// Where text sits against its point; always centred up and down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Starts at the point.
    Start,
    /// Centred on the point.
    Middle,
    /// Ends at the point.
    End,
}

/// How text looks.
#[derive(Clone, Copy, Debug)]
pub struct Type {
    /// Size in px.
    pub size: f64,
    /// Colour.
    pub colour: Rgb,
    /// Bold or not.
    pub bold: bool,
    /// Alignment.
    pub side: Side,
}

impl Default for Type {
    fn default() -> Self {
        Self { size: TEXT, colour: INK, bold: false, side: Side::Start }
    }
}

/// Draws in px on a chart of a given height.
pub struct Pen<'a> {
    backend: SVGBackend<'a>,
}

fn ink((red, green, blue): Rgb, alpha: f64, width: f64) -> ShapeStyle {
    let stroke_width = units(width).max(1) as u32;
    ShapeStyle { color: RGBAColor(red, green, blue, alpha), filled: true, stroke_width }
}

/// Px to backend units; what is not a number or far outside is held at the edge.
fn units(px: f64) -> i32 {
    if px.is_nan() { 0 } else { (px * SCALE).round().clamp(-1e6, 1e6) as i32 }
}

fn spot((x, y): (f64, f64)) -> (i32, i32) {
    (units(x), units(y))
}

/// Makes a whole SVG document [`WIDTH`] px wide and `height` px high.
pub fn document(title: &str, alt: &str, height: f64, draw: impl FnOnce(&mut Pen<'_>)) -> String {
    let mut raw = String::new();
    {
        let size = (units(WIDTH) as u32, units(height) as u32);
        let mut pen = Pen { backend: SVGBackend::with_string(&mut raw, size) };
        pen.rect((0.0, 0.0), (WIDTH, height), PAPER, 1.0);
        draw(&mut pen);
        // Writing to a string cannot fail.
        pen.backend.present().ok();
    }
    let body = raw.split_once(">\n").map_or("", |(_, body)| body);
    let body = body
        .replace(" opacity=\"1\"", "")
        .replace(&format!(" font-family=\"{FONTS}\""), "")
        .replace("\n</text>", "</text>");
    let head = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" width=\"{WIDTH}\" height=\"{}\" style=\"max-width:100%;height:auto\" font-family=\"{FONTS}\" role=\"img\">\n",
        units(WIDTH),
        units(height),
        height.round(),
    );
    format!("{head}<title>{}</title>\n<desc>{}</desc>\n{body}", escaped(title), escaped(alt))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

impl Pen<'_> {
    /// Filled rectangle from its top left corner.
    pub fn rect(&mut self, at: (f64, f64), size: (f64, f64), fill: Rgb, alpha: f64) {
        let far = (at.0 + size.0, at.1 + size.1);
        self.backend.draw_rect(spot(at), spot(far), &ink(fill, alpha, 0.0), true).ok();
    }

    /// Outline of a rectangle.
    pub fn frame(&mut self, at: (f64, f64), size: (f64, f64), stroke: Stroke) {
        let (x, y, right, foot) = (at.0, at.1, at.0 + size.0, at.1 + size.1);
        self.line(&[(x, y), (right, y), (right, foot), (x, foot), (x, y)], stroke);
    }

    /// Line through points, dashed if the stroke says so.
    pub fn line(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        if stroke.dash.is_empty() {
            self.path(points, stroke);
        } else {
            dashes(points, stroke.dash).iter().for_each(|dash| self.path(dash, stroke));
        }
    }

    fn path(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        let ink = ink(stroke.colour, stroke.alpha, stroke.width);
        self.backend.draw_path(points.iter().copied().map(spot), &ink).ok();
    }

    /// Filled polygon.
    pub fn polygon(&mut self, points: &[(f64, f64)], fill: Rgb, alpha: f64) {
        let ink = ink(fill, alpha, 0.0);
        self.backend.fill_polygon(points.iter().copied().map(spot), &ink).ok();
    }

    /// One line of text, centred on `at` up and down.
    pub fn text(&mut self, at: (f64, f64), text: &str, look: Type) {
        let side = match look.side {
            Side::Start => HPos::Left,
            Side::Middle => HPos::Center,
            Side::End => HPos::Right,
        };
        let weight = if look.bold { FontStyle::Bold } else { FontStyle::Normal };
        let size = look.size * SCALE * BACKEND_FONT_FACTOR;
        let colour = RGBColor(look.colour.0, look.colour.1, look.colour.2);
        let style = TextStyle::from((FONTS, size, weight)).pos(Pos::new(side, VPos::Center)).color(&colour);
        self.backend.draw_text(text, &style, spot(at)).ok();
    }

    /// A marker with a rim of paper, so that neighbours stay apart; hollow if not `filled`.
    pub fn marker(&mut self, at: (f64, f64), shape: Shape, radius: f64, colour: Rgb, filled: bool) {
        self.polygon(&outline(at, shape, radius + 1.6), PAPER, 1.0);
        self.polygon(&outline(at, shape, radius), colour, 1.0);
        if !filled {
            self.polygon(&outline(at, shape, radius * 0.58), PAPER, 1.0);
        }
    }

    /// Diagonal strokes `gap` px apart inside a rectangle.
    pub fn hatch(&mut self, at: (f64, f64), size: (f64, f64), gap: f64, stroke: Stroke) {
        let (width, height) = size;
        let mut along = -height;
        while along < width {
            let (from, to) = (along.max(0.0), (along + height).min(width));
            let foot = at.1 + height;
            self.path(&[(at.0 + from, foot - (from - along)), (at.0 + to, foot - (to - along))], stroke);
            along += gap;
        }
    }
}

/// Corners of a marker. The circle has 16 corners, at multiples of 22.5 degrees.
fn outline((x, y): (f64, f64), shape: Shape, r: f64) -> Vec<(f64, f64)> {
    const CIRCLE: [(f64, f64); 4] =
        [(1.0, 0.0), (0.923_88, 0.382_68), (FRAC_1_SQRT_2, FRAC_1_SQRT_2), (0.382_68, 0.923_88)];
    let turned = |corners: &[(f64, f64)]| -> Vec<(f64, f64)> {
        let quarter = |turn: usize| {
            corners.iter().map(move |&(a, b)| match turn {
                0 => (a, b),
                1 => (-b, a),
                2 => (-a, -b),
                _ => (b, -a),
            })
        };
        (0..4).flat_map(quarter).collect()
    };
    // Sizes are evened out by eye, so that all shapes weigh the same.
    let unit = match shape {
        Shape::Circle => turned(&CIRCLE),
        Shape::Square => turned(&[(0.9, 0.9)]),
        Shape::Diamond => turned(&[(1.25, 0.0)]),
        Shape::Up => vec![(0.0, -1.2), (1.15, 0.85), (-1.15, 0.85)],
        Shape::Down => vec![(0.0, 1.2), (-1.15, -0.85), (1.15, -0.85)],
        Shape::Plus => turned(&[(1.2, -0.42), (1.2, 0.42), (0.42, 0.42)]),
        Shape::Times => turned(&[(0.55, -1.15), (1.15, -0.55), (0.6, 0.0)]),
    };
    unit.into_iter().map(|(a, b)| (x + a * r, y + b * r)).collect()
}

/// Cuts a line into its dashes.
fn dashes(points: &[(f64, f64)], pattern: &[f64]) -> Vec<Vec<(f64, f64)>> {
    let mut pieces = Vec::new();
    let mut piece = Vec::new();
    let (mut slot, mut left) = (0, pattern[0]);
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let length = ((b.0 - a.0) * (b.0 - a.0) + (b.1 - a.1) * (b.1 - a.1)).sqrt();
        let mut gone = 0.0;
        while gone < length {
            let at = |d: f64| (a.0 + (b.0 - a.0) * d / length, a.1 + (b.1 - a.1) * d / length);
            let step = left.min(length - gone).max(1e-3);
            if slot % 2 == 0 {
                if piece.is_empty() {
                    piece.push(at(gone));
                }
                piece.push(at(gone + step));
            }
            gone += step;
            left -= step;
            if left <= 1e-9 {
                pieces.extend((!piece.is_empty()).then(|| std::mem::take(&mut piece)));
                slot = (slot + 1) % pattern.len();
                left = pattern[slot];
            }
        }
    }
    pieces.extend((!piece.is_empty()).then_some(piece));
    pieces
}

/// Width of text in px, estimated generously: the reader's font is not known here.
#[must_use]
pub fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let ems: f64 = text
        .chars()
        .map(|c| match c {
            'i' | 'j' | 'l' | '.' | ',' | '\'' | '|' | ':' | ';' | '!' => 0.32,
            ' ' | '\u{a0}' | 't' | 'f' | 'r' | '(' | ')' | '-' | '/' => 0.40,
            'm' | 'w' | 'M' | 'W' | '%' | '→' | '↖' => 0.94,
            c if c.is_uppercase() => 0.72,
            _ => 0.62,
        })
        .fold(0.0, |total, em| total + em);
    ems * size * if bold { 1.1 } else { 1.0 }
}

/// Breaks text at spaces into lines no wider than `width` px. A word too long for a line is broken
/// after its hyphens, and a piece still too long wherever the line ends.
#[must_use]
pub fn wrapped(text: &str, width: f64, size: f64, bold: bool) -> Vec<String> {
    let fits = |text: &str| text_width(text, size, bold) <= width;
    let mut lines: Vec<String> = Vec::new();
    // A number is not parted from its per cent sign (a space that does not break).
    let text = text.replace(" %", "\u{a0}%");
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if fits(&format!("{line} {word}")) => {
                line.push(' ');
                line.push_str(word);
            }
            _ if fits(word) => lines.push(word.to_owned()),
            _ => lines.extend(broken(word, &fits)),
        }
    }
    lines
}

/// A word in lines that fit, each as full as may be.
fn broken(word: &str, fits: &impl Fn(&str) -> bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let whole = word.split_inclusive('-').map(str::to_owned);
    let letters = |piece: String| if fits(&piece) { vec![piece] } else { piece.chars().map(String::from).collect() };
    for piece in whole.flat_map(letters) {
        match lines.last_mut() {
            Some(line) if fits(&format!("{line}{piece}")) => line.push_str(&piece),
            _ => lines.push(piece),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_document_has_role_title_and_escaped_text() {
        let svg = document("Cover < 60 & pests", "Alt", 50.0, |pen| {
            pen.text((5.0, 5.0), "a < b", Type::default());
        });
        assert!(svg.contains("role=\"img\""));
        assert!(svg.contains("<title>Cover &lt; 60 &amp; pests</title>"));
        assert!(svg.contains("viewBox=\"0 0 5600 500\"") && svg.contains("a &lt; b"));
        assert!(svg.ends_with("</svg>\n"));
    }

    #[test]
    fn dashes_cover_their_share_of_a_line() {
        let pieces = dashes(&[(0.0, 0.0), (10.0, 0.0), (20.0, 0.0)], &[3.0, 2.0]);
        let drawn: f64 = pieces.iter().map(|p| p[p.len() - 1].0 - p[0].0).sum();
        assert!((drawn - 12.0).abs() < 1e-6, "{drawn}");
    }

    #[test]
    fn long_titles_wrap_between_words() {
        let lines = wrapped("one two three four five six", 80.0, 16.0, false);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), "one two three four five six");
    }

    #[test]
    fn a_word_too_long_is_broken_at_hyphens_else_anywhere() {
        for (word, least) in [("far-corner-behind-the-glasshouse-no-12", 2), (&*"m".repeat(40), 4)] {
            let lines = wrapped(word, 124.0, TEXT, false);
            assert!(lines.len() >= least, "{lines:?}");
            assert!(lines.iter().all(|line| text_width(line, TEXT, false) <= 124.0), "{lines:?}");
            assert_eq!(lines.concat(), word);
        }
        let lines = wrapped("far-corner-behind-the-glasshouse-no-12", 124.0, TEXT, false);
        assert!(lines[0].ends_with('-'), "{lines:?}");
    }

    #[test]
    fn what_is_no_number_draws_at_the_edge_and_never_hangs() {
        assert_eq!(units(f64::NAN), 0);
        assert_eq!(units(f64::INFINITY), 1_000_000);
    }
}
