//! When to open which gate: the leading strategy in a sentence, its next moves, its season.

use super::compared::CompareView;
use super::page::{Part, figure as picture};
use super::watch;
use crate::charts::Chart;
use crate::diary::DiaryLine;
use crate::report::describe::in_full;
use crate::units::Units;
use crate::wording::{plain_date, typeset};
use maud::{Markup, html};
use sim_engine::dates::date_of;

/// Days whose moves are listed.
const DAYS: usize = 84;
/// Moves shown before the rest is folded away.
const FIRST: usize = 8;
/// Days of moves listed at most.
const MOST: usize = 40;

pub(super) fn part(view: &CompareView<'_>, strip: Option<&Chart>) -> Part {
    let body = html! {
        @for (at, (name, words)) in in_full(view.model, view.leading(), view.units).iter().enumerate() {
            p.lead { @if at > 0 { strong { (name) ": " } } (typeset(words)) }
        }
        div.side {
            @if let Some(strip) = strip { (picture(strip)) }
            div {
                h3 { "The next moves" }
                p.note { "On one weather, every unknown at its likely value. Rules and reasons stay, dates shift with the year." }
                (moves(view, &view.likely.season.diary.lines))
                h3 id="watch" { "What to watch" }
                (watch::list(view))
            }
        }
    };
    let within = vec![("watch".to_owned(), "what to watch".to_owned())];
    Part::new("plan", format!("When to open which gate: {}", view.leading_name()), body).holding(within)
}

fn moves(view: &CompareView<'_>, lines: &[DiaryLine]) -> Markup {
    let until = date_of(view.model.base.start, DAYS);
    let near: Vec<&DiaryLine> = lines.iter().take_while(|line| line.date < until).collect();
    let days: Vec<&[&DiaryLine]> = near.chunk_by(|a, b| a.date == b.date).take(MOST).collect();
    let (first, rest) = days.split_at(days.len().min(FIRST));
    html! {
        (table(first, view.units))
        @if !rest.is_empty() {
            details {
                summary { "The twelve weeks to " (plain_date(until)) }
                (table(rest, view.units))
            }
        }
        p.note { "The whole diary: the command season, with --strategy " (view.leading_name()) "." }
    }
}

fn table(days: &[&[&DiaryLine]], units: Units) -> Markup {
    html! {
        table.diary { tbody { @for day in days {
            tr { td.date { (plain_date(day[0].date)) } td { @for line in *day { p { (said(line, units)) } } } }
        } } }
    }
}

/// "open plum-slope (its turn, day 1 of 14)".
pub(super) fn said(line: &DiaryLine, units: Units) -> Markup {
    let why = line.why_in(units);
    let verb = match line.what.as_str() {
        "gate opened" => Some("Open"),
        "gate shut" => Some("Shut"),
        _ => None,
    };
    html! {
        @match verb {
            Some(verb) => { (verb) " " strong { (line.plot) } },
            None => {
                @if !line.plot.is_empty() { (line.plot) ": " }
                (line.what)
            },
        }
        @if !why.is_empty() { span.why { " – " (typeset(&why)) } }
    }
}
