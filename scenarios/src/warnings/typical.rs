//! The typical year of a site's weather, month by month: enough to tell whether a crop can
//! ripen or a pest can fly there, not to run anything.

use crate::weather_source::WeatherSource;
use jiff::ToSpan;
use jiff::civil::Date;
use sim_engine::dates::{in_year, last_solstice, spans};
use sim_engine::site::When;
use sim_engine::weather::DayWeather;
use sim_engine::weather::climate::Climate;
use sim_engine::weather::degree_days::{CutOff, single_sine};

/// A common year in which to look at what comes every year.
const YEAR: i16 = 2027;

/// Mean temperatures by month, January first, C.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Typical {
    lowest_c: [f64; 12],
    highest_c: [f64; 12],
}

impl Typical {
    /// Of the weather of a site.
    pub fn of(weather: &WeatherSource) -> Self {
        match weather {
            WeatherSource::Climate { climate, .. } => Self::of_climate(climate),
            WeatherSource::Fitted { fitted, .. } => Self::of_climate(&fitted.climate),
            WeatherSource::Years { years, .. } => Self::of_days(&years.all().concat()),
        }
    }

    /// Of a climate.
    pub fn of_climate(climate: &Climate) -> Self {
        let mean = |wet: f64, dry: f64, share: f64| share * wet + (1.0 - share) * dry;
        let of = |pick: fn(&sim_engine::weather::climate::TemperatureStats) -> f64| {
            std::array::from_fn(|month| {
                let month = &climate.months[month];
                mean(pick(&month.wet), pick(&month.dry), month.wet_share())
            })
        };
        Self { lowest_c: of(|stats| stats.tmin_mean_c), highest_c: of(|stats| stats.tmax_mean_c) }
    }

    fn of_days(days: &[DayWeather]) -> Self {
        let mean = |month: usize, pick: fn(&DayWeather) -> f64| {
            let of: Vec<f64> = days.iter().filter(|day| day.date.month() as usize == month + 1).map(pick).collect();
            of.iter().sum::<f64>() / of.len().max(1) as f64
        };
        Self {
            lowest_c: std::array::from_fn(|month| mean(month, |day| day.tmin_c)),
            highest_c: std::array::from_fn(|month| mean(month, |day| day.tmax_c)),
        }
    }

    /// The same on the other side of the equator.
    pub fn turned(&self) -> Self {
        let mut turned = self.clone();
        turned.lowest_c.rotate_left(6);
        turned.highest_c.rotate_left(6);
        turned
    }

    fn month(date: Date) -> usize {
        date.month().unsigned_abs() as usize - 1
    }

    /// Mean temperature of a month from 0, C.
    pub fn mean_c(&self, month: usize) -> f64 {
        f64::midpoint(self.lowest_c[month % 12], self.highest_c[month % 12])
    }

    /// Mean of the lowest temperatures around a date, C.
    pub fn lowest_c(&self, date: Date) -> f64 {
        self.lowest_c[Self::month(date)]
    }

    /// Mean temperature from one date to another, both included, C.
    pub fn mean_between_c(&self, from: Date, to: Date) -> f64 {
        let days: Vec<f64> = days(from, to).map(|day| self.mean_c(Self::month(day))).collect();
        days.iter().sum::<f64>() / days.len().max(1) as f64
    }

    /// Degree-days above a base from one date to another, both included, C d.
    pub fn degree_days(&self, from: Date, to: Date, base_c: f64) -> f64 {
        days(from, to).map(|day| self.of_day(day, base_c)).sum()
    }

    fn of_day(&self, day: Date, base_c: f64) -> f64 {
        let month = Self::month(day);
        single_sine(self.lowest_c[month], self.highest_c[month], base_c, CutOff::None)
    }

    /// The day on which degree-days from a date reach an amount, if they do within a year.
    pub fn reaches(&self, from: Date, base_c: f64, amount: f64) -> Option<Date> {
        let mut sum = 0.0;
        days(from, from.saturating_add(1.year())).find(|day| {
            sum += self.of_day(*day, base_c);
            sum >= amount
        })
    }
}

fn days(from: Date, to: Date) -> impl Iterator<Item = Date> {
    std::iter::successors(Some(from), |day| day.tomorrow().ok()).take_while(move |day| *day <= to)
}

/// A window as dates of one year; one that runs over the new year ends in the next.
pub(crate) fn dates(window: (When, When)) -> Option<(Date, Date)> {
    let first = in_year(window.0, YEAR)?;
    spans(window, first, first).into_iter().find(|(from, _)| *from == first)
}

/// The date so many days after the winter solstice before the year's spring.
pub(super) fn after_solstice(days: f64, latitude_deg: f64) -> Date {
    let solstice = last_solstice(Date::constant(YEAR, 6, 21), latitude_deg);
    solstice.saturating_add((days as i64).days())
}
