//! The table of a sweep.

use super::layout::{TextColumn, TextTable};
use super::wrapping::paragraph;
use crate::sweep::axis::Axis;
use crate::sweep::row::SweepRow;
use crate::sweep::rows::SweepView;
use crate::wording::{interval, possible_years};

/// What stands out in a sweep: for each strategy in how many cells it holds and where it does best.
#[must_use]
pub fn sweep_table(view: &SweepView) -> String {
    let aim = format!("best aim where\nthey hold, {}/yr\n(95 % interval)", view.plan.aim_unit);
    let mut table = TextTable::new(&[
        (TextColumn::Words, "strategy"),
        (TextColumn::Numbers, "limits hold\nin cells"),
        (TextColumn::Numbers, &aim),
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
    let years = possible_years(view.plan.draws as usize);
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
