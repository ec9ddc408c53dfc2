//! The chance that a limit holds, with its interval: Wilson's score interval
//! (Wilson 1927, Journal of the American Statistical Association 22:209–212).
//!
//! Chosen over the plain interval because limits that always held must not be
//! reported as certain.
//!
//! It supposes independent draws. Draws come in blocks over which the unknowns are spread out
//! ([`super::blocks`]), and a count of them as a rule varies less than that: the interval covers
//! at least as often as it says (measured in `blocks/tests.rs`), and is kept.

use super::distributions::normal_quantile;

/// A share counted on draws, with its interval; all three in 0..1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// Times it held ÷ times tried.
    pub chance: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// `held` times of `tried`, at confidence `level` (0.95 for 95 %).
///
/// Nothing tried tells nothing: chance NaN, interval 0..1.
#[must_use]
pub fn wilson(held: usize, tried: usize, level: f64) -> Chance {
    if tried == 0 {
        return Chance { chance: f64::NAN, low: 0.0, high: 1.0 };
    }
    let n = tried as f64;
    let chance = held as f64 / n;
    let z2 = {
        let z = normal_quantile(0.5 + 0.5 * level);
        z * z
    };
    let shrink = 1.0 / (1.0 + z2 / n);
    let centre = (chance + 0.5 * z2 / n) * shrink;
    let reach = (z2 * (chance * (1.0 - chance) / n + 0.25 * z2 / (n * n))).sqrt() * shrink;
    // At the ends the formula is exactly 0 or 1; rounding may miss it by one unit.
    Chance {
        chance,
        low: if held == 0 { 0.0 } else { (centre - reach).max(0.0) },
        high: if held == tried { 1.0 } else { (centre + reach).min(1.0) },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::fixtures::{close, table};

    /// Wilson intervals by statsmodels (origin in tests/fixtures/README.md).
    #[test]
    fn agrees_with_statsmodels() {
        for row in table("i_wilson.csv", &["k", "n", "level", "wilson_lo", "wilson_hi"]) {
            let got = wilson(row[0] as usize, row[1] as usize, row[2]);
            close(got.low, row[3], 1e-9);
            close(got.high, row[4], 1e-9);
        }
    }

    #[test]
    fn always_held_is_not_certain() {
        let got = wilson(10, 10, 0.95);
        assert_eq!((got.chance, got.high), (1.0, 1.0));
        assert!(got.low < 0.73, "{}", got.low);
    }

    #[test]
    fn nothing_tried_tells_nothing() {
        let got = wilson(0, 0, 0.95);
        assert!(got.chance.is_nan());
        assert_eq!((got.low, got.high), (0.0, 1.0));
    }
}
