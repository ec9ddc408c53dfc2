//! A station's own whole years, for sites that want no generated weather.
//!
//! A year runs from a month and day to the day before it a year later, so it holds
//! 365 or 366 days; a 29 February stays where it was. When a draw is laid on the
//! calendar of a run, days are matched by month and day: a 29 February of the station
//! is left out where the run has none, and where the run has one and the station not, its 28
//! February stands for both.

use super::DayWeather;
use super::station::{self, StationError};
use jiff::civil::Date;

/// Why no years could be cut.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum YearsError {
    /// A fault in the series.
    #[error(transparent)]
    Station(#[from] StationError),
    /// A year cannot start on this day.
    #[error("a year cannot start on day {day} of month {month}, which not every year has")]
    Start {
        /// Month, 1 to 12.
        month: i8,
        /// Day of the month.
        day: i8,
    },
    /// The series holds no whole year.
    #[error("the weather series from {first} to {last} holds no whole year starting on day {day} of month {month}")]
    NoWholeYear {
        /// First day of the series.
        first: Date,
        /// Last day of the series.
        last: Date,
        /// Month, 1 to 12.
        month: i8,
        /// Day of the month.
        day: i8,
    },
}

/// The whole years of a series.
#[derive(Clone, Debug, PartialEq)]
pub struct Years {
    years: Vec<Vec<DayWeather>>,
}

impl YearsError {
    /// What to do about it.
    #[must_use]
    pub fn remedy(&self) -> &'static str {
        match self {
            YearsError::Station(_) => "Correct the file.",
            YearsError::Start { .. } => "Start the run on a day every year has, such as 1 March.",
            YearsError::NoWholeYear { .. } => {
                "Give a longer file, two years at least; or take a climate of the library."
            }
        }
    }
}

impl Years {
    /// Cuts a series into whole years that start on a month and day.
    ///
    /// # Errors
    /// A faulty series, an impossible start, or no whole year in the series.
    pub fn cut(days: &[DayWeather], month: i8, day: i8) -> Result<Self, YearsError> {
        station::check(days)?;
        Self::whole(days, month, day)
    }

    /// As [`Self::cut`], of days that need no check: a generator may draw what no station has measured.
    pub(super) fn whole(days: &[DayWeather], month: i8, day: i8) -> Result<Self, YearsError> {
        // A common year: a start on 29 February is refused here.
        Date::new(2001, month, day).map_err(|_| YearsError::Start { month, day })?;
        let starts: Vec<usize> = (0..days.len())
            .filter(|&i| days[i].date.month() == month && days[i].date.day() == day)
            .chain(ends_a_year(days, month, day).then_some(days.len()))
            .collect();
        let years: Vec<_> = starts.windows(2).map(|w| days[w[0]..w[1]].to_vec()).collect();
        match (days.first(), days.last()) {
            (Some(first), Some(last)) if years.is_empty() => {
                Err(YearsError::NoWholeYear { first: first.date, last: last.date, month, day })
            }
            _ => Ok(Self { years }),
        }
    }

    /// Number of whole years, at least 1; so many draws differ.
    #[must_use]
    pub fn count(&self) -> usize {
        self.years.len()
    }

    /// The years as they were, oldest first.
    #[must_use]
    pub fn all(&self) -> &[Vec<DayWeather>] {
        &self.years
    }

    /// `days` days from `start` on: draw i begins with year i of the station, goes on with the
    /// next, and wraps from the last to the first. `start` should be on the month and day of the
    /// cut; the first days are otherwise those of the station's year from that date on.
    #[must_use]
    pub fn draw(&self, draw: u64, start: Date, days: usize) -> Vec<DayWeather> {
        let count = self.years.len() as u64;
        let mut year = (draw % count) as usize;
        let mut date = start;
        let mut at = self.index_in(year, date);
        let mut out = Vec::with_capacity(days);
        for _ in 0..days {
            out.push(DayWeather { date, ..self.years[year][at].clone() });
            date = date.tomorrow().unwrap_or(date);
            let next = self.index_in(year, date);
            if next < at {
                year = (year + 1) % self.years.len();
            }
            at = self.index_in(year, date);
        }
        out
    }

    /// Where in a year of the station the month and day of `date` stand.
    fn index_in(&self, year: usize, date: Date) -> usize {
        let days = &self.years[year];
        let key = |d: Date| (d.month(), d.day());
        let first = key(days[0].date);
        // Order of the days within a year that starts at `first`.
        let order = |d: Date| (key(d) < first, key(d));
        days.partition_point(|d| order(d.date) <= order(date)).saturating_sub(1)
    }
}

/// Whether the day after the series is the start of a year.
fn ends_a_year(days: &[DayWeather], month: i8, day: i8) -> bool {
    let next = days.last().and_then(|last| last.date.tomorrow().ok());
    next.is_some_and(|d| d.month() == month && d.day() == day)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::seattle;
    use jiff::civil::date;

    #[test]
    fn calendar_years_of_a_real_station() {
        let years = Years::cut(&seattle(), 1, 1).unwrap();
        let lengths: Vec<usize> = years.all().iter().map(Vec::len).collect();
        assert_eq!(lengths, [366, 365, 365, 365]);
    }

    #[test]
    fn part_years_are_left_out() {
        let years = Years::cut(&seattle(), 3, 1).unwrap();
        assert_eq!(years.count(), 3);
        assert_eq!(years.all()[0][0].date, date(2012, 3, 1));
    }

    #[test]
    fn a_draw_keeps_month_and_day_and_wraps() {
        let station = seattle();
        let years = Years::cut(&station, 3, 1).unwrap();
        let drawn = years.draw(5, date(2026, 3, 1), 800);
        // Draw 5 of 3 years starts with the third, March 2014 on, and goes on with the first, 2012.
        assert_eq!(drawn[0].tmax_c, years.all()[2][0].tmax_c);
        assert_eq!(drawn[365].tmax_c, years.all()[0][0].tmax_c);
        assert_eq!(drawn[365].date, date(2027, 3, 1));
        for day in &drawn {
            let same = |s: &DayWeather| {
                (s.date.month(), s.date.day(), s.tmin_c, s.rain_mm)
                    == (day.date.month(), day.date.day(), day.tmin_c, day.rain_mm)
            };
            let stand_in = day.date.month() == 2 && day.date.day() == 29;
            assert!(stand_in || station.iter().any(same), "{}", day.date);
        }
    }

    #[test]
    fn leap_days_are_dropped_or_doubled() {
        let years = Years::cut(&seattle(), 1, 1).unwrap();
        // Station 2012 (leap) on 2021: the 59th day from the start on is 1 March.
        let common = years.draw(0, date(2021, 1, 1), 60);
        assert_eq!(common[59].tmax_c, years.all()[0][60].tmax_c);
        // Station 2013 on 2024 (leap): 29 February repeats the 28th.
        let leap = years.draw(1, date(2024, 1, 1), 61);
        assert_eq!(leap[59].tmax_c, leap[58].tmax_c);
        assert_eq!(leap[60].tmax_c, years.all()[1][59].tmax_c);
    }

    #[test]
    fn faults_are_told() {
        assert!(matches!(Years::cut(&seattle(), 2, 29), Err(YearsError::Start { .. })));
        let short = Years::cut(&seattle()[..300], 3, 1).unwrap_err();
        assert!(short.to_string().contains("holds no whole year"), "{short}");
    }
}
