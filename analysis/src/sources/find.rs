//! Looks up what a word means in the library.

use super::found::{FoundEntry, THINGS, about};
use scenarios::Library;
use scenarios::library::{Hazard, Listed};
use scenarios::nearest::{TYPED_WRONG, distance, kin, nearest};
use scenarios::synonyms::also;

/// What harmful plants are asked for by.
const HAZARD_WORDS: &[&str] = &["hazard", "hazards", "harmful plant", "harmful plants"];

/// Looks a word up. What it names as a whole comes first: an entry or a kind of thing,
/// then a number, then any name or description it is part of, then meanings and sources.
///
/// # Errors
/// Nothing has it; what was meant, perhaps.
pub fn find<'l>(library: &'l Library, word: &str) -> Result<FoundEntry<'l>, String> {
    let word = word.trim().to_lowercase();
    let word = also(&word).map_or(word, str::to_owned);
    let all = FoundEntry::all(library);
    for test in [is_named, is_number, is_part_of_name, is_mentioned] {
        let found = FoundEntry {
            params: all.params.iter().filter(|number| test(library, &word, Thing::Number(number))).cloned().collect(),
            hazards: all.hazards.iter().filter(|hazard| test(library, &word, Thing::Hazard(hazard))).copied().collect(),
        };
        if !word.is_empty() && !found.is_empty() {
            return Ok(found);
        }
    }
    Err(instead(&word, &names(&all)))
}

/// What to look up in place of a word that nothing has.
fn instead(word: &str, names: &[&str]) -> String {
    let alike = kin(word, names);
    let suggestion = match nearest(word, names.iter().copied()) {
        Some(near) if distance(word, near) <= TYPED_WRONG => return format!("Did you mean \"{near}\"?"),
        Some(near) => format!("Did you mean \"{near}\"? "),
        None if alike.is_empty() => String::new(),
        None => format!("The nearest there are: {}. ", alike.join(", ")),
    };
    format!("{suggestion}To see every name there is: hensward sources")
}

/// What a test is put to.
enum Thing<'t, 'l> {
    Number(&'t Listed<'l>),
    Hazard(&'t Hazard),
}

fn is_named(_: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    match thing {
        Thing::Number(number) => {
            let entry = number.entry.to_lowercase();
            let of_kind = THINGS.iter().any(|(key, one, many)| {
                *key == number.kind && (*key == word || *one == word || *many == word || format!("{key}s") == word)
            });
            of_kind || entry == word || format!("{}.{entry}", number.kind) == word
        }
        Thing::Hazard(hazard) => hazard.plant.to_lowercase() == word || HAZARD_WORDS.contains(&word),
    }
}

fn is_number(_: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    match thing {
        Thing::Number(number) => {
            let row = number.field.split('.').next().unwrap_or_default();
            number.name.to_lowercase() == word || number.field == word || row == word
        }
        Thing::Hazard(_) => false,
    }
}

fn is_part_of_name(library: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    match thing {
        Thing::Number(number) => {
            number.entry.to_lowercase().contains(word)
                || about(library, number.kind, number.entry).to_lowercase().contains(word)
        }
        Thing::Hazard(hazard) => hazard.plant.to_lowercase().contains(word),
    }
}

fn is_mentioned(_: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    let has = |text: &str| text.to_lowercase().contains(word);
    match thing {
        Thing::Number(number) => has(&number.name) || has(number.what) || has(number.source),
        Thing::Hazard(hazard) => has(&hazard.note) || has(&hazard.source) || has(&hazard.part),
    }
}

/// Everything that can be asked for by name, each once.
fn names<'f>(all: &'f FoundEntry<'_>) -> Vec<&'f str> {
    let entries = all.params.iter().map(|number| number.entry);
    let fields = all.params.iter().filter(|number| number.kind != "climate").map(|number| number.field.as_str());
    let plants = all.hazards.iter().map(|hazard| hazard.plant.as_str());
    let kinds = THINGS.iter().flat_map(|(key, one, many)| [*key, *one, *many]);
    let mut names: Vec<&str> = kinds.chain(entries).chain(plants).chain(fields).collect();
    let mut seen = std::collections::BTreeSet::new();
    names.retain(|name| seen.insert(*name));
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::library::EntryKind;

    fn names_of(word: &str) -> Vec<(&'static str, String)> {
        let library = Library::shipped().unwrap();
        let found = find(&library, word).unwrap();
        found.entries().into_iter().map(|(kind, name)| (kind, name.to_owned())).collect()
    }

    #[test]
    fn a_whole_name_comes_before_a_part_of_one() {
        assert_eq!(names_of("Onion"), [("crop", "onion".to_owned())]);
        assert_eq!(names_of("onion fly"), [("pest", "onion fly".to_owned())]);
        assert_eq!(names_of("pest.onion fly"), [("pest", "onion fly".to_owned())]);
        assert!(names_of("sawfl").len() >= 3);
        // By a Latin name, which stands in the description.
        assert_eq!(names_of("delia antiqua"), [("pest", "onion fly".to_owned())]);
        assert!(names_of("soils").iter().all(|(kind, _)| *kind == "soil"));
    }

    #[test]
    fn a_number_is_found_by_its_own_name_or_by_its_source() {
        let library = Library::shipped().unwrap();
        let one = find(&library, "pest.onion fly.emergence").unwrap();
        assert_eq!((one.params.len(), one.params[0].unit), (1, "C d"));
        let each = find(&library, "two_winter_share").unwrap();
        assert_eq!(each.params.len(), library.names(EntryKind::Pest).count());
        let paper = find(&library, "Roberts & Feast").unwrap();
        let says = |text: &str| text.contains("Roberts & Feast");
        assert!(paper.params.iter().all(|number| says(number.source) || says(number.what)));
        assert!(paper.params.iter().any(|number| says(number.source)));
        assert_eq!(find(&library, "yew").unwrap().hazards[0].plant, "yew");
    }

    #[test]
    fn what_is_not_there_is_told_with_what_may_be_meant() {
        let library = Library::shipped().unwrap();
        assert_eq!(find(&library, "onoin fly").unwrap_err(), "Did you mean \"onion fly\"?");
        assert_eq!(find(&library, "emergense").unwrap_err(), "Did you mean \"emergence\"?");
        assert!(find(&library, "  ").is_err());
    }
}
