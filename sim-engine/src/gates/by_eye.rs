//! By the look of the ground where a plot is barest: enter where it is dense, leave before it is worn.

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
    use crate::gates::reason::Veto;
    use crate::gates::strategy::PlotObservation;
    use crate::gates::strategy::testing::{ask, plots, proposed};
    use jiff::civil::date;

    #[test]
    fn enters_the_longest_rested_and_leaves_when_worn() {
        let mut eye = ByEye::new(0.9, 0.75, 14.0, 28.0);
        let (mut seen, day) = (plots::<3>(), date(2027, 5, 1));
        seen[1].days_at_rest = 400.0;
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![1]));
        seen[1] = PlotObservation { open: true, days_open: 1.0, days_at_rest: 0.0, cover: 0.8, ..seen[1] };
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![1]));
        seen[1].cover = 0.7;
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![0]));
    }

    #[test]
    fn leaves_after_the_longest_stay_and_waits_for_rest() {
        let mut eye = ByEye::new(0.9, 0.75, 14.0, 28.0);
        let (mut seen, day) = (plots::<2>(), date(2027, 5, 1));
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![0]));
        seen[0] = PlotObservation { open: true, days_open: 14.0, days_at_rest: 0.0, ..seen[0] };
        seen[1].days_at_rest = 20.0;
        assert_eq!(ask(&mut eye, &seen, day), None);
    }

    /// What is asked of a plot is met by exactly as much; the longest stay ends on its last day.
    #[test]
    fn the_lines_themselves_count_as_met() {
        let day = date(2027, 5, 1);
        let ready = |cover, days_at_rest| {
            let plot = PlotObservation { cover, days_at_rest, ..plots::<1>()[0] };
            ask(&mut ByEye::new(0.9, 0.75, 14.0, 28.0), &[plot], day).is_some()
        };
        assert!(ready(0.9, 28.0) && !ready(0.899, 28.0) && !ready(0.9, 27.0));
        let stays = |cover, days_open| {
            let mut eye = ByEye::new(0.9, 0.75, 14.0, 28.0);
            assert_eq!(ask(&mut eye, &plots::<1>(), day), Some(vec![0]));
            let plot = PlotObservation { open: true, cover, days_open, days_at_rest: 0.0, ..plots::<1>()[0] };
            ask(&mut eye, &[plot], day).is_some()
        };
        assert!(stays(0.75, 13.0) && !stays(0.749, 13.0) && !stays(0.75, 14.0));
    }

    /// Of equals the first; never one that is shut; one that a rule shut overnight is left.
    #[test]
    fn takes_only_what_may_be_open() {
        let (mut eye, mut seen, day) = (ByEye::new(0.9, 0.75, 14.0, 28.0), plots::<3>(), date(2027, 5, 1));
        seen[0].shut = Some(Veto::Mud);
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![1]));
        seen[1] = PlotObservation { open: false, days_open: 0.0, days_at_rest: 1.0, ..seen[1] };
        assert_eq!(ask(&mut eye, &seen, day), Some(vec![2]), "its gate was kept shut yesterday");
        seen[2] = PlotObservation { open: true, days_open: 1.0, days_at_rest: 0.0, shut: Some(Veto::Mud), ..seen[2] };
        assert_eq!(ask(&mut eye, &seen, day), None, "none is ready and the one it is on is shut");
    }

    #[test]
    fn the_diary_counts_today() {
        let (mut eye, mut seen, day) = (ByEye::new(0.9, 0.75, 14.0, 28.0), plots::<1>(), date(2027, 5, 1));
        let reason = |eye: &mut ByEye, seen: &[_]| proposed(eye, seen, day, &[], 15.0).unwrap().reason;
        assert_eq!(reason(&mut eye, &seen), Reason::Entered { cover: 0.95, rest: 365.0 });
        seen[0] = PlotObservation { open: true, days_open: 1.0, days_at_rest: 0.0, ..seen[0] };
        assert_eq!(reason(&mut eye, &seen), Reason::Stays { cover: 0.95, days: 2.0 });
    }
}
