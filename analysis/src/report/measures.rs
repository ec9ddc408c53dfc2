//! Every measure in one table: the leading strategy with its range and its difference to birds shut in, the others' means.

use super::compared::CompareView;
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::outcomes::Against;
use crate::report::page::Part;
use crate::stats::Estimate;
use crate::units::Units;
use crate::wording::{BLANK, measured, signed_interval, typeset, unit};
use maud::{Markup, html};
use sim_engine::measures::Measure;

/// Other strategies shown at most: a page is so wide.
const MOST_OTHERS: usize = 4;

pub(super) fn part(view: &CompareView<'_>) -> Part {
    let c = view.comparison;
    let columns = columns(c);
    let body = html! {
        p {
            "Of " strong { (view.leading_name()) } ": mean, the range nine in ten possible years fall in, and the difference to the same birds shut in with its 95 % interval. Of the others: means."
            @if c.names.len() > MOST_OTHERS + 1 { " Strategies left out here, and more digits, stand in summary.json and draws.csv." }
        }
        table.stack.measures {
            thead { tr {
                th { "Measure" } th { (view.leading_name()) } th { "Difference" }
                @for (_, name) in &columns { th { (name) } }
            } }
            tbody { @for &m in Measure::ALL { (row(view, m, &columns)) } }
        }
    };
    Part::new("measures", "Every measure", body)
}

/// Birds shut in, nothing done, and the best of the other strategies.
fn columns(c: &Comparison) -> Vec<(ArmId, String)> {
    let mut others: Vec<usize> = (0..c.names.len()).filter(|&s| s != c.leading()).collect();
    others.sort_by(|&a, &b| c.aim[b].mean.total_cmp(&c.aim[a].mean));
    let baselines = [(ArmId::ShutIn, "Birds shut in".to_owned()), (ArmId::Nothing, "No birds, no care".to_owned())];
    let strategies = others.into_iter().take(MOST_OTHERS).map(|s| (ArmId::Strategy(s), c.names[s].clone()));
    baselines.into_iter().chain(strategies).collect()
}

fn row(view: &CompareView<'_>, m: Measure, columns: &[(ArmId, String)]) -> Markup {
    let (c, units) = (view.comparison, view.units);
    let leading = ArmId::Strategy(c.leading());
    let Some(f) = c.figure(leading, m) else { return html! {} };
    let said = |value: f64| measured(value, m, units);
    html! {
        tr {
            td.what { (m.plain()) ", " small { (typeset(&unit(m.unit(), units))) } }
            td data-head=(view.leading_name()) { span { strong { (said(f.mean.mean)) } " " small { "(" (said(f.spread.p05)) " to " (said(f.spread.p95)) ")" } } }
            td data-head="Difference" { span { (difference(c, leading, m, units)) } }
            @for (run, name) in columns { td data-head=(name) { (c.mean(*run, m).map_or_else(|| BLANK.to_owned(), said)) } }
        }
    }
}

fn difference(c: &Comparison, run: ArmId, m: Measure, units: Units) -> String {
    c.difference(run, Against::ShutIn, m).map_or_else(
        || BLANK.to_owned(),
        |e| {
            let [mean, low, high] = [e.mean, e.low, e.high].map(|value| units.value(value, m.unit()));
            signed_interval(Estimate { mean, low, high }, units.decimals(m.decimals(), m.unit()))
        },
    )
}
