//! By the look of the ground: enter where it is dense, leave before it is worn.

use super::reason::Reason;
use super::strategy::{Observation, Proposal, Strategy};

/// Enter above one cover, leave below another, with a longest stay and a shortest rest.
#[derive(Clone)]
pub struct ByEye {
    enter_above: f64,
    leave_below: f64,
    longest_stay_days: f64,
    shortest_rest_days: f64,
    at: Option<usize>,
}

impl ByEye {
    pub(super) fn new(enter_above: f64, leave_below: f64, longest_stay_days: f64, shortest_rest_days: f64) -> Self {
        Self { enter_above, leave_below, longest_stay_days, shortest_rest_days, at: None }
    }

    fn stays(&self, observation: &Observation) -> Option<usize> {
        let plot = self.at?;
        let seen = &observation.plots[plot];
        let well = seen.cover >= self.leave_below && seen.days_open < self.longest_stay_days;
        (seen.shut.is_none() && seen.open && well).then_some(plot)
    }

    /// The plot rested longest among those that look ready; the first of equals.
    fn ready(&self, observation: &Observation) -> Option<usize> {
        let mut best: Option<usize> = None;
        for (plot, seen) in observation.plots.iter().enumerate() {
            let ready =
                seen.shut.is_none() && seen.cover >= self.enter_above && seen.days_at_rest >= self.shortest_rest_days;
            if ready && best.is_none_or(|b| seen.days_at_rest > observation.plots[b].days_at_rest) {
                best = Some(plot);
            }
        }
        best
    }
}

impl Strategy for ByEye {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        if let Some(plot) = self.stays(observation) {
            let seen = &observation.plots[plot];
            proposal.open(plot, Reason::Stays { cover: seen.cover, days: seen.days_open + 1.0 });
            return true;
        }
        self.at = self.ready(observation);
        let Some(plot) = self.at else {
            proposal.reason = Reason::NoneReady;
            return false;
        };
        let seen = &observation.plots[plot];
        proposal.open(plot, Reason::Entered { cover: seen.cover, rest: seen.days_at_rest });
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::strategy::testing::{ask, plots};
    use jiff::civil::date;

    #[test]
    fn enters_the_longest_rested_and_leaves_when_worn() {
        let mut eye = ByEye::new(0.9, 0.75, 14.0, 28.0);
        let (mut seen, day) = (plots::<3>(), date(2027, 5, 1));
        seen[1].days_at_rest = 400.0;
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![1]));
        seen[1] = crate::gates::SeenPlot { open: true, days_open: 1.0, days_at_rest: 0.0, cover: 0.8, ..seen[1] };
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![1]));
        seen[1].cover = 0.7;
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![0]));
    }

    #[test]
    fn leaves_after_the_longest_stay_and_waits_for_rest() {
        let mut eye = ByEye::new(0.9, 0.75, 14.0, 28.0);
        let (mut seen, day) = (plots::<2>(), date(2027, 5, 1));
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![0]));
        seen[0] = crate::gates::SeenPlot { open: true, days_open: 14.0, days_at_rest: 0.0, ..seen[0] };
        seen[1].days_at_rest = 20.0;
        assert_eq!(ask(&mut eye, &seen, day), None);
    }
}
