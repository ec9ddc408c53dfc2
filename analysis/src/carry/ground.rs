//! Tries flocks on a real site.

use super::{Ask, Carried, CarryPlan, carry};
use crate::sweep::SweepError;
use crate::sweep::tally::Tally;
use crate::sweep::work::{Cell, Trial, run_cells};
use scenarios::SiteModel;

/// Makes the site with a flock of so many birds.
pub type WithFlock<'w> = dyn Fn(u64) -> Result<SiteModel, SweepError> + 'w;

/// What a search found, and what it took.
#[derive(Clone, Debug)]
pub struct Found {
    /// By strategy.
    pub strategies: Vec<Carried>,
    /// Runs that were made, those without birds included.
    pub runs: u64,
}

/// Finds what each strategy of `trial` bears. `progress` hears, round by round, how many of how
/// many possible years are done.
///
/// # Errors
/// A flock that makes the site invalid, a run that cannot start, a stop.
pub fn carry_site(
    plan: &CarryPlan,
    trial: &Trial<'_>,
    with_flock: &WithFlock<'_>,
    progress: &(dyn Fn(u64, u64) + Sync),
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<Found, SweepError> {
    let mut runs = 0;
    let mut attempt = |asks: &[Ask]| {
        let cells = cells(asks, with_flock)?;
        let all = cells.len() as u64 * trial.draws;
        let done = run_cells(&cells, trial, &|count| progress(count, all), stop)?;
        runs += done.runs;
        let flocks = flocks(asks);
        let tally = |&(strategy, flock): &Ask| -> Tally {
            let place = flocks.iter().position(|&other| other == flock).unwrap_or(0);
            done.tallies[place][strategy].clone()
        };
        Ok(asks.iter().map(tally).collect())
    };
    let strategies = carry(plan, &mut attempt)?;
    Ok(Found { strategies, runs })
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
