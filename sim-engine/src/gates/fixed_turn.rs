//! Plots in turn, with equal stays or stays in proportion to area.
//!
//! Equal stays overload small plots; a shut plot is skipped and gets its turn next round.

use super::reason::Reason;
use super::strategy::{Observation, Proposal, Strategy};
use crate::site::Site;

/// A turn.
#[derive(Clone)]
pub struct FixedTurn {
    order: Vec<usize>,
    stays: Vec<f64>,
    at: usize,
    day: f64,
}

impl FixedTurn {
    pub(super) fn new(site: &Site, order: &[usize], stay_days: f64, by_area: bool) -> Self {
        let areas: Vec<f64> = order.iter().map(|&p| site.plots[p].area_m2).collect();
        Self { order: order.to_vec(), stays: stays(&areas, stay_days, by_area), at: 0, day: 0.0 }
    }

    fn go_on(&mut self) {
        self.at = (self.at + 1) % self.order.len();
        self.day = 0.0;
    }
}

/// Whole days of each stay, at least one; `stay_days` is their mean.
fn stays(areas_m2: &[f64], stay_days: f64, by_area: bool) -> Vec<f64> {
    let mean = areas_m2.iter().sum::<f64>() / areas_m2.len() as f64;
    let stay = |area: f64| if by_area { stay_days * area / mean } else { stay_days };
    areas_m2.iter().map(|&area| stay(area).round().max(1.0)).collect()
}

impl Strategy for FixedTurn {
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        if self.day >= self.stays[self.at] {
            self.go_on();
        }
        for _ in 0..self.order.len() {
            let plot = self.order[self.at];
            if observation.plots[plot].shut.is_none() {
                self.day += 1.0;
                proposal.open(plot, Reason::Turn { day: self.day, stay: self.stays[self.at] });
                return true;
            }
            self.go_on();
        }
        proposal.reason = Reason::TurnAllShut;
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::reason::Veto;
    use crate::gates::strategy::testing::{ask, plots, proposed};
    use jiff::civil::date;

    fn turn() -> FixedTurn {
        FixedTurn { order: vec![0, 1, 2], stays: vec![2.0, 1.0, 1.0], at: 0, day: 0.0 }
    }

    #[test]
    fn goes_round() {
        let (mut turn, seen) = (turn(), plots::<3>());
        let days: Vec<usize> = (0..6).map(|_| ask(&mut turn, &seen, date(2027, 5, 1)).unwrap()[0]).collect();
        assert_eq!(days, vec![0, 0, 1, 2, 0, 0]);
    }

    #[test]
    fn skips_a_shut_plot_and_has_no_answer_when_all_are() {
        let (mut turn, mut seen) = (turn(), plots::<3>());
        seen[1].shut = Some(Veto::CropStanding);
        let days: Vec<usize> = (0..4).map(|_| ask(&mut turn, &seen, date(2027, 5, 1)).unwrap()[0]).collect();
        assert_eq!(days, vec![0, 0, 2, 0]);
        seen.iter_mut().for_each(|p| p.shut = Some(Veto::Housing));
        assert_eq!(ask(&mut turn, &seen, date(2027, 5, 1)), None);
    }

    /// A plot twice as large is stayed on twice as long, and the mean stay is the one asked for.
    #[test]
    fn stays_follow_the_areas_or_are_equal() {
        let areas = [50.0, 100.0, 150.0];
        assert_eq!(stays(&areas, 10.0, true), [5.0, 10.0, 15.0]);
        assert_eq!(stays(&areas, 10.0, false), [10.0, 10.0, 10.0]);
        assert_eq!(stays(&[1.0, 199.0], 4.4, true), [1.0, 9.0], "whole days, at least one");
    }

    #[test]
    fn the_diary_counts_the_days_of_the_stay() {
        let (mut turn, seen) = (turn(), plots::<3>());
        let mut reason = || proposed(&mut turn, &seen, date(2027, 5, 1), &[], 15.0).unwrap().reason;
        assert_eq!(reason(), Reason::Turn { day: 1.0, stay: 2.0 });
        assert_eq!(reason(), Reason::Turn { day: 2.0, stay: 2.0 });
        assert_eq!(reason(), Reason::Turn { day: 1.0, stay: 1.0 });
    }
}
