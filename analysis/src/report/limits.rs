//! How often each limit held, by strategy.

use super::compared::CompareView;
use super::page::Part;
use crate::verdict::LimitStanding;
use crate::wording::{capital, figure, held, limit_in_words, typeset};
use maud::{Markup, html};

pub(super) fn part(view: &CompareView<'_>) -> Part {
    Part::new("limits", "How often each limit held", body(view))
}

fn body(view: &CompareView<'_>) -> Markup {
    let c = view.comparison;
    let Some(first) = c.verdict.standings.first().filter(|s| !s.limits.is_empty()) else {
        return html! { p { "The site file sets no limits; only the waiting period before harvest binds every gate." } };
    };
    let heads: Vec<String> =
        first.limits.iter().map(|l| capital(&typeset(&limit_in_words(&l.limit, view.units)))).collect();
    html! {
            p {
                "A strategy is only advised if each limit held in at least " (figure(100.0 * c.plan.required_reliability, 0))
                " of 100 possible years. Below each count: the range the true chance lies in, 95 % sure (Wilson's interval). "
                "The waiting period before harvest is no limit but a rule: no strategy can break it."
            }
            table.stack.limits {
                thead { tr { th { "Strategy" } @for head in &heads { th { (head) } } } }
                tbody {
                    @for standing in &c.verdict.standings {
                        tr {
                            td.what { strong { (standing.name) } }
                            @for (limit, head) in standing.limits.iter().zip(&heads) { (cell(limit, head)) }
                        }
                    }
                }
            }
    }
}

fn cell(limit: &LimitStanding, head: &str) -> Markup {
    let percent = |share: f64| figure(100.0 * share, 0);
    html! {
        td.fails[!limit.enough] data-head=(head) {
            span {
                "held in " (held(limit.held, limit.draws))
                @if !limit.enough { " ✗" }
                small.under { (percent(limit.chance.low)) " to " (percent(limit.chance.high)) " %" }
            }
        }
    }
}
