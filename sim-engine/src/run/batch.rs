//! Several realizations side by side: the same strategy on the same site under different luck, one
//! run in each lane of the processor's vectors. Every run ends with the bits of its run alone, and a
//! processor without vectors we know runs them one by one.

use crate::gates::spec::StrategySpec;
use crate::gates::{Strategy, build};
use crate::ledger::flows::FlowSet;
use crate::run::day::{LaneBatch, Members};
use crate::run::forcing::Forcing;
use crate::run::options::{Realization, RunOptions};
use crate::run::recorder::Recorder;
use crate::run::single::Run;
use crate::run::world::RunError;
use crate::simd::{OnLanes, Real, lanes, lanes_for, on_vectors};
use std::sync::Arc;

/// Realizations made ready to run side by side, under one strategy after the other.
///
/// All must come from one site: they may differ in numbers, not in what is there.
pub struct Batch {
    realizations: usize,
    forcings: Vec<Arc<Forcing>>,
}

impl Batch {
    /// Makes realizations ready.
    #[must_use]
    pub fn new(realizations: &[Realization<'_>]) -> Self {
        let forcing = |chunk: &[Realization<'_>]| Arc::new(Forcing::new(chunk, lanes_for(chunk.len())));
        Self { realizations: realizations.len(), forcings: realizations.chunks(lanes()).map(forcing).collect() }
    }

    /// Runs strategy `which` of `strategies` on every realization; `recorders` has one for each. The
    /// realizations are those of [`Batch::new`], though their flocks may differ.
    ///
    /// # Errors
    /// If a run fails: see [`RunError`].
    pub fn run<R: Recorder>(
        &self,
        realizations: &[Realization<'_>],
        strategies: &[StrategySpec],
        which: usize,
        options: RunOptions,
        recorders: &mut [R],
    ) -> Result<(), RunError> {
        let (ready, given) = (self.realizations, realizations.len());
        if (given, recorders.len()) != (ready, ready) {
            return Err(RunError::OtherRealizations { ready, given, recorders: recorders.len() });
        }
        let chunks = realizations.chunks(lanes()).zip(recorders.chunks_mut(lanes()));
        for (forcing, (realizations, recorders)) in self.forcings.iter().zip(chunks) {
            let mut built: Vec<_> = realizations.iter().map(|(site, _)| build(site, strategies, which)).collect();
            let mut strategies: Vec<&mut dyn Strategy> = built.iter_mut().map(|built| built.as_mut() as _).collect();
            let mut recorders: Vec<&mut dyn Recorder> = recorders.iter_mut().map(|recorder| recorder as _).collect();
            side_by_side(realizations, forcing, &mut strategies, options, &mut recorders)?;
        }
        Ok(())
    }
}

/// Runs as many realizations as there are lanes, each under its strategy.
fn side_by_side<'s>(
    realizations: &[Realization<'_>],
    forcing: &Arc<Forcing>,
    strategies: &mut [&'s mut dyn Strategy],
    options: RunOptions,
    recorders: &mut [&'s mut dyn Recorder],
) -> Result<(), RunError> {
    let keep = recorders.iter().fold(FlowSet::NONE, |keep, recorder| keep.union(recorder.flows()));
    let members = Members::new(realizations, options, keep)?;
    if forcing.lanes == 1 {
        let mut run = Run::of(members, Arc::clone(forcing), options, keep);
        return run.whole(strategies, recorders);
    }
    let whole = WholeBatch { members, forcing, strategies, options, keep, recorders };
    on_vectors(forcing.lanes, whole).unwrap_or(Ok(()))
}

/// Runs of a batch, to be run from the first day to the last.
struct WholeBatch<'r, 's, 'a> {
    members: Members<'a>,
    forcing: &'r Forcing,
    strategies: &'r mut [&'s mut dyn Strategy],
    options: RunOptions,
    keep: FlowSet,
    recorders: &'r mut [&'s mut dyn Recorder],
}

impl OnLanes for WholeBatch<'_, '_, '_> {
    type Output = Result<(), RunError>;

    #[inline(always)]
    fn on<F: Real>(self, zero: F) -> Self::Output {
        let days = self.members.worlds[0].site.days;
        let mut batch = LaneBatch::new(zero, self.members, self.options, self.keep);
        batch.start(self.recorders);
        batch.advance(self.forcing, days, self.strategies, self.recorders)?;
        batch.end(self.recorders);
        Ok(())
    }
}
