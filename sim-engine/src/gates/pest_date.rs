//! In one plot while a pest's degree-days are in a window, else another strategy.

use super::practice::tally::PracticeTally;
use super::reason::Reason;
use super::spec::PestWindow;
use super::strategy::{CloneStrategy, Observation, Proposal, Strategy};

/// By a pest's date.
#[derive(Clone)]
pub struct PestDate {
    window: PestWindow,
    otherwise: Box<dyn CloneStrategy>,
}

impl PestDate {
    pub(super) fn new(window: PestWindow, otherwise: Box<dyn CloneStrategy>) -> Self {
        Self { window, otherwise }
    }
}

impl Strategy for PestDate {
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        self.otherwise.practices(tell);
    }

    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        let PestWindow { plot, pest, from_dd, to_dd } = self.window;
        if let Some(degree_days) = observation.pest_degree_days[pest] {
            let due = degree_days >= from_dd && degree_days <= to_dd;
            if due && observation.plots[plot].shut.is_none() {
                proposal.open(plot, Reason::PestWindow { degree_days });
                return true;
            }
        }
        self.otherwise.propose(observation, proposal)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::all_open::AllShut;
    use crate::gates::reason::Veto;
    use crate::gates::strategy::testing::{ask_with, plots, proposed};
    use jiff::civil::date;

    #[test]
    fn opens_within_the_window_only() {
        let window = PestWindow { plot: 1, pest: 0, from_dd: -60.0, to_dd: 120.0 };
        let mut strategy = PestDate::new(window, Box::new(AllShut));
        let (seen, day) = (plots::<2>(), date(2027, 5, 1));
        let mut opens = |dd| ask_with(&mut strategy, &seen, day, &[dd], 15.0);
        assert_eq!(opens(None), Some(vec![]));
        assert_eq!(opens(Some(-60.5)), Some(vec![]));
        assert_eq!(opens(Some(-60.0)), Some(vec![1]));
        assert_eq!(opens(Some(120.0)), Some(vec![1]));
        assert_eq!(opens(Some(121.0)), Some(vec![]));
    }

    #[test]
    fn a_shut_plot_is_left_to_the_other_and_the_reason_tells_the_degree_days() {
        let mut strategy =
            PestDate::new(PestWindow { plot: 1, pest: 0, from_dd: -60.0, to_dd: 120.0 }, Box::new(AllShut));
        let (mut seen, day) = (plots::<2>(), date(2027, 5, 1));
        let mut reason = |seen: &[_]| proposed(&mut strategy, seen, day, &[Some(-8.0)], 15.0).unwrap().reason;
        assert_eq!(reason(&seen), Reason::PestWindow { degree_days: -8.0 });
        seen[1].shut = Some(Veto::Mud);
        assert_eq!(reason(&seen), Reason::AllShut);
    }
}
