//! Weather and what follows from it alone: once per draw, shared by all strategies.
//!
//! Days come from [`generator`] (fitted to a station by [`fit`]) or from a station's
//! own [`years`]; [`et0`], [`radiation`], [`degree_days`], [`soil_temperature`],
//! [`snow`] and [`humidity`] make of them what soil, plants, pests and birds feel.

pub mod agreement;
mod carry_over;
pub mod climate;
pub mod degree_days;
pub mod et0;
pub mod fit;
pub mod gamma_law;
pub mod generator;
pub mod humidity;
pub mod radiation;
pub mod season_curve;
pub mod seasons;
pub mod snow;
pub mod soil_temperature;
pub mod station;
pub mod vapour;
pub mod years;

use jiff::civil::Date;

/// The months' names, January first.
pub const MONTH_NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Where the site lies, as far as the sun and the air are concerned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Latitude in degrees, north positive, -90 to 90.
    pub latitude_deg: f64,
    /// Height above the sea in metres.
    pub elevation_m: f64,
    /// How much higher the place lies than that of its weather, m; 0 where the weather's is not stated.
    pub above_weather_m: f64,
}

/// The weather of one day.
#[derive(Clone, Debug, PartialEq)]
pub struct DayWeather {
    /// The day.
    pub date: Date,
    /// Lowest air temperature of the day, °C.
    pub tmin_c: f64,
    /// Highest air temperature of the day, °C; not below `tmin_c`.
    pub tmax_c: f64,
    /// Rain, and the water in snow, in mm.
    pub rain_mm: f64,
    /// Radiation of sun and sky on a level surface, MJ/m² in the day, if measured.
    pub radiation_mj_m2: Option<f64>,
    /// Mean relative humidity of the day in percent, if measured.
    pub humidity_pct: Option<f64>,
    /// Mean wind at 2 m height in m/s, if measured.
    pub wind_m_s: Option<f64>,
}

impl DayWeather {
    /// A day of which only temperature and rain are known.
    #[must_use]
    pub fn new(date: Date, tmin_c: f64, tmax_c: f64, rain_mm: f64) -> Self {
        Self { date, tmin_c, tmax_c, rain_mm, radiation_mj_m2: None, humidity_pct: None, wind_m_s: None }
    }

    /// The day so many metres higher up, where it is colder by `lapse_rate` C a km.
    #[must_use]
    pub fn higher_up(&self, above_m: f64, lapse_rate: f64) -> Self {
        let colder_c = lapse_rate * above_m / 1000.0;
        Self { tmin_c: self.tmin_c - colder_c, tmax_c: self.tmax_c - colder_c, ..self.clone() }
    }

    /// Mean of the day's extremes, °C: FAO-56's daily mean temperature (eq. 9).
    #[must_use]
    pub fn tmean_c(&self) -> f64 {
        0.5 * (self.tmin_c + self.tmax_c)
    }

    /// Difference of the day's extremes, °C.
    #[must_use]
    pub fn swing_c(&self) -> f64 {
        self.tmax_c - self.tmin_c
    }

    /// Day of the year, 1 to 366.
    #[must_use]
    pub fn day_of_year(&self) -> i16 {
        self.date.day_of_year()
    }
}

#[cfg(test)]
pub(crate) mod testing {
    //! What the tests of this folder share.

    use super::DayWeather;
    pub use crate::testing::near;

    /// Path of a stored reference file; where each comes from stands in the folder's README.
    pub fn fixture(name: &str) -> String {
        format!("{}/../tests/fixtures/{name}", env!("CARGO_MANIFEST_DIR"))
    }

    /// Seattle 2012–2015: 1,461 days of a real station (temperature and rain only).
    pub fn seattle() -> Vec<DayWeather> {
        let mut reader = csv::Reader::from_path(fixture("weather/seattle_daily.csv")).unwrap();
        let day = |record: csv::StringRecord| {
            let number = |i: usize| record[i].parse().unwrap();
            DayWeather::new(record[0].parse().unwrap(), number(2), number(3), number(1))
        };
        reader.records().map(|record| day(record.unwrap())).collect()
    }
}
