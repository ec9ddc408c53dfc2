//! Gates by a list of dates; each line holds until the next.

use super::reason::Reason;
use super::spec::DatedOpening;
use super::strategy::{Observation, Opening, Proposal, Strategy};

/// By a list of dates, in order.
#[derive(Clone)]
pub struct Dated {
    openings: Vec<DatedOpening>,
}

impl Dated {
    pub(super) fn new(openings: Vec<DatedOpening>) -> Self {
        Self { openings }
    }
}

impl Strategy for Dated {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        let past = self.openings.partition_point(|o| o.date <= observation.date);
        // Before the first date the list has no answer.
        let Some(line) = past.checked_sub(1).map(|i| &self.openings[i]) else {
            return false;
        };
        proposal.reason = Reason::Dated;
        for &plot in &line.plots {
            proposal.openings.push(Opening { plot, hours: line.hours, birds: line.birds });
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::strategy::testing::{ask, plots};
    use jiff::civil::date;

    #[test]
    fn each_line_holds_until_the_next() {
        let line = |day, plots: &[usize]| DatedOpening { date: day, plots: plots.to_vec(), hours: None, birds: None };
        let mut dated = Dated::new(vec![line(date(2027, 4, 1), &[1]), line(date(2027, 4, 20), &[])]);
        let seen = plots::<2>();
        assert_eq!(ask(&mut dated, &seen, date(2027, 3, 31)), None);
        assert_eq!(ask(&mut dated, &seen, date(2027, 4, 1)), Some(vec![1]));
        assert_eq!(ask(&mut dated, &seen, date(2027, 4, 19)), Some(vec![1]));
        assert_eq!(ask(&mut dated, &seen, date(2027, 4, 25)), Some(vec![]));
    }
}
