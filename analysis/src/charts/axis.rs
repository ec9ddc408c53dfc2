//! Scales: numbers and dates to px, with round ticks.

use crate::wording::number;
use jiff::civil::Date;
use sim_engine::dates::date_of;

/// Values further from nought than this are no figures of a garden: they do not stretch a scale, and are drawn as infinite
/// ones are.
const MOST_SHOWN: f64 = 1e12;

/// A straight scale from values to px. Its ends are always finite and apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Value at `from_px`.
    pub low: f64,
    /// Value at `to_px`.
    pub high: f64,
    /// Px of the low end.
    pub from_px: f64,
    /// Px of the high end (smaller than `from_px` for an axis that goes up).
    pub to_px: f64,
    /// Distance between ticks.
    pub step: f64,
}

impl Scale {
    /// Scale that holds all `values` up to `MOST_SHOWN` (always nought too, for scales of change),
    /// widened to round ticks.
    #[must_use]
    pub fn around(values: impl IntoIterator<Item = f64>, from_px: f64, to_px: f64) -> Self {
        Self::with_ticks(values, from_px, to_px, WISHED_TICKS)
    }

    /// As [`Scale::around`], with about `wished` steps.
    #[must_use]
    pub fn with_ticks(values: impl IntoIterator<Item = f64>, from_px: f64, to_px: f64, wished: f64) -> Self {
        let (low, high) = values
            .into_iter()
            .filter(|value| value.abs() <= MOST_SHOWN)
            .fold((0.0_f64, 0.0_f64), |(low, high), value| (low.min(value), high.max(value)));
        let high = if low == high { low + 1.0 } else { high };
        let step = round_step(high - low, wished);
        // The hair keeps 0.6 / 0.2 from counting as more than 3 steps.
        let (first, last) = ((low / step + 1e-9).floor(), (high / step - 1e-9).ceil());
        Self { low: first * step, high: last * step, from_px, to_px, step }
    }

    /// Px of a value; those beyond the scale are held a little outside the ends.
    #[must_use]
    pub fn px(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        self.from_px + share.clamp(-0.02, 1.02) * (self.to_px - self.from_px)
    }

    /// Round tick values from end to end.
    #[must_use]
    pub fn ticks(&self) -> Vec<f64> {
        let first = (self.low / self.step).round() as i64;
        let last = (self.high / self.step).round() as i64;
        (first..=last).map(|k| k as f64 * self.step).collect()
    }

    /// A tick's text: as many decimals as the step needs, a true minus, no "-0".
    #[must_use]
    pub fn tick_text(&self, tick: f64) -> String {
        let decimals = [1.0, 0.1, 0.01].iter().take_while(|&&unit| self.step < unit * 0.999).count();
        number(tick, decimals)
    }
}

/// Steps an axis would like to have.
const WISHED_TICKS: f64 = 5.0;

/// The 1, 2 or 5 times a power of ten nearest above span / wished.
fn round_step(span: f64, wished: f64) -> f64 {
    let rough = (span / wished).clamp(1e-9, 1e12);
    let mut power = 1e-9;
    while power * 10.0 <= rough {
        power *= 10.0;
    }
    // Powers built by multiplying drift in the last digit; dividing by a whole one does not.
    let factor = [1.0, 2.0, 5.0, 10.0].into_iter().find(|f| f * power >= rough * 0.999);
    let step = factor.unwrap_or(10.0) * power;
    if step < 1.0 { 1.0 / (1.0 / step).round() } else { step.round() }
}

/// A tick of a date axis.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DateTick {
    /// Days from the start.
    pub day: usize,
    /// First of a year.
    pub new_year: bool,
    /// Date of the tick.
    pub date: Date,
}

/// Firsts of months among `days` days from `start`.
#[must_use]
pub fn months(start: Date, days: usize) -> Vec<DateTick> {
    (0..days)
        .map(|day| (day, date_of(start, day)))
        .filter(|(_, date)| date.day() == 1)
        .map(|(day, date)| DateTick { day, new_year: date.month() == 1, date })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::short_month_name;
    use jiff::civil::date;

    #[test]
    fn scales_are_round_and_hold_nought() {
        let scale = Scale::around([3.2, 17.9], 0.0, 100.0);
        assert_eq!((scale.low, scale.high), (0.0, 20.0));
        assert_eq!(scale.ticks(), [0.0, 5.0, 10.0, 15.0, 20.0]);
        let scale = Scale::around([-0.31, 0.12], 0.0, 100.0);
        assert!(scale.low <= -0.31 && scale.tick_text(scale.low).starts_with('−'));
    }

    #[test]
    fn nothing_infinite_or_empty_hangs() {
        let scale = Scale::around([f64::INFINITY, f64::NAN], 0.0, 100.0);
        assert_eq!((scale.low, scale.high), (0.0, 1.0));
        assert_eq!(scale.px(f64::INFINITY), 102.0);
        assert_eq!(Scale::around([], 0.0, 1.0).ticks().len(), 6);
    }

    #[test]
    fn ticks_show_the_decimals_they_need() {
        assert_eq!(Scale::around([1.0], 0.0, 1.0).tick_text(0.2), "0.2");
        assert_eq!(Scale::around([100.0], 0.0, 1.0).tick_text(20.0), "20");
    }

    #[test]
    fn months_know_their_days_and_years() {
        let ticks = months(date(2026, 11, 20), 60);
        let got: Vec<_> = ticks.iter().map(|t| (t.day, short_month_name(t.date), t.new_year)).collect();
        assert_eq!(got, [(11, "Dec", false), (42, "Jan", true)]);
    }
}
