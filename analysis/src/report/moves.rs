//! The moves of a strategy in a season: gate, date, why.

use super::runs::StrategyRuns;
use crate::diary::DiaryLine;
use crate::units::Units;
use crate::wording::{plain_date, short_month_name, typeset};
use jiff::civil::Date;
use maud::{Markup, html};
use sim_engine::dates::date_of;

/// Days whose moves stand on the first page.
const DAYS: usize = 56;
/// Lines listed there at most, so that it stays one page.
const MOST_LINES: usize = 17;

/// Moves of the first eight weeks, as many dates as the page has room for.
pub(super) fn eight_weeks(runs: &StrategyRuns<'_>) -> Markup {
    let until = date_of(runs.model.base.start, DAYS);
    let days = by_date(runs, until);
    let listed = &days[..room(&days)];
    html! {
        @if days.is_empty() { p { "Nothing is opened or shut until " (plain_date(until)) "." } }
        @else { (table(listed, runs.units, day_and_month)) }
        p.note {
            @match days.len() - listed.len() {
                0 => {},
                1 => { "One more day with a move until " (plain_date(until)) ". " },
                more => { (more) " more days with moves until " (plain_date(until)) ". " },
            }
            "For a likely year: the reasons stay, the dates shift with the weather. "
            a href="#moves" { "The whole year" }
        }
    }
}

/// How many dates there is room for, one at least.
fn room(days: &[&[DiaryLine]]) -> usize {
    let mut lines = 0;
    let fits = days.iter().take_while(|day| {
        lines += day.len();
        lines <= MOST_LINES
    });
    fits.count().max(1).min(days.len())
}

/// All moves of the first year.
pub(super) fn of_the_year(runs: &StrategyRuns<'_>) -> Markup {
    let until = date_of(runs.model.base.start, runs.model.base.days.min(DAYS_OF_MOVES));
    html! {
        (table(&by_date(runs, until), runs.units, plain_date))
        p.note { "Every day of the whole run: " code { "hensward season" } ", with " code { "--strategy " (runs.name()) } "." }
    }
}

/// Every line of the diary.
pub(super) fn of_the_season(runs: &StrategyRuns<'_>) -> Markup {
    table(&by_date(runs, Date::MAX), runs.units, plain_date)
}

/// A year of moves.
const DAYS_OF_MOVES: usize = 366;

fn by_date<'v>(runs: &StrategyRuns<'v>, until: Date) -> Vec<&'v [DiaryLine]> {
    let lines = &runs.season.diary.lines;
    let near = lines.iter().take_while(|line| line.date < until).count();
    lines[..near].chunk_by(|a, b| a.date == b.date).collect()
}

/// "1 Feb": the year stands in the heading.
fn day_and_month(date: Date) -> String {
    format!("{} {}", date.day(), short_month_name(date))
}

fn table(days: &[&[DiaryLine]], units: Units, written: fn(Date) -> String) -> Markup {
    html! {
        table.diary { tbody { @for day in days {
            tr { td.date { (written(day[0].date)) } td { @for line in *day { p { (said(line, units)) } } } }
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
