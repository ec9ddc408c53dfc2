//! What the leading strategy saves and costs against the same birds shut in: hours, kilograms, what each is worth by the
//! aims, and where a figure goes the wrong way, why.

use super::compared::CompareView;
use super::reasons::because;
use crate::experiment::ArmId;
use crate::wording::{capital, figure, measured, signed, typeset, unit};
use maud::{Markup, html};
use sim_engine::measures::Measure;

/// A line of the balance: its head, and words for a figure above nought and below it.
struct Line {
    head: &'static str,
    measure: Measure,
    words: [&'static str; 2],
}

const LINES: [Line; 6] = [
    Line { head: "Your work", measure: Measure::WorkSaved, words: ["less", "more"] },
    Line { head: "Harvest kept", measure: Measure::HarvestKept, words: ["more", "less"] },
    Line { head: "Feed to buy", measure: Measure::FeedSaved, words: ["less", "more"] },
    Line { head: "Ground cover, worst plot", measure: Measure::CoverLoss, words: ["lost", "gained"] },
    Line { head: "Pests leaving the soil", measure: Measure::PestSuppression, words: ["fewer", "more"] },
    Line { head: "Worm eggs where birds are", measure: Measure::WormEggs, words: ["more", "less"] },
];

pub(super) fn table(view: &CompareView<'_>) -> Markup {
    let c = view.comparison;
    let total = c.aim[c.leading()];
    html! {
        table.balance {
            thead { tr { th { "Against the same birds shut in" } th.number { "a year" } th.number { "counts as" } } }
            tbody {
                @for line in &LINES { (row(view, line)) }
                @for &(measure, rate) in others(view).iter() { (other(view, measure, rate)) }
                tr.total {
                    td.what { "In all, by your aims" }
                    td.number colspan="2" { (typeset(&c.aim_unit.amount(&signed(total.mean, 1)))) (range(total.low, total.high)) }
                }
            }
        }
        @if let Some(words) = crate::wording::flock_in_words(c, view.units) { p.note { (words) } }
    }
}

/// " (−4.8 to −2.2)", where known.
fn range(low: f64, high: f64) -> Markup {
    let known = low.is_finite() && high.is_finite();
    html! { @if known { small { " (" (figure(low, 1)) " to " (figure(high, 1)) ")" } } }
}

fn row(view: &CompareView<'_>, line: &Line) -> Markup {
    let Some(change) = against_shut_in(view, line.measure) else { return html! {} };
    let m = line.measure;
    let amount = measured(change.abs(), m, view.units);
    let nothing = amount.chars().all(|digit| "0.".contains(digit));
    let unit = unit(m.unit().trim_end_matches("/yr"), view.units);
    let why = (!nothing).then(|| because(view, m, change)).flatten();
    html! {
        tr {
            td.what { (line.head) @if let Some(why) = why { small.under { "because " (typeset(&why)) } } }
            td.number { @if nothing { "no change" } @else { (said(&amount, &unit, line.words[usize::from(change < 0.0)])) } }
            td.number { (worth(view, m, change)) }
        }
    }
}

/// "2.4 h more", "1 more (relative)".
fn said(amount: &str, unit: &str, word: &str) -> String {
    match unit {
        "relative" => format!("{amount} {word} (relative)"),
        _ => format!("{amount} {unit} {word}"),
    }
}

/// Change of a measure's mean against birds shut in; `None` where it is blank.
fn against_shut_in(view: &CompareView<'_>, measure: Measure) -> Option<f64> {
    let c = view.comparison;
    let with = c.mean(ArmId::Strategy(c.leading()), measure)?;
    Some(with - c.mean(ArmId::ShutIn, measure).unwrap_or(0.0))
}

/// What a change counts as by the aims; blank where the aims do not name the measure.
fn worth(view: &CompareView<'_>, measure: Measure, change: f64) -> String {
    let rate = view.model.aims.iter().find(|(of, rate)| *of == measure && *rate != 0.0);
    rate.map_or_else(String::new, |(_, rate)| typeset(&view.comparison.aim_unit.amount(&signed(rate * change, 1))))
}

/// Aims that have no line of their own.
fn others(view: &CompareView<'_>) -> Vec<(Measure, f64)> {
    let own = |measure| LINES.iter().any(|line| line.measure == measure);
    view.model.aims.iter().copied().filter(|&(measure, rate)| rate != 0.0 && !own(measure)).collect()
}

fn other(view: &CompareView<'_>, measure: Measure, rate: f64) -> Markup {
    let Some(change) = against_shut_in(view, measure).filter(|change| rate * change != 0.0) else { return html! {} };
    html! {
        tr {
            td.what { (capital(measure.plain())) }
            td.number { (signed(view.units.value(change, measure.unit()), view.units.decimals(measure.decimals(), measure.unit()))) " " (unit(measure.unit(), view.units)) }
            td.number { (worth(view, measure, change)) }
        }
    }
}
