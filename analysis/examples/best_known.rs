//! Mints `scenarios/problems/best.csv`: plays every plain strategy on every problem and keeps the
//! best that holds. `.ci/mint` runs it; by hand, `cargo run --release -p analysis --example best_known`
//! into another file first, since `best.csv` is part of what is built.

use analysis::experiment::Job;
use analysis::score::{luck_digest, play};
use rayon::prelude::*;
use scenarios::Library;
use scenarios::problems::{PLAIN, Problem, problems, with_strategies};

/// The frozen seed of all problems.
const SEED: u64 = 2027;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let library = Library::shipped()?;
    println!("problem,seed,luck,strategy,aim");
    let lines: Vec<Result<String, String>> =
        problems().into_par_iter().map(|p| line(p, &library).map_err(|e| format!("{}: {e}", p.name))).collect();
    for line in lines {
        println!("{}", line?);
    }
    Ok(())
}

fn line(problem: Problem, library: &Library) -> Result<String, Box<dyn std::error::Error>> {
    let model = with_strategies(problem, "plain.toml", PLAIN, library, &|_| Err(String::new()))?;
    let mut best: Option<(String, f64)> = None;
    for which in 0..model.strategies.len() {
        let played = play(&model, SEED, which, &Job::unheard())?;
        let (name, aim, holds) = (&played.names[0], played.aim[0].mean, played.verdict.standings[0].holds);
        eprintln!("{} {name}: {aim:.2}{}", problem.name, if holds { "" } else { ", limits give way" });
        if holds && best.as_ref().is_none_or(|(_, top)| aim > *top) {
            best = Some((name.clone(), aim));
        }
    }
    let (name, aim) = best.ok_or("no plain strategy keeps the limits")?;
    Ok(format!("{},{SEED},{},{name},{aim}", problem.name, luck_digest(&model, SEED)))
}
