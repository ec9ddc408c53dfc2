//! Dates as the model counts them: yearly dates, days between, days since the winter solstice.

use crate::site::When;
use jiff::ToSpan;
use jiff::civil::Date;

/// The date `day` days after `start`.
#[must_use]
pub fn date_of(start: Date, day: usize) -> Date {
    start.saturating_add(i64::try_from(day).unwrap_or(i64::MAX).min(1_000_000).days())
}

/// Days since the last winter solstice: 21 December in the north, 21 June in the south.
#[must_use]
pub fn days_since_solstice(date: Date, latitude_deg: f64) -> i32 {
    let month = if latitude_deg >= 0.0 { 12 } else { 6 };
    let this_year = jiff::civil::date(date.year(), month, 21);
    let solstice = if date >= this_year { this_year } else { jiff::civil::date(date.year() - 1, month, 21) };
    days_between(solstice, date)
}

/// Whole days from `from` to `to`, negative if `to` is earlier.
#[must_use]
pub fn days_between(from: Date, to: Date) -> i32 {
    let span = to.duration_since(from);
    (span.as_secs() / 86_400) as i32
}

/// The first date of `when` on or after `date`; `None` where it never comes again.
#[must_use]
pub fn next_on_or_after(when: When, date: Date) -> Option<Date> {
    match when {
        When::On(on) => (on >= date).then_some(on),
        When::Yearly { month, day } => {
            let here = in_year(month, day, date.year());
            Some(if here >= date { here } else { in_year(month, day, date.year() + 1) })
        }
    }
}

/// A day of a year; 29 February falls back to the 28th.
pub fn in_year(month: i8, day: i8, year: i16) -> Date {
    Date::new(year, month, day)
        .or_else(|_| Date::new(year, month, day - 1))
        .unwrap_or_else(|_| jiff::civil::date(year, month, 28))
}

/// Whether `[from, to]` is going on at `date`; the day it began is then past.
#[must_use]
pub fn going_on(from: When, to: When, date: Date) -> bool {
    let Some(end) = next_on_or_after(to, date) else { return false };
    match from {
        When::On(begin) => begin < date,
        // The next beginning comes after the next end: the last one is behind us.
        When::Yearly { .. } => next_on_or_after(from, date).is_none_or(|begin| begin > end),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn solstice_counts_in_either_hemisphere() {
        assert_eq!(days_since_solstice(date(2027, 3, 1), 50.0), 70);
        assert_eq!(days_since_solstice(date(2027, 12, 21), 50.0), 0);
        assert_eq!(days_since_solstice(date(2027, 8, 30), -35.0), 70);
    }

    #[test]
    fn yearly_dates_come_again_and_leap_days_fall_back() {
        let when = When::Yearly { month: 2, day: 29 };
        assert_eq!(next_on_or_after(when, date(2027, 1, 1)), Some(date(2027, 2, 28)));
        assert_eq!(next_on_or_after(when, date(2027, 3, 1)), Some(date(2028, 2, 29)));
        assert_eq!(next_on_or_after(When::On(date(2027, 1, 1)), date(2027, 1, 2)), None);
    }
}
