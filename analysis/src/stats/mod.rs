//! Statistics on draws ("possible years").
//!
//! Every sum runs in index order and every transcendental function is portable,
//! so the same draws give the same bytes on any machine and thread count.
//!
//! Of `statrs` that leaves the polynomials ([`distributions`] says why). It has neither Wilson's
//! interval nor a bootstrap, nor intervals that hold together; its quantiles are of type 8, ours
//! of type 7; its mean of a slice ends in other digits than a sum by count.

pub mod blocks;
pub mod bootstrap;
pub mod distributions;
pub mod front;
pub mod isotonic;
pub mod quantiles;
pub mod simultaneous;
pub mod t;
pub mod wilson;

/// Confidence of every printed interval: 95 %, by convention.
pub const LEVEL: f64 = 0.95;

/// A mean with an interval, in the unit of the data it was made from.
///
/// `low` and `high` are infinite when there are too few values to tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The mean.
    pub mean: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
}

/// Sum in index order: one order, so one result.
#[must_use]
pub fn sum(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |total, value| total + value)
}

/// Mean; NaN for no values.
#[must_use]
pub fn mean(values: &[f64]) -> f64 {
    sum(values) / values.len() as f64
}

/// Sample variance (divisor n − 1), two passes; NaN for fewer than two values.
#[cfg(test)]
pub(crate) fn variance(values: &[f64]) -> f64 {
    let centre = mean(values);
    let squares = values.iter().fold(0.0, |total, value| total + (value - centre) * (value - centre));
    if values.len() < 2 { f64::NAN } else { squares / (values.len() - 1) as f64 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: eight numbers of mean 5 whose squared deviations add up to 32.
    #[test]
    fn mean_and_variance_by_hand() {
        let values = [2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0];
        assert_eq!((sum(&values), mean(&values), variance(&values)), (40.0, 5.0, 32.0 / 7.0));
        assert_eq!(variance(&[1.0, 3.0]), 2.0);
        assert!(variance(&[3.0]).is_nan() && mean(&[]).is_nan());
    }
}

#[cfg(test)]
pub(crate) mod fixtures {
    //! Reads the reference tables in `tests/fixtures` (origin: README.md there).

    /// The rows of a fixture as numbers, in the order of the wanted columns.
    pub fn table(file: &str, columns: &[&str]) -> Vec<Vec<f64>> {
        let path = format!("{}/../tests/fixtures/{file}", env!("CARGO_MANIFEST_DIR"));
        let mut reader = csv::Reader::from_path(path).unwrap();
        let header = reader.headers().unwrap().clone();
        let places: Vec<usize> =
            columns.iter().map(|column| header.iter().position(|name| name == *column).unwrap()).collect();
        reader
            .records()
            .map(|row| {
                let row = row.unwrap();
                places.iter().map(|&place| row[place].parse().unwrap()).collect()
            })
            .collect()
    }

    /// Asserts closeness, absolute or relative, whichever is the kinder.
    #[track_caller]
    pub fn close(got: f64, want: f64, tolerance: f64) {
        let allowed = tolerance * want.abs().max(1.0);
        assert!((got - want).abs() <= allowed, "{got} is not {want}");
    }
}
