//! What grows in a plot: crops, trees, bushes, canes, or grass alone.

use super::answers::{Answers, CanopyAnswer, CropAnswer, PlotAnswer};
use super::prompt::Prompt;
use super::wrong::{Wrong, count, is_none, parts_joined, without_article};
use scenarios::Library;
use scenarios::library::{Called, Entry, EntryKind, Meaning, called};
use scenarios::nearest::{among, singular};

/// What is said of a plot with nothing but grass.
const GRASS: &str = "grass";

pub fn prompt(answers: &Answers, at: usize) -> Prompt {
    let more = "Vegetables, trees, bushes or canes, by the names you use, with commas; a number before trees or bushes \
                says how many, so that each has its share. What covers the ground under them comes last: over mint, \
                over white clover. A plot of grass alone: lawn, rough grass, kikuyu.";
    Prompt {
        number: 7,
        ask: format!("What grows in {}?", answers.plots[at].name),
        example: "tomato, garlic - or: 4 apple, 2 pear over mint - or: lawn".to_owned(),
        taken: Some(GRASS.to_owned()),
        more,
        list: Vec::new(),
    }
}

pub fn take(answers: &mut Answers, library: &Library, at: usize, text: &str) -> Result<(), Wrong> {
    answers.troubles.clear();
    let plot = &mut answers.plots[at];
    (plot.crops, plot.canopies, plot.cover) = (Vec::new(), Vec::new(), None);
    if text == GRASS || is_none(text) {
        return Ok(());
    }
    let (plants, under) = text.split_once(" over ").map_or((text, None), |(plants, under)| (plants, Some(under)));
    if let Some(under) = under {
        plot.cover = if under.trim() == GRASS { None } else { Some(cover(library, under.trim())?) };
    }
    for part in plants.split(',').map(str::trim).filter(|part| !part.is_empty()) {
        if in_the_shade(part) {
            return Err(Wrong::new(
                format!("{part:?}: shade from outside the plot is not counted"),
                "Trees here bring their own. Leave it out, or say how ground in the shade is covered: shade grass.",
            ));
        }
        // "grass and clover" is one cover.
        match plant(library, part) {
            Err(_) => parts_joined(part).into_iter().try_for_each(|one| put(plot, library, one))?,
            Ok(_) => put(plot, library, part)?,
        }
    }
    Ok(())
}

fn in_the_shade(part: &str) -> bool {
    ["shaded", "in shade", "in the shade", "half shade", "part shade", "full shade"]
        .iter()
        .any(|words| part.contains(words))
}

fn put(plot: &mut PlotAnswer, library: &Library, part: &str) -> Result<(), Wrong> {
    let (first, rest) = part.split_once(' ').unwrap_or((part, ""));
    let counted = count(first).filter(|count| *count > 0 && !rest.is_empty());
    let typed = if counted.is_some() { rest.trim() } else { without_article(part) };
    let entry = plant(library, typed)?;
    // "Currants" are many; "a quince" or "quince" is one where others are counted.
    let many = counted.is_none() && singular(typed) != typed;
    let name = entry.name.clone();
    match entry.kind {
        EntryKind::Crop => plot.crops.push(CropAnswer { name, seasons: Vec::new() }),
        EntryKind::Canopy => plot.canopies.push(CanopyAnswer { name, count: counted, many, picked: None }),
        _ => plot.cover = Some(name),
    }
    Ok(())
}

fn of(library: &Library, kind: EntryKind) -> impl Iterator<Item = &Entry> {
    library.entries().filter(move |entry| entry.kind == kind)
}

fn cover(library: &Library, name: &str) -> Result<String, Wrong> {
    match called(of(library, EntryKind::Cover), name) {
        Called::One(entry) => Ok(entry.name.clone()),
        Called::Asked(meanings) => Err(which(name, &meanings)),
        Called::Nothing => Err(unknown(library, name, &[EntryKind::Cover], "ground cover")),
    }
}

/// The plant of a name: a crop, trees or bushes, or else what covers the ground.
fn plant<'l>(library: &'l Library, name: &str) -> Result<&'l Entry, Wrong> {
    let mut meant = Vec::new();
    for kind in [EntryKind::Crop, EntryKind::Canopy] {
        match called(of(library, kind), name) {
            Called::One(entry) => meant.push(Meaning { entry, what: &entry.about }),
            Called::Asked(meanings) => meant.extend(meanings),
            Called::Nothing => {}
        }
    }
    match meant.as_slice() {
        // A name that is asked back has one meaning at least; who writes the entry's own name is not asked.
        [one] if called(of(library, one.entry.kind), name) == Called::One(one.entry) => return Ok(one.entry),
        [] => {}
        several => return Err(which(name, several)),
    }
    match called(of(library, EntryKind::Cover), name) {
        Called::One(entry) => Ok(entry),
        Called::Asked(meanings) => Err(which(name, &meanings)),
        Called::Nothing => Err(unknown(library, name, &[EntryKind::Crop, EntryKind::Canopy], "crop, tree or bush")),
    }
}

/// Asks which of several a name means.
pub fn which(name: &str, meanings: &[Meaning<'_>]) -> Wrong {
    let each: Vec<String> = meanings
        .iter()
        .map(|meaning| format!("{} ({})", meaning.entry.name, meaning.what.trim_end_matches('.')))
        .collect();
    Wrong::new(
        format!("{name:?} can mean more than one thing"),
        format!("Write which you mean: {}.", each.join("; or ")),
    )
}

fn unknown(library: &Library, name: &str, kinds: &[EntryKind], what: &str) -> Wrong {
    let entries = || kinds.iter().flat_map(|kind| of(library, *kind));
    let names: Vec<&str> = entries().map(|entry| entry.name.as_str()).collect();
    let also = entries().flat_map(|entry| entry.also.iter().map(String::as_str));
    let told = among(name, names.into_iter().chain(also));
    Wrong::new(format!("there is no {what} {name:?}"), format!("{told} All there are: hensward sources."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind_of(name: &str) -> Result<(EntryKind, String), Wrong> {
        let library = Library::shipped().unwrap();
        plant(&library, name).map(|entry| (entry.kind, entry.name.clone()))
    }

    #[test]
    fn plants_are_known_by_many_names() {
        for (name, kind, entry) in [
            ("zucchini", EntryKind::Crop, "courgette"),
            ("apple", EntryKind::Canopy, "apple trees"),
            ("currants", EntryKind::Canopy, "currant bushes"),
            ("lawn", EntryKind::Cover, "mown grass"),
        ] {
            assert_eq!(kind_of(name).unwrap(), (kind, entry.to_owned()));
        }
        assert!(kind_of("bean").unwrap_err().what.contains("more than one thing"));
        assert!(kind_of("tomatto").unwrap_err().remedy.contains("tomato"));
    }
}
