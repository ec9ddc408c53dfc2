//! Who listens to a run: recorders hear of every event and every day, say beforehand what they
//! read, and change nothing.

use crate::agenda::Event;
use crate::birds_day::BirdsDay;
use crate::gates::Opening;
use crate::gates::reason::{Reason, Veto};
use crate::ledger::flows::{Flow, FlowSet};
use crate::run::plot_sums::PlotAccumulator;
use crate::run::world::World;
use crate::state::GroundState;

/// A day's gates as decided.
#[derive(Clone, Debug)]
pub struct GateDay {
    /// Gates open to the flock.
    pub openings: Vec<Opening>,
    /// Why the strategy proposed what it did.
    pub reason: Reason,
    /// What a rule took out of the proposal.
    pub vetoed: Vec<(usize, Veto)>,
    /// Plots whose gate was set by hand today.
    pub by_hand: Vec<usize>,
    /// The decision inverted, if it was today's.
    pub counterfactual: Option<usize>,
    /// Gates opened or shut since yesterday.
    pub moves: usize,
}

/// What a recorder may read of a run before its first day and after its last.
#[derive(Clone, Copy)]
pub struct RunView<'r, 'w> {
    /// All but the ground.
    pub world: &'r World<'w>,
    /// The ground.
    pub ground: &'r GroundState,
    flows: FlowSet,
}

impl<'r, 'w> RunView<'r, 'w> {
    /// A view in which these flows may be read.
    #[must_use]
    pub fn new(world: &'r World<'w>, ground: &'r GroundState, flows: FlowSet) -> Self {
        Self { world, ground, flows }
    }

    /// The sum of a flow of a zone since the start, in the unit of its currency.
    ///
    /// # Panics
    /// If the recorder did not name the flow in [`Recorder::flows`].
    #[must_use]
    pub fn flow(&self, zone: usize, flow: Flow) -> f64 {
        assert!(self.flows.has(flow), "a recorder reads the flow {} and did not name it", flow.name());
        self.ground.zones[zone].flows.get(flow)
    }
}

/// What a recorder is told at the end of a day.
#[derive(Clone, Copy)]
pub struct DayView<'r, 'w> {
    /// Day of the run.
    pub day: usize,
    /// The site in the evening, with what is seen of each plot ([`World::condition_of`]).
    pub world: &'r World<'w>,
    /// The birds' day.
    pub birds: &'r BirdsDay,
    /// The gates.
    pub gates: &'r GateDay,
    ground: Option<&'r GroundState>,
    flows: FlowSet,
}

impl<'r, 'w> DayView<'r, 'w> {
    pub(super) fn new(
        day: usize,
        world: &'r World<'w>,
        birds: &'r BirdsDay,
        gates: &'r GateDay,
        ground: Option<&'r GroundState>,
        flows: FlowSet,
    ) -> Self {
        Self { day, world, birds, gates, ground, flows }
    }

    /// The ground in the evening.
    ///
    /// # Panics
    /// If the recorder did not ask for it today: [`Recorder::reads_ground`].
    #[must_use]
    pub fn ground(&self) -> &'r GroundState {
        let Some(ground) = self.ground else {
            panic!("a recorder reads the ground on day {} and did not ask for it", self.day)
        };
        ground
    }

    /// The site and its ground in the evening.
    ///
    /// # Panics
    /// As [`Self::ground`].
    #[must_use]
    pub fn run(&self) -> RunView<'r, 'w> {
        RunView { world: self.world, ground: self.ground(), flows: self.flows }
    }

    /// What of this view one recorder of several asked for.
    #[must_use]
    pub fn of(&self, recorder: &(impl Recorder + ?Sized)) -> Self {
        Self { ground: self.ground.filter(|_| recorder.reads_ground(self.day)), flows: recorder.flows(), ..*self }
    }
}

/// Listens to a run. It says what it reads, so that a run keeps that and no more; to read another
/// thing is a fault in every build.
pub trait Recorder {
    /// The flows of the zones it reads, on any day, at the start or at the end.
    fn flows(&self) -> FlowSet {
        FlowSet::NONE
    }
    /// Whether it reads the ground in the evening of this day. At the start and at the end all may.
    fn reads_ground(&self, _day: usize) -> bool {
        false
    }
    /// Shows what it sums up of every plot day by day, which the runs of a batch do at once.
    fn accumulators(&mut self, _each: &mut dyn FnMut(&mut PlotAccumulator)) {}
    /// Before the first day.
    fn start(&mut self, _run: &RunView) {}
    /// An event took effect.
    fn event(&mut self, _day: usize, _event: Event) {}
    /// A day is over.
    fn day(&mut self, view: &DayView);
    /// The run is over.
    fn end(&mut self, _run: &RunView) {}
}

/// Nobody listens.
impl Recorder for () {
    fn day(&mut self, _: &DayView) {}
}

/// Two recorders at once, each with its own view.
impl<A: Recorder, B: Recorder> Recorder for (A, B) {
    fn flows(&self) -> FlowSet {
        self.0.flows().union(self.1.flows())
    }
    fn reads_ground(&self, day: usize) -> bool {
        self.0.reads_ground(day) || self.1.reads_ground(day)
    }
    fn accumulators(&mut self, each: &mut dyn FnMut(&mut PlotAccumulator)) {
        self.0.accumulators(each);
        self.1.accumulators(each);
    }
    fn start(&mut self, run: &RunView) {
        self.0.start(&RunView { flows: self.0.flows(), ..*run });
        self.1.start(&RunView { flows: self.1.flows(), ..*run });
    }
    fn event(&mut self, day: usize, event: Event) {
        self.0.event(day, event);
        self.1.event(day, event);
    }
    fn day(&mut self, view: &DayView) {
        self.0.day(&view.of(&self.0));
        self.1.day(&view.of(&self.1));
    }
    fn end(&mut self, run: &RunView) {
        self.0.end(&RunView { flows: self.0.flows(), ..*run });
        self.1.end(&RunView { flows: self.1.flows(), ..*run });
    }
}

/// A recorder that may not be wanted.
impl<R: Recorder> Recorder for Option<R> {
    fn flows(&self) -> FlowSet {
        self.as_ref().map_or(FlowSet::NONE, R::flows)
    }
    fn reads_ground(&self, day: usize) -> bool {
        self.as_ref().is_some_and(|r| r.reads_ground(day))
    }
    fn accumulators(&mut self, each: &mut dyn FnMut(&mut PlotAccumulator)) {
        self.iter_mut().for_each(|r| r.accumulators(each));
    }
    fn start(&mut self, run: &RunView) {
        self.iter_mut().for_each(|r| r.start(run));
    }
    fn event(&mut self, day: usize, event: Event) {
        self.iter_mut().for_each(|r| r.event(day, event));
    }
    fn day(&mut self, view: &DayView) {
        self.iter_mut().for_each(|r| r.day(view));
    }
    fn end(&mut self, run: &RunView) {
        self.iter_mut().for_each(|r| r.end(run));
    }
}

impl<R: Recorder + ?Sized> Recorder for &mut R {
    fn flows(&self) -> FlowSet {
        (**self).flows()
    }
    fn reads_ground(&self, day: usize) -> bool {
        (**self).reads_ground(day)
    }
    fn accumulators(&mut self, each: &mut dyn FnMut(&mut PlotAccumulator)) {
        (**self).accumulators(each);
    }
    fn start(&mut self, run: &RunView) {
        (**self).start(run);
    }
    fn event(&mut self, day: usize, event: Event) {
        (**self).event(day, event);
    }
    fn day(&mut self, view: &DayView) {
        (**self).day(view);
    }
    fn end(&mut self, run: &RunView) {
        (**self).end(run);
    }
}
