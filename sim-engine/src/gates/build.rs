//! Strategies made from their specifications.

use crate::gates::open_hours::OpenHours;
use crate::gates::practice::Practice;
use crate::gates::practice::tally::PracticeTally;
use crate::gates::spec::{StrategyKind, StrategySpec};
use crate::gates::strategy::{CloneStrategy, Observation, Proposal, Strategy};
use crate::gates::{all_open, between_crops, by_eye, continuous, dated, fixed_turn, layered, pest_date, weather};
use crate::site::Site;

/// Builds strategy `which` of `specs` for a run. References between strategies must not
/// form a circle: `scenarios` refuses site files where they do.
#[must_use]
pub fn build(site: &Site, specs: &[StrategySpec], which: usize) -> Box<dyn CloneStrategy> {
    let spec = &specs[which];
    let inner: Box<dyn CloneStrategy> = match &spec.kind {
        StrategyKind::AllShut => Box::new(all_open::AllShut),
        StrategyKind::AllOpen => Box::new(all_open::AllOpen),
        StrategyKind::Continuous { plot } => Box::new(continuous::Continuous::new(*plot)),
        StrategyKind::FixedTurn { order, stay_days, by_area } => {
            Box::new(fixed_turn::FixedTurn::new(site, order, *stay_days, *by_area))
        }
        StrategyKind::ByEye { enter_above, leave_below, longest_stay_days, shortest_rest_days } => {
            Box::new(by_eye::ByEye::new(*enter_above, *leave_below, *longest_stay_days, *shortest_rest_days))
        }
        StrategyKind::BetweenCrops { stay_days, otherwise } => {
            Box::new(between_crops::BetweenCrops::new(*stay_days, build(site, specs, *otherwise)))
        }
        StrategyKind::PestDate { window, otherwise } => {
            Box::new(pest_date::PestDate::new(*window, build(site, specs, *otherwise)))
        }
        StrategyKind::Weather { shade_above_c, off_wet_ground, otherwise } => {
            Box::new(weather::ByWeather::new(*shade_above_c, *off_wet_ground, build(site, specs, *otherwise)))
        }
        StrategyKind::Dated { openings } => Box::new(dated::Dated::new(openings.clone())),
        StrategyKind::Layered { layers } => {
            let layers = layers.iter().map(|&layer| build(site, specs, layer)).collect();
            Box::new(layered::Layered::new(layers))
        }
        StrategyKind::Practice { home, rules } => Box::new(Practice::new(site, *home, rules)),
    };
    if spec.hours.is_none() && spec.birds.is_none() {
        return inner;
    }
    Box::new(Limited { inner, hours: spec.hours, birds: spec.birds })
}

/// Any strategy, for a part of the day or fewer birds.
#[derive(Clone)]
struct Limited {
    inner: Box<dyn CloneStrategy>,
    hours: Option<OpenHours>,
    birds: Option<f64>,
}

impl Strategy for Limited {
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        self.inner.practices(tell);
    }

    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        let first = proposal.openings.len();
        let answered = self.inner.propose(observation, proposal);
        for opening in &mut proposal.openings[first..] {
            opening.hours = opening.hours.or(self.hours);
            opening.birds = opening.birds.or(self.birds);
        }
        answered
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gates::reason::Reason;
    use crate::gates::spec::DatedOpening;
    use crate::gates::strategy::Opening;
    use crate::gates::strategy::testing::{plots, proposed};
    use jiff::civil::date;

    /// What a line of dates says of hours and birds goes before what its strategy says of every day.
    #[test]
    fn limits_fill_in_what_a_line_leaves_open() {
        let line = |hours, birds| DatedOpening { date: date(2027, 4, 1), plots: vec![1], hours, birds };
        let opened = |hours, birds| {
            let inner = Box::new(dated::Dated::new(vec![line(hours, birds)]));
            let mut limited = Limited { inner, hours: Some(OpenHours::last(6.0)), birds: Some(8.0) };
            proposed(&mut limited, &plots::<2>(), date(2027, 4, 2), &[], 15.0).unwrap().openings
        };
        assert_eq!(opened(None, None), [Opening { plot: 1, hours: Some(OpenHours::last(6.0)), birds: Some(8.0) }]);
        assert_eq!(
            opened(Some(OpenHours::first(2.0)), Some(3.0)),
            [Opening { plot: 1, hours: Some(OpenHours::first(2.0)), birds: Some(3.0) }]
        );
    }

    #[test]
    fn limits_give_no_answer_where_the_strategy_has_none() {
        let inner = Box::new(dated::Dated::new(Vec::new()));
        let mut limited = Limited { inner, hours: Some(OpenHours::last(6.0)), birds: None };
        assert!(proposed(&mut limited, &plots::<2>(), date(2027, 4, 2), &[], 15.0).is_none());
    }

    #[test]
    fn a_proposal_cleared_is_as_new() {
        let mut proposal = Proposal::with_room(2);
        proposal.open(1, Reason::AllOpen);
        assert_eq!(proposal.openings, [Opening { plot: 1, hours: None, birds: None }]);
        proposal.clear();
        assert_eq!((proposal.openings.len(), proposal.reason), (0, Reason::NoAnswer));
    }
}
