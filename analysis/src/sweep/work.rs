//! Runs blocks of cells: draws outermost, what cells share once per draw.

use super::SweepError;
use super::same_runs::same;
use super::tally::Tally;
use crate::draw_sampler::DrawSampler;
use crate::experiment::{Arm, Job, Trial, gain};
use rayon::prelude::*;
use scenarios::SiteModel;
use sim_engine::measures::Measures;
use sim_engine::run::world::RunError;
use sim_engine::simd::lanes;
use sim_engine::site::Site;
use sim_engine::weather::DayWeather;

/// Draws computed between two looks at the stop sign: so many sets of measures are held at once.
const DRAWS_AT_ONCE: u64 = 64;
/// Runs that share copies of the draws' sites.
const RUNS_AT_ONCE: usize = 8;
/// Runs of a draw in one block: enough that the run without birds, made once a block and
/// draw, weighs little.
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
    /// What its ground is known by: cells of one word share weather and the run without birds.
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

/// What a block of cells came to.
#[derive(Clone, Debug)]
pub struct Done {
    /// Tallies, by cell and strategy.
    pub tallies: Vec<Vec<Tally>>,
    /// Runs that were made, those without birds included.
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
    let runs = each_draw(cells, plan, job, &mut |_, cell, strategy, measures, no_birds| {
        let model = &cells[cell].model;
        let aim = gain(&model.aims, measures, no_birds);
        tallies[cell][strategy].add(measures, aim, &model.limits.all);
    })?;
    tallies.iter_mut().flatten().for_each(Tally::close);
    Ok(Done { tallies, runs })
}

/// Hears of one run: draw, cell, strategy (places in the lists), its measures and those of
/// the run without birds.
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
            let heard: Vec<Result<BatchRuns, RunError>> =
                numbers.par_chunks(lanes()).map(|numbers| side_by_side(cells, ground, plan, numbers)).collect();
            let mut number = first;
            for runs in heard {
                let runs = runs?;
                for (draw, no_birds) in runs.no_birds.iter().enumerate() {
                    for view in &ground.view {
                        hear(number, view.cell, view.strategy, &runs.measures[view.run][draw], no_birds);
                    }
                    number += 1;
                }
            }
            done += (last - first + 1) * ground.cells;
            job.come_to(done);
            first = last + 1;
        }
    }
    Ok(grounds.iter().map(|ground| plan.draws * (ground.runs.len() as u64 + 1)).sum())
}

/// Cells that share weather and the run without birds, and the runs they need.
struct CellGroup {
    /// Place of a cell that stands for all.
    cell: usize,
    /// How many cells.
    cells: u64,
    /// Runs to make: place of a cell, and strategy by index into the model's.
    runs: Vec<(usize, usize)>,
    /// Who is told of which run.
    view: Vec<RunUse>,
}

struct RunUse {
    cell: usize,
    strategy: usize,
    run: usize,
}

/// Runs of draws that went side by side.
struct BatchRuns {
    /// By draw.
    no_birds: Vec<Measures>,
    /// By run and draw.
    measures: Vec<Vec<Measures>>,
}

fn grounds(cells: &[Cell], which: &[usize]) -> Vec<CellGroup> {
    let mut grounds: Vec<CellGroup> = Vec::new();
    for (place, cell) in cells.iter().enumerate() {
        let known = grounds.iter().position(|ground| alike(&cells[ground.cell], cell));
        let at = known.unwrap_or_else(|| {
            grounds.push(CellGroup { cell: place, cells: 0, runs: Vec::new(), view: Vec::new() });
            grounds.len() - 1
        });
        let ground = &mut grounds[at];
        ground.cells += 1;
        let runs_here = |strategy: &usize| cell.only.as_ref().is_none_or(|only| only.contains(strategy));
        for (strategy, &index) in which.iter().enumerate().filter(|(strategy, _)| runs_here(strategy)) {
            let before =
                ground.runs.iter().position(|&(other, its)| its == index && runs_alike(&cells[other], cell, index));
            let run = before.unwrap_or_else(|| {
                ground.runs.push((place, index));
                ground.runs.len() - 1
            });
            ground.view.push(RunUse { cell: place, strategy, run });
        }
    }
    grounds
}

/// Whether cells share the ground and what is counted on it.
fn alike(one: &Cell, other: &Cell) -> bool {
    one.ground == other.ground
        && one.model.limits.cover_line == other.model.limits.cover_line
        && one.model.compare.pest_weights == other.model.compare.pest_weights
}

/// Whether a strategy runs the same way in two cells of one ground.
fn runs_alike(one: &Cell, other: &Cell, strategy: usize) -> bool {
    let numbers = |cell: &Cell| cell.model.base.groups.iter().map(|group| group.number).collect::<Vec<f64>>();
    same(&one.model.strategies, &other.model.strategies, strategy) && numbers(one) == numbers(other)
}

fn side_by_side(
    cells: &[Cell],
    ground: &CellGroup,
    plan: &RunPlan<'_>,
    numbers: &[u64],
) -> Result<BatchRuns, RunError> {
    let model = &cells[ground.cell].model;
    let sampler = DrawSampler { seed: plan.seed };
    let draws = numbers.iter().map(|&number| sampler.draw_under(model, number, plan.weather)).collect();
    let (trial, no_birds) = Trial::new(draws, model, |_| ())?;
    let batches: Vec<Result<Vec<Vec<Measures>>, RunError>> =
        ground.runs.par_chunks(RUNS_AT_ONCE).map(|runs| some_runs(cells, runs, &trial)).collect();
    let mut measures = Vec::with_capacity(ground.runs.len());
    for batch in batches {
        measures.extend(batch?);
    }
    Ok(BatchRuns { no_birds: no_birds.into_iter().map(|run| run.measures).collect(), measures })
}

fn some_runs(cells: &[Cell], runs: &[(usize, usize)], trial: &Trial) -> Result<Vec<Vec<Measures>>, RunError> {
    let mut sites: Vec<Site> = trial.draws().iter().map(|draw| draw.site.clone()).collect();
    let mut all = Vec::with_capacity(runs.len());
    for &(cell, strategy) in runs {
        let model = &cells[cell].model;
        for site in &mut sites {
            set_flock(site, &model.base);
        }
        all.push(trial.run_with_flocks(&sites, Arm::strategy(&model.strategies, strategy))?);
    }
    Ok(all)
}

/// Of a cell that shares the ground, the flock is all that differs in the site.
fn set_flock(site: &mut Site, cell: &Site) {
    for (group, of_cell) in site.groups.iter_mut().zip(&cell.groups) {
        group.number = of_cell.number;
    }
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
