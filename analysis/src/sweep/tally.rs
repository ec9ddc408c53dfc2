//! Running sums of one strategy in one cell: their size does not hang on the number of draws.

use crate::stats::blocks::Moments;
use scenarios::model::Limit;
use sim_engine::measures::{Measure, Measures};

/// One strategy in one cell, over the draws so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Tally {
    /// Draws.
    pub draws: u64,
    /// Draws in which each limit held, in the order of the site.
    pub held: Vec<u64>,
    /// Draws in which all held.
    pub all_held: u64,
    /// Worth over the run of birds shut in.
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

    /// Takes a draw in: its measures, its points over birds shut in, and the limits of the cell.
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

    /// Ends the last block of draws, full or not.
    pub fn close(&mut self) {
        self.aim.close();
        self.measures.iter_mut().for_each(Moments::close);
    }

    /// Whether every limit held in at least the wanted share of draws, as in a comparison.
    #[must_use]
    pub fn holds(&self, required_reliability: f64) -> bool {
        self.held.iter().all(|&held| held as f64 / self.draws as f64 >= required_reliability)
    }

    /// Moments of a measure.
    #[must_use]
    pub fn of(&self, measure: Measure) -> &Moments {
        &self.measures[measure as usize]
    }
}
