//! What the strategy saves and costs against the same birds shut in: hours, kilograms, what each is worth by the
//! aims, and where a figure goes the wrong way, why.

use super::reasons::because;
use super::runs::{Run, StrategyRuns};
use crate::wording::{capital, figure, measured, signed, typeset, unit};
use maud::{Markup, html};
use scenarios::money::AimUnit;
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

pub(super) fn table(runs: &StrategyRuns<'_>) -> Markup {
    let total = runs.aim();
    let shut_in = |measure| runs.mean(Run::ShutIn, measure).unwrap_or(0.0);
    html! {
        table.balance {
            thead { tr { th { "Against the same birds shut in" } th.number { "a year" } th.number { "counts as" } } }
            tbody {
                @for line in &LINES { (row(runs, line)) }
                @for &(measure, rate) in others(runs).iter() { (other(runs, measure, rate)) }
                tr.total {
                    td.what { "In all, by your aims" }
                    td.number colspan="2" { (typeset(&runs.model.aim_unit.amount(&signed(total.mean, 1)))) (range(total.low, total.high)) }
                }
            }
        }
        @if let Some(words) = crate::wording::flock_in_words(&shut_in, runs.units) { p.note { (words) } }
    }
}

/// " (−4.8 to −2.2)", where known.
fn range(low: f64, high: f64) -> Markup {
    let known = low.is_finite() && high.is_finite();
    html! { @if known { small { " (" (figure(low, 1)) " to " (figure(high, 1)) ")" } } }
}

fn row(runs: &StrategyRuns<'_>, line: &Line) -> Markup {
    let Some(change) = runs.change(line.measure) else { return html! {} };
    let m = line.measure;
    let amount = measured(change.abs(), m, runs.units);
    let nothing = amount.chars().all(|digit| "0.".contains(digit));
    let unit = unit(m.unit().trim_end_matches("/yr"), runs.units);
    let why = (!nothing).then(|| because(runs, m, change)).flatten();
    html! {
        tr {
            td.what { (line.head) @if let Some(why) = why { small.under { "because " (typeset(&why)) } } }
            td.number { @if nothing { "no change" } @else { (said(&amount, &unit, line.words[usize::from(change < 0.0)])) } }
            td.number { (worth(runs, m, change)) }
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

/// What a change counts as by the aims; blank where the aims do not name the measure.
fn worth(runs: &StrategyRuns<'_>, measure: Measure, change: f64) -> String {
    let rate = runs.model.aims.iter().find(|(of, rate)| *of == measure && *rate != 0.0);
    let in_money = runs.model.aim_unit != AimUnit::Hours;
    let none = || if in_money && measure == Measure::FeedSaved { "no price given".to_owned() } else { String::new() };
    rate.map_or_else(none, |(_, rate)| typeset(&runs.model.aim_unit.amount(&signed(rate * change, 1))))
}

/// Aims that have no line of their own.
fn others(runs: &StrategyRuns<'_>) -> Vec<(Measure, f64)> {
    let own = |measure| LINES.iter().any(|line| line.measure == measure);
    runs.model.aims.iter().copied().filter(|&(measure, rate)| rate != 0.0 && !own(measure)).collect()
}

fn other(runs: &StrategyRuns<'_>, measure: Measure, rate: f64) -> Markup {
    let Some(change) = runs.change(measure).filter(|change| rate * change != 0.0) else { return html! {} };
    html! {
        tr {
            td.what { (capital(measure.plain())) }
            td.number { (signed(runs.units.value(change, measure.unit()), runs.units.decimals(measure.decimals(), measure.unit()))) " " (unit(measure.unit(), runs.units)) }
            td.number { (worth(runs, measure, change)) }
        }
    }
}
