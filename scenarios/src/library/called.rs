//! Names as keepers type them: what else an entry is called, one or many, with or without "trees".

use super::Entry;
use crate::nearest::singular;

/// What a name stands for among entries of one kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Called<'l> {
    /// Nothing.
    Nothing,
    /// One entry.
    One(&'l Entry),
    /// More than one plant, or one of which the keeper is asked: the name means another elsewhere.
    Asked(Vec<Meaning<'l>>),
}

/// One of the things a name may mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Meaning<'l> {
    /// The entry.
    pub entry: &'l Entry,
    /// What it is, to tell it from the others.
    pub what: &'l str,
}

/// Words that may stand behind a plant's or a soil's name or be left out.
const LEFT_OUT: &[&str] = &["tree", "bush", "cane", "vine", "plant", "soil"];

/// A name made plain: small letters, each word as if there were one of it, without "trees" behind it.
#[must_use]
pub fn plain_name(name: &str) -> String {
    let name = name.to_lowercase().replace(['’', '‘', '\''], "").replace(['-', '_'], " ");
    let mut words: Vec<String> = name.split_whitespace().map(singular).collect();
    if words.len() > 1 && words.last().is_some_and(|last| LEFT_OUT.contains(&last.as_str())) {
        words.pop();
    }
    words.join(" ")
}

/// Whether an entry is called so, by its own name or by another.
#[must_use]
pub fn is_called(entry: &Entry, name: &str) -> bool {
    let wanted = plain_name(name);
    let others = entry.ask.iter().map(|(other, _)| other).chain(&entry.also);
    std::iter::once(&entry.name).chain(others).any(|other| plain_name(other) == wanted)
}

/// What a name stands for among these entries; of two with the same name the first counts. An entry's own name, in
/// capitals or not, is never asked back.
pub fn called<'l>(entries: impl Iterator<Item = &'l Entry>, name: &str) -> Called<'l> {
    let wanted = plain_name(name);
    let entries: Vec<&'l Entry> = entries.collect();
    if let Some(own) = entries.iter().find(|entry| entry.name.to_lowercase() == name.trim().to_lowercase()) {
        return Called::One(own);
    }
    let (mut found, mut asked): (Vec<Meaning<'l>>, bool) = (Vec::new(), false);
    for entry in entries.into_iter().filter(|entry| is_called(entry, &wanted)) {
        if found.iter().any(|other| other.entry.name == entry.name) {
            continue;
        }
        let told = entry.ask.iter().find(|(other, _)| plain_name(other) == wanted);
        asked |= told.is_some();
        found.push(Meaning { entry, what: told.map_or(&entry.about, |(_, what)| what) });
    }
    match found.as_slice() {
        [] => Called::Nothing,
        [one] if !asked => Called::One(one.entry),
        _ => Called::Asked(found),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{EntryKind, Library};

    fn of(library: &Library, kind: EntryKind, name: &str) -> Vec<String> {
        match called(library.entries().filter(|entry| entry.kind == kind), name) {
            Called::Nothing => Vec::new(),
            Called::One(entry) => vec![entry.name.clone()],
            Called::Asked(all) => {
                let names = all.iter().map(|one| one.entry.name.clone());
                std::iter::once("asked".to_owned()).chain(names).collect()
            }
        }
    }

    #[test]
    fn names_are_made_plain() {
        for (name, plain) in [
            ("Apple-Trees", "apple"),
            ("Cherries", "cherry"),
            ("peaches", "peach"),
            ("citrus trees", "citrus"),
            ("tree", "tree"),
            ("sandy\u{a0}loam", "sandy loam"),
            ("shepherd’s  purse", "shepherd purse"),
        ] {
            assert_eq!(plain_name(name), plain, "{name}");
        }
    }

    /// Another name never hides an entry, and one that is asked is asked of every entry that has it.
    #[test]
    fn no_other_name_is_an_entry_of_its_kind() {
        let library = Library::shipped().unwrap();
        for entry in library.entries() {
            for name in entry.also.iter().chain(entry.ask.iter().map(|(name, _)| name)) {
                assert!(library.get(entry.kind, name).is_none(), "{name} is an entry, and {} too", entry.name);
                let of = of(&library, entry.kind, name);
                let asked = entry.ask.iter().any(|(other, _)| other == name);
                assert!(of.contains(&entry.name) && (of[0] == "asked") == asked, "{name}: {of:?}");
            }
            assert_eq!(of(&library, entry.kind, &entry.name), [entry.name.as_str()], "{}", entry.kind.key());
        }
    }
}
