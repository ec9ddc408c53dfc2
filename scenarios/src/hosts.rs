//! Which trees, bushes and canes a pest lives on.

use crate::library::{EntryKind, Library};

/// Pests of the library that live on a canopy.
pub(crate) fn pests_of<'l>(library: &'l Library, canopy: &str) -> impl Iterator<Item = &'l str> {
    let pests = library.entries().filter(|entry| entry.kind == EntryKind::Pest);
    let on_it = move |fruit: &Vec<String>| bears(canopy, fruit);
    pests.filter(move |pest| pest.facts.fruit.as_ref().is_some_and(on_it)).map(|pest| pest.name.as_str())
}

/// Whether a pest of this fruit can live on a canopy. Canopies the keeper made up are the keeper's to know.
pub(crate) fn lives_on(library: &Library, fruit: &[String], canopy: &str) -> bool {
    bears(canopy, fruit) || library.get(EntryKind::Canopy, canopy).is_none()
}

/// Whether a canopy bears one of these fruits, by its name.
#[must_use]
pub fn bears(canopy: &str, fruit: &[String]) -> bool {
    fruit.iter().any(|word| canopy.contains(word.as_str()))
}

/// Which of a plot's canopies a pest of this fruit lives on, by their names: all of them where it is known to live on
/// none, as the keeper found it there.
pub(crate) fn hosts(library: &Library, fruit: Option<&[String]>, canopies: &[String]) -> Vec<usize> {
    let on = |fruit: &[String]| (0..canopies.len()).filter(|&at| lives_on(library, fruit, &canopies[at])).collect();
    let known: Vec<usize> = fruit.map(on).unwrap_or_default();
    if known.is_empty() { (0..canopies.len()).collect() } else { known }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_engine::species::Host;

    #[test]
    fn a_pest_lives_on_its_own_fruit_and_else_where_it_was_found() {
        let library = Library::shipped().unwrap();
        let of = |pest: &str, canopies: &[&str]| {
            let fruit = library.get(EntryKind::Pest, pest).and_then(|pest| pest.facts.fruit.as_deref());
            hosts(&library, fruit, &canopies.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>())
        };
        assert_eq!(of("apple sawfly", &["pear trees", "apple trees"]), [1]);
        assert_eq!(of("codling moth", &["pear trees", "plum trees", "apple trees"]), [0, 2]);
        assert_eq!(of("apple sawfly", &["plum trees"]), [0]);
        assert_eq!(of("my own fly", &["plum trees", "pear trees"]), [0, 1]);
        assert_eq!(of("apple sawfly", &["plum trees", "my old trees"]), [1]);
        assert!(of("apple sawfly", &[]).is_empty());
    }

    #[test]
    fn every_pest_of_the_library_says_where_it_lives() {
        let library = Library::shipped().unwrap();
        let canopies: Vec<&str> = library.names(EntryKind::Canopy).collect();
        for pest in library.entries().filter(|entry| entry.kind == EntryKind::Pest) {
            let of_trees = pest.facts.host == Some(Host::Canopy) && pest.facts.larvae_in_turf != Some(true);
            assert_eq!(pest.facts.fruit.is_some(), of_trees, "{}", pest.name);
            for word in pest.facts.fruit.iter().flatten() {
                assert!(canopies.iter().any(|canopy| canopy.contains(word.as_str())), "{}: {word}", pest.name);
            }
        }
    }
}
