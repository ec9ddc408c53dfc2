//! What is kept of possible years as they come in.
//!
//! In memory stays what the verdict asks of every possible year: what each strategy is worth, and whether each
//! limit held. Sums of harvests and the runs looked at closely have a bound. All other figures go to a table out of
//! memory ([`KeptYears`]), of which [`Figures`] makes means and quantiles column by column once all years are in.

pub mod columns;
mod figures;
mod kept;
mod plot_column;

#[cfg(test)]
mod tests;

pub use figures::{Against, Figure, Figures, PlotSpread};
pub use kept::{KeptYears, YearBlock, arm_place, arms};
pub use plot_column::PlotColumn;

use crate::experiment::{ArmId, DrawOutcome, Outcome, gain};
use crate::harvests::HarvestSums;
use crate::run_detail::RunDetail;
use columns::{Room, SpillError};
use scenarios::SiteModel;

/// Possible years so far.
#[derive(Debug)]
pub struct Outcomes {
    /// Figures, year by year.
    pub kept: KeptYears,
    /// What each strategy is worth over birds shut in, in the years it was tried in: always the first ones.
    pub aims: Vec<Vec<f64>>,
    /// Whether a limit held, by strategy, limit and year.
    pub held: Vec<Vec<Vec<bool>>>,
    /// Harvests by run, in the order of [`arms`].
    pub harvests: Vec<HarvestSums>,
    /// Runs looked at closely, by run and year: the first years.
    pub details: Vec<Vec<RunDetail>>,
}

impl Outcomes {
    /// None yet, of so many strategies.
    #[must_use]
    pub fn new(model: &SiteModel, strategies: usize) -> Self {
        Self::within(model, strategies, &Room::default())
    }

    /// The same, and how much room there is in memory.
    #[must_use]
    pub fn within(model: &SiteModel, strategies: usize, room: &Room) -> Self {
        let runs = arms(strategies).count();
        Self {
            kept: KeptYears::new(model, strategies, room),
            aims: vec![Vec::new(); strategies],
            held: vec![vec![Vec::new(); model.limits.all.len()]; strategies],
            harvests: vec![HarvestSums::default(); runs],
            details: vec![Vec::new(); runs],
        }
    }

    /// Possible years so far.
    #[must_use]
    pub fn years(&self) -> usize {
        self.kept.years()
    }

    /// Takes the next possible year in; `live` says which strategies its outcomes are of.
    ///
    /// # Errors
    /// The temporary file could not be written.
    pub fn push(&mut self, model: &SiteModel, year: DrawOutcome, live: &[usize]) -> Result<(), SpillError> {
        let of = |run| match run {
            ArmId::Strategy(s) => live.iter().position(|&other| other == s).map(|place| &year.strategies[place]),
            run => Some(year.of(run)),
        };
        self.kept.push(of)?;
        for (&s, outcome) in live.iter().zip(&year.strategies) {
            self.aims[s].push(gain(&model.aims, &outcome.measures, &year.shut_in.measures));
            for (held, limit) in self.held[s].iter_mut().zip(&model.limits.all) {
                held.push(limit.holds(outcome.measures.get(limit.measure)));
            }
        }
        let baselines =
            [(ArmId::ShutIn, year.shut_in), (ArmId::NoBirds, year.no_birds), (ArmId::Nothing, year.nothing)];
        let strategies = live.iter().map(|&s| ArmId::Strategy(s)).zip(year.strategies);
        for (run, outcome) in baselines.into_iter().chain(strategies) {
            self.keep_bounded(arm_place(run), outcome);
        }
        Ok(())
    }

    fn keep_bounded(&mut self, place: usize, outcome: Outcome) {
        self.harvests[place].add(&outcome.plots);
        self.details[place].extend(outcome.detail);
    }
}
