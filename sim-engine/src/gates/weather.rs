//! Shade on hot days, off wet ground, else another strategy.

use super::practice::tally::PracticeTally;
use super::reason::Reason;
use super::strategy::{CloneStrategy, Observation, Proposal, Strategy};

/// By the weather so far: a keeper sees yesterday's heat and this morning's ground.
#[derive(Clone)]
pub struct ByWeather {
    shade_above_c: Option<f64>,
    off_wet_ground: bool,
    otherwise: Box<dyn CloneStrategy>,
}

impl ByWeather {
    pub(super) fn new(shade_above_c: Option<f64>, off_wet_ground: bool, otherwise: Box<dyn CloneStrategy>) -> Self {
        Self { shade_above_c, off_wet_ground, otherwise }
    }
}

/// The deepest shade among plots that may be open; the first of equals.
fn shadiest(observation: &Observation) -> Option<usize> {
    let mut best: Option<usize> = None;
    for (plot, seen) in observation.plots.iter().enumerate() {
        let shady = seen.shut.is_none() && seen.shade > 0.0;
        if shady && best.is_none_or(|b| seen.shade > observation.plots[b].shade) {
            best = Some(plot);
        }
    }
    best
}

impl Strategy for ByWeather {
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        self.otherwise.practices(tell);
    }

    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        if self.shade_above_c.is_some_and(|limit| observation.yesterday_tmax_c > limit)
            && let Some(plot) = shadiest(observation)
        {
            proposal.open(plot, Reason::Shade { tmax: observation.yesterday_tmax_c });
            return true;
        }
        let answered = self.otherwise.propose(observation, proposal);
        if answered && self.off_wet_ground {
            let before = proposal.openings.len();
            proposal.openings.retain(|o| !observation.plots[o.plot].wet);
            if before > 0 && proposal.openings.is_empty() {
                proposal.reason = Reason::OffWet;
            }
        }
        answered
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::all_open::{AllOpen, AllShut};
    use crate::gates::reason::Veto;
    use crate::gates::strategy::testing::{ask_with, plots, proposed};
    use jiff::civil::date;

    #[test]
    fn seeks_shade_and_leaves_wet_ground() {
        let mut strategy = ByWeather::new(Some(27.0), true, Box::new(AllOpen));
        let (mut seen, day) = (plots::<2>(), date(2027, 7, 1));
        seen[1].shade = 0.6;
        seen[0].wet = true;
        assert_eq!(ask_with(&mut strategy, &seen, day, &[], 30.0), Some(vec![1]));
        assert_eq!(ask_with(&mut strategy, &seen, day, &[], 20.0), Some(vec![1]));
        seen[1].wet = true;
        assert_eq!(ask_with(&mut strategy, &seen, day, &[], 20.0), Some(vec![]));
    }

    /// The reason is of what decided: the weather only where it shut the last gate, or chose one.
    #[test]
    fn the_reason_is_of_what_decided() {
        let (mut seen, day) = (plots::<2>(), date(2027, 7, 1));
        let reason = |otherwise: Box<dyn CloneStrategy>, seen: &[_], tmax| {
            proposed(&mut ByWeather::new(Some(27.0), true, otherwise), seen, day, &[], tmax).unwrap().reason
        };
        seen[0].wet = true;
        assert_eq!(reason(Box::new(AllOpen), &seen, 20.0), Reason::AllOpen);
        assert_eq!(reason(Box::new(AllShut), &seen, 20.0), Reason::AllShut);
        seen[1].wet = true;
        assert_eq!(reason(Box::new(AllOpen), &seen, 20.0), Reason::OffWet);
        seen[1].shade = 0.6;
        assert_eq!(reason(Box::new(AllOpen), &seen, 30.0), Reason::Shade { tmax: 30.0 });
    }

    #[test]
    fn the_deepest_shade_that_may_be_open_above_the_limit_only() {
        let mut strategy = ByWeather::new(Some(27.0), false, Box::new(AllOpen));
        let (mut seen, day) = (plots::<4>(), date(2027, 7, 1));
        let mut opens = |seen: &[_], tmax| ask_with(&mut strategy, seen, day, &[], tmax);
        assert_eq!(opens(&seen, 30.0), Some(vec![0, 1, 2, 3]), "no plot has shade");
        (seen[0].shade, seen[1].shade, seen[2].shade, seen[3].shade) = (0.3, 0.6, 0.6, 0.9);
        seen[3].shut = Some(Veto::Mud);
        assert_eq!(opens(&seen, 30.0), Some(vec![1]));
        assert_eq!(opens(&seen, 27.0), Some(vec![0, 1, 2]));
    }

    #[test]
    fn wet_ground_stays_open_where_it_may() {
        let mut strategy = ByWeather::new(None, false, Box::new(AllOpen));
        let mut seen = plots::<2>();
        seen[0].wet = true;
        seen[1].shade = 0.6;
        assert_eq!(ask_with(&mut strategy, &seen, date(2027, 7, 1), &[], 40.0), Some(vec![0, 1]));
    }
}
