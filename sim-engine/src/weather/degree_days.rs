//! Degree-days of one day from its lowest and highest temperature.
//!
//! Single sine: Baskerville & Emin 1969, Allen 1976. The day is one sine wave
//! between the extremes; degree-days are the area of the wave above the lower
//! threshold. Upper cut-off *none*: heat counts without limit; *horizontal*:
//! above the upper threshold development goes on at its full rate; *vertical*: above it
//! development stops.
//! All values in one scale; °C here, but nothing depends on it.

use core::f64::consts::{FRAC_PI_2, PI};

/// What heat above an upper threshold does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CutOff {
    /// Counts without limit.
    None,
    /// Counts as if it were at the upper threshold given, °C.
    Horizontal(f64),
    /// Does not count while above the upper threshold given, °C.
    Vertical(f64),
}

/// Single-sine degree-days of a day, °C·d; never below 0.
#[must_use]
pub fn single_sine(tmin_c: f64, tmax_c: f64, lower_c: f64, cut_off: CutOff) -> f64 {
    let above = |threshold| sine_above(tmin_c, tmax_c, threshold);
    let total = match cut_off {
        CutOff::None => above(lower_c),
        CutOff::Horizontal(upper) => above(lower_c) - above(upper),
        CutOff::Vertical(upper) => {
            let stopped = (upper - lower_c) * share_of_day_above(tmin_c, tmax_c, upper);
            above(lower_c) - above(upper) - stopped
        }
    };
    total.max(0.0)
}

/// Share of the day, 0 to 1, that a sine wave between the extremes spends above a threshold.
#[must_use]
pub fn share_of_day_above(tmin_c: f64, tmax_c: f64, threshold_c: f64) -> f64 {
    if tmax_c <= threshold_c {
        return 0.0;
    }
    if tmin_c >= threshold_c {
        return 1.0;
    }
    (FRAC_PI_2 - crossing_rad(tmin_c, tmax_c, threshold_c)) / PI
}

fn sine_above(tmin_c: f64, tmax_c: f64, threshold_c: f64) -> f64 {
    let excess = 0.5 * (tmin_c + tmax_c) - threshold_c;
    if tmin_c >= threshold_c {
        return excess;
    }
    if tmax_c <= threshold_c {
        return 0.0;
    }
    let from = crossing_rad(tmin_c, tmax_c, threshold_c);
    let amplitude = 0.5 * (tmax_c - tmin_c);
    (excess * (FRAC_PI_2 - from) + amplitude * libm::cos(from)) / PI
}

/// Angle at which the rising wave crosses a threshold that lies between the extremes.
fn crossing_rad(tmin_c: f64, tmax_c: f64, threshold_c: f64) -> f64 {
    let sine = (2.0 * threshold_c - tmin_c - tmax_c) / (tmax_c - tmin_c);
    libm::asin(sine.clamp(-1.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::{fixture, near};
    use proptest::prelude::*;

    fn with_horizontal(upper: Option<f64>) -> CutOff {
        upper.map_or(CutOff::None, CutOff::Horizontal)
    }

    /// Recomputed by quadrature of the wave; tolerance of the printed figures.
    #[test]
    fn worked_values() {
        #[rustfmt::skip]
        let table = [
            (5.0, 20.0, 10.0, None, 3.771224),
            (5.0, 20.0, 5.0, None, 7.5),
            (2.0, 12.0, 5.0, None, 2.720659),
            (-2.0, 8.0, 5.0, None, 0.720659),
            (10.0, 25.0, 5.0, None, 12.5),
            (0.0, 4.0, 5.0, None, 0.0),
            (12.0, 35.0, 10.0, Some(30.0), 12.487397),
            (5.0, 38.0, 10.0, Some(31.1), 10.970020),
            (32.0, 40.0, 10.0, Some(31.1), 21.1),
            (45.0, 85.0, 50.0, Some(88.0), 15.760042),
            (60.0, 100.0, 50.0, Some(88.0), 27.117364),
        ];
        for (low, high, lower, upper, sine) in table {
            near(single_sine(low, high, lower, with_horizontal(upper)), sine, 1e-6);
        }
        near(single_sine(40.0, 70.0, 50.0, CutOff::None), 7.5424, 5e-5);
    }

    /// An independent implementation: 1e-9, vertical cut-off (by quadrature there) 1e-6.
    #[test]
    fn reference_file() {
        let mut rows = 0;
        for record in csv::Reader::from_path(fixture("c_degree_days_single_sine.csv")).unwrap().records() {
            let record = record.unwrap();
            let [low, high, base, upper, horizontal, none, vertical] =
                [2, 3, 4, 5, 6, 7, 8].map(|i| record[i].parse().unwrap());
            near(single_sine(low, high, base, CutOff::Horizontal(upper)), horizontal, 1e-9);
            near(single_sine(low, high, base, CutOff::None), none, 1e-9);
            near(single_sine(low, high, base, CutOff::Vertical(upper)), vertical, 1e-6);
            rows += 1;
        }
        assert!(rows > 100);
    }

    #[test]
    fn a_day_without_swing() {
        near(single_sine(15.0, 15.0, 10.0, CutOff::None), 5.0, 1e-12);
        near(single_sine(10.0, 10.0, 10.0, CutOff::None), 0.0, 1e-12);
        near(single_sine(35.0, 35.0, 10.0, CutOff::Vertical(30.0)), 0.0, 1e-12);
        near(share_of_day_above(15.0, 15.0, 10.0), 1.0, 0.0);
    }

    proptest! {
        #[test]
        fn bounded_monotone_and_scale_free(
            low in -20.0..40.0_f64, swing in 0.0..30.0_f64,
            lower in 0.0..15.0_f64, width in 0.1..30.0_f64,
            warmer in 0.0..5.0_f64,
        ) {
            let (high, upper) = (low + swing, lower + width);
            let cut = CutOff::Horizontal(upper);
            let here = single_sine(low, high, lower, cut);
            prop_assert!(here >= 0.0 && here <= width + 1e-9);
            prop_assert!(single_sine(low, high + warmer, lower, cut) >= here - 1e-9);
            prop_assert!(single_sine((low + warmer).min(high), high, lower, cut) >= here - 1e-9);
            prop_assert!(single_sine(low, high, lower, CutOff::Vertical(upper)) <= here + 1e-9);
            prop_assert!(single_sine(low, high, lower, CutOff::None) >= here - 1e-9);
            let f = |c: f64| 1.8 * c + 32.0;
            let fahrenheit = single_sine(f(low), f(high), f(lower), CutOff::Horizontal(f(upper)));
            prop_assert!((fahrenheit - 1.8 * here).abs() < 1e-9);
        }
    }
}
