//! Makes `scenarios/problems/best.csv`: plays every plain strategy on every problem and keeps the
//! best that holds. `.ci/update-golden` runs it; by hand, `cargo run --release -p analysis --example best_known`
//! into another file first, since `best.csv` is part of what is built.

use analysis::compare::{ComparePlan, compare};
use analysis::experiment::Job;
use analysis::score::{draws_digest, plan};
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
    // All at once share the possible years and the runs without birds.
    let which = (0..model.strategies.len()).collect();
    let played = compare(&model, &ComparePlan { which, ..plan(&model, SEED, 0) }, None, &Job::unheard())?;
    let mut best: Option<(&str, f64)> = None;
    for ((name, aim), standing) in played.names.iter().zip(&played.aim).zip(&played.verdict.standings) {
        eprintln!("{} {name}: {:.2}{}", problem.name, aim.mean, if standing.holds { "" } else { ", limits give way" });
        if standing.holds && best.is_none_or(|(_, top)| aim.mean > top) {
            best = Some((name, aim.mean));
        }
    }
    let (name, aim) = best.ok_or("no plain strategy keeps the limits")?;
    Ok(format!("{},{SEED},{},{name},{aim}", problem.name, draws_digest(&model, SEED)))
}
