//! A clean-up stay where a crop has just ended, else another strategy.

use super::practice::tally::PracticeTally;
use super::reason::Reason;
use super::strategy::{CloneStrategy, Observation, Proposal, Strategy};

/// Clean-up between crops.
#[derive(Clone)]
pub struct BetweenCrops {
    stay_days: f64,
    otherwise: Box<dyn CloneStrategy>,
}

impl BetweenCrops {
    pub(super) fn new(stay_days: f64, otherwise: Box<dyn CloneStrategy>) -> Self {
        Self { stay_days, otherwise }
    }
}

impl Strategy for BetweenCrops {
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        self.otherwise.practices(tell);
    }

    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        // Of several, the one whose crop ended first: it waits longest.
        let mut best: Option<usize> = None;
        for (plot, seen) in observation.plots.iter().enumerate() {
            let due = seen.shut.is_none() && seen.days_since_crop < self.stay_days;
            if due && best.is_none_or(|b| seen.days_since_crop > observation.plots[b].days_since_crop) {
                best = Some(plot);
            }
        }
        let Some(plot) = best else {
            return self.otherwise.propose(observation, proposal);
        };
        proposal.open(plot, Reason::CleanUp { since: observation.plots[plot].days_since_crop });
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::all_open::AllShut;
    use crate::gates::reason::Veto;
    use crate::gates::strategy::testing::{ask, plots, proposed};
    use jiff::civil::date;

    #[test]
    fn cleans_up_for_its_days_and_not_where_shut() {
        let mut strategy = BetweenCrops::new(14.0, Box::new(AllShut));
        let (mut seen, day) = (plots::<3>(), date(2027, 7, 12));
        seen[2].days_since_crop = 13.0;
        seen[1].days_since_crop = 2.0;
        assert_eq!(ask(&mut strategy, &seen, day), Some(vec![2]));
        seen[2].days_since_crop = 14.0;
        assert_eq!(ask(&mut strategy, &seen, day), Some(vec![1]));
        seen[1].shut = Some(Veto::WaitingPeriod { days: 40 });
        assert_eq!(ask(&mut strategy, &seen, day), Some(vec![]));
    }

    #[test]
    fn of_crops_that_ended_together_the_first_plot_and_its_days_are_told() {
        let mut strategy = BetweenCrops::new(14.0, Box::new(AllShut));
        let mut seen = plots::<3>();
        (seen[1].days_since_crop, seen[2].days_since_crop) = (5.0, 5.0);
        let proposal = proposed(&mut strategy, &seen, date(2027, 7, 12), &[], 15.0).unwrap();
        assert_eq!(proposal.openings.iter().map(|o| o.plot).collect::<Vec<_>>(), [1]);
        assert_eq!(proposal.reason, Reason::CleanUp { since: 5.0 });
    }
}
