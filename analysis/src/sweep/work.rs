//! Runs blocks of cells: draws outermost, what cells share once per draw.

use super::SweepError;
use super::same_runs::same;
use super::tally::Tally;
use crate::draw_sampler::DrawSampler;
use crate::experiment::{Arm, Job, Trial, gain};
use crate::season::check_books;
use rayon::prelude::*;
use scenarios::SiteModel;
use sim_engine::measures::Measures;
use sim_engine::run::world::RunError;
use sim_engine::simd::lanes;
use sim_engine::weather::DayWeather;

/// Draws computed between two looks at the stop sign: so many sets of measures are held at once.
const DRAWS_AT_ONCE: u64 = 64;
/// Runs of a draw in one block: enough that weather and drivers, made once a block and draw, weigh
/// little.
const RUNS_A_DRAW: u64 = 64;
/// Least runs of a draw in a block, however many draws there are.
const LEAST_RUNS_A_DRAW: u64 = 8;
/// Runs of a block, about: some seconds of work, so that a crash costs little.
const RUNS_A_BLOCK: u64 = 20_000;

/// Cells of one block. It decides how often finished work is kept, and no result.
#[must_use]
pub fn cells_a_block(strategies: usize, draws: u64) -> u64 {
    let runs = (RUNS_A_BLOCK / draws.max(1)).clamp(LEAST_RUNS_A_DRAW, RUNS_A_DRAW);
    (runs / strategies.max(1) as u64).max(1)
}

/// A cell to be run.
#[derive(Clone, Debug)]
pub struct Cell {
    /// The site with the cell's values.
    pub model: SiteModel,
    /// What its ground is known by: cells of one word share weather and drivers.
    pub ground: String,
    /// Strategies that are run here, by position in [`RunPlan::which`]; `None`: all.
    pub only: Option<Vec<usize>>,
}

/// What is run in every cell.
#[derive(Clone, Debug)]
pub struct RunPlan<'t> {
    /// Seed of all random numbers.
    pub seed: u64,
    /// Possible years.
    pub draws: u64,
    /// Strategies, by index into the model's.
    pub which: &'t [usize],
    /// The run's days where they are given; else each possible year has its own.
    pub weather: Option<&'t [DayWeather]>,
}

impl RunPlan<'_> {
    /// Audits the likely season of every strategy, once for a site: the many runs to come keep no books.
    ///
    /// # Errors
    /// See [`check_books`].
    pub fn check_books(&self, model: &SiteModel) -> Result<(), RunError> {
        check_books(model, self.seed, self.weather, self.which)
    }
}

/// What a block of cells came to.
#[derive(Clone, Debug)]
pub struct Done {
    /// Tallies, by cell and strategy.
    pub tallies: Vec<Vec<Tally>>,
    /// Runs that were made, those of birds shut in included.
    pub runs: u64,
}

/// Runs cells; the job's progress is possible years times cells that are done.
///
/// # Errors
/// [`SweepError::Run`] if a draw has fewer days of weather than its run; [`SweepError::Stopped`] if the job was.
pub fn run_cells(cells: &[Cell], plan: &RunPlan<'_>, job: &Job<'_, u64>) -> Result<Done, SweepError> {
    let limits = |cell: &Cell| cell.model.limits.all.len();
    let mut tallies: Vec<Vec<Tally>> =
        cells.iter().map(|cell| vec![Tally::new(limits(cell)); plan.which.len()]).collect();
    let runs = each_draw(cells, plan, job, &mut |_, cell, strategy, measures, shut_in| {
        let model = &cells[cell].model;
        let aim = gain(&model.aims, measures, shut_in);
        tallies[cell][strategy].add(measures, aim, &model.limits.all);
    })?;
    tallies.iter_mut().flatten().for_each(Tally::close);
    Ok(Done { tallies, runs })
}

/// Hears of one run: draw, cell, strategy (places in the lists), its measures and those of its flock
/// shut in.
pub type Hear<'h> = dyn FnMut(u64, usize, usize, &Measures, &Measures) + 'h;

/// Runs every strategy in every cell on draws 1, 2, …; `hear` is told in the order of draws,
/// so that sums do not hang on threads. Gives the number of runs made.
///
/// # Errors
/// As [`run_cells`].
pub fn each_draw(
    cells: &[Cell],
    plan: &RunPlan<'_>,
    job: &Job<'_, u64>,
    hear: &mut Hear<'_>,
) -> Result<u64, SweepError> {
    let grounds = grounds(cells, plan.which);
    let mut done = 0;
    for ground in &grounds {
        let mut first = 1;
        while first <= plan.draws {
            if job.stopped() {
                return Err(SweepError::Stopped);
            }
            let last = (first + DRAWS_AT_ONCE - 1).min(plan.draws);
            let numbers: Vec<u64> = (first..=last).collect();
            let heard: Vec<Result<Vec<FlockRuns>, RunError>> =
                numbers.par_chunks(lanes()).map(|numbers| side_by_side(cells, ground, plan, numbers)).collect();
            let mut number = first;
            for runs in heard {
                let runs = runs?;
                for draw in 0..runs[0].shut_in.len() {
                    for view in &ground.view {
                        let flock = &runs[view.flock];
                        let measures = &flock.measures[view.run][draw];
                        hear(number, view.cell, view.strategy, measures, &flock.shut_in[draw]);
                    }
                    number += 1;
                }
            }
            done += (last - first + 1) * ground.cells;
            job.come_to(done);
            first = last + 1;
        }
    }
    let runs = |ground: &CellGroup| ground.flocks.iter().map(|flock| flock.runs.len() as u64 + 1).sum::<u64>();
    Ok(grounds.iter().map(|ground| plan.draws * runs(ground)).sum())
}

/// Cells that share weather and drivers, and the runs they need.
struct CellGroup {
    /// How many cells.
    cells: u64,
    /// By flock; the first is that of the first cell.
    flocks: Vec<Flock>,
    /// Who is told of which run.
    view: Vec<RunUse>,
}

/// Cells whose flock is the same.
struct Flock {
    /// Place of a cell that stands for all.
    cell: usize,
    /// Runs to make: place of a cell, and strategy by index into the model's.
    runs: Vec<(usize, usize)>,
}

struct RunUse {
    cell: usize,
    strategy: usize,
    flock: usize,
    run: usize,
}

/// Runs of a flock on draws that went side by side.
struct FlockRuns {
    /// By draw.
    shut_in: Vec<Measures>,
    /// By run and draw.
    measures: Vec<Vec<Measures>>,
}

fn grounds(cells: &[Cell], which: &[usize]) -> Vec<CellGroup> {
    let mut grounds: Vec<CellGroup> = Vec::new();
    for (place, cell) in cells.iter().enumerate() {
        let ground = found_or(
            &mut grounds,
            |ground| alike(&cells[ground.flocks[0].cell], cell),
            || CellGroup { cells: 0, flocks: vec![Flock { cell: place, runs: Vec::new() }], view: Vec::new() },
        );
        let ground = &mut grounds[ground];
        ground.cells += 1;
        let same_flock = |flock: &Flock| numbers(&cells[flock.cell]) == numbers(cell);
        let flock = found_or(&mut ground.flocks, same_flock, || Flock { cell: place, runs: Vec::new() });
        let runs_here = |strategy: &usize| cell.only.as_ref().is_none_or(|only| only.contains(strategy));
        for (strategy, &index) in which.iter().enumerate().filter(|(strategy, _)| runs_here(strategy)) {
            let same_run = |&(other, its): &(usize, usize)| {
                its == index && same(&cells[other].model.strategies, &cell.model.strategies, index)
            };
            let run = found_or(&mut ground.flocks[flock].runs, same_run, || (place, index));
            ground.view.push(RunUse { cell: place, strategy, flock, run });
        }
    }
    grounds
}

/// Place of the first that fits; one is added where none does.
fn found_or<T>(all: &mut Vec<T>, fits: impl Fn(&T) -> bool, new: impl FnOnce() -> T) -> usize {
    all.iter().position(fits).unwrap_or_else(|| {
        all.push(new());
        all.len() - 1
    })
}

/// Whether cells share the ground and what is counted on it.
fn alike(one: &Cell, other: &Cell) -> bool {
    one.ground == other.ground
        && one.model.limits.cover_line == other.model.limits.cover_line
        && one.model.compare.pest_weights == other.model.compare.pest_weights
}

/// Birds of each group.
fn numbers(cell: &Cell) -> Vec<f64> {
    cell.model.base.groups.iter().map(|group| group.number).collect()
}

fn side_by_side(
    cells: &[Cell],
    ground: &CellGroup,
    plan: &RunPlan<'_>,
    numbers: &[u64],
) -> Result<Vec<FlockRuns>, RunError> {
    let model = &cells[ground.flocks[0].cell].model;
    let sampler = DrawSampler { seed: plan.seed };
    let draws = numbers.iter().map(|&number| sampler.draw_under(model, number, plan.weather)).collect();
    let (trial, shut_in) = Trial::new(draws, model, |_| ())?;
    let mut own = Some(shut_in.into_iter().map(|run| run.measures).collect());
    let mut all = Vec::with_capacity(ground.flocks.len());
    for flock in &ground.flocks {
        // The first flock is that of the draws.
        all.push(match own.take() {
            Some(shut_in) => flock_runs(cells, flock, &trial, shut_in)?,
            None => {
                let (trial, shut_in) = trial.with_flock(&cells[flock.cell].model.base)?;
                flock_runs(cells, flock, &trial, shut_in)?
            }
        });
    }
    Ok(all)
}

fn flock_runs(cells: &[Cell], flock: &Flock, trial: &Trial, shut_in: Vec<Measures>) -> Result<FlockRuns, RunError> {
    let run =
        |&(cell, strategy): &(usize, usize)| trial.measures(Arm::strategy(&cells[cell].model.strategies, strategy));
    let measures: Vec<Result<Vec<Measures>, RunError>> = flock.runs.par_iter().map(run).collect();
    Ok(FlockRuns { shut_in, measures: measures.into_iter().collect::<Result<_, _>>()? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_stay_within_some_seconds() {
        assert_eq!(cells_a_block(1, 200), 64);
        assert_eq!(cells_a_block(12, 200), 5);
        assert_eq!(cells_a_block(1, 100_000), 8);
        assert_eq!(cells_a_block(100, 10), 1);
    }
}
