//! Figures of a verdict, in no more digits than they bear.

use crate::stats::Estimate;
use crate::wording::number;
use scenarios::money::AimUnit;
use scenarios::short_number::decimals_for;

/// " (3.1 to 4.5)", or nothing when the ends are unknown or equal.
pub(super) fn range(estimate: Estimate) -> String {
    if estimate.low.is_finite() && estimate.low < estimate.high {
        let scale = estimate.mean;
        format!(" ({} to {})", points(estimate.low, scale), points(estimate.high, scale))
    } else {
        String::new()
    }
}

/// A number of points with decimals fit for the size of `scale`; never "-0".
pub(super) fn points(value: f64, scale: f64) -> String {
    number(value, decimals_for(scale))
}

/// The same of what aims are counted in, a year: "3.00 hours a year".
pub(super) fn yearly(value: f64, scale: f64, aims: &AimUnit) -> String {
    aims.yearly(&points(value, scale))
}

/// Whole percent, but never 100 or 0 unless it is.
pub(super) fn in_100(share: f64) -> u32 {
    let whole = (share * 100.0).round() as u32;
    match whole {
        100 if share < 1.0 => 99,
        0 if share > 0.0 => 1,
        _ => whole,
    }
}

/// "9 of 10", "19 of 20", "87 of 100".
pub(super) fn out_of(share: f64) -> String {
    let whole = |of: f64| ((share * of).round() - share * of).abs() < 1e-9;
    let of = [10.0, 20.0, 100.0].into_iter().find(|&of| whole(of)).unwrap_or(1_000.0);
    format!("{} of {of}", (share * of).round())
}

/// A share in hundredths, with as many decimals as it needs.
pub(super) fn hundredths(share: f64) -> String {
    let text = format!("{:.2}", 100.0 * share);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::words::samples::estimate;

    /// Three figures or so: decimals by size, and the sign a minus, which nought has none of.
    #[test]
    fn points_have_decimals_by_size() {
        assert_eq!([points(123.4, 100.0), points(-45.67, -10.0), points(3.456, 9.99)], ["123", "−45.7", "3.46"]);
        assert_eq!([points(3.456, -250.0), points(-0.004, 1.0), points(-0.005, 1.0)], ["3", "0.00", "−0.01"]);
        assert_eq!(points(-10.0, 10.0), "−10.0");
    }

    /// Certain is said of what is certain only.
    #[test]
    fn percent_is_whole_but_never_certain_unless_it_is() {
        assert_eq!([0.0, 0.001, 0.004, 0.456, 0.996, 0.9999, 1.0].map(in_100), [0, 1, 1, 46, 99, 99, 100]);
    }

    #[test]
    fn shares_are_told_in_the_smallest_round_number() {
        assert_eq!([0.9, 0.95, 0.87, 0.999].map(out_of), ["9 of 10", "19 of 20", "87 of 100", "999 of 1000"]);
        assert_eq!([0.95, 0.9, 0.975, 0.9].map(hundredths), ["95", "90", "97.5", "90"]);
        assert_eq!(hundredths(1.0), "100");
    }

    #[test]
    fn a_range_is_told_where_it_has_two_ends() {
        assert_eq!(range(estimate(12.0, 10.0, 14.0)), " (10.0 to 14.0)");
        assert_eq!(range(estimate(12.0, 12.0, 12.0)), "");
        assert_eq!(range(estimate(12.0, f64::NEG_INFINITY, f64::INFINITY)), "");
    }
}
