//! What became of each strategy, in a keeper's words.

use super::{Ended, Fate, Selection};
use crate::report::words::possible_years;

/// One line a strategy: how many possible years it was tried on, and why no more.
/// `limits` are the limits in words.
#[must_use]
pub fn lines(selection: &Selection, names: &[String], limits: &[String]) -> Vec<String> {
    let line = |(ended, name): (&Ended, &String)| {
        format!("{name}: {}, {}", possible_years(ended.draws), why(&ended.fate, names, limits))
    };
    selection.ended.iter().zip(names).map(line).collect()
}

fn why(fate: &Fate, names: &[String], limits: &[String]) -> String {
    match fate {
        Fate::Best => "the best".to_owned(),
        Fate::AsGood => "as good as the best".to_owned(),
        Fate::Beaten { by } => format!("then {} was known to be ahead of it", names[*by]),
        Fate::Fails { limit } => {
            format!("then it was known that \"{}\" does not hold often enough", limits[*limit])
        }
        Fate::Undecided => "still in".to_owned(),
    }
}
