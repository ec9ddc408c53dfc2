//! The shell of a page: head, style, contents, parts, figures.

use crate::charts::Chart;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");
/// Closed as XML wants it: a page is read by what reads XML too.
const META: &str = "<meta charset=\"utf-8\"/>\
    <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\
    <meta name=\"color-scheme\" content=\"light\"/>";

/// A part of a page, reached from its contents.
pub(super) struct Part {
    id: &'static str,
    heading: String,
    body: Markup,
    /// Parts within it: id and words.
    within: Vec<(String, String)>,
    folded: bool,
}

impl Part {
    /// A part with its heading.
    pub fn new(id: &'static str, heading: impl Into<String>, body: Markup) -> Self {
        Self { id, heading: heading.into(), body, within: Vec::new(), folded: false }
    }

    /// The same, with parts within it that the contents name.
    pub fn holding(mut self, within: Vec<(String, String)>) -> Self {
        self.within = within;
        self
    }

    /// The same, folded away until it is tapped; folded, it is not printed.
    pub fn folded(mut self) -> Self {
        self.folded = true;
        self
    }

    /// A link to what stands in a folded part unfolds it, since it leads inside.
    fn shown(&self) -> Markup {
        html! {
            section {
                @if self.folded {
                    details {
                        summary { h2 { (self.heading) } }
                        div.body id=(self.id) { (self.body) }
                    }
                } @else {
                    h2 id=(self.id) { (self.heading) }
                    (self.body)
                }
            }
        }
    }
}

/// A whole page: its head, the contents of what follows, the parts, the foot.
pub(super) fn whole(title: &str, head: &Markup, parts: &[Part], foot: &Markup) -> String {
    let body = html! {
        (head)
        (contents(parts))
        main { @for part in parts { (part.shown()) } }
        (foot)
    };
    one_file(title, STYLE, &body)
}

/// A page that needs nothing beside it: no network, no other file.
pub(crate) fn one_file(title: &str, style: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                (PreEscaped(META))
                title { (title) }
                style { (PreEscaped(style)) }
            }
            body { (body) }
        }
    };
    page.into_string()
}

/// Links, so that it works without script.
fn contents(parts: &[Part]) -> Markup {
    html! {
        nav.contents aria-label="Contents" {
            @if parts.iter().any(|part| part.folded) { p { "More on this page; tap to unfold. What is folded is not printed." } }
            ol { @for part in parts {
                li {
                    a href={ "#" (part.id) } { (part.heading) }
                    @if !part.within.is_empty() {
                        ": "
                        @for (at, (id, words)) in part.within.iter().enumerate() {
                            @if at > 0 { ", " }
                            a href={ "#" (id) } { (words) }
                        }
                    }
                }
            } }
        }
    }
}

/// What a plot's part of a page and its files are called: names may hold anything.
pub(super) fn plot_id(plot: usize) -> String {
    format!("plot-{}", plot + 1)
}

/// A chart within the page. Its text is escaped by the charts' own writer; the namespace is
/// dropped, which a page does not need and which looks like an address.
pub(super) fn figure(chart: &Chart) -> Markup {
    let svg = chart.svg.replace(" xmlns=\"http://www.w3.org/2000/svg\"", "");
    html! { figure { (PreEscaped(svg)) } }
}
