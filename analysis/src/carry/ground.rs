//! Tries flocks on a real site.

use super::{Ask, Carried, CarryPlan, carry};
use crate::experiment::Job;
use crate::sweep::SweepError;
use crate::sweep::tally::Tally;
use crate::sweep::work::{Cell, RunPlan, run_cells};
use scenarios::SiteModel;

/// Makes the site with a flock of so many birds.
pub type WithFlock<'w> = dyn Fn(u64) -> Result<SiteModel, SweepError> + 'w;

/// Flocks a strategy is tried with, about: 26 on average, 13 to 42, over all strategies of the
/// three demos with 20 possible years. It foretells the time left, and no result.
const FLOCKS_A_STRATEGY: u64 = 26;

/// How far a search has come. How many rounds it takes shows as it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SearchProgress {
    /// The round, from 1.
    pub round: u64,
    /// Runs that are done: a strategy with a flock on a possible year.
    pub done: u64,
    /// Runs there will be, about; never fewer than are known of.
    pub all: u64,
}

/// What a search found, and what it took.
#[derive(Clone, Debug)]
pub struct CarryOutcome {
    /// By strategy.
    pub strategies: Vec<Carried>,
    /// Runs that were made, those of birds shut in included.
    pub runs: u64,
}

/// Finds what each strategy of `run` bears; the job's progress is the way it has come. The books of the largest flock
/// that was tried are audited.
///
/// # Errors
/// [`SweepError::Input`] if a flock makes the site invalid; [`SweepError::Run`] if a draw has fewer days of
/// weather than its run, or books do not balance; [`SweepError::Stopped`] if the job was.
pub fn carry_site(
    plan: &CarryPlan,
    run: &RunPlan<'_>,
    with_flock: &WithFlock<'_>,
    job: &Job<'_, SearchProgress>,
) -> Result<CarryOutcome, SweepError> {
    let (mut runs, mut round, mut tried, mut largest) = (0, 0, 0, 0);
    let about = FLOCKS_A_STRATEGY * plan.strategies as u64 * run.draws;
    let mut attempt = |asks: &[Ask]| {
        let cells = cells(asks, with_flock)?;
        round += 1;
        let (here, all) = (asks.len() as u64, cells.len() as u64);
        // Cells are done side by side: so much of each is done.
        let way = |count: u64| tried + here * count / all;
        let most = about.max(tried + here * run.draws);
        let progress = |count| job.come_to(SearchProgress { round, done: way(count), all: most });
        let done = run_cells(&cells, run, &job.heard_as(&progress))?;
        runs += done.runs;
        tried += here * run.draws;
        let flocks = flocks(asks);
        largest = flocks.iter().copied().fold(largest, u64::max);
        let tally = |&(strategy, flock): &Ask| -> Tally {
            let place = flocks.iter().position(|&other| other == flock).unwrap_or(0);
            done.tallies[place][strategy].clone()
        };
        Ok(asks.iter().map(tally).collect())
    };
    let strategies = carry(plan, &mut attempt)?;
    run.check_books(&with_flock(largest)?)?;
    Ok(CarryOutcome { strategies, runs })
}

fn flocks(asks: &[Ask]) -> Vec<u64> {
    let mut flocks: Vec<u64> = asks.iter().map(|&(_, flock)| flock).collect();
    flocks.sort_unstable();
    flocks.dedup();
    flocks
}

/// A cell a flock, each with the strategies that ask for it: all share the ground.
fn cells(asks: &[Ask], with_flock: &WithFlock<'_>) -> Result<Vec<Cell>, SweepError> {
    let cell = |flock: u64| {
        let only = asks.iter().filter(|&&(_, other)| other == flock).map(|&(strategy, _)| strategy).collect();
        Ok(Cell { model: with_flock(flock)?, ground: String::new(), only: Some(only) })
    };
    flocks(asks).into_iter().map(cell).collect()
}
