//! Means and differences with t intervals (Student 1908), from their standard errors.
//!
//! Draws are not independent: their standard errors are made in [`super::blocks`].

use super::Estimate;
use super::distributions::t_quantile;

/// A difference of two means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Mean of the first minus mean of the second, with its interval.
    pub estimate: Estimate,
    /// Standard deviation of the paired differences.
    pub spread: f64,
    /// The t statistic; infinite or NaN when nothing varies.
    pub t: f64,
    /// Degrees of freedom.
    pub df: f64,
}

/// A difference from its mean, standard error and degrees of freedom.
pub(super) fn from_error(centre: f64, error: f64, df: f64, spread: f64, level: f64) -> Difference {
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
    use crate::stats::distributions::t_upper_tail;
    use crate::stats::fixtures::{close, table};
    use crate::stats::{mean, variance};

    fn case(data: &[Vec<f64>], number: f64) -> (Vec<f64>, Vec<f64>) {
        data.iter().filter(|row| row[0] == number).map(|row| (row[1], row[2])).unzip()
    }

    /// `first` − `second` for unpaired data of unequal variance (Welch 1947), at `level`.
    fn welch(first: &[f64], second: &[f64], level: f64) -> Difference {
        let (n, m) = (first.len() as f64, second.len() as f64);
        let (a, b) = (variance(first) / n, variance(second) / m);
        let df = (a + b) * (a + b) / (a * a / (n - 1.0) + b * b / (m - 1.0));
        from_error(mean(first) - mean(second), (a + b).sqrt(), df, f64::NAN, level)
    }

    /// By scipy (origin in tests/fixtures/README.md).
    #[test]
    fn agrees_with_scipy() {
        let data = table("i_ttest_data.csv", &["case", "x", "y"]);
        let wanted = ["case", "level", "welch_t", "welch_df", "welch_p", "welch_ci_lo", "welch_ci_hi"];
        for want in table("i_ttest_result.csv", &wanted) {
            let (x, y) = case(&data, want[0]);
            let apart = welch(&x, &y, want[1]);
            let got = [
                apart.t,
                apart.df,
                2.0 * t_upper_tail(apart.t.abs(), apart.df),
                apart.estimate.low,
                apart.estimate.high,
            ];
            for (got, want) in got.iter().zip(&want[2..]) {
                close(*got, *want, 1e-9);
            }
        }
    }

    /// What does not vary has no reach; fewer than one degree of freedom tell nothing; with one it
    /// is Cauchy's 12.7062 errors.
    #[test]
    fn intervals_without_spread_or_freedom() {
        let at = |error, df| from_error(3.0, error, df, 0.0, 0.95).estimate;
        assert_eq!(at(0.0, 4.0), Estimate { mean: 3.0, low: 3.0, high: 3.0 });
        assert_eq!(at(0.0, 0.0), Estimate { mean: 3.0, low: 3.0, high: 3.0 });
        let unknown = Estimate { mean: 3.0, low: f64::NEG_INFINITY, high: f64::INFINITY };
        assert_eq!((at(1.0, 0.9), at(f64::NAN, 4.0)), (unknown, unknown));
        close(at(2.0, 1.0).high, 3.0 + 2.0 * 12.706_204_736, 1e-9);
        close(at(2.0, 1.0).low, 3.0 - 2.0 * 12.706_204_736, 1e-9);
    }
}
