//! The file: two sheets of paper, nothing else, no network.

use super::finished::LessonView;
use super::{fit, leader, sheet};
use crate::report::page::one_file;
use maud::html;

const STYLE: &str = include_str!("lesson.css");

/// `lesson.html`: the group's sheet and the leader's.
#[must_use]
pub fn lesson_page(view: &LessonView<'_>) -> String {
    let lesson = view.lesson;
    let title = format!("{}: guess first, then see", lesson.model.name);
    let (drawn, shown) = (fit::drawn(lesson), fit::shown(lesson));
    one_file(&title, STYLE, &html! { (sheet::page(lesson, drawn)) (leader::page(view, shown)) })
}
