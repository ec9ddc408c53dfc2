//! The gamma distribution of rain amounts, fitted by maximum likelihood.
//!
//! The shape k solves ln k - ψ(k) = ln(mean) - mean(ln), by Minka's (2002) generalised
//! Newton step; the scale is mean / k. ψ goes through the `libm` crate so that a fit gives the
//! same bytes on every processor; that of `statrs` calls the system's `ln`, and it has no ψ'. Its
//! polynomials, sums and products alone, serve the series of both.

use statrs::function::evaluate::polynomial;

/// Steps allowed; five reach full precision from Minka's start.
const STEPS: u32 = 50;
/// Below this, ln(mean) - mean(ln) is rounding: all values are the same.
const NO_SPREAD: f64 = 1e-12;

/// A gamma distribution with mean `shape * scale`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GammaLaw {
    /// Shape, above 0.
    pub shape: f64,
    /// Scale, in the unit of the values.
    pub scale: f64,
}

/// Fits to values above 0; `None` for no values, values not above 0, or values all the same.
#[must_use]
pub fn fit(values: &[f64]) -> Option<GammaLaw> {
    if values.is_empty() || values.iter().any(|v| *v <= 0.0) {
        return None;
    }
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let mean_log = values.iter().map(|v| libm::log(*v)).sum::<f64>() / n;
    let spread = libm::log(mean) - mean_log;
    (spread > NO_SPREAD).then(|| {
        let shape = shape_from_spread(spread);
        GammaLaw { shape, scale: mean / shape }
    })
}

/// Minka's start.
fn start_shape(spread: f64) -> f64 {
    let lift = spread - 3.0;
    (-lift + (lift * lift + 24.0 * spread).sqrt()) / (12.0 * spread)
}

fn shape_from_spread(spread: f64) -> f64 {
    let mut shape = start_shape(spread);
    for _ in 0..STEPS {
        let miss = libm::log(shape) - digamma(shape) - spread;
        let slope = shape * shape * (1.0 / shape - trigamma(shape));
        let next = 1.0 / (1.0 / shape + miss / slope);
        if (next - shape).abs() <= 1e-14 * shape {
            return next;
        }
        shape = next;
    }
    shape
}

/// ψ(x) for x > 0: recurrence up to 10, then the asymptotic series (Abramowitz & Stegun 1964, 6.3.18).
fn digamma(mut x: f64) -> f64 {
    let mut below = 0.0;
    while x < 10.0 {
        below -= 1.0 / x;
        x += 1.0;
    }
    let r = 1.0 / (x * x);
    let series = r * polynomial(r, &[1.0 / 12.0, -1.0 / 120.0, 1.0 / 252.0, -1.0 / 240.0, 1.0 / 132.0]);
    below + libm::log(x) - 0.5 / x - series
}

/// ψ'(x) for x > 0: recurrence up to 10, then the asymptotic series (Abramowitz & Stegun 1964, 6.4.12).
fn trigamma(mut x: f64) -> f64 {
    let mut below = 0.0;
    while x < 10.0 {
        below += 1.0 / (x * x);
        x += 1.0;
    }
    let r = 1.0 / (x * x);
    let series = r * polynomial(r, &[1.0 / 6.0, -1.0 / 30.0, 1.0 / 42.0, -1.0 / 30.0]);
    below + (1.0 + 0.5 / x + series) / x
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::{fixture, near};
    use std::collections::BTreeMap;

    /// scipy's maximum likelihood with the location held at 0, to 1e-6.
    #[test]
    fn reference_file() {
        let mut samples: BTreeMap<String, Vec<f64>> = BTreeMap::new();
        for record in csv::Reader::from_path(fixture("i_gamma_mle_data.csv")).unwrap().records() {
            let record = record.unwrap();
            samples.entry(record[0].to_string()).or_default().push(record[2].parse().unwrap());
        }
        let mut cases = 0;
        for record in csv::Reader::from_path(fixture("i_gamma_mle_result.csv")).unwrap().records() {
            let record = record.unwrap();
            let [shape, scale] = [2, 3].map(|i| record[i].parse::<f64>().unwrap());
            let got = fit(&samples[&record[0]]).unwrap();
            near(got.shape / shape, 1.0, 1e-6);
            near(got.scale / scale, 1.0, 1e-6);
            cases += 1;
        }
        assert!(cases > 10);
    }

    #[test]
    fn digamma_agrees_with_statrs() {
        for i in 1..400 {
            let x = 0.05 * f64::from(i);
            near(digamma(x), statrs::function::gamma::digamma(x), 1e-11);
            let slope = (digamma(x * 1.0001) - digamma(x * 0.9999)) / (0.0002 * x);
            near(trigamma(x) / slope, 1.0, 1e-6);
        }
    }

    /// ψ(1) = −γ, ψ(½) = −γ − 2 ln 2, ψ′(1) = π²/6, ψ′(½) = π²/2 (Abramowitz & Stegun 1964, 6.3.2,
    /// 6.3.3, 6.4.2, 6.4.4), within the first term the series leave out.
    #[test]
    fn digamma_and_its_slope_in_closed_form() {
        const EULER: f64 = 0.577_215_664_901_532_9;
        let square = core::f64::consts::PI * core::f64::consts::PI;
        near(digamma(1.0), -EULER, 5e-14);
        near(digamma(0.5), -EULER - 2.0 * core::f64::consts::LN_2, 5e-14);
        near(trigamma(1.0), square / 6.0, 2e-12);
        near(trigamma(0.5), square / 2.0, 2e-12);
    }

    /// Minka's start lies within 1.5 % of the root at any spread (Minka 2002, "Estimating a Gamma
    /// distribution"; from memory).
    #[test]
    fn the_start_is_near() {
        for spread in [0.001, 0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 20.0] {
            near(start_shape(spread) / shape_from_spread(spread), 1.0, 0.015);
        }
    }

    #[test]
    fn what_has_no_law() {
        assert_eq!(fit(&[]), None);
        assert_eq!(fit(&[1.0, 0.0]), None);
        assert_eq!(fit(&[2.0; 9]), None);
    }
}
