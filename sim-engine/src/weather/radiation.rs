//! Radiation of the sun for a day at a place, and what the ground keeps of it.
//!
//! Source: Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56
//! (FAO-56), chapter 3; equation numbers beside each function. Radiation is in
//! MJ/m² per day, angles in radians.

use super::{DayWeather, Place};
use core::f64::consts::{PI, TAU};

/// Solar constant in MJ/m² per minute (FAO-56 eq. 21).
const SOLAR_CONSTANT_MJ_M2_MIN: f64 = 0.0820;
/// Days in the year as FAO-56 counts them in eq. 23 and 24.
const YEAR_D: f64 = 365.0;
/// Stefan–Boltzmann constant in MJ/(K⁴ m² d) (FAO-56 eq. 39).
const STEFAN_BOLTZMANN: f64 = 4.903e-9;
/// Share of sunshine the reference grass throws back (FAO-56 eq. 38).
const ALBEDO: f64 = 0.23;
/// Radiation against clear-sky radiation is not taken below this on overcast days: the
/// linear cloud term of eq. 39 was not fitted there (0.3 after ASCE-EWRI 2005).
const LEAST_CLEARNESS: f64 = 0.3;

/// Coefficient of [`from_temperature_mj_m2`] away from the coast, 1/√°C (FAO-56 eq. 50).
pub const INTERIOR_KRS: f64 = 0.16;
/// Coefficient of [`from_temperature_mj_m2`] at the coast, 1/√°C (FAO-56 eq. 50).
pub const COASTAL_KRS: f64 = 0.19;

/// Inverse relative distance earth–sun, without unit (eq. 23).
#[must_use]
pub fn inverse_distance(day_of_year: i16) -> f64 {
    1.0 + 0.033 * libm::cos(TAU * f64::from(day_of_year) / YEAR_D)
}

/// Declination of the sun, radians (eq. 24).
#[must_use]
pub fn declination_rad(day_of_year: i16) -> f64 {
    0.409 * libm::sin(TAU * f64::from(day_of_year) / YEAR_D - 1.39)
}

/// Hour angle of sunset, radians (eq. 25); 0 in polar night, pi in polar day.
#[must_use]
pub fn sunset_angle_rad(latitude_rad: f64, declination_rad: f64) -> f64 {
    let cosine = -libm::tan(latitude_rad) * libm::tan(declination_rad);
    libm::acos(cosine.clamp(-1.0, 1.0))
}

/// Radiation at the top of the atmosphere at a latitude on a day of the year (eq. 21).
#[must_use]
pub fn extraterrestrial_mj_m2(latitude_deg: f64, day_of_year: i16) -> f64 {
    top_of_atmosphere_mj_m2(latitude_deg.to_radians(), declination_rad(day_of_year), inverse_distance(day_of_year))
}

/// Radiation at the top of the atmosphere from where the sun stands (eq. 21).
#[must_use]
pub fn top_of_atmosphere_mj_m2(latitude_rad: f64, declination_rad: f64, inverse_distance: f64) -> f64 {
    let sunset = sunset_angle_rad(latitude_rad, declination_rad);
    let upright = sunset * libm::sin(latitude_rad) * libm::sin(declination_rad);
    let level = libm::cos(latitude_rad) * libm::cos(declination_rad) * libm::sin(sunset);
    let per_day = 24.0 * 60.0 / PI * SOLAR_CONSTANT_MJ_M2_MIN;
    (per_day * inverse_distance * (upright + level)).max(0.0)
}

/// Hours from sunrise to sunset (eq. 34).
#[must_use]
pub fn day_length_h(latitude_deg: f64, day_of_year: i16) -> f64 {
    24.0 / PI * sunset_angle_rad(latitude_deg.to_radians(), declination_rad(day_of_year))
}

/// Radiation at the ground from hours of bright sunshine (eq. 35, Ångström's 0.25 and 0.50).
#[cfg(test)]
pub fn from_sunshine_mj_m2(sunshine_h: f64, day_length_h: f64, extraterrestrial_mj_m2: f64) -> f64 {
    (0.25 + 0.50 * sunshine_h / day_length_h) * extraterrestrial_mj_m2
}

/// Radiation at the ground under a clear sky (eq. 37).
#[must_use]
pub fn clear_sky_mj_m2(elevation_m: f64, extraterrestrial_mj_m2: f64) -> f64 {
    (0.75 + 2e-5 * elevation_m) * extraterrestrial_mj_m2
}

/// Sunshine kept by the reference grass (eq. 38).
#[must_use]
pub fn net_shortwave_mj_m2(radiation_mj_m2: f64) -> f64 {
    (1.0 - ALBEDO) * radiation_mj_m2
}

/// Heat radiated away to the sky (eq. 39), from the day's extremes, the vapour pressure
/// and the radiation against that of a clear sky, which is held within 0.3 to 1.
#[must_use]
pub fn net_longwave_mj_m2(
    tmin_c: f64,
    tmax_c: f64,
    vapour_kpa: f64,
    radiation_mj_m2: f64,
    clear_sky_mj_m2: f64,
) -> f64 {
    let clearness = if clear_sky_mj_m2 > 0.0 { radiation_mj_m2 / clear_sky_mj_m2 } else { 1.0 };
    let clouds = 1.35 * clearness.clamp(LEAST_CLEARNESS, 1.0) - 0.35;
    let air = 0.34 - 0.14 * vapour_kpa.sqrt();
    STEFAN_BOLTZMANN * 0.5 * (fourth_power_k(tmax_c) + fourth_power_k(tmin_c)) * air * clouds
}

fn fourth_power_k(temperature_c: f64) -> f64 {
    let square = (temperature_c + 273.16) * (temperature_c + 273.16);
    square * square
}

/// Radiation at the ground guessed from the day's temperature swing (Hargreaves; eq. 50).
///
/// `krs` is [`INTERIOR_KRS`] or [`COASTAL_KRS`].
#[must_use]
pub fn from_temperature_mj_m2(krs: f64, tmin_c: f64, tmax_c: f64, extraterrestrial_mj_m2: f64) -> f64 {
    krs * (tmax_c - tmin_c).max(0.0).sqrt() * extraterrestrial_mj_m2
}

/// The day's radiation at the ground: measured, or else guessed from the temperature swing
/// with the interior coefficient and capped at that of a clear sky.
#[must_use]
pub fn of_day_mj_m2(place: Place, day: &DayWeather) -> f64 {
    day.radiation_mj_m2.unwrap_or_else(|| {
        let top = extraterrestrial_mj_m2(place.latitude_deg, day.day_of_year());
        from_temperature_mj_m2(INTERIOR_KRS, day.tmin_c, day.tmax_c, top).min(clear_sky_mj_m2(place.elevation_m, top))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::{fixture, near};

    /// FAO-56 example 8: 20° S, 3 September.
    #[test]
    fn fao_example_8_extraterrestrial() {
        near(inverse_distance(246), 0.985, 0.0005);
        near(declination_rad(246), 0.120, 0.0005);
        near(sunset_angle_rad((-20.0_f64).to_radians(), declination_rad(246)), 1.527, 0.0005);
        near(extraterrestrial_mj_m2(-20.0, 246), 32.194, 0.0005);
        near(0.408 * extraterrestrial_mj_m2(-20.0, 246), 13.1, 0.05);
    }

    /// With the earth always as far from the sun the hemispheres mirror each other to the last
    /// bit; what is left of their difference is the orbit (3 % either way) and odd days.
    #[test]
    fn on_a_round_orbit_the_hemispheres_are_the_same() {
        for latitude in (0..=90).map(|degrees| f64::from(degrees).to_radians()) {
            for declination in (0..366).map(declination_rad) {
                let north = top_of_atmosphere_mj_m2(latitude, declination, 1.0);
                assert_eq!(north, top_of_atmosphere_mj_m2(-latitude, -declination, 1.0));
                assert_eq!(sunset_angle_rad(latitude, declination), sunset_angle_rad(-latitude, -declination));
            }
        }
    }

    #[test]
    fn fao_example_9_day_length() {
        near(day_length_h(-20.0, 246), 11.66559, 1e-5);
    }

    #[test]
    fn fao_example_10_sunshine() {
        near(from_sunshine_mj_m2(7.1, 10.9, 25.1), 14.45, 0.01);
    }

    #[test]
    fn fao_example_11_longwave() {
        near(net_longwave_mj_m2(19.1, 25.1, 2.1, 14.5, 18.8), 3.5, 0.05);
    }

    #[test]
    fn fao_example_15_temperature_swing() {
        near(from_temperature_mj_m2(INTERIOR_KRS, 14.8, 26.6, 40.6), 22.3, 0.05);
    }

    /// Recomputed FAO-56 annex tables 2.6 and 2.7 (given to 0.01), middle of each month.
    #[test]
    fn fao_annex_tables() {
        let mid = [15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349];
        #[rustfmt::skip]
        let radiation = [
            (0.0, [36.16, 37.44, 37.91, 36.78, 34.77, 33.42, 33.86, 35.65, 37.23, 37.35, 36.32, 35.61]),
            (40.0, [15.01, 20.37, 27.25, 34.67, 39.71, 41.84, 40.80, 36.65, 29.92, 22.47, 16.25, 13.58]),
            (50.0, [8.89, 14.45, 22.24, 31.52, 38.50, 41.71, 40.21, 34.34, 25.61, 16.83, 10.17, 7.51]),
            (60.0, [3.25, 8.34, 16.57, 27.55, 36.66, 41.22, 39.14, 31.25, 20.52, 10.82, 4.37, 2.16]),
            (-35.0, [43.36, 38.99, 32.69, 24.79, 18.61, 15.66, 16.80, 21.80, 29.27, 36.55, 42.03, 44.35]),
        ];
        #[rustfmt::skip]
        let hours = [
            (40.0, [9.47, 10.49, 11.70, 13.08, 14.22, 14.83, 14.57, 13.57, 12.24, 10.90, 9.74, 9.17]),
            (50.0, [8.33, 9.84, 11.57, 13.53, 15.20, 16.12, 15.73, 14.25, 12.34, 10.44, 8.73, 7.88]),
            (-35.0, [14.10, 13.26, 12.25, 11.10, 10.16, 9.66, 9.87, 10.69, 11.80, 12.92, 13.88, 14.34]),
        ];
        for (month, &day) in mid.iter().enumerate() {
            for (latitude, row) in radiation {
                near(extraterrestrial_mj_m2(latitude, day), row[month], 0.0051);
            }
            for (latitude, row) in hours {
                near(day_length_h(latitude, day), row[month], 0.0051);
            }
        }
    }

    /// refet and pyet columns to 1e-7; pvlib's true sun bounds the error of FAO-56's own formulas:
    /// it grows with latitude to 1.24 MJ/m² and 0.29 h at 60°.
    #[test]
    fn libraries_agree() {
        let path = fixture("a_solar_ra_daylength.csv");
        let mut rows = 0;
        for record in csv::Reader::from_path(path).unwrap().records() {
            let row: Vec<f64> = record.unwrap().iter().map(|x| x.parse().unwrap()).collect();
            let (latitude, day) = (row[0], row[1] as i16);
            let top = extraterrestrial_mj_m2(latitude, day);
            let hours = day_length_h(latitude, day);
            near(top, row[2], 1e-7);
            near(top, row[3], 1e-7);
            near(hours, row[4], 1e-7);
            near(hours, row[5], 1e-7);
            near(top, row[6], 0.16 + 1.08 * latitude.abs() / 60.0);
            near(hours, row[7], 0.005 + 0.285 * latitude.abs() / 60.0);
            rows += 1;
        }
        assert!(rows > 100);
    }

    #[test]
    fn polar_day_and_night() {
        near(day_length_h(80.0, 172), 24.0, 1e-12);
        near(day_length_h(80.0, 355), 0.0, 1e-12);
        near(extraterrestrial_mj_m2(80.0, 355), 0.0, 1e-12);
    }

    #[test]
    fn a_guessed_day_is_not_brighter_than_a_clear_sky() {
        let place = Place { latitude_deg: 50.0, elevation_m: 0.0, above_weather_m: 0.0 };
        let day = DayWeather::new(jiff::civil::date(2021, 6, 1), -5.0, 40.0, 0.0);
        let top = extraterrestrial_mj_m2(50.0, 152);
        near(of_day_mj_m2(place, &day), 0.75 * top, 1e-12);
    }
}
