//! Pests, slugs and weeds, and the plots they are put in.

use super::answers::{Answers, PlotAnswer, Trouble};
use super::grows::which;
use super::prompt::Prompt;
use super::wrong::{Wrong, is_none, parts_joined, without_article};
use scenarios::Library;
use scenarios::hosts::bears;
use scenarios::library::{Called, Entry, EntryKind, called};
use scenarios::nearest::among;
use sim_engine::species::Host;

const KINDS: [EntryKind; 4] = [EntryKind::Pest, EntryKind::Slug, EntryKind::Weed, EntryKind::Creeper];

pub fn prompt(answers: &Answers, library: &Library) -> Prompt {
    let known = suggested(answers, library).join(", ");
    let ask = "Which pests, slugs and weeds trouble you?".to_owned();
    Prompt {
        number: 8,
        ask: if known.is_empty() { ask } else { format!("{ask} There may be here: {known}.") },
        example: "pear slug, grey field slug, chickweed".to_owned(),
        // Beds without weeds would need no weeding, and birds could save none.
        taken: Some(
            if answers.plots.iter().any(PlotAnswer::has_crops) { "chickweed, fat hen" } else { "none" }.to_owned(),
        ),
        more: "Names with commas. Pests are those of which a stage lies in the soil, where hens find it. Each is put \
               in the plots where it has something to live on, in a number that is a guess: the program varies it \
               fourfold up and down. None is a fine answer.",
        list: Vec::new(),
    }
}

/// Pests that have a host here and are known to live in the climate, and slugs where crops stand.
fn suggested<'l>(answers: &Answers, library: &'l Library) -> Vec<&'l str> {
    let here = |climates: &[String]| climates.contains(&answers.climate);
    let pests = library.pest_climates().iter().filter(|known| here(&known.climates));
    let pests = pests.map(|known| known.pest.as_str()).filter(|pest| {
        let entry = library.get(EntryKind::Pest, pest);
        let told =
            entry.is_some_and(|entry| matches!(entry.facts.host, Some(Host::Crops(_))) || entry.facts.fruit.is_some());
        told && entry.is_some_and(|entry| answers.plots.iter().any(|plot| feeds(library, plot, entry)))
    });
    let slugs = library.slug_climates().iter().filter(|known| here(&known.climates));
    let crops = answers.plots.iter().any(PlotAnswer::has_crops);
    pests.chain(slugs.map(|known| known.slug.as_str()).filter(|_| crops)).collect()
}

/// Whether a pest finds something to live on in a plot.
fn feeds(library: &Library, plot: &PlotAnswer, pest: &Entry) -> bool {
    let family = |crop: &str| library.get(EntryKind::Crop, crop)?.facts.family.clone();
    match &pest.facts.host {
        Some(Host::Crops(families)) => {
            plot.crops.iter().filter_map(|crop| family(&crop.name)).any(|family| families.contains(&family))
        }
        _ if pest.facts.larvae_in_turf == Some(true) && !plot.has_crops() => true,
        _ => {
            plot.canopies.iter().any(|canopy| pest.facts.fruit.as_ref().is_none_or(|fruit| bears(&canopy.name, fruit)))
        }
    }
}

pub fn take(answers: &mut Answers, library: &Library, text: &str) -> Result<(), Wrong> {
    answers.troubles.clear();
    if is_none(text) {
        return Ok(());
    }
    for name in parts_joined(text) {
        let entry = known(library, without_article(name))?;
        let plots = plots_of(answers, library, entry)?;
        let here = plots.iter().filter_map(|at| answers.plots.get(*at)).map(|plot| plot.name.as_str());
        let heard = format!("{}: in {}.", entry.name, here.collect::<Vec<_>>().join(", "));
        answers.heard.push(heard);
        answers.troubles.push(Trouble { kind: entry.kind, name: entry.name.clone(), plots });
    }
    Ok(())
}

fn known<'l>(library: &'l Library, name: &str) -> Result<&'l Entry, Wrong> {
    let of = |kind: EntryKind| library.entries().filter(move |entry| entry.kind == kind);
    for kind in KINDS {
        match called(of(kind), name) {
            Called::One(entry) => return Ok(entry),
            Called::Asked(meanings) => return Err(which(name, &meanings)),
            Called::Nothing => {}
        }
    }
    let told = among(name, KINDS.into_iter().flat_map(of).map(|entry| entry.name.as_str()));
    Err(Wrong::new(
        format!("there is no pest or weed {name:?}"),
        format!("{told} Known are pests with a stage in the soil, slugs, snails and weeds; leave others out."),
    ))
}

/// The plots it is put in: those that feed a pest; those with beds, if there are any, for slugs and weeds.
fn plots_of(answers: &Answers, library: &Library, entry: &Entry) -> Result<Vec<usize>, Wrong> {
    let all = || answers.plots.iter().enumerate();
    let chosen: Vec<usize> = match entry.kind {
        EntryKind::Pest => all().filter(|(_, plot)| feeds(library, plot, entry)).map(|(at, _)| at).collect(),
        _ => all().filter(|(_, plot)| plot.has_crops()).map(|(at, _)| at).collect(),
    };
    match (chosen.is_empty(), entry.kind) {
        (true, EntryKind::Pest) => Err(Wrong::new(
            format!("{} has nothing to live on in these plots", entry.name),
            "Leave it out; or type back and say what it lives on among what grows there.",
        )),
        (true, _) => Ok(all().map(|(at, _)| at).collect()),
        _ => Ok(chosen),
    }
}
