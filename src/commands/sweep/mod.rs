//! `hensward sweep SITE --vary KEY=VALUES`: numbers of a site varied, every strategy tried.

mod args;
mod plan;
mod words;

pub use args::SweepArgs;
pub use words::{Extras, FILES, finish};

use super::inputs::mention_warnings;
use super::outputs::{folder, take};
use super::station_days;
use crate::common::Common;
use crate::problem::CommandError;
use crate::progress::Meter;
use crate::sites::{self, Opened};
use crate::{screen, stop};
use analysis::experiment::Job;
use analysis::json::RunFacts;
use analysis::output::OutputError;
use analysis::sweep::merge::Whole;
use analysis::sweep::part::PartWriter;
use analysis::sweep::work::{Cell, RunPlan, cells_a_block, run_cells};
use analysis::sweep::{Shard, SweepError};
use plan::Sweep;
use rayon::prelude::*;
use std::sync::Arc;
use std::time::Instant;

/// The file of finished cells while a whole sweep runs.
const UNFINISHED: &str = "unfinished.sweep";

/// Sweeps.
///
/// # Errors
/// Faults of the site or the options; a stop; what the system refused.
pub fn run(args: &SweepArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    args.extras.check()?;
    let mut opened = sites::open(&args.site)?;
    mention_warnings(&opened.model, &args.site, common);
    let laid = match &args.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let sweep = plan::plan(args, common, &opened, laid)?;
    // Parts of one sweep are written side by side, each under a lock of its own.
    let mut results = match args.shard {
        None => Some(take(common, &opened.label, "sweep", &opened.origin, &FILES)?),
        Some(_) => None,
    };
    let folder = folder(common, &opened.label, "sweep");
    let shard = args.shard.unwrap_or(Shard::WHOLE);
    if shard.of > sweep.count {
        let fault = format!("{} parts are more than the {} cells there are", shard.of, sweep.count);
        let remedy = format!("Share the run out in {} parts at most, for example {0}/{0}.", sweep.count);
        return Err(CommandError::argument("--shard", fault, remedy));
    }
    let name = args.shard.map_or_else(|| UNFINISHED.to_owned(), |s| format!("part-{}-of-{}.sweep", s.number, s.of));
    let path = folder.join(name);
    let mut part = PartWriter::open(&path, &sweep.plan, shard, args.resume)?;
    if part.dropped {
        screen::talk(common.quiet, "The last block of cells was cut short by the stop; it is run again.");
    }
    let runs = work(&sweep, &opened, &mut part, shard, common)?;
    part.finish()?;
    drop(part);
    let Some(results) = &mut results else {
        let words = format!("Part {}/{} is finished: {}", shard.number, shard.of, path.display());
        screen::talk(common.quiet, &words);
        return Ok(());
    };
    finish(&Whole::of(std::slice::from_ref(&path))?, results, args.extras, common, |threads| {
        let seconds = begun.elapsed().as_secs_f64();
        Some(RunFacts::of(&opened.model, runs, seconds, threads))
    })?;
    std::fs::remove_file(&path).map_err(|cause| OutputError { path, cause })?;
    Ok(())
}

/// Runs block after block, each kept as soon as it is done; the number of runs made.
fn work(
    sweep: &Sweep<'_>,
    opened: &Opened,
    part: &mut PartWriter,
    shard: Shard,
    common: &Common,
) -> Result<u64, CommandError> {
    let end = shard.span(sweep.count).1;
    if part.next >= end {
        return Ok(0);
    }
    let stop = stop::listen(common.quiet)?;
    let (first, draws) = (part.next, sweep.plan.draws);
    let meter = Meter::new(common.progress, common.quiet, ((end - first) * draws) as usize);
    let block = cells_a_block(sweep.which.len(), draws);
    let plan = RunPlan { seed: common.seed, draws, which: &sweep.which, weather: sweep.weather() };
    plan.check_books(&opened.model)?;
    let mut runs = 0;
    while part.next < end {
        let from = part.next;
        let cells = cells(sweep, opened, from..(from + block).min(end))?;
        let before = (from - first) * draws;
        let progress = |done| meter.done((before + done) as usize);
        // One of every block stands for it.
        if let Some(cell) = cells.last() {
            plan.check_books(&cell.model)?;
        }
        match run_cells(&cells, &plan, &Job::new(Arc::clone(&stop), &progress)) {
            Err(SweepError::Stopped) => {
                meter.finish();
                return Err(stopped(part.next - shard.span(sweep.count).0, sweep.count));
            }
            done => {
                let done = done?;
                runs += done.runs;
                part.keep(&done.tallies)?;
            }
        }
    }
    meter.finish();
    Ok(runs)
}

fn stopped(done: u64, all: u64) -> CommandError {
    CommandError::Stopped(format!(
        "Stopped: {done} of {all} cells are finished and kept; the same command with --resume goes on."
    ))
}

/// The sites of some cells.
fn cells(sweep: &Sweep<'_>, opened: &Opened, numbers: std::ops::Range<u64>) -> Result<Vec<Cell>, CommandError> {
    let all: Vec<Result<Cell, CommandError>> =
        numbers.into_par_iter().map(|number| sweep.cell(opened, number)).collect();
    all.into_iter().collect()
}
