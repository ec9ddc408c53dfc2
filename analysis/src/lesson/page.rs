//! The file: two sheets of paper, nothing else, no network.

use super::{Told, leader, sheet};
use crate::charts::Chart;
use crate::report::page::one_file;
use maud::{Markup, PreEscaped, html};

const STYLE: &str = include_str!("lesson.css");

/// `lesson.html`: the group's sheet and the leader's.
#[must_use]
pub fn lesson_page(told: &Told<'_>) -> String {
    let title = format!("{}: guess first, then see", told.lesson.model.name);
    one_file(&title, STYLE, &html! { (sheet::page(told.lesson)) (leader::page(told)) })
}

/// A chart within the page; its namespace looks like an address and is not needed here.
pub(super) fn figure(chart: &Chart) -> Markup {
    let svg = chart.svg.replace(" xmlns=\"http://www.w3.org/2000/svg\"", "");
    html! { figure { (PreEscaped(svg)) } }
}

/// Text with its squares raised.
pub(super) fn typeset(text: &str) -> String {
    crate::report::words::typeset(text).replace("ft2", "ft²").replace(" ft²", "\u{a0}ft²")
}
