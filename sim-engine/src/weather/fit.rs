//! A [`Climate`] from a station's days, by the method of Richardson 1981.
//!
//! Rain chain and temperature statistics are counted month by month, amounts fitted by
//! maximum likelihood ([`gamma_law`]), the matrices of carry-over from the residuals about
//! the very curves the generator draws around. A month with too few wet or dry days borrows those of its
//! neighbours, and a note says so.

use super::DayWeather;
use super::carry_over::carry_over;
use super::climate::{Climate, MonthClimate, TemperatureStats};
use super::gamma_law::{self, GammaLaw};
use super::season_curve::{Position, month_index};
use super::seasons::Seasons;
use super::station::{self, StationError, month_name};

/// A day is taken as wet from this amount on, mm: one tick of a usual rain gauge (common
/// practice, no source).
pub const WET_THRESHOLD_MM: f64 = 0.1;
/// Least swing of a generated day, °C; hardly ever met (common practice, no source).
const LEAST_SWING_C: f64 = 0.5;
/// Days needed: two years.
const LEAST_DAYS: usize = 730;
/// Wet days, and dry days, needed in a calendar month over all years before neighbours help out.
const LEAST_OF_A_KIND: usize = 5;

/// Why no climate could be fitted.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FitError {
    /// A fault in the series.
    #[error(transparent)]
    Station(#[from] StationError),
    /// Less than two years.
    #[error("the weather series has {days} days, and fitting a generator needs two years ({LEAST_DAYS} days)")]
    TooShort {
        /// Days given.
        days: usize,
    },
    /// A month has too few wet or dry days even with its neighbours.
    #[error(
        "{month} and the months beside it have only {found} {kind} days in the whole series, {LEAST_OF_A_KIND} are needed"
    )]
    TooFew {
        /// The month.
        month: &'static str,
        /// Wet or dry.
        kind: &'static str,
        /// Days found.
        found: usize,
    },
    /// All rainy days of a month brought the same amount.
    #[error("all wet days of {month} have the same amount of rain, so no spread can be fitted")]
    SameAmounts {
        /// The month.
        month: &'static str,
    },
}

impl FitError {
    /// What to do about it.
    #[must_use]
    pub fn remedy(&self) -> &'static str {
        match self {
            FitError::Station(_) => "Correct the file.",
            FitError::TooShort { .. } => "Give two years of days or more, or take a climate of the library.",
            FitError::TooFew { .. } => {
                "Give more years; or take the station's own, which need no fit: use = \"years\" under [weather] of a site file."
            }
            FitError::SameAmounts { .. } => {
                "Is the rain of each day measured? Else take the station's own years, which need no fit: use = \"years\" under [weather] of a site file."
            }
        }
    }
}

/// A fitted climate and what the user should know about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The climate.
    pub climate: Climate,
    /// Months that borrowed from their neighbours, as sentences; empty as a rule.
    pub notes: Vec<String>,
}

/// Fits a climate to a station's days, wet from [`WET_THRESHOLD_MM`] on.
///
/// # Errors
/// Gaps or impossible values, less than two years, or too few days of a kind to fit.
pub fn fit(days: &[DayWeather]) -> Result<Fitted, FitError> {
    fit_with_threshold(days, WET_THRESHOLD_MM)
}

/// As [`fit`] with another least amount of a wet day, mm.
///
/// # Errors
/// As [`fit`].
pub fn fit_with_threshold(days: &[DayWeather], wet_threshold_mm: f64) -> Result<Fitted, FitError> {
    station::check(days)?;
    if days.len() < LEAST_DAYS {
        return Err(FitError::TooShort { days: days.len() });
    }
    let station = StationSummary::new(days, wet_threshold_mm);
    let mut notes = Vec::new();
    let mut months = Vec::with_capacity(12);
    for month in 0..12 {
        months.push(station.month(month, &mut notes)?);
    }
    let months: [MonthClimate; 12] = core::array::from_fn(|month| months[month]);
    let (a, b) = carry_over(&station.residuals_about_curves(&months));
    let climate = Climate { months, a, b, wet_threshold_mm, least_swing_c: LEAST_SWING_C };
    Ok(Fitted { climate, notes })
}

/// A series with its wet days marked.
struct StationSummary<'a> {
    days: &'a [DayWeather],
    wet: Vec<bool>,
}

impl<'a> StationSummary<'a> {
    fn new(days: &'a [DayWeather], wet_threshold_mm: f64) -> Self {
        Self { days, wet: days.iter().map(|d| d.rain_mm >= wet_threshold_mm).collect() }
    }

    fn month(&self, month: usize, notes: &mut Vec<String>) -> Result<MonthClimate, FitError> {
        let wet_days = self.days_of_kind(month, true, false, notes)?;
        let dry_days = self.days_of_kind(month, false, false, notes)?;
        let after_wet = self.days_of_kind(month, true, true, notes)?;
        let after_dry = self.days_of_kind(month, false, true, notes)?;
        let amounts: Vec<f64> = wet_days.iter().map(|&i| self.days[i].rain_mm).collect();
        let GammaLaw { shape, scale } =
            gamma_law::fit(&amounts).ok_or(FitError::SameAmounts { month: month_name(month) })?;
        Ok(MonthClimate {
            p_wet_after_wet: self.wet_share(&after_wet),
            p_wet_after_dry: self.wet_share(&after_dry),
            amount_shape: shape,
            amount_scale_mm: scale,
            wet: self.temperatures(&wet_days),
            dry: self.temperatures(&dry_days),
        })
    }

    /// Days of a month that are wet (or dry) themselves, or whose day before was; with those of the
    /// neighbouring months if there are too few.
    fn days_of_kind(
        &self,
        month: usize,
        wet: bool,
        by_day_before: bool,
        notes: &mut Vec<String>,
    ) -> Result<Vec<usize>, FitError> {
        let own = self.select(&[month], wet, by_day_before);
        if own.len() >= LEAST_OF_A_KIND {
            return Ok(own);
        }
        let pooled = self.select(&[(month + 11) % 12, month, (month + 1) % 12], wet, by_day_before);
        let (month, kind) = (month_name(month), if wet { "wet" } else { "dry" });
        if pooled.len() < LEAST_OF_A_KIND {
            return Err(FitError::TooFew { month, kind, found: pooled.len() });
        }
        let days = if by_day_before { format!("days after {kind} ones") } else { format!("{kind} days") };
        let found = own.len();
        notes.push(format!("{month} has only {found} {days} in the series: those of the months beside it were added."));
        Ok(pooled)
    }

    fn select(&self, months: &[usize], wet: bool, by_day_before: bool) -> Vec<usize> {
        let back = usize::from(by_day_before);
        (back..self.days.len())
            .filter(|&i| self.wet[i - back] == wet && months.contains(&month_index(self.days[i].date)))
            .collect()
    }

    fn wet_share(&self, indices: &[usize]) -> f64 {
        indices.iter().filter(|&&i| self.wet[i]).count() as f64 / indices.len() as f64
    }

    fn temperatures(&self, indices: &[usize]) -> TemperatureStats {
        let (tmin_mean_c, tmin_sd_c) = mean_and_sd(indices.iter().map(|&i| self.days[i].tmin_c));
        let (tmax_mean_c, tmax_sd_c) = mean_and_sd(indices.iter().map(|&i| self.days[i].tmax_c));
        TemperatureStats { tmin_mean_c, tmin_sd_c, tmax_mean_c, tmax_sd_c }
    }

    fn residuals_about_curves(&self, months: &[MonthClimate; 12]) -> Vec<[f64; 2]> {
        let seasons = Seasons::of(months);
        self.residuals(|day, wet| seasons.at(Position::of(day.date), wet).map(|around| (around.mean_c, around.sd_c)))
    }

    /// Lowest and highest temperature of every day in standard deviations about its mean.
    fn residuals(&self, about: impl Fn(&DayWeather, bool) -> [(f64, f64); 2]) -> Vec<[f64; 2]> {
        let scaled = |value: f64, (mean, sd): (f64, f64)| if sd > 0.0 { (value - mean) / sd } else { 0.0 };
        let one = |(day, &wet): (&DayWeather, &bool)| {
            let [low, high] = about(day, wet);
            [scaled(day.tmin_c, low), scaled(day.tmax_c, high)]
        };
        self.days.iter().zip(&self.wet).map(one).collect()
    }
}

/// Mean and standard deviation (n - 1) of a sample of at least two.
fn mean_and_sd(values: impl Iterator<Item = f64> + Clone) -> (f64, f64) {
    let n = values.clone().count() as f64;
    let mean = values.clone().sum::<f64>() / n;
    let squares: f64 = values.map(|v| (v - mean) * (v - mean)).sum();
    (mean, (squares / (n - 1.0)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::carry_over::{Matrix, correlation, matrices};
    use crate::weather::generator::tests::even_climate;
    use crate::weather::testing::{fixture, near, seattle};
    use jiff::civil::date;
    use serde_json::Value;

    fn published(kind: &str) -> Value {
        let text = std::fs::read_to_string(fixture("seattle_stats.json")).unwrap();
        serde_json::from_str::<Value>(&text).unwrap()[kind].take()
    }

    fn matrix(value: &Value) -> Matrix {
        core::array::from_fn(|i| core::array::from_fn(|j| value[i][j].as_f64().unwrap()))
    }

    /// Statistics of the same days computed with scipy and numpy, for two ideas of a wet day.
    #[test]
    fn seattle_by_month() {
        for (kind, threshold) in [("any_rain", 0.1), ("threshold_1mm", 1.0)] {
            let want = published(kind);
            let Fitted { climate, notes } = fit_with_threshold(&seattle(), threshold).unwrap();
            for (month, fitted) in climate.months.iter().enumerate() {
                let is = |got: f64, key: &str, tolerance: f64| {
                    near(got, want["months"][month][key].as_f64().unwrap(), tolerance);
                };
                if notes.iter().any(|note| note.starts_with(month_name(month))) {
                    continue;
                }
                is(fitted.p_wet_after_wet, "p_ww", 1e-12);
                is(fitted.p_wet_after_dry, "p_wd", 1e-12);
                is(fitted.amount_shape, "gamma_shape", 1e-6);
                is(fitted.amount_scale_mm, "gamma_scale_mm", 1e-5);
                for (state, stats) in [("wet", fitted.wet), ("dry", fitted.dry)] {
                    is(stats.tmin_mean_c, &format!("tmin_{state}_mean"), 1e-9);
                    is(stats.tmin_sd_c, &format!("tmin_{state}_sd"), 1e-9);
                    is(stats.tmax_mean_c, &format!("tmax_{state}_mean"), 1e-9);
                    is(stats.tmax_sd_c, &format!("tmax_{state}_sd"), 1e-9);
                }
            }
        }
    }

    /// Residuals about plain monthly statistics have the published correlations.
    #[test]
    fn seattle_residual_correlations() {
        let (days, want) = (seattle(), published("any_rain"));
        let months = fit(&days).unwrap().climate.months;
        let residuals = about_monthly_means(&days, &months);
        let want = &want["residuals_by_month_and_state"];
        let (same, before) = (matrix(&want["lag0_corr"]), matrix(&want["lag1_corr_row_today_col_yesterday"]));
        for i in 0..2 {
            for j in 0..2 {
                near(correlation(&residuals, 0)[i][j], same[i][j], 1e-9);
                near(correlation(&residuals, 1)[i][j], before[i][j], 1e-9);
            }
        }
    }

    /// A and B lie near those from the published correlations of residuals about two harmonics, a
    /// smoother year than ours (five values a curve, not twelve).
    #[test]
    fn seattle_carry_over() {
        let want = &published("any_rain")["residuals_by_two_harmonics_and_state"];
        let same = matrix(&want["lag0_corr"])[0][1];
        let (a, b) = matrices(same, matrix(&want["lag1_corr_row_today_col_yesterday"]));
        let climate = fit(&seattle()).unwrap().climate;
        for i in 0..2 {
            for j in 0..2 {
                near(climate.a[i][j], a[i][j], 0.03);
                near(climate.b[i][j], b[i][j], 0.03);
            }
        }
    }

    /// Temperatures of 100 generated years carry over from day to day as the station's do (sampling
    /// error of four years is about 0.02).
    #[test]
    fn generated_days_carry_over_like_the_station() {
        let days = seattle();
        let climate = fit(&days).unwrap().climate;
        let of = |days: &[DayWeather]| {
            let residuals = about_monthly_means(days, &climate.months);
            [correlation(&residuals, 0), correlation(&residuals, 1)]
        };
        let station = of(&days);
        let generated = of(&climate.draw(8, 0, date(2001, 1, 1), 36_500));
        for (lag, (here, there)) in station.iter().zip(&generated).enumerate() {
            for (a, b) in here.as_flattened().iter().zip(there.as_flattened()) {
                println!("lag {lag}: station {a:.3}, generated {b:.3}");
                near(*b, *a, 0.04);
            }
        }
    }

    fn about_monthly_means(days: &[DayWeather], months: &[MonthClimate; 12]) -> Vec<[f64; 2]> {
        StationSummary::new(days, WET_THRESHOLD_MM).residuals(|day, wet| {
            let month = &months[month_index(day.date)];
            let s = if wet { month.wet } else { month.dry };
            [(s.tmin_mean_c, s.tmin_sd_c), (s.tmax_mean_c, s.tmax_sd_c)]
        })
    }

    /// Printed values of a fit to the same days (Thom's approximation for the amounts: shapes within 5 %).
    #[test]
    fn seattle_printed_values() {
        let months = fit(&seattle()).unwrap().climate.months;
        for (month, p_ww, p_wd, shape, mean_mm) in [
            (0, 0.734, 0.322, 0.986, 7.06),
            (2, 0.740, 0.373, 0.845, 8.30),
            (4, 0.618, 0.144, 0.803, 6.10),
            (6, 0.167, 0.080, 0.617, 4.38),
            (8, 0.486, 0.212, 0.580, 6.73),
            (10, 0.750, 0.354, 0.754, 9.05),
        ] {
            let got: &MonthClimate = &months[month];
            near(got.p_wet_after_wet, p_ww, 5.1e-4);
            near(got.p_wet_after_dry, p_wd, 5.1e-4);
            near(got.amount_shape, shape, 0.05 * shape);
            near(got.amount_shape * got.amount_scale_mm, mean_mm, 5.1e-3);
        }
        near(months[6].wet.tmax_mean_c - months[6].dry.tmax_mean_c, -4.93, 0.02);
        near(months[0].wet.tmax_mean_c - months[0].dry.tmax_mean_c, 0.79, 0.1);
    }

    /// What the generator was given comes back from 200 years of what it made.
    #[test]
    fn a_known_climate_comes_back() {
        let given = even_climate();
        let got = fit(&given.draw(3, 0, date(2001, 1, 1), 73_000)).unwrap();
        assert!(got.notes.is_empty());
        for month in &got.climate.months {
            near(month.p_wet_after_wet, 0.6, 0.05);
            near(month.p_wet_after_dry, 0.2, 0.03);
            near(month.amount_shape * month.amount_scale_mm, 7.5, 0.9);
            near(month.dry.tmin_mean_c, 4.0, 0.4);
        }
        for i in 0..2 {
            for j in 0..2 {
                near(got.climate.a[i][j], given.a[i][j], 0.02);
                near(got.climate.b[i][j], given.b[i][j], 0.02);
            }
        }
    }

    #[test]
    fn dry_months_borrow_and_say_so() {
        let mut days = seattle();
        for day in days.iter_mut().filter(|d| d.date.month() == 7) {
            day.rain_mm = 0.0;
        }
        let fitted = fit(&days).unwrap();
        assert!(fitted.notes.iter().any(|n| n.starts_with("July has only 0 wet days")), "{:?}", fitted.notes);
    }

    /// Five days of a kind are enough for a month; with four those of the months beside it are added,
    /// across the turn of the year too.
    #[test]
    fn a_month_with_four_wet_days_borrows_and_with_five_does_not() {
        for month in [1, 7, 12] {
            let fitted = |wet: usize| {
                let mut days = seattle();
                let own = days.iter_mut().filter(|d| d.date.month() == month);
                // Every third day, so that days after wet ones are many enough whichever month they fall in.
                own.enumerate().for_each(|(i, day)| {
                    day.rain_mm = if i % 3 == 1 && i / 3 < wet { 1.0 + 0.25 * i as f64 } else { 0.0 };
                });
                (fit(&days).unwrap(), days)
            };
            let name = month_name(month as usize - 1);
            let (five, _) = fitted(5);
            assert!(!five.notes.iter().any(|note| note.starts_with(name)), "{:?}", five.notes);
            let (four, days) = fitted(4);
            assert!(four.notes.iter().any(|note| note.starts_with(&format!("{name} has only 4 wet days"))));
            let beside = [(month + 10) % 12 + 1, month, month % 12 + 1];
            let pooled: Vec<f64> = days
                .iter()
                .filter(|d| beside.contains(&d.date.month()) && d.rain_mm >= WET_THRESHOLD_MM)
                .map(|d| d.tmin_c)
                .collect();
            let mean = pooled.iter().sum::<f64>() / pooled.len() as f64;
            near(four.climate.months[month as usize - 1].wet.tmin_mean_c, mean, 1e-9);
        }
    }

    /// June to August of every year dry, but for so many days of July.
    #[test]
    fn three_months_with_five_wet_days_are_enough() {
        let fitted = |wet: usize| {
            let mut days = seattle();
            days.iter_mut().filter(|day| (6..=8).contains(&day.date.month())).for_each(|day| day.rain_mm = 0.0);
            let july = days.iter_mut().filter(|day| day.date.month() == 7);
            july.step_by(3).take(wet).enumerate().for_each(|(i, day)| day.rain_mm = 1.0 + i as f64);
            fit(&days)
        };
        assert!(fitted(5).is_ok());
        assert_eq!(fitted(4), Err(FitError::TooFew { month: "July", kind: "wet", found: 4 }));
    }

    #[test]
    fn what_cannot_be_fitted_says_what_to_do() {
        let days = seattle();
        assert_eq!(fit(&days[..700]), Err(FitError::TooShort { days: 700 }));
        assert!(matches!(fit(&[&days[..5], &days[6..]].concat()), Err(FitError::Station(_))));
        let dry: Vec<DayWeather> = days.iter().map(|d| DayWeather { rain_mm: 0.0, ..d.clone() }).collect();
        let fault = fit(&dry).unwrap_err().to_string();
        assert!(fault.starts_with("January and the months beside it have only 0 wet days"), "{fault}");
        let drizzle: Vec<DayWeather> =
            days.iter().map(|d| DayWeather { rain_mm: d.rain_mm.min(0.2), ..d.clone() }).collect();
        assert!(matches!(fit(&drizzle), Err(FitError::SameAmounts { .. })));
    }

    /// A made-up series without any change in temperature fits without a NaN.
    #[test]
    fn steady_temperature_fits() {
        let steady: Vec<DayWeather> = seattle().iter().map(|d| DayWeather::new(d.date, 5.0, 12.0, d.rain_mm)).collect();
        let climate = fit(&steady).unwrap().climate;
        assert!(climate.draw(1, 0, date(2021, 1, 1), 400).iter().all(|d| (d.tmin_c - 5.0).abs() < 1e-9));
    }
}
