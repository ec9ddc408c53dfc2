//! What fits on a page. Two sheets must stay two sheets on A4 and US Letter, whatever the site:
//! the charts take the room the words leave, and questions are dropped before anything is cut.

use super::finished::Lesson;
use super::paper::ACROSS;
use super::{leader, pictures, sheet};
use crate::charts::theme::WIDTH;
use crate::charts::{gate_calendar, two_lines};
use crate::units::Units;

/// Height of a sheet: 256 mm.
const SHEET: f64 = 967.0;
/// CSS px of a chart's px.
const ENLARGED: f64 = ACROSS / WIDTH;
/// Field of the empty chart, least and most, in its px.
const DRAWN: (f64, f64) = (70.0, 230.0);
/// Field of the chart with both lines.
const SHOWN: (f64, f64) = (66.0, 170.0);
/// Fewest questions left on a crowded sheet.
const FEWEST: usize = 2;

/// Drops questions, the least telling first, until the words leave room to draw. Which are left
/// must not hang on the units that are printed, so both have to fit.
pub(super) fn to_the_page(lesson: &mut Lesson) {
    let printed = lesson.units;
    for units in [Units::Metric, Units::Us] {
        lesson.units = units;
        while lesson.questions.len() > FEWEST && crowded(lesson) {
            drop_weakest(lesson);
        }
    }
    lesson.units = printed;
}

fn crowded(lesson: &Lesson) -> bool {
    drawn_room(lesson) < DRAWN.0 || shown_room(lesson) < SHOWN.0
}

fn drop_weakest(lesson: &mut Lesson) {
    let draws = lesson.draws;
    let weakest = (0..lesson.questions.len()).max_by_key(|&at| (lesson.questions[at].rank(draws), at));
    if let Some(weakest) = weakest {
        lesson.questions.remove(weakest);
    }
}

/// Height of the empty field on page 1.
pub(super) fn drawn(lesson: &Lesson) -> f64 {
    drawn_room(lesson).clamp(DRAWN.0, DRAWN.1)
}

/// Height of the field with both lines on page 2.
pub(super) fn shown(lesson: &Lesson) -> f64 {
    shown_room(lesson).clamp(SHOWN.0, SHOWN.1)
}

fn drawn_room(lesson: &Lesson) -> f64 {
    let calendar = gate_calendar::height(&pictures::calendar_data(lesson));
    let around = two_lines::around(&pictures::cover_data(lesson, 0.0, false));
    (SHEET - sheet::words_height(lesson)) / ENLARGED - calendar - around
}

fn shown_room(lesson: &Lesson) -> f64 {
    let around = two_lines::around(&pictures::cover_data(lesson, 0.0, true));
    (SHEET - leader::words_height(lesson)) / ENLARGED - around
}
