//! Dates and names of months.

use jiff::civil::Date;
use sim_engine::weather::MONTH_NAMES;

/// Letters of a short name.
const SHORT: usize = 3;

/// "March", of 1 to 12.
#[must_use]
pub fn month_name(month: i8) -> &'static str {
    MONTH_NAMES.get((month - 1).unsigned_abs() as usize).copied().unwrap_or("")
}

/// "Mar".
#[must_use]
pub fn short_month_name(date: Date) -> &'static str {
    let name = month_name(date.month());
    name.get(..SHORT).unwrap_or(name)
}

/// "3 Mar 2026".
#[must_use]
pub fn plain_date(date: Date) -> String {
    format!("{} {} {}", date.day(), short_month_name(date), date.year())
}
