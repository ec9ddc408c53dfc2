//! What the temperature of a day is drawn around: mean and spread of wet and of dry days
//! through the year, without steps, from a climate's monthly figures.
//!
//! A month's spread about its one mean holds the trend within the month; the curve
//! carries that trend itself, so it is taken out of the spread left to chance.

use super::climate::MonthClimate;
use super::season_curve::{Position, SeasonCurve};

/// Least share of a month's temperature variance left to the residual once the seasonal
/// trend within the month has been taken out; guards months that are nearly all trend.
const LEAST_RESIDUAL_SHARE: f64 = 0.25;

/// What a temperature is drawn around on a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    /// Mean of the day, °C.
    pub mean_c: f64,
    /// Spread about that mean, °C.
    pub sd_c: f64,
}

/// Seasonal curves of mean and spread: dry then wet days, lowest then highest temperature.
#[derive(Debug)]
pub struct Seasons([[(SeasonCurve, SeasonCurve); 2]; 2]);

impl Seasons {
    /// Curves through the months of a climate.
    #[must_use]
    pub fn of(months: &[MonthClimate; 12]) -> Self {
        let curves = |pick: fn(&MonthClimate) -> (f64, f64)| {
            let means = SeasonCurve::through(months.map(|m| pick(&m).0));
            let trend = means.variance_within_months();
            let residual_sd = core::array::from_fn(|m| residual_sd(pick(&months[m]).1, trend[m]));
            (means, SeasonCurve::through(residual_sd))
        };
        Self([
            [curves(|m| (m.dry.tmin_mean_c, m.dry.tmin_sd_c)), curves(|m| (m.dry.tmax_mean_c, m.dry.tmax_sd_c))],
            [curves(|m| (m.wet.tmin_mean_c, m.wet.tmin_sd_c)), curves(|m| (m.wet.tmax_mean_c, m.wet.tmax_sd_c))],
        ])
    }

    /// Lowest and highest temperature at a position in the year.
    #[must_use]
    pub fn at(&self, position: Position, wet: bool) -> [Around; 2] {
        self.0[usize::from(wet)]
            .each_ref()
            .map(|(mean, sd)| Around { mean_c: mean.at(position), sd_c: sd.at(position).max(0.0) })
    }
}

/// Spread left about the curve when the trend within the month is part of the month's spread.
fn residual_sd(sd: f64, trend_variance: f64) -> f64 {
    let variance = sd * sd;
    (variance - trend_variance).max(LEAST_RESIDUAL_SHARE * variance).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::near;

    #[test]
    fn trend_is_taken_out_of_the_spread() {
        near(residual_sd(5.0, 9.0), 4.0, 1e-12);
        near(residual_sd(5.0, 100.0), 2.5, 1e-12);
        near(residual_sd(0.0, 0.0), 0.0, 0.0);
    }

    /// In a year without seasons every day is drawn around the month's own figures, wet or dry.
    #[test]
    fn each_kind_of_day_has_its_own_figures() {
        let stats = |tmin_mean_c, tmin_sd_c, tmax_mean_c, tmax_sd_c| crate::weather::climate::TemperatureStats {
            tmin_mean_c,
            tmin_sd_c,
            tmax_mean_c,
            tmax_sd_c,
        };
        let mut month = crate::weather::generator::tests::even_climate().months[0];
        (month.wet, month.dry) = (stats(6.0, 1.0, 12.0, 2.0), stats(4.0, 3.0, 18.0, 4.0));
        let seasons = Seasons::of(&[month; 12]);
        let at = Position::of(jiff::civil::date(2021, 5, 9));
        for (wet, want) in [(true, [(6.0, 1.0), (12.0, 2.0)]), (false, [(4.0, 3.0), (18.0, 4.0)])] {
            for (got, (mean_c, sd_c)) in seasons.at(at, wet).into_iter().zip(want) {
                near(got.mean_c, mean_c, 1e-12);
                near(got.sd_c, sd_c, 1e-12);
            }
        }
    }
}
