//! In one plot while a pest's degree-days are in a window, else another strategy.

use super::reason::Reason;
use super::{Proposal, Sight, Strategy};

/// By a pest's date.
pub struct PestDate {
    plot: usize,
    pest: usize,
    window_dd: (f64, f64),
    otherwise: Box<dyn Strategy>,
}

impl PestDate {
    pub(super) fn new(plot: usize, pest: usize, window_dd: (f64, f64), otherwise: Box<dyn Strategy>) -> Self {
        Self { plot, pest, window_dd, otherwise }
    }
}

impl Strategy for PestDate {
    fn propose(&mut self, sight: &Sight, proposal: &mut Proposal) -> bool {
        if let Some(degree_days) = sight.pest_degree_days[self.pest] {
            let due = degree_days >= self.window_dd.0 && degree_days <= self.window_dd.1;
            if due && sight.plots[self.plot].shut.is_none() {
                proposal.open(self.plot, Reason::PestWindow { degree_days });
                return true;
            }
        }
        self.otherwise.propose(sight, proposal)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::all_open::AllShut;
    use crate::gates::reason::Veto;
    use crate::gates::testing::{ask_with, plots, proposed};
    use jiff::civil::date;

    #[test]
    fn opens_within_the_window_only() {
        let mut strategy = PestDate::new(1, 0, (-60.0, 120.0), Box::new(AllShut));
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
        let mut strategy = PestDate::new(1, 0, (-60.0, 120.0), Box::new(AllShut));
        let (mut seen, day) = (plots::<2>(), date(2027, 5, 1));
        let mut reason = |seen: &[_]| proposed(&mut strategy, seen, day, &[Some(-8.0)], 15.0).unwrap().reason;
        assert_eq!(reason(&seen), Reason::PestWindow { degree_days: -8.0 });
        seen[1].shut = Some(Veto::Mud);
        assert_eq!(reason(&seen), Reason::AllShut);
    }
}
