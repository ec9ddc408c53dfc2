//! Gates: what a keeper sees, the strategies, the hard rules, and reasons for the diary.
//!
//! A new strategy is one file that implements [`Strategy`], one line in
//! [`spec::StrategyKind`] and one in [`build`].

mod all_open;
mod between_crops;
mod by_eye;
mod continuous;
mod dated;
mod fixed_turn;
mod layered;
mod pest_date;
pub mod reason;
pub mod rules;
pub mod spec;
mod weather;

use crate::site::Site;
use jiff::civil::Date;
use reason::{Reason, Veto};
use spec::{StrategyKind, StrategySpec};

/// A gate strategy: asked once a day, before the rules veto.
pub trait Strategy: Send {
    /// Writes the gates it would open into `proposal`; `false` if it has no answer today
    /// (then a layered strategy asks the next, and otherwise the birds stay in the yard).
    fn propose(&mut self, sight: &Sight, proposal: &mut Proposal) -> bool;
}

/// What a keeper could see this morning: never the future, never larvae in the soil.
#[derive(Clone, Copy, Debug)]
pub struct Sight<'a> {
    /// Today.
    pub date: Date,
    /// Plots in the site's order.
    pub plots: &'a [SeenPlot],
    /// Degree-days so far this season by pest, less those to half emergence; `None` before
    /// counting starts and after the season.
    pub pest_degree_days: &'a [Option<f64>],
    /// Yesterday's highest temperature, C.
    pub yesterday_tmax_c: f64,
    /// Birds of the flock.
    pub birds: f64,
}

/// A plot as seen over the gate.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SeenPlot {
    /// Cover outside beds, 0 to 1 (of the beds where there is nothing else).
    pub cover: f64,
    /// m².
    pub area_m2: f64,
    /// Open yesterday.
    pub open: bool,
    /// Days open in a row.
    pub days_open: f64,
    /// Days at rest in a row.
    pub days_at_rest: f64,
    /// Days since a crop ended here; large where none has.
    pub days_since_crop: f64,
    /// Share of light its canopy holds back today.
    pub shade: f64,
    /// The ground is wet.
    pub wet: bool,
    /// Shut today, and why.
    pub shut: Option<Veto>,
}

/// A gate to open today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Index into the site's plots.
    pub plot: usize,
    /// Hours; `None`: dawn to dusk.
    pub hours: Option<f64>,
    /// Most birds; `None`: all.
    pub birds: Option<f64>,
}

/// What a strategy proposes for a day.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// Gates to open.
    pub openings: Vec<Opening>,
    /// Why.
    pub reason: Reason,
}

impl Proposal {
    /// Empty, with room for `plots` openings.
    #[must_use]
    pub fn with_room(plots: usize) -> Self {
        Self { openings: Vec::with_capacity(plots), reason: Reason::NoAnswer }
    }

    /// Back to empty.
    pub fn clear(&mut self) {
        self.openings.clear();
        self.reason = Reason::NoAnswer;
    }

    /// One gate, all day, for all birds.
    pub fn open(&mut self, plot: usize, reason: Reason) {
        self.openings.push(Opening { plot, hours: None, birds: None });
        self.reason = reason;
    }
}

/// Builds strategy `which` of `specs` for a run. References between strategies must not
/// form a circle: `scenarios` refuses site files where they do.
#[must_use]
pub fn build(site: &Site, specs: &[StrategySpec], which: usize) -> Box<dyn Strategy> {
    let spec = &specs[which];
    let inner: Box<dyn Strategy> = match &spec.kind {
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
        StrategyKind::PestDate { plot, pest, from_dd, to_dd, otherwise } => {
            let window = (*from_dd, *to_dd);
            Box::new(pest_date::PestDate::new(*plot, *pest, window, build(site, specs, *otherwise)))
        }
        StrategyKind::Weather { shade_above_c, off_wet_ground, otherwise } => {
            Box::new(weather::ByWeather::new(*shade_above_c, *off_wet_ground, build(site, specs, *otherwise)))
        }
        StrategyKind::Dated { openings } => Box::new(dated::Dated::new(openings.clone())),
        StrategyKind::Layered { layers } => {
            let layers = layers.iter().map(|&layer| build(site, specs, layer)).collect();
            Box::new(layered::Layered::new(layers))
        }
    };
    if spec.hours.is_none() && spec.birds.is_none() {
        return inner;
    }
    Box::new(Limited { inner, hours: spec.hours, birds: spec.birds })
}

/// Any strategy, for fewer hours or fewer birds.
struct Limited {
    inner: Box<dyn Strategy>,
    hours: Option<f64>,
    birds: Option<f64>,
}

impl Strategy for Limited {
    fn propose(&mut self, sight: &Sight, proposal: &mut Proposal) -> bool {
        let first = proposal.openings.len();
        let answered = self.inner.propose(sight, proposal);
        for opening in &mut proposal.openings[first..] {
            opening.hours = opening.hours.or(self.hours);
            opening.birds = opening.birds.or(self.birds);
        }
        answered
    }
}

#[cfg(test)]
mod tests {
    use super::testing::{plots, proposed};
    use super::*;
    use jiff::civil::date;

    /// What a line of dates says of hours and birds goes before what its strategy says of every day.
    #[test]
    fn limits_fill_in_what_a_line_leaves_open() {
        let line = |hours, birds| spec::DatedOpening { date: date(2027, 4, 1), plots: vec![1], hours, birds };
        let opened = |hours, birds| {
            let inner = Box::new(dated::Dated::new(vec![line(hours, birds)]));
            let mut limited = Limited { inner, hours: Some(6.0), birds: Some(8.0) };
            proposed(&mut limited, &plots::<2>(), date(2027, 4, 2), &[], 15.0).unwrap().openings
        };
        assert_eq!(opened(None, None), [Opening { plot: 1, hours: Some(6.0), birds: Some(8.0) }]);
        assert_eq!(opened(Some(2.0), Some(3.0)), [Opening { plot: 1, hours: Some(2.0), birds: Some(3.0) }]);
    }

    #[test]
    fn limits_give_no_answer_where_the_strategy_has_none() {
        let inner = Box::new(dated::Dated::new(Vec::new()));
        let mut limited = Limited { inner, hours: Some(6.0), birds: None };
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

#[cfg(test)]
pub(crate) mod testing {
    use super::*;

    /// Plots for the tests of strategies: all rested, nothing shut.
    pub fn plots<const N: usize>() -> [SeenPlot; N] {
        [SeenPlot { cover: 0.95, area_m2: 100.0, days_at_rest: 365.0, days_since_crop: 1e9, ..SeenPlot::default() }; N]
    }

    /// Asks `strategy` once; returns the plots it opens, or `None` for no answer.
    pub fn ask(strategy: &mut dyn Strategy, plots: &[SeenPlot], date: Date) -> Option<Vec<usize>> {
        ask_with(strategy, plots, date, &[], 15.0)
    }

    /// The same with degree-days and yesterday's temperature.
    pub fn ask_with(
        strategy: &mut dyn Strategy,
        plots: &[SeenPlot],
        date: Date,
        pests: &[Option<f64>],
        tmax: f64,
    ) -> Option<Vec<usize>> {
        proposed(strategy, plots, date, pests, tmax).map(|proposal| proposal.openings.iter().map(|o| o.plot).collect())
    }

    /// The same with all that is proposed, or `None` for no answer.
    pub fn proposed(
        strategy: &mut dyn Strategy,
        plots: &[SeenPlot],
        date: Date,
        pests: &[Option<f64>],
        tmax: f64,
    ) -> Option<Proposal> {
        let sight = Sight { date, plots, pest_degree_days: pests, yesterday_tmax_c: tmax, birds: 10.0 };
        let mut proposal = Proposal::with_room(plots.len());
        strategy.propose(&sight, &mut proposal).then_some(proposal)
    }
}
