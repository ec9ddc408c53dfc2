//! The table of a sweep: its columns, and the values of a row. CSV and Parquet take both from here.

use super::SweepPlan;
use super::row::SweepRow;
use super::tally::Tally;
use sim_engine::measures::Measure;

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnKind {
    /// Whole numbers from 0.
    Count,
    /// Numbers; blank where there is none.
    Number,
    /// Words.
    Text,
    /// True or false.
    Flag,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SweepColumn {
    /// Name, with the unit in brackets: `aim[points]`.
    pub name: String,
    /// What stands in it.
    pub kind: ColumnKind,
}

/// One value of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value<'v> {
    /// Of [`ColumnKind::Count`].
    Count(u64),
    /// Of [`ColumnKind::Number`]; blank unless finite.
    Number(f64),
    /// Of [`ColumnKind::Text`].
    Text(&'v str),
    /// Of [`ColumnKind::Flag`].
    Flag(bool),
}

impl std::fmt::Display for Value<'_> {
    /// As it stands in CSV: numbers in full, nothing for a blank.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Count(count) => write!(f, "{count}"),
            Self::Number(number) if number.is_finite() => write!(f, "{number}"),
            Self::Number(_) => Ok(()),
            Self::Text(text) => write!(f, "{text}"),
            Self::Flag(flag) => write!(f, "{flag}"),
        }
    }
}

/// The columns in their order.
#[must_use]
pub fn columns(plan: &SweepPlan) -> Vec<SweepColumn> {
    let column = |name: &str, unit: &str, kind: ColumnKind| {
        let name = if unit.is_empty() { name.to_owned() } else { format!("{name}[{unit}]") };
        SweepColumn { name, kind }
    };
    let mut all = vec![column("cell", "", ColumnKind::Count), column("strategy", "", ColumnKind::Text)];
    all.extend(plan.axes.iter().map(|axis| column(&axis.key, &axis.unit, ColumnKind::Number)));
    all.extend([column("draws", "", ColumnKind::Count), column("holds", "", ColumnKind::Flag)]);
    all.extend(
        ["aim", "aim_low", "aim_high"].map(|name| column(name, &format!("{}/yr", plan.aim_unit), ColumnKind::Number)),
    );
    all.push(column("held_all", "", ColumnKind::Count));
    all.extend(plan.limits.iter().map(|limit| column(&format!("held_{}", limit.name), "", ColumnKind::Count)));
    for measure in Measure::ALL {
        all.push(column(measure.name(), measure.unit(), ColumnKind::Number));
        all.push(column(&format!("{}_sd", measure.name()), measure.unit(), ColumnKind::Number));
    }
    all
}

/// The values of a row, in the order of [`columns`].
#[must_use]
pub fn record<'v>(plan: &'v SweepPlan, row: &SweepRow, tally: &Tally) -> Vec<Value<'v>> {
    let mut record = vec![Value::Count(row.cell), Value::Text(&plan.strategies[row.strategy])];
    record.extend(row.values.iter().map(|&value| Value::Number(value)));
    record.extend([Value::Count(tally.draws), Value::Flag(row.holds)]);
    record.extend([row.aim.mean, row.aim.low, row.aim.high].map(Value::Number));
    record.push(Value::Count(tally.all_held));
    record.extend(tally.held.iter().map(|&held| Value::Count(held)));
    for moments in &tally.measures {
        record.extend([moments.mean(), moments.deviation()].map(Value::Number));
    }
    record
}
