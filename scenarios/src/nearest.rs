//! "Did you mean": the nearest of the words that would be right.

/// Steps (letters put in, left out, changed, or two swapped) from one word to another.
#[must_use]
pub fn distance(from: &str, to: &str) -> usize {
    let (from, to): (Vec<char>, Vec<char>) =
        (from.to_lowercase().chars().collect(), to.to_lowercase().chars().collect());
    let mut rows = vec![(0..=to.len()).collect::<Vec<usize>>()];
    for (i, a) in from.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in to.iter().enumerate() {
            let changed = rows[i][j] + usize::from(a != b);
            let mut best = changed.min(rows[i][j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && from[i - 1] == *b && to[j - 1] == *a {
                best = best.min(rows[i - 1][j - 1] + 1);
            }
            row.push(best);
        }
        rows.push(row);
    }
    rows[from.len()][to.len()]
}

/// The nearest word, if it is near enough to be meant: a third of its letters may differ.
#[must_use]
pub fn nearest<'w>(word: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let near = words.into_iter().map(|candidate| (distance(word, candidate), candidate));
    let (steps, candidate) = near.min()?;
    let room = (word.chars().count().max(candidate.chars().count())).div_ceil(3);
    (steps <= room).then_some(candidate)
}

/// A remedy: the nearest word if there is one, else the words there are (at most twelve).
#[must_use]
pub fn did_you_mean<'w>(word: &str, words: impl IntoIterator<Item = &'w str>) -> String {
    let words: Vec<&str> = words.into_iter().collect();
    match nearest(word, words.iter().copied()) {
        Some(near) => format!("Did you mean \"{near}\"?"),
        None if words.is_empty() => "There are none.".to_owned(),
        None if words.len() > 12 => format!("It may be {}, … ({} in all).", words[..12].join(", "), words.len()),
        None => format!("It may be {}.", words.join(", ")),
    }
}

/// Names of which all are told where the nearest may not be meant.
const SHORT_LIST: usize = 12;

/// The same for names of the library, which are remembered badly: besides the nearest all of a
/// short list, or of a long one those that share a word.
#[must_use]
pub fn among<'w>(word: &str, words: impl IntoIterator<Item = &'w str>) -> String {
    let words: Vec<&str> = words.into_iter().collect();
    let near = nearest(word, words.iter().copied());
    let first = did_you_mean(word, words.iter().copied());
    if words.len() <= SHORT_LIST {
        return near.map_or(first.clone(), |_| format!("{first} There are {}.", words.join(", ")));
    }
    let parts: Vec<&str> = word.split([' ', '-']).collect();
    let shares = |name: &&str| Some(*name) != near && name.split(' ').any(|part| parts.contains(&part));
    let others: Vec<&str> = words.iter().copied().filter(shares).collect();
    if others.is_empty() { first } else { format!("{first} There are also {}.", others.join(", ")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_is_found() {
        assert_eq!(nearest("guadrs", ["guards", "grass"]), Some("guards"));
        assert_eq!(nearest("Plum sawfly", ["plum sawfly", "currant sawfly"]), Some("plum sawfly"));
        assert_eq!(nearest("zebra", ["guards", "grass"]), None);
        assert_eq!(distance("abcd", "abdc"), 1);
    }

    #[test]
    fn with_nothing_near_the_choice_is_shown() {
        assert_eq!(did_you_mean("zebra", ["guards", "grass"]), "It may be guards, grass.");
        assert_eq!(did_you_mean("zebra", []), "There are none.");
    }

    #[test]
    fn names_of_the_library_are_told_with_their_like() {
        let soils = ["loam", "silty clay"];
        assert_eq!(among("heavy clay", soils), "Did you mean \"silty clay\"? There are loam, silty clay.");
        let mut many: Vec<String> = (0..20).map(|i| format!("weevil {i}")).collect();
        many.extend(["pear slug".to_owned(), "small cherry fruit fly".to_owned()]);
        let told = among("cherry slug", many.iter().map(String::as_str));
        assert_eq!(told, "Did you mean \"pear slug\"? There are also small cherry fruit fly.");
    }
}
