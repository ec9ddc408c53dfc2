//! Draws in blocks: what an interval must count as one.
//!
//! The unknowns of [`BLOCK`] draws in a row are spread out over their ranges together
//! ([`crate::draw_sampler`]), so the draws of a block are not independent of each other; blocks are.
//! An interval therefore rests on how much the *means of blocks* differ. Each block weighs as
//! many draws as it has: draws that stop within a block, and blanks, make a smaller one. With m
//! the mean of all n draws, the variance of m is Σ nⱼ (mⱼ − m)² / (blocks − 1) / n, and t has one
//! degree of freedom less than there are blocks. For independent draws that is exact whatever
//! the sizes; where the last block is a part, its spread is a little too large for its weight:
//! the interval errs towards too wide.
//!
//! Few blocks say little about a spread: with fewer than [`FEWEST`] each draw is counted for
//! itself, and the variance taken as large as spreading out can make it at worst, where unknowns
//! work only together: B/(B − 1) of that of plain draws, for blocks of B (Owen 1997, Annals of
//! Statistics 25:1541). Such an interval is wider than need be, never too narrow.

use super::Estimate;
use super::t::{Difference, from_error};

/// Draws of a block. Four take out 15/16 of what an unknown does by itself in a straight line (all
/// but one part in the square of the draws), and 40 draws make the ten blocks an interval wants. The
/// sizes tried stand in `STATISTICS.md`.
pub const BLOCK: usize = 4;
/// Blocks from which on they are the unit; Kim & Nelson 2001 too want ten or more for a variance.
pub const FEWEST: usize = 10;

/// Most that spreading out can make of the variance of a mean (Owen 1997).
const WORST: f64 = BLOCK as f64 / (BLOCK - 1) as f64;

/// Block of a draw and its place within, both from 0. Draws are numbered from 1.
#[must_use]
pub fn place(number: u64) -> (u64, usize) {
    let from_nought = number.saturating_sub(1);
    (from_nought / BLOCK as u64, (from_nought % BLOCK as u64) as usize)
}

/// Draws that count as one: a block, or a single draw where blocks are too few.
#[must_use]
pub fn unit(draws: usize) -> usize {
    if draws.div_ceil(BLOCK) < FEWEST { 1 } else { BLOCK }
}

/// Degrees of freedom of an interval from about so many draws, at least 1.
#[must_use]
pub fn freedom(draws: f64) -> f64 {
    (draws / unit(draws as usize) as f64 - 1.0).max(1.0)
}

/// Mean and spread of a stream of numbers in the order of draws, from draw 1 on (Welford 1962,
/// Technometrics 4:419): one order, so one result. A blank (NaN) is not counted but keeps its place.
///
/// `statrs` takes the same steps to the same bits, but lets nobody see or put back the sum of
/// squares, which the parts of a sweep keep.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Numbers so far; blanks are not counted.
    pub count: u64,
    /// Their mean; 0 where there are none.
    pub mean: f64,
    /// Sum of squared deviations from the mean.
    pub squares: f64,
    /// Blocks that have a number.
    pub blocks: u64,
    /// Sum of squared deviations of block means from the mean, each times the block's numbers.
    pub between: f64,
    open: Open,
}

/// The block that is not full yet.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Open {
    draws: usize,
    count: u64,
    mean: f64,
    /// Mean of all before it.
    before: f64,
}

impl Moments {
    /// Of a whole column.
    #[must_use]
    pub fn of(values: &[f64]) -> Self {
        let mut moments = Self::default();
        values.iter().for_each(|&value| moments.add(value));
        moments.close();
        moments
    }

    /// From what was kept of closed ones.
    #[must_use]
    pub fn kept(count: u64, mean: f64, squares: f64, blocks: u64, between: f64) -> Self {
        Self { count, mean, squares, blocks, between, open: Open::default() }
    }

    /// Takes the next draw in.
    pub fn add(&mut self, value: f64) {
        if self.open.draws == 0 {
            self.open.before = self.mean;
        }
        self.open.draws += 1;
        if !value.is_nan() {
            self.count += 1;
            let off = value - self.mean;
            self.mean += off / self.count as f64;
            self.squares += off * (value - self.mean);
            self.open.count += 1;
            self.open.mean += (value - self.open.mean) / self.open.count as f64;
        }
        if self.open.draws == BLOCK {
            self.close();
        }
    }

    /// Ends the block that is not full: after the last draw.
    pub fn close(&mut self) {
        let Open { count, mean, before, .. } = std::mem::take(&mut self.open);
        if count == 0 {
            return;
        }
        // The first has nothing to differ from.
        if self.blocks > 0 {
            self.between += count as f64 * (mean - before) * (mean - self.mean);
        }
        self.blocks += 1;
    }

    /// The mean; NaN where there is none.
    #[must_use]
    pub fn mean(&self) -> f64 {
        if self.count == 0 { f64::NAN } else { self.mean }
    }

    /// Standard deviation from draw to draw; NaN for fewer than two numbers.
    #[must_use]
    pub fn deviation(&self) -> f64 {
        if self.count < 2 { f64::NAN } else { (self.squares / (self.count - 1) as f64).sqrt() }
    }

    /// Variance that n draws divide by n to give that of their mean, and its degrees of freedom.
    #[must_use]
    pub fn variance(&self) -> (f64, f64) {
        let mut whole = *self;
        whole.close();
        let (squares, units) = if whole.blocks < FEWEST as u64 {
            (WORST * whole.squares, whole.count)
        } else {
            (whole.between, whole.blocks)
        };
        let freedom = units as f64 - 1.0;
        // Rounding may leave a hair less than nothing.
        (if units < 2 { f64::NAN } else { squares.max(0.0) / freedom }, freedom)
    }

    /// The mean as a difference from nought, with its t interval at `level`.
    #[must_use]
    pub fn difference(&self, level: f64) -> Difference {
        let (variance, freedom) = self.variance();
        from_error(self.mean(), (variance / self.count as f64).sqrt(), freedom, variance.sqrt(), level)
    }

    /// Mean with its t interval at `level`. One number: the interval is infinite; none: all NaN.
    #[must_use]
    pub fn interval(&self, level: f64) -> Estimate {
        self.difference(level).estimate
    }
}

/// Mean of draws 1, 2, … with its t interval at `level` (0.95 for 95 %); blanks keep their place.
#[must_use]
pub fn mean_interval(draws: &[f64], level: f64) -> Estimate {
    Moments::of(draws).interval(level)
}

/// `first` − `second`, draw by draw from draw 1 on, with its t interval at `level`.
///
/// Pairs up to the shorter of the two; a pair with a blank is not counted.
#[must_use]
pub fn paired(first: &[f64], second: &[f64], level: f64) -> Difference {
    let mut moments = Moments::default();
    first.iter().zip(second).for_each(|(a, b)| moments.add(a - b));
    moments.close();
    moments.difference(level)
}

#[cfg(test)]
mod tests;
