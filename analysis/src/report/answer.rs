//! The answer first: what to do, how sure that is, what would settle it.

use super::Compared;
use super::pictures::headline;
use super::words::{possible_years, typeset};
use crate::table::few_years;
use crate::verdict::{Settle, Verdict};
use maud::{Markup, html};

pub(super) fn part(told: &Compared<'_>) -> Markup {
    let (model, c) = (told.model, told.comparison);
    let draws = c.outcomes.len();
    let mut notes: Vec<String> = told.notes.to_vec();
    if notes.is_empty() {
        notes.extend(few_years(model, draws));
    }
    html! {
        header {
            p.site { (model.name) }
            h1 { (headline(c)) }
            p.answer { (typeset(&c.verdict.text)) }
            dl.sure {
                div { dt { "How sure" } dd { (how_sure(&c.verdict)) } }
                div { dt { "What would settle it" } dd { (settle(c.verdict.settle)) } }
                div { dt { "Counted on" } dd { (counted(told)) } }
            }
        }
        @for note in &notes { p.heed { (note) } }
    }
}

fn how_sure(verdict: &Verdict) -> String {
    let times = (100.0 * verdict.sure).round();
    match (&verdict.best, &verdict.leader) {
        (Some(best), _) => format!("With the possible years drawn again, {best} stays best {times:.0} times in 100."),
        (None, Some(leader)) => {
            format!("Not sure: with the possible years drawn again, {leader} comes first {times:.0} times in 100.")
        }
        (None, None) => "Sure enough that no strategy here keeps every limit as often as asked.".to_owned(),
    }
}

fn settle(settle: Settle) -> String {
    match settle {
        Settle::Settled => "It is settled, as far as this model goes.".to_owned(),
        Settle::MoreYears(draws) => format!("About {draws} possible years in all."),
        Settle::EitherWillDo => {
            "Nothing needs to: they differ by less than is worth a change of plan. Take the one that is less work."
                .to_owned()
        }
        Settle::Measure => {
            "Not more possible years: something to measure on your ground. The command what-matters says what first."
                .to_owned()
        }
        Settle::EaseLimitOrChange => "Fewer birds, shorter stays, longer rests, or a looser limit.".to_owned(),
    }
}

fn counted(told: &Compared<'_>) -> String {
    let years = told.model.years;
    let long = if years == 1 { "one season".to_owned() } else { format!("{years} years") };
    let count = told.comparison.outcomes.len();
    let each = if count == 1 { String::new() } else { "each ".to_owned() };
    format!(
        "{}, {each}{long} long: weather and everything not known exactly, the same luck for every strategy.",
        possible_years(count)
    )
}
