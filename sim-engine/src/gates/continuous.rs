//! Always the same plot.

use super::reason::Reason;
use super::strategy::{Observation, Proposal, Strategy};

/// One plot, every day it may be open.
#[derive(Clone)]
pub struct Continuous {
    plot: usize,
}

impl Continuous {
    pub(super) fn new(plot: usize) -> Self {
        Self { plot }
    }
}

impl Strategy for Continuous {
    fn propose(&mut self, _: &Observation, proposal: &mut Proposal) -> bool {
        proposal.open(self.plot, Reason::ForGood);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::strategy::testing::{ask, plots};

    #[test]
    fn asks_for_its_plot_whatever_the_ground() {
        let mut seen = plots::<2>();
        seen[1].cover = 0.0;
        assert_eq!(ask(&mut Continuous::new(1), &seen, jiff::civil::date(2027, 5, 1)), Some(vec![1]));
    }
}
