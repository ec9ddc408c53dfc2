//! Charts and units as the pages set them.

use crate::charts::Chart;
use maud::{Markup, PreEscaped, html};

/// A chart within the page; its namespace looks like an address and is not needed here.
pub(super) fn figure(chart: &Chart) -> Markup {
    let svg = chart.svg.replace(" xmlns=\"http://www.w3.org/2000/svg\"", "");
    html! { figure { (PreEscaped(svg)) } }
}

/// Text with its squares raised.
pub(super) fn typeset(text: &str) -> String {
    crate::wording::typeset(text).replace("ft2", "ft²").replace(" ft²", "\u{a0}ft²")
}
