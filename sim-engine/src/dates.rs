//! Dates: days of a run, days of every year, days since the winter solstice. Pure arithmetic.

use crate::site::When;
use jiff::ToSpan;
use jiff::civil::Date;

/// The date `day` days after `start`, which is day `day` of a run that starts there.
#[must_use]
pub fn date_of(start: Date, day: usize) -> Date {
    start.saturating_add(i64::try_from(day).unwrap_or(i64::MAX).min(1_000_000).days())
}

/// The day on which `date` falls of a run of so many days; `None` before its start and after its end.
#[must_use]
pub fn day_of(start: Date, days: usize, date: Date) -> Option<usize> {
    usize::try_from(days_between(start, date)).ok().filter(|day| *day < days)
}

/// Whole days from `from` to `to`, negative if `to` is earlier.
#[must_use]
pub fn days_between(from: Date, to: Date) -> i32 {
    let span = to.duration_since(from);
    (span.as_secs() / 86_400) as i32
}

/// Days of so many years from `start` on.
#[must_use]
pub fn days_of_years(start: Date, years: u32) -> usize {
    days_between(start, start.saturating_add(i64::from(years).years())).unsigned_abs() as usize
}

/// The winter solstice of a year: 21 December in the north, 21 June in the south.
fn winter_solstice(year: i16, latitude_deg: f64) -> Date {
    let month = if latitude_deg >= 0.0 { 12 } else { 6 };
    jiff::civil::date(year, month, 21)
}

/// The winter solstice on `date` or the last before it.
#[must_use]
pub fn last_solstice(date: Date, latitude_deg: f64) -> Date {
    let this_year = winter_solstice(date.year(), latitude_deg);
    if date >= this_year { this_year } else { winter_solstice(date.year() - 1, latitude_deg) }
}

/// Days since the last winter solstice: 21 December in the north, 21 June in the south.
#[must_use]
pub fn days_since_solstice(date: Date, latitude_deg: f64) -> i32 {
    days_between(last_solstice(date, latitude_deg), date)
}

/// A date as a day of every year.
#[must_use]
pub fn yearly(date: Date) -> When {
    When::Yearly { month: date.month(), day: date.day() }
}

/// The day in a year, or the one date; 29 February falls on the 28th where there is none.
#[must_use]
pub fn in_year(when: When, year: i16) -> Option<Date> {
    match when {
        When::On(date) => Some(date),
        When::Yearly { month, day } => Date::new(year, month, day).or_else(|_| Date::new(year, month, day - 1)).ok(),
    }
}

/// Whether `when` comes on this date.
#[must_use]
pub fn falls_on(when: When, date: Date) -> bool {
    in_year(when, date.year()) == Some(date)
}

/// The first date of `when` on or after `date`; `None` where it never comes again.
#[must_use]
pub fn next_on_or_after(when: When, date: Date) -> Option<Date> {
    let coming = |year: i16| in_year(when, year).filter(|day| *day >= date);
    coming(date.year()).or_else(|| coming(date.year() + 1))
}

/// The last date of `when` before `date`; `None` where it has never come.
#[must_use]
pub fn last_before(when: When, date: Date) -> Option<Date> {
    let gone = |year: i16| in_year(when, year).filter(|day| *day < date);
    gone(date.year()).or_else(|| gone(date.year() - 1))
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

/// First and last days of a window that touch the days from `from` to `to`; a window with years
/// is given wherever it lies.
#[must_use]
pub fn spans(window: (When, When), from: Date, to: Date) -> Vec<(Date, Date)> {
    if let (When::On(first), When::On(last)) = window {
        return vec![(first, last)];
    }
    let span = |year: i16| {
        let (first, last) = (in_year(window.0, year)?, in_year(window.1, year)?);
        Some((first, if last < first { in_year(window.1, year + 1)? } else { last }))
    };
    let years = (from.year() - 1)..=(to.year() + 1);
    years.filter_map(span).filter(|(first, last)| *last >= from && *first <= to).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const LEAP_DAY: When = When::Yearly { month: 2, day: 29 };

    #[test]
    fn the_last_time_before_a_date_is_before_it() {
        let on = When::Yearly { month: 10, day: 5 };
        assert_eq!(last_before(on, date(2027, 3, 1)), Some(date(2026, 10, 5)));
        assert_eq!(last_before(on, date(2027, 10, 5)), Some(date(2026, 10, 5)));
        assert_eq!(last_before(on, date(2027, 10, 6)), Some(date(2027, 10, 5)));
        assert_eq!(last_before(LEAP_DAY, date(2027, 3, 1)), Some(date(2027, 2, 28)));
        assert_eq!(last_before(When::On(date(2027, 3, 1)), date(2027, 3, 1)), None);
    }

    #[test]
    fn days_of_a_run_count_from_its_start() {
        assert_eq!(date_of(date(2027, 12, 30), 3), date(2028, 1, 2));
        assert_eq!(day_of(date(2027, 12, 30), 4, date(2028, 1, 2)), Some(3));
        assert_eq!(day_of(date(2027, 12, 30), 3, date(2028, 1, 2)), None);
        assert_eq!(day_of(date(2028, 1, 2), 3, date(2027, 12, 30)), None);
        assert_eq!(days_of_years(date(2027, 3, 1), 3), 1096);
    }

    #[test]
    fn solstice_counts_in_either_hemisphere() {
        assert_eq!(days_since_solstice(date(2027, 3, 1), 50.0), 70);
        assert_eq!(days_since_solstice(date(2027, 12, 21), 50.0), 0);
        assert_eq!(days_since_solstice(date(2027, 8, 30), -35.0), 70);
    }

    #[test]
    fn yearly_dates_come_again_and_leap_days_fall_back() {
        assert_eq!(next_on_or_after(LEAP_DAY, date(2027, 1, 1)), Some(date(2027, 2, 28)));
        assert_eq!(next_on_or_after(LEAP_DAY, date(2027, 3, 1)), Some(date(2028, 2, 29)));
        assert_eq!(next_on_or_after(When::On(date(2027, 1, 1)), date(2027, 1, 2)), None);
    }

    #[test]
    fn a_leap_day_is_kept_in_every_year() {
        assert!(falls_on(LEAP_DAY, date(2027, 2, 28)) && falls_on(LEAP_DAY, date(2028, 2, 29)));
        assert!(!falls_on(LEAP_DAY, date(2028, 2, 28)));
        assert!(!falls_on(When::On(date(2027, 5, 1)), date(2028, 5, 1)));
    }

    #[test]
    fn a_yearly_window_runs_over_the_new_year() {
        let (from, to) = (When::Yearly { month: 10, day: 5 }, When::Yearly { month: 2, day: 10 });
        let winter = (date(2027, 10, 5), date(2028, 2, 10));
        assert_eq!(spans((from, to), date(2027, 3, 1), date(2028, 2, 28)), vec![winter]);
        assert!(going_on(from, to, date(2028, 1, 1)) && going_on(from, to, winter.1));
        assert!(!going_on(from, to, winter.0) && !going_on(from, to, date(2028, 3, 1)));
    }
}
