//! The scores as a table.

use analysis::json::{ScoreDocument, ScoredProblem};
use analysis::table::{TextColumn, TextTable, paragraph};
use analysis::wording::{figure, held, percent};

/// Table and mean share.
pub fn table(document: &ScoreDocument) -> String {
    let mut table = TextTable::new(&[
        (TextColumn::Words, "problem"),
        (TextColumn::Numbers, "aim,\nh/yr"),
        (TextColumn::Numbers, "limits\nheld in"),
        (TextColumn::Numbers, "best\nknown"),
        (TextColumn::Numbers, "share\nof it"),
    ]);
    document.problems.iter().for_each(|problem| table.row(row(problem)));
    let share = document.mean_share.map_or_else(|| "unknown".to_owned(), |share| percent(100.0 * share));
    let words = format!(
        "{}: on average {share} of the best known. A problem whose limits fail counts 0. The random numbers are \
         frozen, so a score can be learnt by heart; what it says about other gardens is another matter.",
        document.strategy
    );
    format!("{}\n{}", table.text(), paragraph(&words))
}

fn row(problem: &ScoredProblem) -> [String; 5] {
    let weakest = problem.limits.iter().min_by_key(|limit| limit.held);
    let kept = weakest.map_or_else(|| "-".to_owned(), |limit| held(limit.held, problem.draws));
    let share = problem.share.map_or_else(|| "-".to_owned(), |share| percent(100.0 * share));
    [
        problem.name.clone(),
        figure(problem.aim.mean.unwrap_or(f64::NAN), 1),
        kept,
        figure(problem.best_aim, 1),
        if problem.holds { share } else { "0 %, limits".to_owned() },
    ]
}
