//! Puts a sample of mutants of hensward's model and statistics to its tests, and says how many
//! are noticed.
//!
//! cargo-mutants lists the mutants; a seed draws a sample of them ([`sample`]); all of the sample
//! go into one build and one is chosen at run time ([`switch`]), which takes seconds a mutant where
//! building takes minutes; each is put to the tests up to the first that fails ([`trial`]). What
//! is drawn and what counts stands in `sample.toml`, which survivor may live in `survivors.toml`.

mod build;
mod draw;
mod record;
mod report;
mod sample;
mod scratch;
mod settings;
mod switch;
mod tool;
mod trial;

use anyhow::{Result, anyhow};
use clap::Parser;
use draw::{Drawn, Work};
use record::Record;
use report::Verdict;
use sample::Mutant;
use settings::Settings;
use std::env;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};
use trial::{Outcome, Tests};

/// How to run.
#[derive(Parser)]
#[command(about = "Puts a sample of mutants to the tests, and says how many are noticed")]
struct Options {
    /// Start no mutant after so many minutes; a later run goes on. Exit code 3 if some are left
    #[arg(long)]
    minutes: Option<u64>,
    /// Mutants tried at a time [default: one a core]
    #[arg(long)]
    jobs: Option<usize>,
    /// Another seed than that of sample.toml: a sample no test was written against
    #[arg(long)]
    seed: Option<String>,
    /// Another size than that of sample.toml
    #[arg(long)]
    size: Option<usize>,
    /// Keep what was killed though the tree changed: quick while tests are written, not for the record
    #[arg(long)]
    keep_killed: bool,
}

impl Options {
    fn settings(&self, folder: &Path) -> Result<Settings> {
        let mut settings = settings::settings(folder)?;
        if let Some(seed) = &self.seed {
            settings.seed.clone_from(seed);
        }
        settings.size = self.size.unwrap_or(settings.size);
        Ok(settings)
    }

    fn jobs(&self) -> usize {
        self.jobs.unwrap_or_else(|| thread::available_parallelism().map_or(1, Into::into))
    }
}

fn main() -> Result<ExitCode> {
    Ok(match run(&Options::parse())? {
        Verdict::Passed => ExitCode::SUCCESS,
        Verdict::Failed => ExitCode::FAILURE,
        Verdict::Unfinished => ExitCode::from(3),
    })
}

fn run(options: &Options) -> Result<Verdict> {
    let begun = Instant::now();
    let deadline = options.minutes.map(|minutes| begun + Duration::from_secs(60 * minutes));
    // As `cargo run` says it, so that a copy of the workspace uses its own.
    let folder = env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| env!("CARGO_MANIFEST_DIR").into(), PathBuf::from);
    let (settings, excuses) = (options.settings(&folder)?, settings::excuses(&folder)?);
    let work = Work::new(&folder.join("../.."))?;
    let areas = sample::areas(&tool::list(&work.root, &work.scratch, &settings.tool)?, &settings)?;
    let mut record = Record::open(&work.scratch.join("results.jsonl"), &work.plain.digest(), options.keep_killed)?;
    let drawn = draw::draw(&work, &areas, &settings, &mut record)?;
    println!("\ntests without a mutant:");
    let tests = Tests::measured(&drawn.binaries, &settings)?;
    let trials = Trials { tests, record: Mutex::new(record), deadline };
    trials.all_switched(&drawn, options.jobs())?;
    trials.all_alone(&drawn, &work, &settings)?;
    println!("\n{:.0} minutes, seed \"{}\"", begun.elapsed().as_secs_f64() / 60.0, settings.seed);
    let record = trials.record.into_inner().map_err(|_| anyhow!("a trial panicked"))?;
    Ok(report::report(&drawn.by_area, &record, &excuses, settings.bar))
}

/// Mutants being tried, and what became of them.
struct Trials<'a> {
    tests: Tests<'a>,
    record: Mutex<Record>,
    deadline: Option<Instant>,
}

impl Trials<'_> {
    /// Tries those that are chosen at run time, several at once.
    fn all_switched(&self, drawn: &Drawn, jobs: usize) -> Result<()> {
        let next = AtomicUsize::new(0);
        let work = || -> Result<()> {
            while let Some((number, mutant)) = drawn.switched.get(next.fetch_add(1, Ordering::Relaxed)) {
                self.one(mutant, || self.tests.try_out(mutant, *number))?;
            }
            Ok(())
        };
        thread::scope(|scope| {
            let workers: Vec<_> = (0..jobs).map(|_| scope.spawn(work)).collect();
            workers.into_iter().try_for_each(|worker| worker.join().map_err(|_| anyhow!("a trial panicked"))?)
        })
    }

    /// Tries those that must be built by themselves, one after the other.
    fn all_alone(&self, drawn: &Drawn, work: &Work, settings: &Settings) -> Result<()> {
        for mutant in &drawn.alone {
            self.one(mutant, || self.tests.with(&work.build_alone(mutant, settings)?).try_out(mutant, 0))?;
        }
        Ok(())
    }

    /// Tries a mutant, unless that is done or it is too late.
    fn one(&self, mutant: &Mutant, try_out: impl FnOnce() -> Result<Outcome>) -> Result<()> {
        let late = self.deadline.is_some_and(|deadline| Instant::now() > deadline);
        let record = || self.record.lock().map_err(|_| anyhow!("a trial panicked"));
        if late || record()?.of(&mutant.name).is_some() {
            return Ok(());
        }
        let begun = Instant::now();
        let outcome = try_out()?;
        let seconds = begun.elapsed().as_secs_f64();
        println!("{seconds:>7.1} s  {}  {outcome}", mutant.told());
        record()?.add(&mutant.name, outcome, seconds)
    }
}
