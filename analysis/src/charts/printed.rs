//! What charts made for paper share: smaller text, months along the foot, a key in lines.
//!
//! Printed 188 mm wide, text of 13 px comes out at 12 pt.

use super::axis::months;
use super::canvas::{Pen, Side, Stroke, Type, text_width};
use super::theme::{GRID, MARGIN, WIDTH};
use crate::wording::short_month_name;
use jiff::civil::Date;
use sim_engine::dates::date_of;

/// Size of text, px.
pub const TEXT: f64 = 13.0;
/// Height of a line of text, px.
pub const LINE: f64 = 17.0;
/// Width of a key's sample, px.
pub const SAMPLE: f64 = 30.0;
const GAP: f64 = 6.0;

/// Text at the size of paper.
#[must_use]
pub fn type_of(side: Side) -> Type {
    Type { size: TEXT, side, ..Type::default() }
}

/// Lines at the firsts of months from `top` to `foot`, and their names below.
pub fn month_axis(pen: &mut Pen<'_>, start: Date, days: usize, x: impl Fn(usize) -> f64, (top, foot): (f64, f64)) {
    let mut edges: Vec<usize> = months(start, days).iter().map(|tick| tick.day).collect();
    for &day in &edges {
        pen.line(&[(x(day), top), (x(day), foot + 4.0)], Stroke::plain(GRID, 1.2));
    }
    if edges.first() != Some(&0) {
        edges.insert(0, 0);
    }
    for (i, &day) in edges.iter().enumerate() {
        let (from, to) = (x(day), edges.get(i + 1).map_or(x(days), |&next| x(next)));
        let name = short_month_name(date_of(start, day));
        // A month cut short has no room for its name.
        if to - from >= text_width(name, TEXT, false) - 2.0 {
            pen.text(((from + to) / 2.0, foot + LINE / 2.0 + 2.0), name, type_of(Side::Middle));
        }
    }
}

/// Draws the sample of item `index` from the left edge `x` on, centred on the height `y`.
pub type DrawSample<'a> = &'a dyn Fn(&mut Pen<'_>, usize, f64, f64);

/// Words of a key and where they stand: left edge and line.
fn places(words: &[String]) -> Vec<(f64, usize)> {
    let (mut x, mut line) = (MARGIN, 0);
    let mut places = Vec::new();
    for words in words {
        let width = SAMPLE + GAP + text_width(words, TEXT, false);
        if x > MARGIN && x + width > WIDTH - MARGIN {
            (x, line) = (MARGIN, line + 1);
        }
        places.push((x, line));
        x += width + 2.0 * GAP;
    }
    places
}

/// Height of a key, px.
#[must_use]
pub fn key_height(words: &[String]) -> f64 {
    places(words).last().map_or(0.0, |(_, line)| (line + 1) as f64 * (LINE + 2.0))
}

/// Draws a key from the height `top` on.
pub fn key(pen: &mut Pen<'_>, words: &[String], top: f64, sample: DrawSample<'_>) {
    for (index, (words, (x, line))) in words.iter().zip(places(words)).enumerate() {
        let y = top + (line as f64 + 0.5) * (LINE + 2.0);
        sample(pen, index, x, y);
        pen.text((x + SAMPLE + GAP, y), words, type_of(Side::Start));
    }
}
