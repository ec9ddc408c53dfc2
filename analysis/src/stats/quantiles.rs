//! Quantiles by linear interpolation between order statistics (type 7 of
//! Hyndman & Fan 1996, The American Statistician 50:361–365), and blanks.
//!
//! A *blank* is a draw in which a measure has no meaning (no pests without birds,
//! say). It is NaN in a column of draws; it is never counted as nought.

/// Median and the 5–95 % and 25–75 % ranges of one column of draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// 5 % quantile.
    pub p05: f64,
    /// 25 % quantile.
    pub p25: f64,
    /// Middle value.
    pub median: f64,
    /// 75 % quantile.
    pub p75: f64,
    /// 95 % quantile.
    pub p95: f64,
    /// Draws that had a value.
    pub counted: usize,
    /// Draws that were blank.
    pub blank: usize,
}

/// The values that are not blank, in their order.
#[must_use]
pub fn present(values: &[f64]) -> Vec<f64> {
    values.iter().copied().filter(|value| !value.is_nan()).collect()
}

/// Spread of a column of draws; blanks are counted apart. All blank: `None`.
#[must_use]
pub fn spread(values: &[f64]) -> Option<Spread> {
    let mut sorted = present(values);
    sorted.sort_by(f64::total_cmp);
    if sorted.is_empty() {
        return None;
    }
    let at = |p| of_sorted(&sorted, p);
    Some(Spread {
        p05: at(0.05),
        p25: at(0.25),
        median: at(0.5),
        p75: at(0.75),
        p95: at(0.95),
        counted: sorted.len(),
        blank: values.len() - sorted.len(),
    })
}

/// Quantile at share `p` (0..1) of the values that are not blank; `None` if all are.
#[must_use]
pub fn quantile(values: &[f64], p: f64) -> Option<f64> {
    let mut sorted = present(values);
    sorted.sort_by(f64::total_cmp);
    (!sorted.is_empty()).then(|| of_sorted(&sorted, p))
}

fn of_sorted(sorted: &[f64], p: f64) -> f64 {
    let last = sorted.len() - 1;
    let place = p.clamp(0.0, 1.0) * last as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(last);
    sorted[below] + (place - below as f64) * (sorted[above] - sorted[below])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand after Hyndman & Fan's type 7: place = p (n − 1).
    #[test]
    fn interpolates_between_order_statistics() {
        let values = [9.0, 1.0, 4.0, 16.0];
        assert_eq!(quantile(&values, 0.5), Some(6.5));
        assert_eq!(quantile(&values, 0.25), Some(3.25));
        assert_eq!(quantile(&values, 1.0), Some(16.0));
        assert_eq!(quantile(&values, 0.0), Some(1.0));
    }

    #[test]
    fn blanks_are_counted_not_used() {
        let got = spread(&[f64::NAN, 2.0, f64::NAN, 4.0, 3.0]).unwrap();
        assert_eq!((got.median, got.counted, got.blank), (3.0, 3, 2));
    }

    #[test]
    fn all_blank_has_no_spread() {
        assert_eq!(spread(&[f64::NAN, f64::NAN]), None);
        assert_eq!(quantile(&[], 0.5), None);
    }

    #[test]
    fn one_value_is_every_quantile() {
        let got = spread(&[7.0]).unwrap();
        assert_eq!((got.p05, got.p95), (7.0, 7.0));
    }
}
