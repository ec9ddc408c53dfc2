//! Tables for the terminal: aligned, names wrapped, within 80 columns.
//!
//! Drawn here rather than by a crate: of 46 tables of the demos, the library and the problems
//! `comfy-table` 7.2 draws 31 as they are and `tabled` 0.20 30. Where a line is full, neither
//! breaks a name after its hyphen ("cherry-fly-watc", "h"), and `tabled` wraps figures. Given
//! widths and cells that were wrapped here they would only pad, and no line would be saved.

use crate::compare::Comparison;
use crate::diary::{why_open, why_shut};
use crate::experiment::ArmId;
use crate::season::Why;
use crate::stats::mean;
use crate::sweep::axis::Axis;
use crate::sweep::row::SweepRow;
use crate::sweep::rows::SweepView;
use crate::units::Units;
use crate::wording::{figure, held, interval, measured, signed};
use jiff::civil::Date;
use scenarios::SiteModel;
use sim_engine::measures::{Better, Measure, Measures};

/// Widest line printed.
pub const WIDTH: usize = 80;
/// Spaces between columns; one where the line is full.
const GAP: usize = 2;
/// A wrapped column is not made narrower than this.
const NARROWEST: usize = 10;

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextColumn {
    /// Words, left, wrapped where the line is full.
    Words,
    /// Numbers, right, never wrapped.
    Numbers,
}

/// A table under construction.
#[derive(Clone, Debug)]
pub struct TextTable {
    columns: Vec<TextColumn>,
    heads: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl TextTable {
    /// A table with these heads; a head may have lines of its own (`"cover\nloss"`).
    #[must_use]
    pub fn new(columns: &[(TextColumn, &str)]) -> Self {
        Self {
            columns: columns.iter().map(|(column, _)| *column).collect(),
            heads: columns.iter().map(|(_, head)| (*head).to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; missing cells are empty, surplus ones dropped.
    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let mut cells: Vec<String> = cells.into_iter().take(self.columns.len()).collect();
        cells.resize(self.columns.len(), String::new());
        self.rows.push(cells);
    }

    /// The table as lines, each ended.
    #[must_use]
    pub fn text(&self) -> String {
        let (widths, gap) = self.widths();
        let mut out = self.lines(&self.heads, &widths, gap);
        let rule = widths.iter().sum::<usize>() + gap * (widths.len() - 1);
        out += &"-".repeat(rule.min(WIDTH));
        out.push('\n');
        for row in &self.rows {
            out += &self.lines(row, &widths, gap);
        }
        out
    }

    fn widths(&self) -> (Vec<usize>, usize) {
        let widest = |column: usize| {
            let cells = self.rows.iter().map(|row| &row[column]).chain(std::iter::once(&self.heads[column]));
            cells.flat_map(|cell| cell.lines()).map(|line| line.chars().count()).max().unwrap_or(0)
        };
        let wished: Vec<usize> = (0..self.columns.len()).map(widest).collect();
        let wide = self.narrowed(wished.clone(), GAP);
        if wide.iter().sum::<usize>() + GAP * (wide.len() - 1) <= WIDTH {
            (wide, GAP)
        } else {
            (self.narrowed(wished, 1), 1)
        }
    }

    fn narrowed(&self, mut widths: Vec<usize>, gap: usize) -> Vec<usize> {
        let gaps = gap * widths.len().saturating_sub(1);
        // The widest column of words gives way until the line fits.
        loop {
            let over = (widths.iter().sum::<usize>() + gaps).saturating_sub(WIDTH);
            let words = (0..widths.len()).filter(|&c| self.columns[c] == TextColumn::Words && widths[c] > NARROWEST);
            match words.max_by_key(|&c| widths[c]) {
                Some(column) if over > 0 => widths[column] = widths[column].saturating_sub(over).max(NARROWEST),
                _ => return widths,
            }
        }
    }

    fn lines(&self, cells: &[String], widths: &[usize], gap: usize) -> String {
        let cells: Vec<Vec<String>> = cells.iter().zip(widths).map(|(cell, &width)| wrap(cell, width)).collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        let mut out = String::new();
        for at in 0..height {
            let mut line = String::new();
            for (column, (cell, &width)) in cells.iter().zip(widths).enumerate() {
                let text = cell.get(at).map_or("", String::as_str);
                let room = " ".repeat(width.saturating_sub(text.chars().count()));
                line += &" ".repeat(if column == 0 { 0 } else { gap });
                line += &match self.columns[column] {
                    TextColumn::Words => format!("{text}{room}"),
                    TextColumn::Numbers => format!("{room}{text}"),
                };
            }
            out += line.trim_end();
            out.push('\n');
        }
        out
    }
}

/// Text in lines of at most `width` characters, broken at spaces, else after a hyphen, else anywhere.
#[must_use]
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for piece in pieces(paragraph, width) {
            let bare = piece.trim_end();
            if !line.is_empty() && line.chars().count() + bare.chars().count() > width {
                lines.push(line.trim_end().to_owned());
                line.clear();
            }
            line += &piece;
        }
        lines.push(line.trim_end().to_owned());
    }
    lines
}

/// What may stand alone on a line: words with the space after them; long ones cut.
fn pieces(text: &str, width: usize) -> Vec<String> {
    let mut pieces = Vec::new();
    for word in text.split_inclusive(' ') {
        if word.trim_end().chars().count() <= width {
            pieces.push(word.to_owned());
            continue;
        }
        for part in word.split_inclusive('-') {
            let letters: Vec<char> = part.chars().collect();
            pieces.extend(letters.chunks(width.max(1)).map(|chunk| chunk.iter().collect::<String>()));
        }
    }
    pieces
}

/// Paragraphs wrapped for the terminal.
#[must_use]
pub fn paragraph(text: &str) -> String {
    wrap(text, WIDTH).join("\n") + "\n"
}

/// A paragraph whose every line stands in by so many columns.
#[must_use]
pub fn indented(text: &str, by: usize) -> String {
    wrap(text, WIDTH - by).iter().map(|line| format!("{}{line}\n", " ".repeat(by))).collect()
}

/// The comparison as a table, the runs without birds below it, and the verdict.
#[must_use]
pub fn compare_table(model: &SiteModel, c: &Comparison, units: Units) -> String {
    let draws = c.outcomes.len();
    let feed = format!("feed\nsaved,\n{}", units.unit(Measure::FeedSaved.unit()));
    let mut table = TextTable::new(&[
        (TextColumn::Words, "strategy"),
        (TextColumn::Numbers, "aim, points\n(95 % interval)"),
        (TextColumn::Numbers, "limits\nheld in"),
        (TextColumn::Numbers, "cover\nlost,\npoints"),
        (TextColumn::Numbers, "pests\ndown,\n%"),
        (TextColumn::Numbers, "weeds:\nh/yr\nsaved"),
        (TextColumn::Numbers, &feed),
        (TextColumn::Numbers, "gate\nmoves\n/yr"),
    ]);
    for (s, name) in c.names.iter().enumerate() {
        let standing = &c.verdict.standings[s];
        let weakest =
            standing.weakest().map_or_else(|| "-".to_owned(), |l| held(l.held, l.draws).replace("under ", "<"));
        let against = if s == c.plan.against { " *" } else { "" };
        let first = [format!("{name}{against}"), interval(c.aim[s], 1), weakest];
        table.row(first.into_iter().chain(SHOWN.iter().map(|&m| mean_text(c, ArmId::Strategy(s), m, units))));
    }
    for (run, name) in [(ArmId::NoBirds, "(no birds, usual care)"), (ArmId::Nothing, "(nothing: no birds, no care)")] {
        let aim = if run == ArmId::NoBirds { "0.0".to_owned() } else { String::new() };
        let first = [name.to_owned(), aim, String::new()];
        table.row(first.into_iter().chain(SHOWN.iter().map(|&m| mean_text(c, run, m, units))));
    }
    let note = format!(
        "* the others are set against it. Means over {}{}; cover, pests and weeding against the no-birds run with usual care.",
        if c.counted.iter().any(|&counted| counted < draws) { "at most " } else { "" },
        crate::wording::possible_years(draws)
    );
    let few = few_years(model, draws).map(|text| paragraph(&text)).unwrap_or_default();
    format!("{}{}{few}\n{}", table.text(), paragraph(&note), paragraph(&c.words(units)))
}

/// What stands out in a sweep: for each strategy in how many cells it holds and where it does best.
#[must_use]
pub fn sweep_table(view: &SweepView) -> String {
    let mut table = TextTable::new(&[
        (TextColumn::Words, "strategy"),
        (TextColumn::Numbers, "limits hold\nin cells"),
        (TextColumn::Numbers, "best aim where\nthey hold, points\n(95 % interval)"),
        (TextColumn::Words, "which is with"),
    ]);
    for (position, name) in view.plan.strategies.iter().enumerate() {
        let holding = format!("{} of {}", view.holding(position), view.cells);
        let best = view.best(position).map(|place| &view.rows[place]);
        let (aim, at) = best.map_or_else(
            || ("-".to_owned(), "limits hold nowhere".to_owned()),
            |row| (interval(row.aim, 1), settings_that_count(view, row)),
        );
        table.row([name.clone(), holding, aim, at]);
    }
    let years = crate::wording::possible_years(view.plan.draws as usize);
    let note = format!(
        "Each cell over {years}. Limits hold where each of them did in {:.0} of 100 possible years. All cells are in cells.csv.",
        100.0 * view.plan.required_reliability
    );
    let weather = view.plan.weather.as_ref().map(|given| paragraph(&given.note())).unwrap_or_default();
    format!("{}{}{weather}", table.text(), paragraph(&note))
}

/// "stay 12 days, birds 16".
#[must_use]
pub fn settings(view: &SweepView, row: &SweepRow) -> String {
    view.plan.axes.iter().zip(&row.values).map(|(axis, value)| setting(axis, *value)).collect::<Vec<_>>().join(", ")
}

/// "stay 12 days".
#[must_use]
pub fn setting(axis: &Axis, value: f64) -> String {
    format!("{} {} {}", axis.key, axis.words(value), axis.unit).trim_end().to_owned()
}

/// "any stay, birds 16" where the strategy came out the same with every stay tried: it has none.
fn settings_that_count(view: &SweepView, row: &SweepRow) -> String {
    let one = |(at, axis): (usize, &Axis)| {
        if counts(view, row, at) { setting(axis, row.values[at]) } else { format!("any {}", axis.key) }
    };
    view.plan.axes.iter().enumerate().map(one).collect::<Vec<_>>().join(", ")
}

/// Whether rows that differ from this one along one axis alone came out otherwise; where there
/// are none it is taken to count.
fn counts(view: &SweepView, row: &SweepRow, axis: usize) -> bool {
    let beside = |other: &&SweepRow| {
        let alike = |at: usize| (other.values[at] == row.values[at]) == (at != axis);
        other.strategy == row.strategy && (0..row.values.len()).all(alike)
    };
    let mut others = view.rows.iter().filter(beside).peekable();
    others.peek().is_none() || others.any(|other| other.aim != row.aim || other.cover_loss != row.cover_loss)
}

const SHOWN: [Measure; 5] =
    [Measure::CoverLoss, Measure::PestSuppression, Measure::WeedingSaved, Measure::FeedSaved, Measure::GateMoves];

fn mean_text(c: &Comparison, run: ArmId, measure: Measure, units: Units) -> String {
    let values: Vec<f64> = c.values(run, measure).into_iter().filter(|v| !v.is_nan()).collect();
    if values.is_empty() {
        "-".to_owned()
    } else {
        figure(units.value(mean(&values), measure.unit()), measure.decimals().min(1))
    }
}

/// A word on how much so few possible years, or so few years of a station, can tell.
#[must_use]
pub fn few_years(model: &SiteModel, draws: usize) -> Option<String> {
    /// Draws under which an interval rests on little; common practice, no source.
    const FEW: usize = 30;
    let station = model.weather.distinct_draws();
    match station {
        Some(years) if draws > years => Some(format!(
            "The station has only {years} whole years: the {draws} possible years use each more than once, so the intervals look surer than they are."
        )),
        _ if draws < FEW => Some(format!(
            "Only {}: the intervals are wide; the usual run is 200.",
            crate::wording::possible_years(draws)
        )),
        _ => None,
    }
}

/// The measures of one season, with their units, blank ones left out.
#[must_use]
pub fn season_table(measures: &Measures, units: Units) -> String {
    let mut table =
        TextTable::new(&[(TextColumn::Words, "measure"), (TextColumn::Numbers, "value"), (TextColumn::Words, "unit")]);
    for &m in Measure::ALL {
        let value = measures.get(m);
        if !value.is_nan() {
            table.row([m.plain().to_owned(), measured(value, m, units), units.unit(m.unit())]);
        }
    }
    table.text()
}

/// Why a gate stood as it did on a day, and what inverting it would have changed.
#[must_use]
pub fn why_text(plot: &str, date: Date, why: &Why, units: Units) -> String {
    let (stood, other) = if why.state.open { ("open", "shut") } else { ("shut", "open") };
    let day = crate::wording::plain_date(date);
    let reason = match (why.state.rule, why.state.open) {
        (Some(rule), false) if why.state.asked => {
            format!("it was asked for ({}), but a rule kept it shut: {rule}", why_open(why.state.reason, units))
        }
        (Some(rule), false) => {
            format!("{}, and a rule would have kept it shut anyway: {rule}", why_shut(why.state.reason, units))
        }
        (None, false) => format!("no rule shut it: {}", why_shut(why.state.reason, units)),
        (_, true) => why_open(why.state.reason, units),
    };
    let head = format!("Why was {plot} {stood} on {day}? {}.", crate::wording::capital(&reason));
    if !why.could_be_inverted {
        return paragraph(&format!("{head} It could not have been {other} that day: rules come before gates."));
    }
    let changes: Vec<String> =
        why.measures.iter().filter_map(|&(m, was, would)| change(m, was, would, units)).collect();
    let tail = if changes.is_empty() {
        format!(
            "Had it been {other} that day, nothing that is measured would have come out differently by the end of the run."
        )
    } else {
        format!("Had it been {other} that day, then by the end of the run:")
    };
    let mut out = paragraph(&format!("{head} {tail}"));
    for line in changes {
        out += &wrap(&line, WIDTH - 4)
            .iter()
            .enumerate()
            .map(|(i, l)| format!("{}{l}\n", if i == 0 { "  - " } else { "    " }))
            .collect::<String>();
    }
    let (was, would) = why.cover_later;
    if was.is_finite() && would.is_finite() {
        let (was_text, would_text) = (figure(100.0 * was, 1), figure(100.0 * would, 1));
        let days = crate::season::LATER_DAYS;
        out += &paragraph(&if was_text == would_text {
            format!("Cover of {plot} {days} days later: {was_text} % either way.")
        } else {
            format!("Cover of {plot} {days} days later: {would_text} % instead of {was_text} %.")
        });
    }
    out
}

/// Share of a measure below which one day's difference is not worth a line; our own judgement.
const WORTH_A_LINE: f64 = 1e-3;

/// "feed saved: 31.2 kg/yr instead of 31.9 (−0.7), worse"; `None` if it shows no difference.
fn change(measure: Measure, was: f64, would: f64, units: Units) -> Option<String> {
    // One decimal more than a table: a single day moves little.
    let decimals = units.decimals(measure.decimals() + 1, measure.unit());
    let (was, would) = (units.value(was, measure.unit()), units.value(would, measure.unit()));
    let (was_text, would_text) = (figure(was, decimals), figure(would, decimals));
    if was_text == would_text || (would - was).abs() < WORTH_A_LINE * was.abs() {
        return None;
    }
    let better = match (measure.better(), would > was) {
        (Better::Neither, _) => "",
        (Better::More, true) | (Better::Less, false) => ", better",
        _ => ", worse",
    };
    Some(format!(
        "{}: {would_text} {} instead of {was_text} ({}){better}",
        measure.plain(),
        units.unit(measure.unit()),
        signed(would - was, decimals)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diary::GateState;
    use sim_engine::gates::reason::{Reason, Veto};

    #[test]
    fn tables_fit_and_names_wrap() {
        let mut table = TextTable::new(&[
            (TextColumn::Words, "name"),
            (TextColumn::Numbers, "a number that is long"),
            (TextColumn::Numbers, "x"),
        ]);
        table.row(["a-very-long-name-".repeat(8), "1.0".into(), "2".into()]);
        let text = table.text();
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH), "{text}");
        assert!(text.lines().count() > 4);
        assert!(text.lines().nth(2).unwrap().ends_with("1.0  2"));
    }

    #[test]
    fn text_wraps_at_spaces() {
        assert_eq!(wrap("one two three", 8), ["one two", "three"]);
        assert_eq!(wrap("hyphen-ated", 8), ["hyphen-", "ated"]);
        assert_eq!(wrap("", 8), Vec::<String>::new());
    }

    fn why(open: bool, rule: Option<Veto>, could_be_inverted: bool) -> Why {
        let state = GateState { open, reason: Reason::Turn { day: 3.0, stay: 14.0 }, rule, asked: open, cover: 0.8 };
        let measures =
            vec![(Measure::FeedSaved, 31.0, 30.5), (Measure::CoverLoss, 5.0, 5.0001), (Measure::GateMoves, 50.0, 52.0)];
        Why { state, could_be_inverted, measures, cover_later: (0.81, 0.84) }
    }

    #[test]
    fn why_says_reason_and_differences_with_sign_and_unit() {
        let date = jiff::civil::date(2027, 5, 12);
        let text = why_text("plum-slope", date, &why(true, None, true), Units::Metric);
        assert!(text.starts_with("Why was plum-slope open on"), "{text}");
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains("Its turn, day 3 of 14. Had it been shut that day"), "{text}");
        assert!(text.contains("feed saved: 30.50 kg/yr instead of 31.00 (−0.50), worse"), "{text}");
        assert!(!text.contains("ground cover lost"), "{text}");
        assert!(text.contains("84.0 % instead of 81.0 %"), "{text}");
    }

    #[test]
    fn why_says_when_a_rule_decides() {
        let date = jiff::civil::date(2027, 5, 12);
        let text = why_text("beds", date, &why(false, Some(Veto::Housing), false), Units::Metric).replace('\n', " ");
        assert!(text.contains("could not have been open"), "{text}");
    }
}
