//! The table of a season.

use super::layout::{TextColumn, TextTable};
use crate::units::Units;
use crate::wording::measured;
use sim_engine::measures::{Measure, Measures};

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
