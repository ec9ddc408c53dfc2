//! Every gate open, or every gate shut.

use super::reason::Reason;
use super::strategy::{Observation, Proposal, Strategy};

/// Every gate that may be open is.
#[derive(Clone)]
pub struct AllOpen;

impl Strategy for AllOpen {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        for (plot, seen) in observation.plots.iter().enumerate() {
            if seen.shut.is_none() {
                proposal.open(plot, Reason::AllOpen);
            }
        }
        proposal.reason = Reason::AllOpen;
        true
    }
}

/// Every gate is shut.
#[derive(Clone)]
pub struct AllShut;

impl Strategy for AllShut {
    fn propose(&mut self, _: &Observation, proposal: &mut Proposal) -> bool {
        proposal.reason = Reason::AllShut;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::reason::Veto;
    use crate::gates::strategy::testing::{ask, plots};
    use jiff::civil::date;

    #[test]
    fn opens_all_but_the_shut() {
        let mut seen = plots::<3>();
        seen[1].shut = Some(Veto::Mud);
        assert_eq!(ask(&mut AllOpen, &seen, date(2027, 5, 1)), Some(vec![0, 2]));
        assert_eq!(ask(&mut AllShut, &seen, date(2027, 5, 1)), Some(vec![]));
    }
}
