//! The shell of a page: head, style, figures.

use crate::charts::Chart;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");

/// A whole page with everything in it.
pub(super) fn whole(title: &str, parts: &[Markup]) -> String {
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
            body {
                @for part in parts { (part) }
            }
        }
    };
    page.into_string()
}

/// A chart within the page. Its text is escaped by the charts' own writer; the namespace is
/// dropped, which a page does not need and which looks like an address.
pub(super) fn figure(chart: &Chart) -> Markup {
    let svg = chart.svg.replace(" xmlns=\"http://www.w3.org/2000/svg\"", "");
    html! { figure { (PreEscaped(svg)) } }
}

/// A table cell that carries its head, for phones.
pub(super) fn cell(head: &str, content: &str) -> Markup {
    html! { td data-head=(head) { (content) } }
}
