//! Moisture of the air and the heat that hens feel.
//!
//! Wet-bulb temperature: Stull 2011 (J. Appl. Meteorol. Climatol. 50:2267), at sea-level
//! pressure. Heat index for layers: Zulovich & DeShazer 1990 (from memory). Where humidity
//! was not measured, the dew point is taken a fixed offset below the night's lowest
//! temperature (FAO-56 eq. 48 and annex 6: none in humid, 2–3 °C in dry climates; from memory).

use super::DayWeather;
use super::degree_days::share_of_day_above;
use super::vapour::{mean_saturation_kpa, saturation_kpa};

/// Halvings of the temperature span when a heat-index threshold is turned into a temperature;
/// 20 of them leave less than 0.0001 °C.
const HALVINGS: u32 = 20;

/// Wet-bulb temperature in °C from temperature (°C) and relative humidity (%), Stull 2011.
///
/// Fitted for 5–99 % and -20 to 50 °C, within about 1 °C; humidity is held in that range
/// and the result is never above the temperature.
#[must_use]
pub fn wet_bulb_c(temperature_c: f64, humidity_pct: f64) -> f64 {
    let h = humidity_pct.clamp(5.0, 99.0);
    let root = h.sqrt();
    let wet = temperature_c * libm::atan(0.151_977 * (h + 8.313_659).sqrt()) + libm::atan(temperature_c + h)
        - libm::atan(h - 1.676_331)
        + 0.003_918_38 * h * root * libm::atan(0.023_101 * h)
        - 4.686_035;
    wet.min(temperature_c)
}

/// Temperature at which air of this vapour pressure (kPa, above 0) is saturated, °C: FAO-56 eq. 11 inverted.
#[must_use]
pub fn dew_point_c(vapour_kpa: f64) -> f64 {
    let log = libm::log(vapour_kpa / 0.6108);
    237.3 * log / (17.27 - log)
}

/// Relative humidity in percent at a temperature for a dew point, both in °C; at most 100.
#[must_use]
pub fn relative_humidity_pct(temperature_c: f64, dew_point_c: f64) -> f64 {
    (100.0 * saturation_kpa(dew_point_c) / saturation_kpa(temperature_c)).min(100.0)
}

/// Dew point of a day, °C: from its mean humidity if measured, else `offset_c` below the night's lowest.
#[must_use]
pub fn dew_point_of_day_c(day: &DayWeather, offset_c: f64) -> f64 {
    match day.humidity_pct {
        Some(humidity) if humidity > 0.0 => dew_point_c(mean_saturation_kpa(day.tmin_c, day.tmax_c) * humidity / 100.0),
        _ => day.tmin_c - offset_c,
    }
}

/// Heat index of laying hens, °C, from dry and wet bulb (Zulovich & DeShazer 1990; from memory).
#[must_use]
pub fn hen_heat_index_c(dry_bulb_c: f64, wet_bulb_c: f64) -> f64 {
    0.6 * dry_bulb_c + 0.4 * wet_bulb_c
}

/// Heat index of laying hens at a temperature in air of a given dew point, °C.
#[must_use]
pub fn hen_heat_index_at_c(temperature_c: f64, dew_point_c: f64) -> f64 {
    let humidity = relative_humidity_pct(temperature_c, dew_point_c);
    hen_heat_index_c(temperature_c, wet_bulb_c(temperature_c, humidity))
}

/// Hours of the day above a temperature, with a sine course between the day's extremes.
#[must_use]
pub fn hours_above(day: &DayWeather, threshold_c: f64) -> f64 {
    24.0 * share_of_day_above(day.tmin_c, day.tmax_c, threshold_c)
}

/// Hours of the day with a hen heat index above a threshold (°C).
///
/// The temperature runs as a sine between the extremes, the dew point stays: the index then
/// rises with temperature, and hours above it are hours above one temperature. `dew_offset_c`
/// as in [`dew_point_of_day_c`].
#[must_use]
pub fn hours_of_heat(day: &DayWeather, threshold_c: f64, dew_offset_c: f64) -> f64 {
    // The index is never above the temperature: cool days are told without it.
    if day.tmax_c <= threshold_c {
        return 0.0;
    }
    let dew_point = dew_point_of_day_c(day, dew_offset_c);
    let (mut low, mut high) = (day.tmin_c, day.tmax_c);
    if hen_heat_index_at_c(high, dew_point) <= threshold_c {
        return 0.0;
    }
    if hen_heat_index_at_c(low, dew_point) > threshold_c {
        return 24.0;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        let above = hen_heat_index_at_c(middle, dew_point) > threshold_c;
        (low, high) = if above { (low, middle) } else { (middle, high) };
    }
    hours_above(day, 0.5 * (low + high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::near;
    use jiff::civil::date;

    /// Stull 2011's own worked value: 20 °C and 50 % give 13.7 °C (from memory).
    #[test]
    fn wet_bulb_worked_value() {
        near(wet_bulb_c(20.0, 50.0), 13.7, 0.05);
    }

    /// Against the psychrometer equation of FAO-56 (eq. 15) at sea level, within Stull's 1 °C, and
    /// nearer where hens are hot.
    #[test]
    fn wet_bulb_agrees_with_the_psychrometer() {
        for dry in [0.0, 10.0, 20.0, 30.0, 40.0] {
            for humidity in [20.0, 50.0, 80.0, 95.0] {
                let wet = wet_bulb_c(dry, humidity);
                let vapour = crate::weather::vapour::vapour_from_psychrometer_kpa(dry, wet, 101.3, 0.000_662);
                let slope = crate::weather::vapour::slope_kpa_c(wet) + 0.067;
                let off_c = (vapour - saturation_kpa(dry) * humidity / 100.0) / slope;
                near(off_c, 0.0, if dry < 20.0 { 1.0 } else { 0.6 });
                assert!(wet <= dry);
            }
        }
    }

    #[test]
    fn heat_index_worked_values() {
        near(hen_heat_index_c(25.0, 20.0), 23.0, 1e-12);
        near(hen_heat_index_c(30.0, 24.0), 27.6, 1e-12);
        near(hen_heat_index_c(35.0, 28.0), 32.2, 1e-12);
    }

    #[test]
    fn dew_point_turns_saturation_round() {
        for t in [-15.0, 0.0, 12.5, 30.0] {
            near(dew_point_c(saturation_kpa(t)), t, 1e-9);
            near(relative_humidity_pct(t, t), 100.0, 1e-9);
        }
    }

    #[test]
    fn dew_point_falls_back_to_the_night() {
        let mut day = DayWeather::new(date(2021, 7, 1), 12.0, 24.0, 0.0);
        near(dew_point_of_day_c(&day, 2.0), 10.0, 1e-12);
        day.humidity_pct = Some(100.0);
        assert!(dew_point_of_day_c(&day, 2.0) > 18.0);
    }

    #[test]
    fn half_the_day_is_above_its_mean() {
        let day = DayWeather::new(date(2021, 7, 1), 20.0, 36.0, 0.0);
        near(hours_above(&day, 28.0), 12.0, 1e-9);
        near(hours_above(&day, 40.0), 0.0, 0.0);
        near(hours_above(&day, 10.0), 24.0, 0.0);
    }

    #[test]
    fn hours_of_heat_count_the_course_of_the_day() {
        let day = DayWeather::new(date(2021, 7, 1), 20.0, 36.0, 0.0);
        let minutes = 24 * 60;
        let course = (0..minutes).filter(|&m| {
            let angle = core::f64::consts::TAU * f64::from(m) / f64::from(minutes);
            hen_heat_index_at_c(28.0 + 8.0 * libm::sin(angle), 18.0) > 27.0
        });
        near(hours_of_heat(&day, 27.0, 2.0), course.count() as f64 / 60.0, 0.05);
        near(hours_of_heat(&day, 36.0, 2.0), 0.0, 0.0);
        near(hours_of_heat(&day, 15.0, 2.0), 24.0, 0.0);
    }

    /// FAO-56 annex table 2.3: saturation 1.2280 kPa at 10 °C, 2.3383 at 20 °C. Air is never over full.
    #[test]
    fn humidity_is_the_ratio_of_the_pressures() {
        near(relative_humidity_pct(20.0, 10.0), 100.0 * 1.2280 / 2.3383, 0.01);
        near(relative_humidity_pct(20.0, 20.5), 100.0, 0.0);
    }

    /// The vapour at the dew point of a day is its humidity's share of the mean saturation; a
    /// humidity of nought is no measurement.
    #[test]
    fn the_dew_point_holds_the_humidity_measured() {
        let mut day = DayWeather::new(date(2021, 7, 1), 12.0, 24.0, 0.0);
        day.humidity_pct = Some(60.0);
        near(saturation_kpa(dew_point_of_day_c(&day, 2.0)) / mean_saturation_kpa(12.0, 24.0), 0.6, 1e-12);
        day.humidity_pct = Some(0.0);
        near(dew_point_of_day_c(&day, 2.0), 10.0, 1e-12);
    }

    /// Full air is at its wet-bulb temperature; humidity past the range of the fit is held in it.
    #[test]
    fn wet_bulb_stays_below_the_air_and_meets_it_when_full() {
        for dry in [0.0, 15.0, 30.0, 45.0] {
            near(wet_bulb_c(dry, 99.0), dry, 0.35);
            assert_eq!(wet_bulb_c(dry, 120.0), wet_bulb_c(dry, 99.0));
            assert_eq!(wet_bulb_c(dry, 1.0), wet_bulb_c(dry, 5.0));
        }
    }

    /// Heat from the first minute past the threshold on, from none to the whole day.
    #[test]
    fn hours_of_heat_run_from_none_to_all() {
        let day = DayWeather::new(date(2021, 7, 1), 20.0, 36.0, 0.0);
        let (coolest, hottest) = (hen_heat_index_at_c(20.0, 18.0), hen_heat_index_at_c(36.0, 18.0));
        assert_eq!(hours_of_heat(&day, hottest, 2.0), 0.0);
        assert!(hours_of_heat(&day, hottest - 0.01, 2.0) > 0.0);
        assert_eq!(hours_of_heat(&day, coolest - 1e-9, 2.0), 24.0);
        assert!(hours_of_heat(&day, coolest + 0.01, 2.0) < 24.0);
        let hours: Vec<f64> = (18..37).map(|threshold| hours_of_heat(&day, f64::from(threshold), 2.0)).collect();
        assert!(hours.is_sorted_by(|warmer, hotter| warmer >= hotter), "{hours:?}");
    }
}
