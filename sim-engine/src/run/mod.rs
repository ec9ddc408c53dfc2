//! Runs of a site under a strategy: one ([`Run`], [`simulate`]), or several side by side ([`Batch`]).
//! Both go through the order of a day that [`day`] has on its first page.

pub(crate) mod accumulate;
pub mod batch;
pub mod day;
pub mod events;
pub(crate) mod forcing;
pub(crate) mod gate_control;
pub(crate) mod ground;
mod ground_day;
pub mod recorder;
pub mod world;
pub(crate) mod zone_editor;

use crate::drivers::Drivers;
use crate::flows::FlowSet;
use crate::gates::Strategy;
use crate::site::Site;
use crate::state::GroundState;
pub use batch::Batch;
use day::{LaneBatch, Members};
use forcing::Forcing;
use recorder::{Recorder, RunView};
use std::sync::Arc;
use world::{RunError, World};

/// A site with its unknowns settled, and what its weather and calendar decide.
pub type Realization<'a> = (&'a Site, &'a Drivers);

/// How a run is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunOptions {
    /// There are birds.
    pub birds: bool,
    /// Hands hoe, mow, clear and so on.
    pub hands: bool,
    /// One decision turned round: day of the run and plot.
    pub turn_round: Option<(usize, usize)>,
}

impl Default for RunOptions {
    fn default() -> Self {
        Self { birds: true, hands: true, turn_round: None }
    }
}

impl RunOptions {
    /// No birds, usual care.
    #[must_use]
    pub fn no_birds() -> Self {
        Self { birds: false, ..Self::default() }
    }

    /// No birds and no care.
    #[must_use]
    pub fn nothing() -> Self {
        Self { birds: false, hands: false, ..Self::default() }
    }
}

/// One run, in the evening of some day. It is a value: step it by a day, clone it, put it away,
/// go on with it later. Strategy and recorder are not part of it, so that a clone can go on under
/// other gates.
///
/// A run kept in a file is best kept as what made it: seed, number of the draw, and the gates of the
/// days so far; run again under these it ends with the same bits.
#[derive(Clone)]
pub struct Run<'a> {
    batch: LaneBatch<'a, f64>,
    forcing: Arc<Forcing>,
}

impl<'a> Run<'a> {
    /// A run on the evening before its first day; `keep` are the flows its recorders will read.
    ///
    /// # Errors
    /// If the weather is too short.
    pub fn new(site: &'a Site, drivers: &'a Drivers, options: RunOptions, keep: FlowSet) -> Result<Self, RunError> {
        let realization = [(site, drivers)];
        let members = Members::new(&realization, options, keep)?;
        Ok(Self::of(members, Arc::new(Forcing::new(&realization, 1)), options, keep))
    }

    fn of(members: Members<'a>, forcing: Arc<Forcing>, options: RunOptions, keep: FlowSet) -> Self {
        Self { batch: LaneBatch::new(0.0, members, options, keep), forcing }
    }

    /// From the first day to the last.
    fn whole(
        &mut self,
        strategies: &mut [&mut dyn Strategy],
        recorders: &mut [&mut dyn Recorder],
    ) -> Result<(), RunError> {
        self.batch.start(recorders);
        self.days_until(self.days(), strategies, recorders)?;
        self.batch.end(recorders);
        Ok(())
    }

    /// Not inlined, so that the formulas for one number are compiled once.
    #[inline(never)]
    fn days_until(
        &mut self,
        until: usize,
        strategies: &mut [&mut dyn Strategy],
        recorders: &mut [&mut dyn Recorder],
    ) -> Result<(), RunError> {
        self.batch.advance(&self.forcing, until, strategies, recorders)
    }

    /// Lets a recorder see the run before its first day.
    pub fn start(&mut self, recorder: &mut dyn Recorder) {
        self.batch.start(&mut [recorder]);
    }

    /// Runs one more day; `false` if none is left.
    ///
    /// # Errors
    /// If the recorder reads a flow that the run does not keep.
    pub fn step(&mut self, strategy: &mut dyn Strategy, recorder: &mut dyn Recorder) -> Result<bool, RunError> {
        let (day, days) = (self.day(), self.days());
        self.advance(day + 1, strategy, recorder)?;
        Ok(day < days)
    }

    /// Runs until so many days are over, at most to the end.
    ///
    /// # Errors
    /// As [`Run::step`].
    pub fn advance(
        &mut self,
        until: usize,
        strategy: &mut dyn Strategy,
        recorder: &mut dyn Recorder,
    ) -> Result<(), RunError> {
        self.days_until(until.min(self.days()), &mut [strategy], &mut [recorder])
    }

    /// Lets a recorder see the run after its last day.
    pub fn end(&mut self, recorder: &mut dyn Recorder) {
        self.batch.end(&mut [recorder]);
    }

    /// Days that are over.
    #[must_use]
    pub fn day(&self) -> usize {
        self.batch.day
    }

    /// Days of the whole run.
    #[must_use]
    pub fn days(&self) -> usize {
        self.world().site.days
    }

    /// All but the ground.
    #[must_use]
    pub fn world(&self) -> &World<'a> {
        &self.batch.members.worlds[0]
    }

    /// The ground.
    #[must_use]
    pub fn ground(&self) -> &GroundState {
        &self.batch.ground.state
    }

    /// All there is to see of it, with these flows.
    #[must_use]
    pub fn view(&self, flows: FlowSet) -> RunView<'_, 'a> {
        RunView::new(self.world(), self.ground(), flows)
    }
}

/// Runs a strategy of any make on a site under the drivers of one draw; gives the run at its end.
///
/// # Errors
/// If the run cannot start: see [`RunError`].
pub fn simulate<'a>(
    site: &'a Site,
    drivers: &'a Drivers,
    strategy: &mut dyn Strategy,
    options: RunOptions,
    recorder: &mut dyn Recorder,
) -> Result<Run<'a>, RunError> {
    let mut run = Run::new(site, drivers, options, recorder.flows())?;
    run.whole(&mut [strategy], &mut [recorder])?;
    Ok(run)
}
