//! The open problem set is what `best.csv` says it is: frozen draws, and a best known that the named
//! strategy reaches. After a meant change of the model or the library `.ci/update-golden` makes the file anew.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

use analysis::experiment::Job;
use analysis::score::{draws_digest, play};
use scenarios::Library;
use scenarios::problems::{PLAIN, best, problems, with_strategies};

#[test]
fn the_draws_are_frozen_and_the_best_known_is_reached() {
    let library = Library::shipped().unwrap();
    let mut stale = Vec::new();
    for (problem, best) in problems().into_iter().zip(best()) {
        let model = with_strategies(problem, "plain.toml", PLAIN, &library, &|_| Err(String::new())).unwrap();
        let played = play(&model, best.seed, model.strategy(&best.strategy).unwrap(), &Job::unheard()).unwrap();
        assert!(played.verdict.standings[0].holds, "{}", problem.name);
        if draws_digest(&model, best.seed) != best.luck || played.aim[0].mean != best.aim {
            stale.push(problem.name);
        }
    }
    assert!(stale.is_empty(), "best.csv is stale for {stale:?}: .ci/update-golden makes it anew");
}
