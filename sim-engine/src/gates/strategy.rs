//! What a keeper sees, and what a strategy proposes.

use crate::gates::open_hours::OpenHours;
use crate::gates::practice::tally::PracticeTally;
use crate::gates::reason::{Reason, Veto};
use jiff::civil::Date;

/// A gate strategy: asked once a day, before the rules veto.
pub trait Strategy: Send {
    /// Writes the gates it would open into `proposal`; `false` if it has no answer today
    /// (then a layered strategy asks the next, and otherwise the birds stay in the yard).
    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool;

    /// Tells of the mornings so far of every practice it is made of, in the order of the specifications it calls upon.
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        let _of_most_kinds_none = tell;
    }
}

/// A strategy that can be copied with all it remembers, so that a run can go on from a day in two ways.
/// Every strategy that is `Clone` is one.
pub trait CloneStrategy: Strategy {
    /// The copy.
    fn clone_box(&self) -> Box<dyn CloneStrategy>;
}

impl<S: Strategy + Clone + 'static> CloneStrategy for S {
    fn clone_box(&self) -> Box<dyn CloneStrategy> {
        Box::new(self.clone())
    }
}

impl Clone for Box<dyn CloneStrategy> {
    fn clone(&self) -> Self {
        (**self).clone_box()
    }
}

/// What a keeper could see this morning: never the future, never larvae in the soil.
#[derive(Clone, Copy, Debug)]
pub struct Observation<'a> {
    /// Today.
    pub date: Date,
    /// Plots in the site's order.
    pub plots: &'a [PlotObservation],
    /// Degree-days so far this season by pest, counted by the likely base and start, less the likely ones to half emergence; `None`
    /// before counting starts and after the season.
    pub pest_degree_days: &'a [Option<f64>],
    /// Yesterday's highest temperature, C.
    pub yesterday_tmax_c: f64,
    /// The ground is frozen.
    pub frozen: bool,
    /// Snow lies.
    pub snow: bool,
    /// Birds of the flock.
    pub birds: f64,
}

/// A plot as seen over the gate.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlotObservation {
    /// Cover outside beds of the barest ring, 0 to 1 (of the beds where there is nothing else).
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
    /// A crop stands on some bed.
    pub crop_standing: bool,
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
    /// From when to when; `None`: dawn to dusk.
    pub hours: Option<OpenHours>,
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

#[cfg(test)]
pub(crate) mod testing {
    use super::*;

    /// Plots for the tests of strategies: all rested, nothing shut.
    pub fn plots<const N: usize>() -> [PlotObservation; N] {
        [PlotObservation {
            cover: 0.95,
            area_m2: 100.0,
            days_at_rest: 365.0,
            days_since_crop: 1e9,
            ..PlotObservation::default()
        }; N]
    }

    /// Asks `strategy` once; returns the plots it opens, or `None` for no answer.
    pub fn ask(strategy: &mut dyn Strategy, plots: &[PlotObservation], date: Date) -> Option<Vec<usize>> {
        ask_with(strategy, plots, date, &[], 15.0)
    }

    /// The same with degree-days and yesterday's temperature.
    pub fn ask_with(
        strategy: &mut dyn Strategy,
        plots: &[PlotObservation],
        date: Date,
        pests: &[Option<f64>],
        tmax: f64,
    ) -> Option<Vec<usize>> {
        proposed(strategy, plots, date, pests, tmax).map(|proposal| proposal.openings.iter().map(|o| o.plot).collect())
    }

    /// The same with all that is proposed, or `None` for no answer.
    pub fn proposed(
        strategy: &mut dyn Strategy,
        plots: &[PlotObservation],
        date: Date,
        pests: &[Option<f64>],
        tmax: f64,
    ) -> Option<Proposal> {
        let observation = Observation {
            date,
            plots,
            pest_degree_days: pests,
            yesterday_tmax_c: tmax,
            frozen: false,
            snow: false,
            birds: 10.0,
        };
        let mut proposal = Proposal::with_room(plots.len());
        strategy.propose(&observation, &mut proposal).then_some(proposal)
    }
}
