//! The lines of the page, made and read.

use super::SITES;
use super::judge::{Published, Verdict, judge};
use super::rows::{Kind, ROWS, Row};
use analysis::stats::quantiles::spread;

/// What stands for the figures of a row that was not played.
pub const NOT_RUN: &str = "not run yet";
/// What stands for them where no draw had anything to compare.
const NOTHING: &str = "nothing to compare";

/// The head of a table of rows.
const HEAD: &str = "| row | trial | compared | published | possible | ours: middle (5 to 95 %) | verdict |\n|---|---|---|---|---|---|---|\n";

/// A row as a line, with what was played if it was.
#[must_use]
pub fn line(row: &Row, played: Option<&[f64]>) -> String {
    let Row { id, compared, says, unit, .. } = row;
    let (ours, verdict) = match played {
        None => (NOT_RUN.to_owned(), NOT_RUN.to_owned()),
        Some(figures) => ours(row, figures),
    };
    format!("| {id} | {} | {compared}, {unit} | {says} | {} | {ours} | {verdict} |", trial(row), possible(row))
}

/// The trial, told in the first of its rows in a table.
fn trial(row: &Row) -> String {
    let tuned = |row: &Row| row.kind == Kind::Tuned;
    let part = if row.kind == Kind::KnownInPart { "; known before in part" } else { "" };
    match ROWS.iter().find(|other| other.site == row.site && tuned(other) == tuned(row)) {
        Some(first) if first.id != row.id => format!("as {}{part}", first.id),
        _ => format!("[{}](../{SITES}/{}), {}{part}", row.trial, row.site, row.source),
    }
}

fn possible(row: &Row) -> String {
    match row.published {
        Published::Figure(..) => format!("{} to {}", row.possible[0], row.possible[1]),
        Published::AboveNought => "less or more".to_owned(),
        Published::NoMoreThan(_) => "a difference or none".to_owned(),
    }
}

/// Figures as printed, and the verdict on what is printed.
fn ours(row: &Row, figures: &[f64]) -> (String, String) {
    let Some(spread) = spread(figures) else { return (NOTHING.to_owned(), Verdict::SaysNothing.to_string()) };
    let [middle, low, high] = [spread.median, spread.p05, spread.p95].map(printed);
    let blank = match spread.blank {
        0 => String::new(),
        blank => format!("; {NOTHING} in {blank} of {}", figures.len()),
    };
    let cell = format!("{middle} ({low} to {high}){blank}");
    let verdict = range(&cell).map_or(Verdict::SaysNothing, |range| judge(row.published, row.possible, range));
    (cell, verdict.to_string())
}

fn printed(value: f64) -> String {
    let decimals = if value.abs() >= 9.95 { 0 } else { 1 };
    let text = format!("{value:.decimals$}");
    if text == "-0.0" { "0.0".to_owned() } else { text }
}

/// The range of a cell that holds figures.
#[must_use]
pub fn range(cell: &str) -> Option<[f64; 2]> {
    let (low, high) = cell.split_once('(')?.1.split_once(')')?.0.split_once(" to ")?;
    Some([low.parse().ok()?, high.parse().ok()?])
}

/// The line of a row on a page.
#[must_use]
pub fn line_of(page: &str, id: &str) -> Option<String> {
    page.lines().find(|line| line.starts_with(&format!("| {id} |"))).map(str::to_owned)
}

/// The cells of a line that hold our figures and the verdict.
#[must_use]
pub fn figures_and_verdict(line: &str) -> Option<(&str, &str)> {
    let mut cells = line.trim_end_matches(" |").rsplit(" | ");
    let verdict = cells.next()?;
    cells.next().map(|figures| (figures, verdict))
}

/// The page with these lines, one a row, between its markers.
///
/// # Errors
/// If a marker is missing.
pub fn with_lines(page: &str, lines: &[String]) -> Result<String, String> {
    let of = |tuned: bool| {
        let rows = ROWS.iter().zip(lines).filter(move |(row, _)| (row.kind == Kind::Tuned) == tuned);
        let lines: Vec<&str> = rows.map(|(_, line)| line.as_str()).collect();
        format!("{}\n\n{HEAD}{}\n", counted(&lines), lines.join("\n"))
    };
    let page = between(page, "tuned", &of(true))?;
    between(&page, "set aside", &of(false))
}

/// How the rows of a table came out, in a sentence.
#[must_use]
pub fn counted(lines: &[&str]) -> String {
    let verdicts = || lines.iter().filter_map(|line| figures_and_verdict(line)).map(|(_, verdict)| verdict);
    let count = |word: &str| verdicts().filter(|verdict| *verdict == word).count();
    let [within, outside, nothing] =
        [Verdict::Within, Verdict::Outside, Verdict::SaysNothing].map(|verdict| count(&verdict.to_string()));
    let not_run = match count(NOT_RUN) {
        0 => String::new(),
        rows => format!(", {rows} {NOT_RUN}"),
    };
    format!(
        "Of {} rows: {within} *within*, {outside} *outside*, {nothing} where our range *says nothing*{not_run}.",
        lines.len()
    )
}

fn between(page: &str, table: &str, text: &str) -> Result<String, String> {
    let (begin, end) = (format!("<!-- trust: {table} -->\n"), format!("<!-- end of trust: {table} -->\n"));
    let cut = |page: &str| {
        let (before, rest) = page.split_once(&begin)?;
        let (_, after) = rest.split_once(&end)?;
        Some(format!("{before}{begin}\n{text}\n{end}{after}"))
    };
    cut(page).ok_or_else(|| format!("the page has no markers of the table {table:?}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_printed_is_read_back() {
        assert_eq!([123.4, 9.96, 9.94, -0.04, -12.6].map(printed), ["123", "10", "9.9", "0.0", "-13"]);
        assert_eq!(range("41 (-5.3 to 70); nothing to compare in 3 of 60"), Some([-5.3, 70.0]));
        assert_eq!(range(NOT_RUN), None);
        let played = line(&ROWS[0], Some(&[20.0; 8]));
        assert_eq!(figures_and_verdict(&played).map(|(figures, _)| figures), Some("20 (20 to 20)"));
        assert_eq!(figures_and_verdict(&line(&ROWS[0], None)), Some((NOT_RUN, NOT_RUN)));
    }

    #[test]
    fn a_row_with_nothing_to_compare_says_nothing() {
        let played = line(&ROWS[0], Some(&[f64::NAN; 8]));
        assert_eq!(figures_and_verdict(&played), Some((NOTHING, "says nothing")));
    }
}
