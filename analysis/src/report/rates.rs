//! Over which rates of the aims the answer holds, rate by rate.

use super::compared::CompareView;
use super::page::Part;
use crate::rates::{RateRange, Rates, Turn};
use crate::wording::{capital, one_of, worth};
use maud::{Markup, html};

/// Nothing where there is nothing to choose.
pub(super) fn part(view: &CompareView<'_>) -> Option<Part> {
    let rates = view.comparison.rates.as_ref()?;
    Some(Part::new("rates", "What the answer asks of your rates", body(view, rates)))
}

fn body(view: &CompareView<'_>, rates: &Rates) -> Markup {
    let name = view.leading_name();
    if rates.whatever {
        return html! { p { "Nothing: " (name) " is better on every measure you value, or as good, whatever each of them is worth." } };
    }
    let aims = &view.comparison.aim_unit;
    let head = ["Your rate", "Ahead down to", "Ahead up to"];
    html! {
        p {
            "Each rate of the aims may go so far, the others as they are, before another strategy that keeps every limit draws level with "
            (name) ". Counted on means."
        }
        table.stack.rates {
            thead { tr { th { "What" } @for head in head { th { (head) } } } }
            tbody { @for range in &rates.ranges { tr {
                td.what { (capital(&one_of(range.measure, view.units))) }
                td data-head=(head[0]) { (if range.rate < 0.0 { "costs " } else { "is worth " }) (worth(range, 1.0, view.units, aims)) }
                td data-head=(head[1]) { (end(view, range, range.below, "nothing")) }
                td data-head=(head[2]) { (end(view, range, range.above, "any")) }
            } } }
        }
    }
}

fn end(view: &CompareView<'_>, range: &RateRange, turn: Option<Turn>, none: &str) -> Markup {
    html! { span { @match turn {
        None => (none),
        Some(turn) => {
            (worth(range, turn.factor, view.units, &view.comparison.aim_unit))
            small.under { "then " (view.comparison.names[turn.strategy]) }
        },
    } } }
}
