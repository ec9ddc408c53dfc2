//! One run.

use crate::drivers::Drivers;
use crate::gates::Strategy;
use crate::ledger::flows::FlowSet;
use crate::run::day::{LaneBatch, Members};
use crate::run::forcing::Forcing;
use crate::run::options::RunOptions;
use crate::run::recorder::{Recorder, RunView};
use crate::run::world::{RunError, World};
use crate::site::Site;
use crate::state::GroundState;
use std::sync::Arc;

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

    pub(super) fn of(members: Members<'a>, forcing: Arc<Forcing>, options: RunOptions, keep: FlowSet) -> Self {
        Self { batch: LaneBatch::new(0.0, members, options, keep), forcing }
    }

    /// From the first day to the last.
    pub(super) fn whole(
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
/// If the run fails: see [`RunError`].
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
