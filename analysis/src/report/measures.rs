//! Every measure of every strategy, folded away.

use super::compared::CompareView;
use super::page::Part;
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::outcomes::Against;
use crate::stats::Estimate;
use crate::units::Units;
use crate::wording::{BLANK, measured, signed_interval, unit};
use maud::{Markup, html};
use sim_engine::measures::Measure;

pub(super) fn part(view: &CompareView<'_>) -> Part {
    let c = view.comparison;
    let reference = &c.names[c.plan.against];
    let units = view.units;
    let body = html! {
            p {
                "Mean, median, and the range nine in ten possible years fall in; then the difference to "
                strong { (reference) } " on the same years, with its 95 % interval. Tap a name to unfold it."
            }
            p.paper { "What is folded is not printed: unfold on the screen what you want on paper." }
            @for (s, name) in c.names.iter().enumerate() { (of_run(c, ArmId::Strategy(s), name, units)) }
            (of_run(c, ArmId::ShutIn, "Birds shut in", units))
            (of_run(c, ArmId::NoBirds, "No birds, usual care", units))
            (of_run(c, ArmId::Nothing, "Nothing: no birds, no care", units))
    };
    Part::new("measures", "Every measure", body)
}

fn of_run(c: &Comparison, run: ArmId, name: &str, units: Units) -> Markup {
    html! {
        details open=[(run == ArmId::Strategy(c.leading())).then_some("open")] {
            summary { (name) }
            table.stack.measures {
                thead { tr { th { "Measure" } th { "Mean" } th { "Median" } th { "9 in 10 years" } th { "Difference" } } }
                tbody { @for &m in Measure::ALL { (row(c, run, m, units)) } }
            }
        }
    }
}

fn row(c: &Comparison, run: ArmId, m: Measure, units: Units) -> Markup {
    let Some(f) = c.figure(run, m) else {
        return html! { tr.blank { td.what { (m.plain()) } td colspan="4" { "blank: nothing to measure" } } };
    };
    let said = |value: f64| measured(value, m, units);
    let range = format!("{} to {}", said(f.spread.p05), said(f.spread.p95));
    let difference = if run == c.reference() {
        BLANK.to_owned()
    } else {
        c.difference(run, Against::Reference, m).map_or_else(
            || BLANK.to_owned(),
            |e| {
                let [mean, low, high] = [e.mean, e.low, e.high].map(|value| units.value(value, m.unit()));
                signed_interval(Estimate { mean, low, high }, units.decimals(m.decimals(), m.unit()))
            },
        )
    };
    html! {
        tr {
            td.what { (m.plain()) ", " small { (unit(m.unit(), units)) } }
            td data-head="Mean" { (said(f.mean.mean)) }
            td data-head="Median" { (said(f.spread.median)) }
            td data-head="9 in 10 years" { (range) }
            td data-head="Difference" { (difference) }
        }
    }
}
