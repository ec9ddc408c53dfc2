//! The birds, and those that come later.

use super::answers::{Answers, GroupAnswer, Place, YEAR};
use super::prompt::Prompt;
use super::wrong::{Wrong, count, date, days_of, is_none, parts_joined, without_article};
use scenarios::Library;
use scenarios::library::{Called, EntryKind, called};
use scenarios::nearest::among;

/// Words by which the time apart begins.
const APART: &[&str] = &["kept", "apart", "isolated", "quarantined", "quarantine"];

const FORM: &str = "Number and class, for example: 10 layers, 2 ducks.";
const NEW_FORM: &str = "For example: 3 layers on 12 July 2027, kept apart in berries for 30 days.";

pub fn flock_prompt() -> Prompt {
    Prompt {
        number: 6,
        ask: "How many birds are there, of which class?".to_owned(),
        example: "10 layers, 2 ducks".to_owned(),
        taken: Some("10 layers".to_owned()),
        more: "Layers, bantams, pullets, heavy hens, broilers, cocks, ducks, muscovies, geese, turkeys, guinea fowl, \
               quail. A comma between groups.",
        list: Vec::new(),
    }
}

pub fn newcomers_prompt(answers: &Answers) -> Prompt {
    let plot = answers.plots.last().map_or("a plot", |plot| plot.name.as_str());
    Prompt {
        number: 6,
        ask: "Do new birds come later, and are they kept apart at first? Without a year they come every year."
            .to_owned(),
        example: format!("3 layers on 12 July {YEAR}, kept apart in {plot} for 30 days"),
        taken: Some("none".to_owned()),
        more: "With a year they come once, 12 July 2027; without one every year. They are kept apart in a plot, which \
               the flock then does not enter, or in a coop of their own: kept apart in a coop for 30 days. A \
               semicolon between groups.",
        list: Vec::new(),
    }
}

pub fn take_flock(answers: &mut Answers, library: &Library, text: &str) -> Result<(), Wrong> {
    let groups = groups(library, text)?;
    (answers.newcomers, answers.flock) = groups.into_iter().partition(|group| group.arrive.is_some());
    answers.newcomers_with_flock = !answers.newcomers.is_empty();
    answers.heard.push(format!("Birds: {}.", in_words(answers.flock.iter().chain(&answers.newcomers))));
    match answers.flock.is_empty() {
        true => Err(Wrong::new("these are all newcomers", format!("Say first what birds are there. {FORM}"))),
        false => Ok(()),
    }
}

/// "11 of class layer; 3 of class pullet from 07-12 every year".
fn in_words<'g>(groups: impl Iterator<Item = &'g GroupAnswer>) -> String {
    let each = groups.map(|group| {
        let when = group.arrive.as_ref().map_or(String::new(), |day| match is_dated(day) {
            true => format!(" on {day}"),
            false => format!(" on {day} of every year"),
        });
        let apart = group.apart.as_ref().map_or(String::new(), |(place, time)| match place {
            Place::Plot(plot) => format!(", kept apart in {plot} for {time}"),
            Place::Coop => format!(", kept apart in a coop for {time}"),
        });
        format!("{} of class {}{when}{apart}", group.number, group.class)
    });
    each.collect::<Vec<_>>().join("; ")
}

/// Whether a day has its year.
fn is_dated(day: &str) -> bool {
    day.len() == format!("{YEAR}-01-01").len()
}

pub fn take_newcomers(answers: &mut Answers, library: &Library, text: &str) -> Result<(), Wrong> {
    if is_none(text) {
        return Ok(());
    }
    let groups = groups(library, text)?;
    if groups.iter().any(|group| group.arrive.is_none()) {
        return Err(Wrong::new(format!("{text:?} does not say when they come"), NEW_FORM));
    }
    answers.heard.push(format!("New birds: {}.", in_words(groups.iter())));
    answers.newcomers = groups;
    Ok(())
}

fn groups(library: &Library, text: &str) -> Result<Vec<GroupAnswer>, Wrong> {
    let mut groups: Vec<GroupAnswer> = Vec::new();
    for part in parts_joined(text) {
        let begins = part.split_whitespace().next().unwrap_or_default().to_lowercase();
        match groups.last_mut() {
            Some(last) if APART.contains(&begins.as_str()) || begins == "in" => last.apart = Some(apart(part)?),
            _ => groups.push(group(library, part)?),
        }
    }
    Ok(groups)
}

fn group(library: &Library, text: &str) -> Result<GroupAnswer, Wrong> {
    let (text, apart) = match APART.iter().find_map(|word| text.find(&format!(" {word} "))) {
        Some(at) => (&text[..at], Some(apart(&text[at..])?)),
        None => (text, None),
    };
    let (birds, arrive) = match arrival(text) {
        Some((birds, day)) => (birds, Some(day?)),
        None => (text, None),
    };
    let mut words = birds.split_whitespace();
    let number = words.next().unwrap_or_default();
    let number =
        count(number).ok_or_else(|| Wrong::new(format!("{text:?} does not begin with a number of birds"), FORM))?;
    let words: Vec<&str> =
        words.filter(|word| !["new", "more", "of", "every", "each", "year"].contains(word)).collect();
    Ok(GroupAnswer { class: class_in(library, &words)?, number, arrive, apart })
}

/// The birds and the day they come, where one is said: "3 layers on 12 July", "3 pullets every July" (on its first day).
fn arrival(text: &str) -> Option<(&str, Result<String, Wrong>)> {
    let on_a_day = [" on ", " from "].iter().find_map(|word| text.split_once(word));
    if let Some((birds, day)) = on_a_day {
        return Some((birds, date(day)));
    }
    let in_a_month = [" every ", " each ", " in "].iter().find_map(|word| text.split_once(word))?;
    let first = date(&format!("1 {}", in_a_month.1)).ok()?;
    Some((in_a_month.0, Ok(first)))
}

/// The class in words such as "rescue hens": what stands before it is passed over.
fn class_in(library: &Library, words: &[&str]) -> Result<String, Wrong> {
    let whole = class_of(library, &words.join(" "));
    let shorter = |from: usize| class_of(library, &words[from..].join(" ")).ok();
    match whole {
        Err(wrong) => (1..words.len()).find_map(shorter).ok_or(wrong),
        found => found,
    }
}

fn class_of(library: &Library, name: &str) -> Result<String, Wrong> {
    let birds = || library.entries().filter(|entry| entry.kind == EntryKind::Bird);
    match called(birds(), name) {
        Called::One(entry) => Ok(entry.name.clone()),
        Called::Asked(meanings) => Err(super::grows::which(name, &meanings)),
        Called::Nothing => Err(Wrong::new(
            format!("there is no class of bird {name:?}"),
            format!("{} {FORM}", among(name, birds().map(|entry| entry.name.as_str()))),
        )),
    }
}

/// "kept apart in berries for 30 days": the place and the time.
fn apart(text: &str) -> Result<(Place, String), Wrong> {
    let wrong = || Wrong::new(format!("{:?} does not say where and how long", text.trim()), NEW_FORM);
    let (_, place) = text.split_once("in ").ok_or_else(wrong)?;
    let (plot, time) = place.split_once(" for ").ok_or_else(wrong)?;
    Ok((place_of(plot), days_of(time.trim())))
}

/// Words of a coop or pen of their own.
const COOP: [&str; 8] = ["coop", "pen", "house", "shed", "barn", "indoors", "inside", "yard"];

fn place_of(place: &str) -> Place {
    let words = without_article(place.trim()).to_lowercase();
    // "Coop of their own" is a coop; a plot called barn field is none.
    let what = [" of ", " in "].iter().find_map(|word| words.split_once(word)).map_or(words.as_str(), |(what, _)| what);
    match what.split_whitespace().next_back().is_some_and(|word| COOP.contains(&word)) {
        true => Place::Coop,
        false => Place::Plot(words.replace(' ', "-")),
    }
}

/// A day as a site file writes it: with its year bare, of every year in quotes.
pub fn day_written(day: &str) -> String {
    if is_dated(day) { day.to_owned() } else { format!("{day:?}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_coop_is_told_from_a_plot() {
        for coop in ["a coop", "the barn", "a small pen in the yard", "a coop of their own"] {
            assert_eq!(place_of(coop), Place::Coop, "{coop}");
        }
        for (plot, name) in [("the barn field", "barn-field"), ("house garden", "house-garden")] {
            assert_eq!(place_of(plot), Place::Plot(name.to_owned()));
        }
    }

    #[test]
    fn groups_and_newcomers_in_one_line() {
        let library = Library::shipped().unwrap();
        let read =
            groups(&library, "10 hens, 3 new layers on 12 July 2027, kept apart in berries for 30 days").unwrap();
        let [flock, new] = read.as_slice() else { panic!("{read:?}") };
        assert_eq!((flock.class.as_str(), flock.number), ("layer", 10));
        assert_eq!((new.number, new.arrive.as_deref()), (3, Some("2027-07-12")));
        assert_eq!(new.apart, Some((Place::Plot("berries".to_owned()), "30 days".to_owned())));
        let both = groups(&library, "11 laying hens and a rooster").unwrap();
        let both: Vec<_> = both.iter().map(|group| (group.number, group.class.as_str())).collect();
        assert_eq!(both, [(11, "layer"), (1, "cock")]);
        for (said, day) in [("3 pullets every July", "07-01"), ("3 pullets every year on 5 July", "07-05")] {
            let [young] = groups(&library, said).unwrap().try_into().unwrap();
            assert_eq!((young.class.as_str(), young.arrive.as_deref()), ("pullet", Some(day)), "{said}");
        }
        let [apart] =
            groups(&library, "3 layers in May, kept apart in the berry cage for a month").unwrap().try_into().unwrap();
        assert_eq!(apart.apart, Some((Place::Plot("berry-cage".to_owned()), "30 days".to_owned())));
        let [rescued] = groups(&library, "3 rescue hens").unwrap().try_into().unwrap();
        assert_eq!((rescued.class.as_str(), rescued.number), ("layer", 3));
        assert!(groups(&library, "ten unicorns").unwrap_err().what.contains("no class of bird"));
        assert!(groups(&library, "hens").unwrap_err().what.contains("does not begin with a number"));
    }
}
