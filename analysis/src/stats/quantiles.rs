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
    let sorted = sorted(values);
    spread_of_sorted(sorted.len(), values.len(), |place| sorted[place])
}

/// Spread of so many values, the lowest first, that `at` gives by their place; the rest of the `draws` is blank.
#[must_use]
pub fn spread_of_sorted(count: usize, draws: usize, at: impl Fn(usize) -> f64) -> Option<Spread> {
    let of = |p| of_sorted(count, &at, p);
    (count > 0).then(|| Spread {
        p05: of(0.05),
        p25: of(0.25),
        median: of(0.5),
        p75: of(0.75),
        p95: of(0.95),
        counted: count,
        blank: draws - count,
    })
}

/// The values that are not blank, the lowest first.
fn sorted(values: &[f64]) -> Vec<f64> {
    let mut sorted = present(values);
    // Equals are the same bits, so that their order is none.
    sorted.sort_unstable_by(f64::total_cmp);
    sorted
}

/// Quantile at share `p` (0..1) of the values that are not blank; `None` if all are.
#[must_use]
pub fn quantile(values: &[f64], p: f64) -> Option<f64> {
    let sorted = sorted(values);
    (!sorted.is_empty()).then(|| of_sorted(sorted.len(), &|place| sorted[place], p))
}

fn of_sorted(count: usize, at: &impl Fn(usize) -> f64, p: f64) -> f64 {
    let last = count - 1;
    let place = p.clamp(0.0, 1.0) * last as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(last);
    at(below) + (place - below as f64) * (at(above) - at(below))
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
