//! Running sums of one strategy in one cell: their size does not hang on the number of draws.

use crate::stats::{Estimate, t};
use crate::verdict::LEVEL;
use scenarios::model::Limit;
use sim_engine::measures::{Measure, Measures};

/// Count, mean and sum of squared deviations of a stream of numbers (Welford 1962,
/// Technometrics 4:419). Numbers come in the order of draws: one order, so one result.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Numbers so far; blanks are not counted.
    pub count: u64,
    /// Their mean; 0 where there are none.
    pub mean: f64,
    /// Sum of squared deviations from the mean.
    pub squares: f64,
}

impl Moments {
    /// Takes a number in; a blank (NaN) changes nothing.
    pub fn add(&mut self, value: f64) {
        if value.is_nan() {
            return;
        }
        self.count += 1;
        let off = value - self.mean;
        self.mean += off / self.count as f64;
        self.squares += off * (value - self.mean);
    }

    /// The mean; NaN where there is none.
    #[must_use]
    pub fn mean(&self) -> f64 {
        if self.count == 0 { f64::NAN } else { self.mean }
    }

    /// Standard deviation; NaN for fewer than two numbers.
    #[must_use]
    pub fn deviation(&self) -> f64 {
        if self.count < 2 { f64::NAN } else { (self.squares / (self.count - 1) as f64).sqrt() }
    }

    /// Mean with its 95 % t interval.
    #[must_use]
    pub fn interval(&self) -> Estimate {
        let variance = self.deviation() * self.deviation();
        t::interval(self.mean(), variance, self.count as f64, LEVEL)
    }
}

/// One strategy in one cell, over the draws so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Tally {
    /// Draws.
    pub draws: u64,
    /// Draws in which each limit held, in the order of the site.
    pub held: Vec<u64>,
    /// Draws in which all held.
    pub all_held: u64,
    /// Points over the no-birds run.
    pub aim: Moments,
    /// By measure, in the order of [`Measure::ALL`].
    pub measures: Vec<Moments>,
}

impl Tally {
    /// Nothing yet.
    #[must_use]
    pub fn new(limits: usize) -> Self {
        let measures = vec![Moments::default(); Measure::ALL.len()];
        Self { draws: 0, held: vec![0; limits], all_held: 0, aim: Moments::default(), measures }
    }

    /// Takes a draw in: its measures, its points over no birds, and the limits of the cell.
    pub fn add(&mut self, measures: &Measures, aim: f64, limits: &[Limit]) {
        self.draws += 1;
        self.aim.add(aim);
        let mut all = true;
        for (count, limit) in self.held.iter_mut().zip(limits) {
            let held = limit.holds(measures.get(limit.measure));
            *count += u64::from(held);
            all &= held;
        }
        self.all_held += u64::from(all);
        for (moments, &measure) in self.measures.iter_mut().zip(Measure::ALL) {
            moments.add(measures.get(measure));
        }
    }

    /// Whether every limit held in at least the wanted share of draws, as in a comparison.
    #[must_use]
    pub fn holds(&self, sure: f64) -> bool {
        self.held.iter().all(|&held| held as f64 / self.draws as f64 >= sure)
    }

    /// Moments of a measure.
    #[must_use]
    pub fn of(&self, measure: Measure) -> &Moments {
        &self.measures[measure as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::fixtures::close;

    #[test]
    fn running_sums_are_those_of_the_whole() {
        let values = [1e6 + 1.0, 1e6 + 4.0, f64::NAN, 1e6 + 2.5, 1e6 - 7.0];
        let mut moments = Moments::default();
        values.iter().for_each(|&value| moments.add(value));
        let kept: Vec<f64> = values.into_iter().filter(|value| !value.is_nan()).collect();
        let want = t::mean_interval(&kept, LEVEL);
        let got = moments.interval();
        close(got.mean, want.mean, 1e-12);
        close(got.low, want.low, 1e-12);
        close(moments.deviation(), crate::stats::variance(&kept).sqrt(), 1e-9);
        assert!(Moments::default().mean().is_nan() && Moments::default().interval().mean.is_nan());
    }
}
