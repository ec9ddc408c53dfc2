//! The field of a chart of two numbers: both scales, grid and tick texts.

use super::axis::Scale;
use super::canvas::{Pen, Side, Stroke, Type, text_width};
use super::theme::{EDGE, GRID, MARGIN, SOFT_INK, TEXT, WIDTH};

/// Px between the field and the texts of its upward scale.
const GAP: f64 = 11.0;
/// Px from the foot of the field to the line of its texts.
const BELOW: f64 = 18.0;
/// Px kept free at the right.
const RIGHT: f64 = 8.0;

/// Scales across and up that hold all values, the field between `top` and `foot`; as far left as
/// the texts of the upward scale leave room.
pub(super) fn scales(
    across: impl IntoIterator<Item = f64>,
    up: impl IntoIterator<Item = f64>,
    (top, foot): (f64, f64),
) -> (Scale, Scale) {
    let up = Scale::around(up, foot, top);
    let widest = up.ticks().into_iter().map(|tick| text_width(&up.tick_text(tick), TEXT, false));
    let left = MARGIN + widest.fold(0.0, f64::max) + GAP;
    (Scale::around(across, left, WIDTH - MARGIN - RIGHT), up)
}

/// Draws grid and tick texts, of the scale across those from `first` on only.
pub(super) fn grid(pen: &mut Pen<'_>, x: Scale, y: Scale, first: f64) {
    let (left, right, top, foot) = (x.from_px, x.to_px, y.to_px, y.from_px);
    let soft = Type { colour: SOFT_INK, ..Type::default() };
    for tick in y.ticks() {
        pen.line(&[(left, y.px(tick)), (right, y.px(tick))], Stroke::plain(GRID, 1.0));
        pen.text((left - GAP, y.px(tick)), &y.tick_text(tick), Type { side: Side::End, ..soft });
    }
    for tick in x.ticks() {
        pen.line(&[(x.px(tick), top), (x.px(tick), foot)], Stroke::plain(GRID, 1.0));
        if tick >= first {
            pen.text((x.px(tick), foot + BELOW), &x.tick_text(tick), Type { side: Side::Middle, ..soft });
        }
    }
}

/// Draws the edges at the foot and at the left.
pub(super) fn edges(pen: &mut Pen<'_>, x: Scale, y: Scale) {
    let (left, right, top, foot) = (x.from_px, x.to_px, y.to_px, y.from_px);
    pen.line(&[(left, foot), (right, foot)], Stroke::plain(EDGE, 1.4));
    pen.line(&[(left, top), (left, foot)], Stroke::plain(EDGE, 1.4));
}
