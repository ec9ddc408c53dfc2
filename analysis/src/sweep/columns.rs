//! The table of a sweep: its columns, and the values of a row. CSV and Parquet take both from here.

use super::SweepPlan;
use super::row::Row;
use super::tally::Tally;
use sim_engine::measures::Measure;

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
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
pub struct Column {
    /// Name, with the unit in brackets: `aim[points]`.
    pub name: String,
    /// What stands in it.
    pub kind: Kind,
}

/// One value of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value<'v> {
    /// Of [`Kind::Count`].
    Count(u64),
    /// Of [`Kind::Number`]; blank unless finite.
    Number(f64),
    /// Of [`Kind::Text`].
    Text(&'v str),
    /// Of [`Kind::Flag`].
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
pub fn columns(plan: &SweepPlan) -> Vec<Column> {
    let column = |name: &str, unit: &str, kind: Kind| {
        let name = if unit.is_empty() { name.to_owned() } else { format!("{name}[{unit}]") };
        Column { name, kind }
    };
    let mut all = vec![column("cell", "", Kind::Count), column("strategy", "", Kind::Text)];
    all.extend(plan.axes.iter().map(|axis| column(&axis.key, &axis.unit, Kind::Number)));
    all.extend([column("draws", "", Kind::Count), column("holds", "", Kind::Flag)]);
    all.extend(["aim", "aim_low", "aim_high"].map(|name| column(name, "points", Kind::Number)));
    all.push(column("held_all", "", Kind::Count));
    all.extend(plan.limits.iter().map(|limit| column(&format!("held_{}", limit.name), "", Kind::Count)));
    for measure in Measure::ALL {
        all.push(column(measure.name(), measure.unit(), Kind::Number));
        all.push(column(&format!("{}_sd", measure.name()), measure.unit(), Kind::Number));
    }
    all
}

/// The values of a row, in the order of [`columns`].
#[must_use]
pub fn record<'v>(plan: &'v SweepPlan, row: &Row, tally: &Tally) -> Vec<Value<'v>> {
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
