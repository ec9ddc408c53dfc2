//! Where a site's weather comes from: a climate, a climate fitted to a station, or
//! the station's own years.

use jiff::civil::Date;
use sim_engine::weather::DayWeather;
use sim_engine::weather::climate::Climate;
use sim_engine::weather::fit::Fitted;
use sim_engine::weather::years::Years;

/// A source of weather.
#[derive(Clone, Debug)]
pub enum WeatherSource {
    /// New years of a climate of the library.
    Climate {
        /// Its name.
        name: String,
        /// Months already shifted to the site's hemisphere.
        climate: Box<Climate>,
    },
    /// New years in the manner of a station.
    Fitted {
        /// The station's file.
        file: String,
        /// Climate and its warnings.
        fitted: Box<Fitted>,
        /// The station's days.
        days: Vec<DayWeather>,
        /// Days filled in gaps.
        filled: usize,
    },
    /// The station's own whole years.
    Years {
        /// The station's file.
        file: String,
        /// The years.
        years: Years,
        /// Days filled in gaps.
        filled: usize,
    },
}

impl WeatherSource {
    /// The weather of a draw: the same for the same seed and draw.
    #[must_use]
    pub fn draw(&self, seed: u64, draw: u64, start: Date, days: usize) -> Vec<DayWeather> {
        match self {
            Self::Climate { climate, .. } => climate.draw(seed, draw, start, days),
            Self::Fitted { fitted, .. } => fitted.climate.draw(seed, draw, start, days),
            Self::Years { years, .. } => years.draw(draw, start, days),
        }
    }

    /// How many draws differ in weather; `None`: as many as one likes.
    #[must_use]
    pub fn distinct_draws(&self) -> Option<usize> {
        match self {
            Self::Years { years, .. } => Some(years.count()),
            _ => None,
        }
    }
}

/// A climate seen from the other hemisphere: every month is the one six months away.
#[must_use]
pub fn turned(climate: &Climate) -> Climate {
    let mut turned = climate.clone();
    turned.months.rotate_left(6);
    turned
}
