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
    let mut once: Vec<&str> = Vec::new();
    words.into_iter().for_each(|word| {
        if !once.contains(&word) {
            once.push(word)
        }
    });
    let words = once;
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
/// one of its words within theirs ("chafer grubs", "cockchafer"): whole words first, then heads of words.
#[must_use]
pub fn kin<'w>(word: &str, words: &[&'w str]) -> Vec<&'w str> {
    let wanted: Vec<String> = parts(word).collect();
    let rank =
        |name: &str| parts(name).filter_map(|part| wanted.iter().filter_map(|want| within(want, &part)).min()).min();
    let mut alike: Vec<(usize, &str)> = words.iter().filter_map(|name| Some((rank(name)?, *name))).collect();
    alike.sort_by_key(|(rank, _)| *rank);
    alike.into_iter().map(|(_, name)| name).collect()
}

/// How a word stands within another: as the whole of it (0), at its head (1), elsewhere (2).
fn within(want: &str, part: &str) -> Option<usize> {
    match part.find(want)? {
        _ if want == part => Some(0),
        _ if want.len() < LONG => None,
        at => Some(at.min(1) + 1),
    }
}

/// Letters from which on a word is told within another; shorter ones are there by chance.
const LONG: usize = 4;

/// The words of a name, each as if there were one of it.
fn parts(name: &str) -> impl Iterator<Item = String> {
    name.split([' ', '-']).filter(|part| !part.is_empty()).map(|part| singular(&part.to_lowercase()))
}

/// "potatoes" as "potato", "berries" as "berry", "beans" as "bean", "grass" and "citrus" as they are.
#[must_use]
pub fn singular(word: &str) -> String {
    if let Some(stem) = word.strip_suffix("ies").filter(|stem| stem.chars().count() > 1) {
        return format!("{stem}y");
    }
    let es = ["oes", "ches", "shes", "sses", "xes"].iter().any(|end| word.ends_with(end));
    let one = ["ss", "us", "is"].iter().any(|end| word.ends_with(end));
    let stem = if es { word.strip_suffix("es") } else { word.strip_suffix('s').filter(|_| !one) };
    stem.unwrap_or(word).to_owned()
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
        assert_eq!(["berries", "peaches", "citrus"].map(singular), ["berry", "peach", "citrus"]);
    }

    #[test]
    fn whole_words_come_before_parts_of_words() {
        let names = ["thornapple", "pineapple", "apples of love", "apple trees"];
        assert_eq!(kin("apple", &names), ["apples of love", "apple trees", "thornapple", "pineapple"]);
        assert_eq!(kin("asparag", &["pear", "wild asparagus"]), ["wild asparagus"]);
    }
}
