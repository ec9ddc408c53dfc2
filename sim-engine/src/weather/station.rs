//! What a station's days must be like before anything is made of them.

use super::DayWeather;
use jiff::civil::Date;

/// A fault in a station's series, with the day it is on.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StationError {
    /// No days at all.
    #[error("the weather series has no days; give a file with one line a day")]
    Empty,
    /// A day does not follow the one before.
    #[error(
        "the weather series jumps from {before} to {after}; days must follow one another: fill the gap or cut the file there"
    )]
    Gap {
        /// Last day before the fault.
        before: Date,
        /// Day found where the next was expected.
        after: Date,
    },
    /// A value is not a number or out of its range.
    #[error("weather of {date}: {what} is {value}, outside {low} to {high}; correct it in the file")]
    OutOfRange {
        /// The day.
        date: Date,
        /// Which value, with its unit.
        what: &'static str,
        /// The value.
        value: f64,
        /// Least value taken.
        low: f64,
        /// Greatest value taken.
        high: f64,
    },
    /// The lowest temperature is above the highest.
    #[error(
        "weather of {date}: lowest temperature {tmin_c} °C is above the highest, {tmax_c} °C; are the columns swapped?"
    )]
    Swapped {
        /// The day.
        date: Date,
        /// Lowest temperature given, °C.
        tmin_c: f64,
        /// Highest temperature given, °C.
        tmax_c: f64,
    },
}

/// Name of a month given as an index, 0 to 11; beyond that, December.
#[must_use]
pub(super) fn month_name(index: usize) -> &'static str {
    super::MONTH_NAMES[index.min(11)]
}

/// Ranges no place on earth leaves (world records, rounded outward; from memory).
const TEMPERATURE_C: (f64, f64) = (-90.0, 60.0);
const RAIN_MM: (f64, f64) = (0.0, 2_000.0);
const RADIATION_MJ_M2: (f64, f64) = (0.0, 50.0);
const HUMIDITY_PCT: (f64, f64) = (0.0, 100.0);
const WIND_M_S: (f64, f64) = (0.0, 100.0);

/// Checks that days follow one another and hold possible values.
///
/// # Errors
/// The first fault met, with its day and a remedy.
pub fn check(days: &[DayWeather]) -> Result<(), StationError> {
    if days.is_empty() {
        return Err(StationError::Empty);
    }
    days.iter().try_for_each(check_day)?;
    for pair in days.windows(2) {
        let (before, after) = (pair[0].date, pair[1].date);
        if before.tomorrow().ok() != Some(after) {
            return Err(StationError::Gap { before, after });
        }
    }
    Ok(())
}

fn check_day(day: &DayWeather) -> Result<(), StationError> {
    let within = |what, value: f64, (low, high): (f64, f64)| {
        let fine = (low..=high).contains(&value);
        if fine { Ok(()) } else { Err(StationError::OutOfRange { date: day.date, what, value, low, high }) }
    };
    within("lowest temperature, °C,", day.tmin_c, TEMPERATURE_C)?;
    within("highest temperature, °C,", day.tmax_c, TEMPERATURE_C)?;
    within("rain, mm,", day.rain_mm, RAIN_MM)?;
    day.radiation_mj_m2.map_or(Ok(()), |v| within("radiation, MJ/m²,", v, RADIATION_MJ_M2))?;
    day.humidity_pct.map_or(Ok(()), |v| within("humidity, %,", v, HUMIDITY_PCT))?;
    day.wind_m_s.map_or(Ok(()), |v| within("wind, m/s,", v, WIND_M_S))?;
    if day.tmin_c > day.tmax_c {
        return Err(StationError::Swapped { date: day.date, tmin_c: day.tmin_c, tmax_c: day.tmax_c });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::seattle;
    use jiff::civil::date;

    #[test]
    fn a_real_station_passes() {
        assert_eq!(check(&seattle()), Ok(()));
    }

    #[test]
    fn faults_name_their_day() {
        let day = |d| DayWeather::new(date(2021, 5, d), 5.0, 15.0, 0.0);
        assert_eq!(check(&[]), Err(StationError::Empty));
        let gap = check(&[day(1), day(3)]).unwrap_err();
        assert!(gap.to_string().contains("from 2021-05-01 to 2021-05-03"), "{gap}");
        let nan = check(&[DayWeather { rain_mm: f64::NAN, ..day(1) }]).unwrap_err();
        assert!(nan.to_string().starts_with("weather of 2021-05-01: rain, mm, is NaN"), "{nan}");
        let swapped = check(&[DayWeather { tmin_c: 16.0, ..day(1) }]).unwrap_err();
        assert!(swapped.to_string().contains("are the columns swapped?"), "{swapped}");
        let steady = DayWeather { tmin_c: 15.0, ..day(1) };
        assert_eq!(check(&[steady]), Ok(()), "a day without any swing is possible");
    }

    /// The ends of a range are possible, what lies past them is not.
    #[test]
    fn what_no_place_on_earth_has_is_refused() {
        let day = DayWeather::new(date(2021, 5, 1), -90.0, 60.0, 2_000.0);
        let measured =
            DayWeather { radiation_mj_m2: Some(50.0), humidity_pct: Some(100.0), wind_m_s: Some(100.0), ..day.clone() };
        assert_eq!(check(core::slice::from_ref(&day)), Ok(()));
        assert_eq!(check(core::slice::from_ref(&measured)), Ok(()));
        for fault in [
            DayWeather { tmin_c: -90.1, ..day.clone() },
            DayWeather { tmax_c: 60.1, ..day.clone() },
            DayWeather { rain_mm: -0.1, ..day },
            DayWeather { radiation_mj_m2: Some(50.1), ..measured.clone() },
            DayWeather { humidity_pct: Some(100.1), ..measured.clone() },
            DayWeather { wind_m_s: Some(-0.1), ..measured },
        ] {
            assert!(matches!(check(&[fault]), Err(StationError::OutOfRange { .. })));
        }
    }
}
