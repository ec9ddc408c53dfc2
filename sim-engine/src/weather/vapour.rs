//! Water vapour in the air.
//!
//! Source: Allen, Pereira, Raes & Smith 1998, FAO-56, chapter 3; equation numbers
//! beside each function. Pressures in kPa, temperatures in °C, humidity in percent.

use crate::math::pow;

/// Saturation vapour pressure at a temperature, kPa (eq. 11).
#[must_use]
pub fn saturation_kpa(temperature_c: f64) -> f64 {
    0.6108 * libm::exp(17.27 * temperature_c / (temperature_c + 237.3))
}

/// Mean saturation vapour pressure of a day, kPa (eq. 12).
#[must_use]
pub fn mean_saturation_kpa(tmin_c: f64, tmax_c: f64) -> f64 {
    0.5 * (saturation_kpa(tmin_c) + saturation_kpa(tmax_c))
}

/// Slope of the saturation vapour pressure curve, kPa/°C (eq. 13).
#[must_use]
pub fn slope_kpa_c(temperature_c: f64) -> f64 {
    let t = temperature_c + 237.3;
    4098.0 * saturation_kpa(temperature_c) / (t * t)
}

/// Air pressure at a height above the sea, kPa (eq. 7).
#[must_use]
pub fn air_pressure_kpa(elevation_m: f64) -> f64 {
    101.3 * pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26)
}

/// Psychrometric constant, kPa/°C (eq. 8).
#[must_use]
pub fn psychrometric_kpa_c(air_pressure_kpa: f64) -> f64 {
    0.665e-3 * air_pressure_kpa
}

/// Vapour pressure from the day's highest and lowest humidity, kPa (eq. 17).
#[cfg(test)]
pub fn vapour_from_humidity_range_kpa(tmin_c: f64, tmax_c: f64, max_pct: f64, min_pct: f64) -> f64 {
    0.5 * (saturation_kpa(tmin_c) * max_pct + saturation_kpa(tmax_c) * min_pct) / 100.0
}

/// Vapour pressure from the day's highest humidity alone, kPa (eq. 18).
#[cfg(test)]
pub fn vapour_from_max_humidity_kpa(tmin_c: f64, max_pct: f64) -> f64 {
    saturation_kpa(tmin_c) * max_pct / 100.0
}

/// Vapour pressure from the day's mean humidity, kPa (eq. 19).
#[must_use]
pub fn vapour_from_mean_humidity_kpa(tmin_c: f64, tmax_c: f64, mean_pct: f64) -> f64 {
    mean_saturation_kpa(tmin_c, tmax_c) * mean_pct / 100.0
}

/// Vapour pressure when the night's lowest temperature is taken for the dew point, kPa (eq. 48).
#[cfg(test)]
pub fn vapour_from_tmin_kpa(tmin_c: f64) -> f64 {
    saturation_kpa(tmin_c)
}

/// Vapour pressure from a dry and a wet thermometer, kPa (eq. 15); `coefficient_per_c`
/// is 0.000662 for a ventilated psychrometer.
#[cfg(test)]
pub fn vapour_from_psychrometer_kpa(dry_c: f64, wet_c: f64, air_pressure_kpa: f64, coefficient_per_c: f64) -> f64 {
    saturation_kpa(wet_c) - coefficient_per_c * air_pressure_kpa * (dry_c - wet_c)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::near;

    #[test]
    fn fao_example_2_pressure() {
        near(air_pressure_kpa(1800.0), 81.8, 0.05);
        near(psychrometric_kpa_c(air_pressure_kpa(1800.0)), 0.054, 0.0005);
    }

    #[test]
    fn fao_example_3_saturation() {
        near(mean_saturation_kpa(15.0, 24.5), 2.39, 0.01);
    }

    #[test]
    fn fao_example_4_psychrometer() {
        near(vapour_from_psychrometer_kpa(25.6, 19.5, 87.9, 0.000662), 1.91, 0.01);
    }

    /// FAO-56 example 5: Tmin 18, Tmax 25 °C (e0 2.064 and 3.168 kPa), humidity 54 to 82 %.
    #[test]
    fn fao_example_5_humidity() {
        near(saturation_kpa(18.0), 2.064, 0.0005);
        near(vapour_from_humidity_range_kpa(18.0, 25.0, 82.0, 54.0), 1.70, 0.01);
        near(vapour_from_max_humidity_kpa(18.0, 82.0), 1.69, 0.01);
        near(vapour_from_mean_humidity_kpa(18.0, 25.0, 68.0), 1.78, 0.01);
    }

    /// FAO-56 annex tables 2.3 and 2.4, recomputed.
    #[test]
    fn saturation_table() {
        let table = [
            (1.0, 0.6567),
            (5.0, 0.8723),
            (10.0, 1.2280),
            (15.0, 1.7053),
            (20.0, 2.3383),
            (25.0, 3.1678),
            (30.0, 4.2431),
            (35.0, 5.6227),
            (40.0, 7.3756),
        ];
        for (t, want) in table {
            near(saturation_kpa(t), want, 5.1e-5);
        }
        for (t, want) in [(10.0, 0.0823), (20.0, 0.1447), (30.0, 0.2434)] {
            near(slope_kpa_c(t), want, 5.1e-5);
        }
    }
}
