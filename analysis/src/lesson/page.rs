//! The file: two sheets of paper, nothing else, no network.

use super::{Told, leader, sheet};
use crate::charts::Chart;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("lesson.css");

/// `lesson.html`: the group's sheet and the leader's.
#[must_use]
pub fn lesson_page(told: &Told<'_>) -> String {
    let title = format!("{}: guess first, then see", told.lesson.model.name);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { (sheet::page(told.lesson)) (leader::page(told)) }
        }
    };
    page.into_string()
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
