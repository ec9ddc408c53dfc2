//! Looks up what a word means in the library.

use super::found::{FoundEntry, THINGS, about};
use scenarios::Library;
use scenarios::library::{Entry, EntryKind, Hazard, Listed, WaitingRule, is_called};
use scenarios::nearest::{TYPED_WRONG, distance, kin, nearest, singular};

/// What harmful plants are asked for by.
const HAZARD_WORDS: &[&str] = &["hazard", "hazards", "harmful plant", "harmful plants"];

/// What waiting rules of countries are asked for by.
const WAITING_WORDS: &[&str] =
    &["waiting rule", "waiting rules", "waiting period", "waiting periods", "country", "countries"];

/// Looks a word up. What it names as a whole comes alone: an entry by its own or another name, a kind of thing, or else a
/// number. Else everything that has it: as a whole word of a name, then at the head of one, then within one, then in what
/// is said of it. Meanings and sources are searched only where none of these has it.
///
/// # Errors
/// Nothing has it; what was meant, perhaps.
pub fn find<'l>(library: &'l Library, word: &str) -> Result<FoundEntry<'l>, String> {
    let word = word.trim().to_lowercase();
    let all = FoundEntry::all(library);
    let by = |test: Test| FoundEntry {
        params: all.params.iter().filter(|number| test(library, &word, Thing::Number(number))).cloned().collect(),
        hazards: all.hazards.iter().filter(|hazard| test(library, &word, Thing::Hazard(hazard))).copied().collect(),
        waiting_rules: all
            .waiting_rules
            .iter()
            .filter(|rule| test(library, &word, Thing::Rule(rule)))
            .copied()
            .collect(),
    };
    let parts: [Test; 4] = [
        |_, word, thing| place_in_name(word, &thing) == Some(0),
        |_, word, thing| place_in_name(word, &thing) == Some(1),
        |_, word, thing| place_in_name(word, &thing) == Some(2),
        is_described,
    ];
    let part_of = || parts.into_iter().map(by).fold(FoundEntry::default(), joined);
    let searches: [&dyn Fn() -> FoundEntry<'l>; 4] =
        [&|| by(is_named), &|| by(is_number), &part_of, &|| by(is_mentioned)];
    let found = searches.iter().map(|search| search()).find(|found| !found.is_empty());
    found.filter(|_| !word.is_empty()).ok_or_else(|| instead(&word, &names(library, &all)))
}

/// A test that is put to everything there is.
type Test = for<'t, 'l> fn(&Library, &str, Thing<'t, 'l>) -> bool;

/// What was found first, and of the rest what is not in it.
fn joined<'l>(mut first: FoundEntry<'l>, rest: FoundEntry<'l>) -> FoundEntry<'l> {
    let there: Vec<(&str, &str)> = first.entries();
    first.params.extend(rest.params.into_iter().filter(|number| !there.contains(&(number.kind, number.entry))));
    let hazards = rest.hazards.into_iter().filter(|hazard| !first.hazards.contains(hazard));
    first.hazards.extend(hazards.collect::<Vec<_>>());
    let rules = rest.waiting_rules.into_iter().filter(|rule| !first.waiting_rules.contains(rule));
    first.waiting_rules.extend(rules.collect::<Vec<_>>());
    first
}

/// The entry a number belongs to.
fn entry_of<'l>(library: &'l Library, number: &Listed<'_>) -> Option<&'l Entry> {
    let kind = EntryKind::ALL.iter().find(|kind| kind.key() == number.kind)?;
    library.get(*kind, number.entry)
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
    format!("{suggestion}All names: hensward sources")
}

/// What a test is put to.
enum Thing<'t, 'l> {
    Number(&'t Listed<'l>),
    Hazard(&'t Hazard),
    Rule(&'t WaitingRule),
}

fn is_named(library: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    match thing {
        Thing::Number(number) => {
            let entry = number.entry.to_lowercase();
            let of_kind = THINGS.iter().any(|(key, one, many)| {
                *key == number.kind && (*key == word || *one == word || *many == word || format!("{key}s") == word)
            });
            let called = || entry_of(library, number).is_some_and(|entry| is_called_whole(entry, word));
            of_kind || entry == word || called() || format!("{}.{entry}", number.kind) == word
        }
        Thing::Hazard(hazard) => hazard.plant.to_lowercase() == word || HAZARD_WORDS.contains(&word),
        Thing::Rule(rule) => {
            let named = std::iter::once(&rule.country).chain(&rule.also).any(|name| name.to_lowercase() == word);
            named || WAITING_WORDS.contains(&word)
        }
    }
}

fn is_number(_: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    match thing {
        Thing::Number(number) => {
            let row = number.field.split('.').next().unwrap_or_default();
            number.name.to_lowercase() == word || number.field == word || row == word
        }
        Thing::Hazard(_) | Thing::Rule(_) => false,
    }
}

/// Whether it is the whole of an entry's name, or another name of it; "apple" is not the whole of "apple trees".
fn is_called_whole(entry: &Entry, word: &str) -> bool {
    let words = |name: &str| name.split_whitespace().count();
    is_called(entry, word) && (words(word) >= words(&entry.name) || !is_called_by_name(entry, word))
}

fn is_called_by_name(entry: &Entry, word: &str) -> bool {
    scenarios::library::plain_name(&entry.name) == scenarios::library::plain_name(word)
}

/// Where a word stands in a name: as a whole word (0), at the head of one (1), within one (2).
fn place_in_name(word: &str, thing: &Thing<'_, '_>) -> Option<usize> {
    let name = match thing {
        Thing::Number(number) => number.entry,
        Thing::Hazard(hazard) => hazard.plant.as_str(),
        Thing::Rule(rule) => rule.country.as_str(),
    };
    let (name, word) = (name.to_lowercase(), singular(word));
    let words = || name.split([' ', '-', ',']).map(singular);
    match () {
        () if words().any(|part| part == word) => Some(0),
        () if words().any(|part| part.starts_with(&word)) || name.starts_with(&word) => Some(1),
        () if name.contains(&word) => Some(2),
        () => None,
    }
}

fn is_described(library: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    match thing {
        Thing::Number(number) => {
            let also = |entry: &Entry| entry.also.iter().any(|name| name.to_lowercase().contains(word));
            about(library, number.kind, number.entry).to_lowercase().contains(word)
                || entry_of(library, number).is_some_and(also)
        }
        Thing::Hazard(_) | Thing::Rule(_) => false,
    }
}

fn is_mentioned(_: &Library, word: &str, thing: Thing<'_, '_>) -> bool {
    let has = |text: &str| text.to_lowercase().contains(word);
    match thing {
        Thing::Number(number) => has(&number.name) || has(number.what) || has(number.source),
        Thing::Hazard(hazard) => has(&hazard.note) || has(&hazard.source) || has(&hazard.part),
        Thing::Rule(rule) => [&rule.rule, &rule.clause, &rule.binds, &rule.source].into_iter().any(|text| has(text)),
    }
}

/// Everything that can be asked for by name, each once.
fn names<'f>(library: &'f Library, all: &'f FoundEntry<'_>) -> Vec<&'f str> {
    let entries = all.params.iter().map(|number| number.entry);
    let fields = all.params.iter().filter(|number| number.kind != "climate").map(|number| number.field.as_str());
    let also = library.entries().flat_map(|entry| entry.also.iter().map(String::as_str));
    let plants = all.hazards.iter().map(|hazard| hazard.plant.as_str());
    let countries = all.waiting_rules.iter().flat_map(|rule| std::iter::once(&rule.country).chain(&rule.also));
    let countries = countries.map(String::as_str).chain(["waiting rules"]);
    let kinds = THINGS.iter().flat_map(|(key, one, many)| [*key, *one, *many]);
    let mut names: Vec<&str> = kinds.chain(entries).chain(plants).chain(fields).chain(also).chain(countries).collect();
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
        assert_eq!(find(&library, "zuchini").unwrap_err(), "Did you mean \"zucchini\"?");
        assert!(find(&library, "  ").is_err());
    }

    #[test]
    fn what_keepers_elsewhere_call_it_is_found() {
        for (word, ours) in [
            ("zucchini", "courgette"),
            ("Silverbeet", "chard"),
            ("eggplants", "aubergine"),
            ("pear and cherry slug", "pear slug"),
            ("quackgrass", "couch grass"),
            ("hens", "layer"),
        ] {
            let found = names_of(word);
            assert_eq!(found.iter().map(|(_, name)| name.as_str()).collect::<Vec<_>>(), [ours], "{word}");
        }
        let grubs = names_of("lawn grubs");
        assert!(grubs.len() > 3 && grubs.iter().any(|(_, name)| name == "japanese beetle"), "{grubs:?}");
        let squash = names_of("squash");
        assert!(["courgette", "winter squash"].iter().all(|name| squash.iter().any(|(_, found)| found == name)));
    }

    #[test]
    fn whole_words_come_before_parts_of_words() {
        for (word, first) in [("apple", "apple trees"), ("pear", "pear trees"), ("oat", "oats"), ("grass", "cover")] {
            let (kind, name) = &names_of(word)[0];
            assert!(name == first || *kind == first, "{word}: {kind} {name}");
        }
        let apple = names_of("apple");
        let at = |name: &str| apple.iter().position(|(_, found)| found == name).unwrap();
        assert!(at("apple sawfly") < at("thornapple"));
    }
}
