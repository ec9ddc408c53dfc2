//! How well numbers are known: how many rest on what.

use super::found::{FoundEntry, THINGS};
use scenarios::library::{Evidence, Listed};

/// Numbers of one kind of evidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Count {
    /// The kind of evidence.
    pub evidence: Evidence,
    /// Numbers of all entries.
    pub params: usize,
    /// Those an entry states itself; the others are taken over from another entry.
    pub stated: usize,
}

/// Counts by kind of evidence, in their order; of `kind` of thing, or of all.
#[must_use]
pub fn count(found: &FoundEntry<'_>, kind: Option<&str>) -> Vec<Count> {
    let of_kind = |number: &&Listed<'_>| kind.is_none_or(|kind| number.kind == kind);
    let one = |evidence: Evidence| {
        let mut count = Count { evidence, params: 0, stated: 0 };
        for number in found.params.iter().filter(of_kind).filter(|number| number.evidence == evidence) {
            count.params += 1;
            count.stated += usize::from(number.taken_from.is_none());
        }
        count
    };
    Evidence::WORDS.iter().map(|(_, evidence)| one(*evidence)).collect()
}

/// Numbers that rest on memory, and of how many. Invented climates are left out of both:
/// they are no statement about a place.
#[must_use]
pub fn from_memory<'f, 'l>(found: &'f FoundEntry<'l>) -> (Vec<&'f Listed<'l>>, usize) {
    let about_the_world: Vec<_> = found.params.iter().filter(|number| number.evidence != Evidence::Invented).collect();
    let of = about_the_world.len();
    (about_the_world.into_iter().filter(|number| number.evidence == Evidence::FromMemory).collect(), of)
}

/// Entries of each kind of thing, in the order of [`THINGS`], with its words for many.
pub(super) fn things<'l>(found: &FoundEntry<'l>) -> Vec<(&'static str, &'static str, Vec<&'l str>)> {
    let entries = found.entries();
    let of = |key: &str| entries.iter().filter(|(kind, _)| *kind == key).map(|(_, name)| *name).collect();
    THINGS.iter().map(|(key, _, many)| (*key, *many, of(key))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::Library;

    #[test]
    fn every_number_is_counted_once_under_its_kind() {
        let library = Library::shipped().unwrap();
        let found = FoundEntry::all(&library);
        let all = count(&found, None);
        assert_eq!(all.iter().map(|count| count.params).sum::<usize>(), found.params.len());
        let by_thing: usize = THINGS.iter().flat_map(|(key, ..)| count(&found, Some(key))).map(|c| c.params).sum();
        assert_eq!(by_thing, found.params.len());
        assert!(all.iter().all(|count| count.stated <= count.params));
        let (memory, of) = from_memory(&found);
        let invented = all.iter().find(|count| count.evidence == Evidence::Invented).unwrap().params;
        assert_eq!(of, found.params.len() - invented);
        assert!(!memory.is_empty() && memory.len() < of);
    }
}
