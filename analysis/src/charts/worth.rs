//! The ramp of shades that says what something is worth, and its legend.

use super::canvas::{Pen, Side, Stroke, Type};
use super::theme::{EDGE, LINE, MARGIN, SOFT_INK, WIDTH, WORTH_STEPS, worth_colour};
use crate::wording::number;

/// Height of the ramp with its words and numbers, px.
pub const RAMP_HEIGHT: f64 = 2.0 * LINE + 26.0;

/// Least and greatest finite value.
#[must_use]
pub fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let known = values.filter(|value| value.is_finite());
    known.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
}

/// Step of the ramp for a value between the ends; `None` for a blank.
#[must_use]
pub fn step((low, high): (f64, f64), value: f64) -> Option<usize> {
    let share = if high > low { (value - low) / (high - low) } else { 1.0 };
    value.is_finite().then(|| ((share * WORTH_STEPS as f64) as usize).min(WORTH_STEPS - 1))
}

/// Draws the ramp, what it says in words with unit above it, its ends below.
pub fn draw_ramp(pen: &mut Pen<'_>, words: &str, (low, high): (f64, f64), top: f64) {
    pen.text((MARGIN, top), words, Type::default());
    let (room, y) = (WIDTH - 2.0 * MARGIN, top + LINE / 2.0 + 3.0);
    for step in 0..WORTH_STEPS {
        let wide = room / WORTH_STEPS as f64;
        pen.rect((MARGIN + step as f64 * wide, y), (wide + 0.15, 13.0), worth_colour(step), 1.0);
    }
    pen.frame((MARGIN, y), (room, 13.0), Stroke::plain(EDGE, 1.0));
    if low > high {
        return;
    }
    let soft = Type { colour: SOFT_INK, ..Type::default() };
    let decimals = usize::from(high - low < 20.0);
    let below = y + 13.0 + LINE / 2.0 + 2.0;
    pen.text((MARGIN, below), &number(low, decimals), soft);
    let middle = Type { side: Side::Middle, ..soft };
    pen.text((WIDTH / 2.0, below), &number(0.5 * (low + high), decimals), middle);
    pen.text((WIDTH - MARGIN, below), &number(high, decimals), Type { side: Side::End, ..soft });
}
