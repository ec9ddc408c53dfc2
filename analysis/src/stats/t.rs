//! Means and differences with t intervals (Student 1908; Welch 1947).
//!
//! Differences between strategies are *paired*: both ran on the same possible
//! years, so the luck they share cancels.

use super::distributions::{t_quantile, t_upper_tail};
use super::{Estimate, mean, variance};

/// A difference of two means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Mean of the first minus mean of the second, with its interval.
    pub estimate: Estimate,
    /// Standard deviation of the paired differences (paired only; NaN for Welch).
    pub spread: f64,
    /// The t statistic; infinite or NaN when nothing varies.
    pub t: f64,
    /// Degrees of freedom.
    pub df: f64,
}

impl Difference {
    /// Two-sided p-value.
    #[must_use]
    pub fn p(&self) -> f64 {
        2.0 * t_upper_tail(self.t.abs(), self.df)
    }
}

/// Mean of `values` with its t interval at `level` (0.95 for 95 %).
///
/// One value: the interval is infinite. None: all NaN. Values must be numbers;
/// drop blanks first ([`super::quantiles::present`]).
#[must_use]
pub fn mean_interval(values: &[f64], level: f64) -> Estimate {
    let n = values.len() as f64;
    around(mean(values), (variance(values) / n).sqrt(), n - 1.0, level)
}

/// A mean with its t interval at `level` from running sums: mean, sample variance and how
/// many values they were made of.
#[must_use]
pub fn interval(mean: f64, variance: f64, count: f64, level: f64) -> Estimate {
    around(mean, (variance / count).sqrt(), count - 1.0, level)
}

/// `first` − `second`, draw by draw, with its t interval at `level`.
///
/// Pairs up to the shorter of the two; callers check lengths.
#[must_use]
pub fn paired(first: &[f64], second: &[f64], level: f64) -> Difference {
    let differences: Vec<f64> = first.iter().zip(second).map(|(a, b)| a - b).collect();
    let n = differences.len() as f64;
    let spread = variance(&differences).sqrt();
    from_error(mean(&differences), spread / n.sqrt(), n - 1.0, spread, level)
}

/// `first` − `second` for unpaired data of unequal variance (Welch 1947), at `level`.
#[must_use]
pub fn welch(first: &[f64], second: &[f64], level: f64) -> Difference {
    let (n, m) = (first.len() as f64, second.len() as f64);
    let (a, b) = (variance(first) / n, variance(second) / m);
    let df = (a + b) * (a + b) / (a * a / (n - 1.0) + b * b / (m - 1.0));
    from_error(mean(first) - mean(second), (a + b).sqrt(), df, f64::NAN, level)
}

fn from_error(centre: f64, error: f64, df: f64, spread: f64, level: f64) -> Difference {
    Difference { estimate: around(centre, error, df, level), spread, t: centre / error, df }
}

fn around(centre: f64, error: f64, df: f64, level: f64) -> Estimate {
    let reach = if error == 0.0 {
        0.0
    } else if df < 1.0 || error.is_nan() {
        f64::INFINITY
    } else {
        t_quantile(0.5 + 0.5 * level, df) * error
    };
    Estimate { mean: centre, low: centre - reach, high: centre + reach }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::fixtures::{close, table};

    fn case(data: &[Vec<f64>], number: f64) -> (Vec<f64>, Vec<f64>) {
        data.iter().filter(|row| row[0] == number).map(|row| (row[1], row[2])).unzip()
    }

    /// t intervals by scipy and statsmodels (origin in tests/fixtures/README.md).
    #[test]
    fn agrees_with_scipy() {
        let data = table("i_ttest_data.csv", &["case", "x", "y"]);
        let wanted = [
            "case",
            "level",
            "mean_x",
            "mean_ci_lo",
            "mean_ci_hi",
            "paired_t",
            "paired_p",
            "paired_ci_lo",
            "paired_ci_hi",
            "welch_t",
            "welch_df",
            "welch_p",
            "welch_ci_lo",
            "welch_ci_hi",
        ];
        for want in table("i_ttest_result.csv", &wanted) {
            let (x, y) = case(&data, want[0]);
            let alone = mean_interval(&x, want[1]);
            let pair = paired(&x, &y, want[1]);
            let apart = welch(&x, &y, want[1]);
            let got = [
                alone.mean,
                alone.low,
                alone.high,
                pair.t,
                pair.p(),
                pair.estimate.low,
                pair.estimate.high,
                apart.t,
                apart.df,
                apart.p(),
                apart.estimate.low,
                apart.estimate.high,
            ];
            for (got, want) in got.iter().zip(&want[2..]) {
                close(*got, *want, 1e-9);
            }
        }
    }

    #[test]
    fn one_value_tells_nothing_about_the_spread() {
        let got = mean_interval(&[3.0], 0.95);
        assert_eq!((got.mean, got.low, got.high), (3.0, f64::NEG_INFINITY, f64::INFINITY));
    }

    #[test]
    fn equal_columns_differ_by_exactly_nothing() {
        let got = paired(&[1.0, 5.0, 2.0], &[1.0, 5.0, 2.0], 0.95).estimate;
        assert_eq!((got.mean, got.low, got.high), (0.0, 0.0, 0.0));
    }
}
