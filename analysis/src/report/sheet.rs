//! The first page: what to do, the next eight weeks, what to watch, what it saves and costs, how sure. It fits one sheet
//! of paper; all that follows says why.

use super::balance;
use super::compared::CompareView;
use super::moves;
use super::pictures::headline;
use super::runs::StrategyRuns;
use super::watch;
use crate::report::describe::in_full;
use crate::table::few_years;
use crate::verdict::{Settle, Verdict};
use crate::wording::{capital, held, limit_in_words, plain_date, possible_years, typeset};
use maud::{Markup, html};
use scenarios::SiteModel;

pub(super) fn part(view: &CompareView<'_>, runs: &StrategyRuns<'_>) -> Markup {
    let (model, c) = (view.model, view.comparison);
    let mut notes: Vec<String> = view.notes.to_vec();
    if notes.is_empty() {
        notes.extend(few_years(model, c.finished));
    }
    notes.extend(crate::smell::warning(model, view.units));
    html! {
        header {
            p.site { (model.name) }
            h1 { (headline(c)) }
            (what_to_do(view))
        }
        section.first {
            div {
                h2 id="weeks" { "The next eight weeks, from " (plain_date(model.base.start)) }
                (moves::eight_weeks(runs))
                h2 id="sure" { "How sure" }
                p { (how_sure(view)) }
                @if let Some(words) = weakest(view) { p { (typeset(&words)) } }
                p { (settle(&c.verdict)) }
                p.note { (counted(view)) }
                p.heed { (safety(view.model)) }
            }
            div {
                h2 id="watch" { "What to watch" }
                (watch::list(runs))
                h2 id="balance" { "What it saves and costs in a year" }
                (balance::table(runs))
                @for note in &notes { p.heed { (note) } }
            }
        }
    }
}

/// The leading strategy in sentences; where nothing gains, that keeping the birds in is better comes first.
fn what_to_do(view: &CompareView<'_>) -> Markup {
    let c = view.comparison;
    let gains = c.aim[c.leading()].mean > 0.0;
    html! {
        @if c.verdict.leader.is_none() {
            p.answer { "None of the strategies tried stays within your limits often enough. Nearest comes:" }
        } @else if !gains && c.limits_shut_in.iter().any(|limit| !limit.enough) {
            p.answer {
                "It costs more than it saves. But with the birds shut in a limit fails too: "
                (typeset(&failing_shut_in(view)))
                ". Let them out this way if that matters to you, else keep them in."
            }
        } @else if !gains {
            p.answer { "The birds had best stay in the yard: letting them out costs more than it saves. If you let them out all the same, this is the best of the strategies tried:" }
        }
        @for (name, words) in in_full(view.model, view.leading(), view.units) {
            p.answer { strong { (name) ": " } (typeset(&words)) }
        }
    }
}

/// The limits that fail with the birds shut in.
fn failing_shut_in(view: &CompareView<'_>) -> String {
    let broken = view.comparison.limits_shut_in.iter().filter(|limit| !limit.enough);
    broken.map(|limit| limit_in_words(&limit.limit, view.units)).collect::<Vec<_>>().join("; ")
}

fn how_sure(view: &CompareView<'_>) -> String {
    let verdict: &Verdict = &view.comparison.verdict;
    if let Some(confidence) = verdict.confidence {
        return format!("Of 100 such answers at least {:.0} are right.", (100.0 * confidence).floor());
    }
    // Never 100 unless it is, as in the verdict.
    let times = |share: f64| if share < 1.0 { (100.0 * share).round().min(99.0) } else { 100.0 };
    match (verdict.leader_stability, &verdict.best, &verdict.leader) {
        (Some(share), Some(best), _) => {
            let others = if share < 1.0 { "; in the others another strategy is" } else { "" };
            format!("If all possible years are drawn again, {best} is best {:.0} times in 100{others}.", times(share))
        }
        (Some(share), None, Some(leader)) => format!(
            "If all possible years are drawn again, {leader} comes first {:.0} times in 100; but its lead may be too small to be worth a change of strategy.",
            times(share)
        ),
        _ => "Sure enough that no strategy here keeps every limit as often as asked.".to_owned(),
    }
}

/// The limit that fails first under the leading strategy.
fn weakest(view: &CompareView<'_>) -> Option<String> {
    let c = view.comparison;
    let limit = c.verdict.standings[c.leading()].weakest()?;
    Some(match limit.held == limit.draws {
        true => format!("Every limit held in all {}.", possible_years(limit.draws)),
        false => format!(
            "The limit that fails first: {}. It held in {}.",
            limit_in_words(&limit.limit, view.units),
            held(limit.held, limit.draws)
        ),
    })
}

/// A lead that holds so often when the possible years are drawn again is not made surer by more of them.
const SURE: f64 = 0.95;

fn settle(verdict: &Verdict) -> String {
    match verdict.settle {
        Settle::Settled if verdict.leader_stability.is_some_and(|share| share < SURE) => {
            "More possible years (--draws) would make this surer.".to_owned()
        }
        Settle::Settled => "More possible years would hardly change this, as far as this model goes.".to_owned(),
        Settle::MoreYears(draws) => format!("About {draws} possible years in all would settle it."),
        Settle::EitherWillDo => {
            "Nothing needs to settle it: they differ by less than is worth a change of strategy. Take the one that is less work."
                .to_owned()
        }
        Settle::Measure => {
            "More possible years would not settle it: measure something on your ground, such as the pests and weed seeds in the soil."
                .to_owned()
        }
        Settle::EaseLimitOrChange => "What can help is named under “All strategies compared”.".to_owned(),
    }
}

fn counted(view: &CompareView<'_>) -> String {
    let years = view.model.years;
    let long = if years == 1 { "one season".to_owned() } else { format!("{years} years") };
    let count = view.comparison.finished;
    if view.comparison.counted.iter().any(|&counted| counted < count) {
        return format!(
            "Counted on up to {}, each {long} long: as many as it took to know. A strategy was taken out once another was surely better.",
            possible_years(count)
        );
    }
    let each = if count == 1 { String::new() } else { "each ".to_owned() };
    format!(
        "Counted on {}, {each}{long} long: one weather and one set of unknowns each, the same for every strategy.",
        possible_years(count)
    )
}

/// The cautions nobody may miss, in two lines; the rest stands under "Cautions".
pub(super) fn safety(model: &SiteModel) -> Markup {
    let rules = &model.base.rules;
    html! {
        strong { "Droppings are raw manure: " }
        (rules.waiting_days_touching) " days before picking what touches the soil, " (rules.waiting_days_other)
        " days before other picking. "
        @if rules.own_waits.iter().any(|own| own.reason.is_some()) {
            "Some harvests wait days of your own, with your reason: they stand with their plots. "
        }
        @if let Some(reason) = &model.waiting_rule_reason {
            "This site sets its own days, because: “" (reason.trim_end_matches('.')) "”; the rule of the US organic programme is 120 and 90. "
        }
        "Wash your hands after the birds, and what is eaten raw: hens that look well can carry Salmonella. A housing order comes before every gate; for sick birds ask a vet. Local rules come first. "
        @for harm in model.harms() {
            (capital(&harm.message)) ". "
        }
        a href="#cautions" { "All cautions" }
    }
}
