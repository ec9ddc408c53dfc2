//! The answer first: what to do, what it costs and buys, how sure that is, what would settle it.

use super::compared::CompareView;
use super::pictures::headline;
use crate::stats::Estimate;
use crate::table::few_years;
use crate::units::Units;
use crate::verdict::{Settle, Verdict};
use crate::wording::{figure, held, measured, possible_years, signed, typeset, unit};
use maud::{Markup, html};
use sim_engine::measures::Measure;

pub(super) fn part(view: &CompareView<'_>) -> Markup {
    let (model, c) = (view.model, view.comparison);
    let draws = c.finished;
    let mut notes: Vec<String> = view.notes.to_vec();
    if notes.is_empty() {
        notes.extend(few_years(model, draws));
    }
    html! {
        header {
            p.site { (model.name) }
            h1 { (headline(c)) }
            (figures(view))
            p.answer { (typeset(&c.words(view.units))) }
            dl.sure {
                div { dt { "How sure" } dd { (how_sure(view)) } }
                div { dt { "What would settle it" } dd { (settle(c.verdict.settle)) } }
                div { dt { "Counted on" } dd { (counted(view)) } }
            }
        }
        @for note in &notes { p.heed { (note) } }
    }
}

/// What the leading strategy costs and buys, in large figures: means over the possible years.
const FIGURES: [(Measure, &str); 5] = [
    (Measure::CoverLoss, "points of ground cover lost"),
    (Measure::PestSuppression, "fewer pests from the soil"),
    (Measure::WorkSaved, "less work"),
    (Measure::FeedSaved, "feed saved"),
    (Measure::HarvestKept, "more harvest kept"),
];

fn figures(view: &CompareView<'_>) -> Markup {
    let c = view.comparison;
    let s = c.leading();
    let shown = FIGURES.iter().filter_map(|&(m, words)| Some(without_sign(m, words, c.gained(s, m)?, view.units)));
    html! {
        p.of { (c.names[s]) ", against birds shut in:" }
        dl.figures {
            div { dt { (c.aim_unit.a_year()) " gained, by your aims" } dd { (signed(c.aim[s].mean, 0)) small { (range(c.aim[s])) } } }
            @for (m, words, shown) in shown {
                div { dt { (words) } dd { (shown) small { (after(m, view)) } } }
            }
            @if let Some(limit) = c.verdict.standings[s].weakest() {
                div { dt { "possible years in which its weakest limit held" } dd { (held(limit.held, limit.draws)) } }
            }
        }
    }
}

/// The measure, its words and its figure, with "less" turned into "more", and "more" into "less", where it is
/// below nought: nobody reads "−0.1 h less" rightly.
fn without_sign(m: Measure, words: &'static str, mean: f64, units: Units) -> (Measure, String, String) {
    let shown = measured(mean, m, units);
    let turned = match words.strip_prefix("more ") {
        Some(rest) => format!("less {rest}"),
        None => words.replace("less ", "more ").replace("fewer ", "more "),
    };
    if mean < 0.0 && turned != words {
        return (m, turned, measured(-mean, m, units));
    }
    (m, words.to_owned(), shown)
}

/// " 7 to 23", where known.
fn range(e: Estimate) -> String {
    let known = e.low.is_finite() && e.high.is_finite();
    if known { format!(" {} to {}", figure(e.low, 0), figure(e.high, 0)) } else { String::new() }
}

/// What follows the figure.
fn after(m: Measure, view: &CompareView<'_>) -> String {
    match m {
        Measure::CoverLoss => String::new(),
        _ => format!(" {}", unit(m.unit(), view.units)),
    }
}

fn how_sure(view: &CompareView<'_>) -> String {
    let verdict: &Verdict = &view.comparison.verdict;
    if let Some(confidence) = verdict.confidence {
        return format!("Of 100 such answers at least {:.0} are right.", (100.0 * confidence).floor());
    }
    let times = |share: f64| (100.0 * share).round();
    match (verdict.leader_stability, &verdict.best, &verdict.leader) {
        (Some(share), Some(best), _) => {
            format!("With the possible years drawn again, {best} stays best {:.0} times in 100.", times(share))
        }
        (Some(share), None, Some(leader)) => {
            format!(
                "With the possible years drawn again, {leader} comes first {:.0} times in 100; but its lead may be less than is worth a change of strategy.",
                times(share)
            )
        }
        _ => "Sure enough that no strategy here keeps every limit as often as asked.".to_owned(),
    }
}

fn settle(settle: Settle) -> String {
    match settle {
        Settle::Settled => "It is settled, as far as this model goes.".to_owned(),
        Settle::MoreYears(draws) => format!("About {draws} possible years in all."),
        Settle::EitherWillDo => {
            "Nothing needs to: they differ by less than is worth a change of strategy. Take the one that is less work."
                .to_owned()
        }
        Settle::Measure => {
            "Not more possible years: something to measure on your ground, such as the pests and weed seeds in the soil."
                .to_owned()
        }
        Settle::EaseLimitOrChange => "One of the things to try that are named above.".to_owned(),
    }
}

fn counted(view: &CompareView<'_>) -> String {
    let years = view.model.years;
    let long = if years == 1 { "one season".to_owned() } else { format!("{years} years") };
    let count = view.comparison.finished;
    if view.comparison.counted.iter().any(|&counted| counted < count) {
        return format!(
            "up to {}, each {long} long: as many as it took to know. Strategies were taken out once beaten.",
            possible_years(count)
        );
    }
    let each = if count == 1 { String::new() } else { "each ".to_owned() };
    format!(
        "{}, {each}{long} long: weather and everything not known exactly, the same luck for every strategy.",
        possible_years(count)
    )
}
