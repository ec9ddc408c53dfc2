//! Which trees, bushes and canes a pest of the library lives on.

use crate::library::{EntryKind, Library};

/// Fruit each canopy pest lives on, as the words its canopies have in their names; from memory.
const FRUIT: &[(&str, &[&str])] = &[
    ("apple sawfly", &["apple"]),
    ("plum sawfly", &["plum"]),
    ("pear slug", &["pear", "cherry"]),
    ("currant sawfly", &["currant", "gooseberry"]),
    ("european cherry fruit fly", &["cherry"]),
    ("western cherry fruit fly", &["cherry"]),
    ("apple maggot", &["apple"]),
    ("plum curculio", &["plum", "apple", "cherry", "pear", "peach"]),
    ("pear midge", &["pear"]),
    ("raspberry beetle", &["raspberry", "blackberry", "loganberry"]),
    ("codling moth", &["apple", "pear"]),
];

/// The fruit a pest lives on; `None` of a pest the keeper made up.
#[must_use]
pub fn fruit_of(pest: &str) -> Option<&'static [&'static str]> {
    FRUIT.iter().find(|(name, _)| *name == pest).map(|(_, fruit)| *fruit)
}

/// Pests that live on a canopy.
pub(crate) fn pests_of(canopy: &str) -> impl Iterator<Item = &'static str> {
    FRUIT.iter().filter(move |(_, fruit)| bears(canopy, fruit)).map(|(name, _)| *name)
}

/// Whether a canopy bears one of these fruits, by its name. Canopies the keeper made up are the keeper's to know.
pub(crate) fn lives_on(library: &Library, fruit: &[&str], canopy: &str) -> bool {
    bears(canopy, fruit) || library.get(EntryKind::Canopy, canopy).is_none()
}

fn bears(canopy: &str, fruit: &[&str]) -> bool {
    fruit.iter().any(|word| canopy.contains(word))
}

/// Which of a plot's canopies a pest of canopies lives on, by their names: all of them where it is known to live on
/// none, as the keeper found it there.
pub(crate) fn hosts(library: &Library, pest: &str, canopies: &[String]) -> Vec<usize> {
    let on = |fruit: &[&str]| (0..canopies.len()).filter(|&at| lives_on(library, fruit, &canopies[at])).collect();
    let known: Vec<usize> = fruit_of(pest).map(on).unwrap_or_default();
    if known.is_empty() { (0..canopies.len()).collect() } else { known }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pest_lives_on_its_own_fruit_and_else_where_it_was_found() {
        let library = Library::shipped().unwrap();
        let of = |pest: &str, canopies: &[&str]| {
            hosts(&library, pest, &canopies.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>())
        };
        assert_eq!(of("apple sawfly", &["pear trees", "apple trees"]), [1]);
        assert_eq!(of("codling moth", &["pear trees", "plum trees", "apple trees"]), [0, 2]);
        assert_eq!(of("apple sawfly", &["plum trees"]), [0]);
        assert_eq!(of("my own fly", &["plum trees", "pear trees"]), [0, 1]);
        assert_eq!(of("apple sawfly", &["plum trees", "my old trees"]), [1]);
        assert!(of("apple sawfly", &[]).is_empty());
    }
}
