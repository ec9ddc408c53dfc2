//! Every measure of every strategy, folded away.

use super::Compared;
use super::words::{BLANK, figure, signed_interval, unit};
use crate::compare::{Comparison, Run};
use maud::{Markup, html};
use sim_engine::measures::Measure;

pub(super) fn part(told: &Compared<'_>) -> Markup {
    let c = told.comparison;
    let reference = &c.names[c.plan.against];
    html! {
        section {
            h2 { "Every measure" }
            p {
                "Mean, median, and the range nine in ten possible years fall in; then the difference to "
                strong { (reference) } " on the same years, with its 95 % interval. Tap a name to unfold it."
            }
            p.paper { "What is folded is not printed: unfold on the screen what you want on paper." }
            @for (s, name) in c.names.iter().enumerate() { (of_run(c, Run::Strategy(s), name)) }
            (of_run(c, Run::NoBirds, "No birds, usual care"))
            (of_run(c, Run::Nothing, "Nothing: no birds, no care"))
        }
    }
}

fn of_run(c: &Comparison, run: Run, name: &str) -> Markup {
    html! {
        details {
            summary { (name) }
            table.stack.measures {
                thead { tr { th { "Measure" } th { "Mean" } th { "Median" } th { "9 in 10 years" } th { "Difference" } } }
                tbody { @for &m in Measure::ALL { (row(c, run, m)) } }
            }
        }
    }
}

fn row(c: &Comparison, run: Run, m: Measure) -> Markup {
    let Some(f) = c.figure(run, m) else {
        return html! { tr.blank { td.what { (m.plain()) } td colspan="4" { "blank: nothing to measure" } } };
    };
    let d = m.decimals();
    let range = format!("{} to {}", figure(f.spread.p05, d), figure(f.spread.p95, d));
    let difference = if run == c.reference() {
        BLANK.to_owned()
    } else {
        c.difference(run, c.reference(), m).map_or_else(|| BLANK.to_owned(), |e| signed_interval(e, d))
    };
    html! {
        tr {
            td.what { (m.plain()) ", " small { (unit(m.unit())) } }
            td data-head="Mean" { (figure(f.mean.mean, d)) }
            td data-head="Median" { (figure(f.spread.median, d)) }
            td data-head="9 in 10 years" { (range) }
            td data-head="Difference" { (difference) }
        }
    }
}
