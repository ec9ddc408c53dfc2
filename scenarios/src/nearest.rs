//! "Did you mean": the nearest of the words that would be right.

/// Steps (letters put in, left out, changed, or two neighbours swapped) from one word to another,
/// capitals or not: the optimal string alignment distance.
#[must_use]
pub fn distance(from: &str, to: &str) -> usize {
    strsim::osa_distance(&from.to_lowercase(), &to.to_lowercase())
}

/// Letters that a slip of the fingers changes at most; from memory.
pub const TYPED_WRONG: usize = 2;

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
    let others: Vec<&str> = kin(word, &words).into_iter().filter(|name| Some(*name) != near).collect();
    let listed = others.join(", ");
    match near {
        None if others.is_empty() || words.len() <= SHORT_LIST => did_you_mean(word, words),
        None => format!("The nearest there are: {listed}."),
        Some(near) if words.len() <= SHORT_LIST => {
            format!("Did you mean \"{near}\"? There are {}.", words.join(", "))
        }
        Some(near) if others.is_empty() => format!("Did you mean \"{near}\"?"),
        Some(near) => format!("Did you mean \"{near}\"? Others like it: {listed}."),
    }
}

/// Names that share a word with this one, be it one or many ("beans", "french bean"), or have
/// one of its words within theirs ("chafer grubs", "cockchafer").
#[must_use]
pub fn kin<'w>(word: &str, words: &[&'w str]) -> Vec<&'w str> {
    let wanted: Vec<String> = parts(word).collect();
    let within =
        |part: &str| wanted.iter().any(|want| want == part || want.len() >= LONG && part.contains(want.as_str()));
    words.iter().copied().filter(|name| parts(name).any(|part| within(&part))).collect()
}

/// Letters from which on a word is told within another; shorter ones are there by chance.
const LONG: usize = 4;

/// The words of a name, each as if there were one of it.
fn parts(name: &str) -> impl Iterator<Item = String> {
    name.split([' ', '-']).filter(|part| !part.is_empty()).map(|part| singular(&part.to_lowercase()).to_owned())
}

/// "potatoes" as "potato", "beans" as "bean", "grass" as it is.
#[must_use]
pub fn singular(word: &str) -> &str {
    match word {
        _ if word.ends_with("ss") => word,
        _ if word.ends_with("oes") => word.strip_suffix("es").unwrap_or(word),
        _ => word.strip_suffix('s').unwrap_or(word),
    }
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
        assert_eq!(told, "Did you mean \"pear slug\"? Others like it: small cherry fruit fly.");
    }

    #[test]
    fn kin_come_before_the_head_of_a_long_list() {
        let mut many: Vec<String> = (0..20).map(|i| format!("weevil {i}")).collect();
        many.extend(["broad bean".to_owned(), "french bean".to_owned(), "kikuyu grass lawn".to_owned()]);
        let told = |word| among(word, many.iter().map(String::as_str));
        assert_eq!(told("beans"), "The nearest there are: broad bean, french bean.");
        assert_eq!(told("kikuyu"), "The nearest there are: kikuyu grass lawn.");
        assert!(told("coffee").starts_with("It may be weevil 0"));
        assert_eq!(["potatoes", "grass", "hens"].map(singular), ["potato", "grass", "hen"]);
    }
}
