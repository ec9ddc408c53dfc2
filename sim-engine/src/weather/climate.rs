//! A climate month by month: what new years of weather are made from ([`super::generator`]).

/// Temperatures of the wet (or of the dry) days of a month.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TemperatureStats {
    /// Mean of the lowest temperature, °C.
    pub tmin_mean_c: f64,
    /// Standard deviation of the lowest temperature about the month's mean, °C.
    pub tmin_sd_c: f64,
    /// Mean of the highest temperature, °C.
    pub tmax_mean_c: f64,
    /// Standard deviation of the highest temperature about the month's mean, °C.
    pub tmax_sd_c: f64,
}

/// The weather of a calendar month.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MonthClimate {
    /// Probability of a wet day after a wet one.
    pub p_wet_after_wet: f64,
    /// Probability of a wet day after a dry one.
    pub p_wet_after_dry: f64,
    /// Shape of the gamma distribution of the amount on wet days; above 0.
    pub amount_shape: f64,
    /// Scale of the gamma distribution of the amount on wet days, mm; the mean is shape × scale.
    pub amount_scale_mm: f64,
    /// Temperatures of wet days.
    pub wet: TemperatureStats,
    /// Temperatures of dry days.
    pub dry: TemperatureStats,
}

impl MonthClimate {
    /// Share of wet days in the long run, p(wet|dry) / (1 + p(wet|dry) - p(wet|wet)).
    #[must_use]
    pub fn wet_share(&self) -> f64 {
        let leaving = 1.0 + self.p_wet_after_dry - self.p_wet_after_wet;
        if leaving > 0.0 { self.p_wet_after_dry / leaving } else { 0.5 }
    }
}

/// A climate: all that new years are made from. Southern sites simply have their own months.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// January to December.
    pub months: [MonthClimate; 12],
    /// Carry-over A of the temperature residuals (lowest, highest), today by yesterday.
    pub a: [[f64; 2]; 2],
    /// Weight B of the day's own chance in the temperature residuals, lower triangular.
    pub b: [[f64; 2]; 2],
    /// A day is wet from this amount on, mm; smaller amounts drawn on wet days are raised to it.
    pub wet_threshold_mm: f64,
    /// Least difference of highest and lowest temperature of a day, °C; closer ones are
    /// moved apart evenly.
    pub least_swing_c: f64,
}
