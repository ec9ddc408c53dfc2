//! Reference evapotranspiration: the water a well-watered short grass would lose, mm per day.
//!
//! Source: Allen, Pereira, Raes & Smith 1998, FAO-56; equation numbers beside each
//! function. Pressures in kPa, temperatures in °C. Hargreaves scatters by 20–30 % from
//! day to day against Penman–Monteith; that is an unknown of the draw, not of this file.

use super::vapour::{
    air_pressure_kpa, mean_saturation_kpa, psychrometric_kpa_c, slope_kpa_c, vapour_from_mean_humidity_kpa,
};
use super::{DayWeather, Place, radiation};

/// Millimetres of water evaporated by 1 MJ/m²: 1 / 2.45 (FAO-56 eq. 20).
const MM_PER_MJ_M2: f64 = 0.408;

/// Wind at 2 m height from wind at another height above grass, m/s (eq. 47).
#[must_use]
pub fn wind_at_2_m(wind_m_s: f64, height_m: f64) -> f64 {
    wind_m_s * 4.87 / libm::log(67.8 * height_m - 5.42)
}

/// Heat taken up by the soil over a month, MJ/m² per day, from the mean temperatures of the
/// months before and after (eq. 43).
#[cfg(test)]
pub fn monthly_soil_heat_mj_m2(month_before_c: f64, month_after_c: f64) -> f64 {
    0.07 * (month_after_c - month_before_c)
}

/// As [`monthly_soil_heat_mj_m2`] when the month after is not known yet (eq. 44).
#[cfg(test)]
pub fn monthly_soil_heat_so_far_mj_m2(month_before_c: f64, this_month_c: f64) -> f64 {
    0.14 * (this_month_c - month_before_c)
}

/// What Penman–Monteith wants to know of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Lowest air temperature, °C.
    pub tmin_c: f64,
    /// Highest air temperature, °C.
    pub tmax_c: f64,
    /// Vapour pressure, kPa.
    pub vapour_kpa: f64,
    /// Wind at 2 m, m/s.
    pub wind_m_s: f64,
    /// Height above the sea, m.
    pub elevation_m: f64,
}

/// Penman–Monteith for the reference grass, mm per day (eq. 6); not clipped at zero.
///
/// `net_radiation_mj_m2` is eq. 40; `soil_heat_mj_m2` is 0 for a single day (eq. 42).
#[must_use]
pub fn penman_monteith_mm(air: Air, net_radiation_mj_m2: f64, soil_heat_mj_m2: f64) -> f64 {
    let tmean = 0.5 * (air.tmin_c + air.tmax_c);
    let slope = slope_kpa_c(tmean);
    let gamma = psychrometric_kpa_c(air_pressure_kpa(air.elevation_m));
    let deficit = mean_saturation_kpa(air.tmin_c, air.tmax_c) - air.vapour_kpa;
    let energy = MM_PER_MJ_M2 * slope * (net_radiation_mj_m2 - soil_heat_mj_m2);
    let drying = gamma * 900.0 / (tmean + 273.0) * air.wind_m_s * deficit;
    (energy + drying) / (slope + gamma * (1.0 + 0.34 * air.wind_m_s))
}

/// Radiation kept by the reference grass in a day, MJ/m² (eq. 40).
#[must_use]
pub fn net_radiation_mj_m2(air: Air, radiation_mj_m2: f64, extraterrestrial_mj_m2: f64) -> f64 {
    let clear = radiation::clear_sky_mj_m2(air.elevation_m, extraterrestrial_mj_m2);
    radiation::net_shortwave_mj_m2(radiation_mj_m2)
        - radiation::net_longwave_mj_m2(air.tmin_c, air.tmax_c, air.vapour_kpa, radiation_mj_m2, clear)
}

/// Hargreaves' formula from temperature alone, mm per day (eq. 52); not clipped at zero.
#[must_use]
pub fn hargreaves_mm(tmin_c: f64, tmax_c: f64, extraterrestrial_mj_m2: f64) -> f64 {
    let tmean = 0.5 * (tmin_c + tmax_c);
    0.0023 * (tmean + 17.8) * (tmax_c - tmin_c).max(0.0).sqrt() * MM_PER_MJ_M2 * extraterrestrial_mj_m2
}

/// Reference evapotranspiration of a day, mm, not below 0: Penman–Monteith when radiation,
/// humidity and wind were all measured, else Hargreaves.
#[must_use]
pub fn reference_et0_mm(place: Place, day: &DayWeather) -> f64 {
    let top = radiation::extraterrestrial_mj_m2(place.latitude_deg, day.day_of_year());
    let (Some(radiation), Some(humidity), Some(wind_m_s)) = (day.radiation_mj_m2, day.humidity_pct, day.wind_m_s)
    else {
        return hargreaves_mm(day.tmin_c, day.tmax_c, top).max(0.0);
    };
    let air = Air {
        tmin_c: day.tmin_c,
        tmax_c: day.tmax_c,
        vapour_kpa: vapour_from_mean_humidity_kpa(day.tmin_c, day.tmax_c, humidity),
        wind_m_s,
        elevation_m: place.elevation_m,
    };
    penman_monteith_mm(air, net_radiation_mj_m2(air, radiation, top), 0.0).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::{fixture, near};
    use crate::weather::vapour::{vapour_from_humidity_range_kpa, vapour_from_tmin_kpa};
    use jiff::civil::date;
    use radiation::{day_length_h, extraterrestrial_mj_m2, from_sunshine_mj_m2, from_temperature_mj_m2};

    #[test]
    fn fao_example_13_soil_heat() {
        near(monthly_soil_heat_mj_m2(14.1, 18.8), 0.33, 0.01);
        // Eq. 44 spans half the time: twice the factor of eq. 43.
        near(monthly_soil_heat_so_far_mj_m2(14.1, 18.8), 2.0 * monthly_soil_heat_mj_m2(14.1, 18.8), 1e-12);
    }

    #[test]
    fn fao_example_14_wind() {
        near(wind_at_2_m(3.2, 10.0), 2.393, 0.0005);
    }

    /// FAO-56 example 17: Bangkok, April by the month (mid-April is day 105).
    #[test]
    fn fao_example_17_bangkok() {
        let latitude = 13.0 + 44.0 / 60.0;
        let (top, hours) = (extraterrestrial_mj_m2(latitude, 105), day_length_h(latitude, 105));
        near(top, 38.06, 0.005);
        near(hours, 12.31, 0.005);
        let shine = from_sunshine_mj_m2(8.5, hours, top);
        near(shine, 22.65, 0.005);
        let air = Air { tmin_c: 25.6, tmax_c: 34.8, vapour_kpa: 2.85, wind_m_s: 2.0, elevation_m: 2.0 };
        let net = net_radiation_mj_m2(air, shine, top);
        near(net, 14.33, 0.02);
        let soil = monthly_soil_heat_so_far_mj_m2(29.2, 30.2);
        near(soil, 0.14, 0.005);
        near(penman_monteith_mm(air, net, soil), 5.72, 0.02);
    }

    /// FAO-56 example 18: Uccle, 6 July.
    #[test]
    fn fao_example_18_uccle() {
        let latitude = 50.8;
        let (top, hours) = (extraterrestrial_mj_m2(latitude, 187), day_length_h(latitude, 187));
        near(top, 41.09, 0.01);
        near(hours, 16.1, 0.05);
        let shine = from_sunshine_mj_m2(9.25, hours, top);
        near(shine, 22.07, 0.01);
        near(radiation::clear_sky_mj_m2(100.0, top), 30.90, 0.01);
        near(radiation::net_shortwave_mj_m2(shine), 17.00, 0.01);
        near(mean_saturation_kpa(12.3, 21.5), 1.997, 0.001);
        let vapour_kpa = vapour_from_humidity_range_kpa(12.3, 21.5, 84.0, 63.0);
        near(vapour_kpa, 1.409, 0.001);
        let wind_m_s = wind_at_2_m(10.0 / 3.6, 10.0);
        near(wind_m_s, 2.078, 0.001);
        let air = Air { tmin_c: 12.3, tmax_c: 21.5, vapour_kpa, wind_m_s, elevation_m: 100.0 };
        near(radiation::net_longwave_mj_m2(12.3, 21.5, vapour_kpa, shine, 30.90), 3.71, 0.01);
        let net = net_radiation_mj_m2(air, shine, top);
        near(net, 13.28, 0.01);
        near(penman_monteith_mm(air, net, 0.0), 3.8803, 0.002);
    }

    /// FAO-56 example 20: Lyon, July (day 196), temperature alone; the two ET0 of the text from memory.
    #[test]
    fn fao_example_20_lyon() {
        let top = extraterrestrial_mj_m2(45.0 + 43.0 / 60.0, 196);
        near(top, 40.55, 0.01);
        let shine = from_temperature_mj_m2(radiation::INTERIOR_KRS, 14.8, 26.6, top);
        near(shine, 22.29, 0.01);
        let vapour_kpa = vapour_from_tmin_kpa(14.8);
        near(vapour_kpa, 1.68, 0.01);
        let air = Air { tmin_c: 14.8, tmax_c: 26.6, vapour_kpa, wind_m_s: 2.0, elevation_m: 200.0 };
        near(penman_monteith_mm(air, net_radiation_mj_m2(air, shine, top), 0.0), 4.56, 0.05);
        near(hargreaves_mm(14.8, 26.6, top), 5.033, 0.01);
    }

    /// pyet and refet: Penman–Monteith to 2e-3 mm (their constants differ by 1.2e-3),
    /// Hargreaves by FAO's fixed latent heat to 1e-6. A third of the rows is extreme weather.
    #[test]
    fn libraries_agree() {
        let path = fixture("b_et0.csv");
        let mut rows = 0;
        for record in csv::Reader::from_path(path).unwrap().records() {
            let record = record.unwrap();
            let row: Vec<f64> = record.iter().map(|x| x.parse().unwrap_or(f64::NAN)).collect();
            let [latitude, day, elevation_m, tmin_c, tmax_c, vapour_kpa, shine, wind_m_s, top] =
                [2, 3, 4, 5, 6, 7, 8, 9, 10].map(|i| row[i]);
            near(extraterrestrial_mj_m2(latitude, day as i16), top, 1e-6);
            let air = Air { tmin_c, tmax_c, vapour_kpa, wind_m_s, elevation_m };
            let et0 = penman_monteith_mm(air, net_radiation_mj_m2(air, shine, top), 0.0);
            near(et0, row[12], 2e-3);
            near(et0, row[13], 2e-3);
            near(hargreaves_mm(tmin_c, tmax_c, top), row[16], 1e-6);
            rows += 1;
        }
        assert!(rows > 100);
    }

    #[test]
    fn the_formula_follows_from_what_was_measured() {
        let place = Place { latitude_deg: 50.8, elevation_m: 100.0, above_weather_m: 0.0 };
        let mut day = DayWeather::new(date(2021, 7, 6), 12.3, 21.5, 0.0);
        let top = extraterrestrial_mj_m2(50.8, 187);
        near(reference_et0_mm(place, &day), hargreaves_mm(12.3, 21.5, top), 1e-12);
        day.radiation_mj_m2 = Some(22.07);
        day.humidity_pct = Some(100.0 * 1.409 / 1.997);
        day.wind_m_s = Some(2.078);
        near(reference_et0_mm(place, &day), 3.88, 0.01);
    }

    /// Air of 84.6 kPa at 1,500 m (FAO-56 eq. 7) has a psychrometric constant of 0.056 instead of 0.067 kPa/C (Table
    /// 2.2), and the day's evaporation follows.
    #[test]
    fn height_acts_by_the_pressure_of_the_air() {
        let et0 = |elevation_m: f64| {
            let place = Place { latitude_deg: 45.0, elevation_m, above_weather_m: 0.0 };
            let mut day = DayWeather::new(date(2021, 6, 10), 10.0, 25.0, 0.0);
            (day.radiation_mj_m2, day.humidity_pct, day.wind_m_s) = (Some(20.0), Some(40.0), Some(4.0));
            reference_et0_mm(place, &day)
        };
        for (height, pressure, gamma) in [(0.0, 101.3, 0.067), (1500.0, 84.6, 0.056)] {
            near(air_pressure_kpa(height), pressure, 0.2);
            near(psychrometric_kpa_c(air_pressure_kpa(height)), gamma, 5e-4);
        }
        assert!((et0(1500.0) - et0(0.0)).abs() > 0.02, "{} {}", et0(1500.0), et0(0.0));
    }

    #[test]
    fn never_below_zero() {
        let place = Place { latitude_deg: 60.0, elevation_m: 0.0, above_weather_m: 0.0 };
        let day = DayWeather::new(date(2021, 1, 10), -40.0, -25.0, 0.0);
        assert_eq!(reference_et0_mm(place, &day), 0.0);
    }
}
