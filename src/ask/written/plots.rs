//! `[plot.NAME]` of each plot.

use super::values::{key, quoted};
use crate::ask::answers::{Answers, CanopyAnswer, CropDates, PlotAnswer, Trouble, Window};
use scenarios::library::EntryKind;
use scenarios::quantity::{beds_area, kinds, parse};

/// What covers the ground where nothing else is said: a lawn, that of warm countries where it is warm.
const COVERS: [(&str, &str); 1] = [("subtropical", "warm-season grass")];
const LAWN: &str = "mown grass";

/// Tables of all plots; one that reads where there is none yet.
pub fn plots(answers: &Answers) -> String {
    let head =
        "\n# 5. The plots. 7. What grows there. 8. Pests and weeds: their numbers are guesses, varied up and down.\n";
    if answers.plots.is_empty() {
        let plot = format!(
            "[plot.garden]\narea = \"100 m2\"\nsoil = {}\ncover = {{ plant = \"mown grass\" }}\n",
            quoted(&answers.soil)
        );
        return format!("{head}{plot}");
    }
    let each = answers.plots.iter().enumerate().map(|(at, plot)| one(answers, plot, at));
    format!("{head}{}", each.collect::<Vec<_>>().join("\n"))
}

fn one(answers: &Answers, plot: &PlotAnswer, at: usize) -> String {
    let name = key(&plot.name);
    let mut text = format!("[plot.{name}]\narea = {}\nsoil = {}\n", quoted(&plot.area), quoted(&answers.soil));
    let usual = COVERS.iter().find(|(climate, _)| *climate == answers.climate).map_or(LAWN, |(_, cover)| *cover);
    let cover = plot.cover.as_deref().unwrap_or(usual);
    text += &format!("cover = {{ plant = {} }}\n", quoted(cover));
    if let Some(distance) = &plot.distance {
        text += &format!("distance_from_yard = {}\n", quoted(distance));
    }
    text += &beds(plot);
    text += &canopies(answers, plot);
    let troubles: Vec<&Trouble> = answers.troubles.iter().filter(|trouble| trouble.plots.contains(&at)).collect();
    text += &weeds(&troubles);
    let seasons = || plot.crops.iter().flat_map(|crop| crop.seasons.iter().map(move |season| (crop, season)));
    let beds = bed_numbers(&seasons().map(|(_, season)| &season.in_ground).collect::<Vec<_>>());
    seasons().zip(beds).for_each(|((crop, season), bed)| text += &one_season(&name, &crop.name, season, bed));
    let later = plot.crops.iter().filter(|crop| crop.seasons.is_empty());
    later.for_each(|crop| text += &without_dates(&name, &crop.name));
    let pests = troubles.iter().filter(|trouble| trouble.kind == EntryKind::Pest);
    pests.for_each(|pest| {
        text += &format!("[[plot.{name}.pest]]\nspecies = {}\nstart = \"5 per m2\"\n", quoted(&pest.name))
    });
    text
}

fn beds(plot: &PlotAnswer) -> String {
    match (beds_area(&plot.area).is_some(), plot.has_crops()) {
        (true, _) => "beds = 1.0                         # all of it\n".to_owned(),
        (false, true) => "beds = 0.6                         # share that is dug; the rest is paths\n".to_owned(),
        (false, false) => String::new(),
    }
}

fn window((from, to): &Window) -> String {
    format!("[{}, {}]", quoted(from), quoted(to))
}

/// Ground under one plant's crown, m2, by a word of its name; common practice, no source.
const CROWNS_M2: [(&str, f64); 5] = [("tree", 12.0), ("hazel", 12.0), ("vine", 5.0), ("bush", 2.0), ("cane", 0.8)];
/// Of what has none of these words.
const CROWN_M2: f64 = 4.0;

fn crown_m2(canopy: &str) -> f64 {
    CROWNS_M2.iter().find(|(word, _)| canopy.contains(word)).map_or(CROWN_M2, |(_, crown)| *crown)
}

/// The plot's canopies: one without a number is planted all over it.
fn canopies(answers: &Answers, plot: &PlotAnswer) -> String {
    let above = answers.above.as_ref().filter(|_| plot.name == answers.home);
    // Bushes and canes bear within the birds' reach.
    let high = |name: &str| ["bush", "cane"].iter().all(|low| !name.contains(low));
    let wait = |key: &str, name: &str| {
        let why = above.filter(|_| high(name));
        why.map_or(String::new(), |why| format!("{key} = {{ days = 0, reason = {} }}", quoted(why)))
    };
    let fallen =
        |before: &str| answers.fallen.map_or(String::new(), |word| format!("{before}windfalls = {}", quoted(word)));
    let picked = |canopy: &CanopyAnswer| canopy.picked.as_ref().map(window);
    match plot.canopies.as_slice() {
        [] => String::new(),
        [CanopyAnswer { name, count: None, picked, .. }] => {
            let harvest = picked.as_ref().map_or(String::new(), |days| {
                let lines = [format!("fruit_harvest = {}", window(days)), wait("fruit_wait", name), fallen("")];
                lines.iter().filter(|line| !line.is_empty()).map(|line| format!("{line}\n")).collect()
            });
            format!("canopy = {}\n{harvest}", quoted(name))
        }
        several => {
            let each = several.iter().zip(shares(plot)).map(|(canopy, share)| {
                let harvest = picked(canopy).map_or(String::new(), |days| {
                    let wait = Some(wait("wait", &canopy.name))
                        .filter(|wait| !wait.is_empty())
                        .map(|wait| format!(", {wait}"));
                    format!(", harvest = {days}{}{}", wait.unwrap_or_default(), fallen(", "))
                });
                format!("  {{ plant = {}, share = {share}{harvest} }},\n", quoted(&canopy.name))
            });
            let counted = several.iter().any(|canopy| canopy.count.is_some());
            let why = match counted {
                true => "shares of the ground under them, at 12 m2 a tree, 2 a bush, 0.8 a cane: change them",
                false => "shares of the ground, all alike",
            };
            format!("canopy = [                         # {why}\n{}]\n", each.collect::<String>())
        }
    }
}

/// The share of the ground under each canopy: by how many there are, or the whole plot in equal parts where no number is said.
fn shares(plot: &PlotAnswer) -> Vec<f64> {
    let canopies = &plot.canopies;
    if canopies.iter().all(|canopy| canopy.count.is_none()) {
        return vec![in_points(1.0 / canopies.len() as f64); canopies.len()];
    }
    let area = area_m2(plot);
    let crowns = |canopy: &CanopyAnswer| f64::from(canopy.count.unwrap_or(1)) * crown_m2(&canopy.name);
    let counted: f64 = canopies.iter().filter(|canopy| !canopy.many).map(crowns).sum();
    let many = canopies.iter().filter(|canopy| canopy.many).count() as f64;
    // What is many and was not counted has the rest of the plot, at least as one plant would.
    let rest = |canopy: &CanopyAnswer| ((area - counted) / many).max(crown_m2(&canopy.name));
    let ground = canopies.iter().map(|canopy| if canopy.many { rest(canopy) } else { crowns(canopy) });
    let ground: Vec<f64> = ground.collect();
    // Crowns that meet share the plot.
    let whole = ground.iter().sum::<f64>().max(area);
    ground.iter().map(|here| in_points(here / whole)).collect()
}

fn area_m2(plot: &PlotAnswer) -> f64 {
    let area = beds_area(&plot.area).unwrap_or_else(|| parse(&plot.area, &kinds::AREA_M2));
    area.unwrap_or_default()
}

/// A share in points of a hundred, rounded down so that all add to 1 at most, and never 0.
fn in_points(share: f64) -> f64 {
    (share * 100.0 + 1e-9).floor().max(1.0) / 100.0
}

fn weeds(troubles: &[&Trouble]) -> String {
    let kinds = [
        (EntryKind::Weed, "weeds", "plant", "seeds = \"1000 per m2\""),
        (EntryKind::Creeper, "creeping", "plant", "reserve = \"20 g/m2\""),
        (EntryKind::Slug, "slugs", "species", "start = \"8 per m2\""),
    ];
    let lines = kinds.iter().map(|(kind, list, what, number)| {
        let of = troubles.iter().filter(|trouble| trouble.kind == *kind);
        let each: Vec<String> =
            of.map(|trouble| format!("{{ {what} = {}, {number} }}", quoted(&trouble.name))).collect();
        if each.is_empty() { String::new() } else { format!("{list} = [ {} ]\n", each.join(", ")) }
    });
    lines.collect()
}

fn without_dates(plot: &str, crop: &str) -> String {
    format!(
        "# [[plot.{plot}.crop]]               # dates are missing: fill them in and take the # away\n# crop = {}\n# in_ground = [\"MM-DD\", \"MM-DD\"]\n# harvest = [\"MM-DD\", \"MM-DD\"]\n",
        quoted(crop)
    )
}

fn one_season(plot: &str, crop: &str, dates: &CropDates, bed: Option<usize>) -> String {
    let bed = bed.map_or(String::new(), |bed| format!("bed = \"bed {bed}\"\n"));
    let harvest = dates.picked.as_ref().map_or(String::new(), |days| format!("harvest = {}\n", window(days)));
    let in_ground = window(&dates.in_ground);
    format!("[[plot.{plot}.crop]]\ncrop = {}\n{bed}in_ground = {in_ground}\n{harvest}", quoted(crop))
}

/// The bed of each season, from 1: those that stand at the same time need beds of their own. None where one bed does.
fn bed_numbers(seasons: &[&Window]) -> Vec<Option<usize>> {
    let mut beds: Vec<Vec<&Window>> = Vec::new();
    let mut numbers = Vec::new();
    for season in seasons {
        let free = beds.iter().position(|bed| bed.iter().all(|other| !meet(other, season)));
        let at = free.unwrap_or_else(|| {
            beds.push(Vec::new());
            beds.len() - 1
        });
        beds[at].push(season);
        numbers.push(Some(at + 1));
    }
    if beds.len() > 1 { numbers } else { vec![None; seasons.len()] }
}

/// Whether two windows of the year meet. Days as texts are in the order of the year; what has years has its own bed.
fn meet(one: &Window, other: &Window) -> bool {
    let parts = |(from, to): &Window| match from <= to {
        true => vec![(from.clone(), to.clone())],
        false => vec![(from.clone(), "12-32".to_owned()), ("00-00".to_owned(), to.clone())],
    };
    let yearly = |(from, _): &Window| from.len() == "03-15".len();
    let crossed = parts(one).iter().any(|(from, to)| parts(other).iter().any(|(begin, end)| from < end && begin < to));
    crossed || !yearly(one) || !yearly(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn window(from: &str, to: &str) -> Window {
        (from.to_owned(), to.to_owned())
    }

    #[test]
    fn crops_that_stand_together_have_beds_of_their_own() {
        let of = |seasons: &[Window]| bed_numbers(&seasons.iter().collect::<Vec<_>>());
        assert_eq!(of(&[window("03-20", "07-25"), window("07-26", "10-10")]), [None, None]);
        assert_eq!(of(&[window("10-05", "07-10"), window("05-20", "09-25")]), [Some(1), Some(2)]);
        assert_eq!(
            of(&[window("10-05", "02-10"), window("01-20", "04-25"), window("05-01", "09-30")]),
            [Some(1), Some(2), Some(1)]
        );
    }

    fn shares_of(area: &str, canopies: &[(&str, Option<u32>)]) -> Vec<f64> {
        let canopy = |(name, count): &(&str, Option<u32>)| {
            let (name, many) = name.strip_prefix("many ").map_or((*name, false), |name| (name, true));
            CanopyAnswer { name: name.to_owned(), count: *count, many, picked: None }
        };
        let canopies = canopies.iter().map(canopy).collect();
        let (line, name, area) = (String::new(), String::new(), area.to_owned());
        shares(&PlotAnswer { line, name, area, distance: None, cover: None, crops: Vec::new(), canopies })
    }

    #[test]
    fn trees_shade_the_ground_under_them() {
        // 48 and 24 of 300 m2, and one that was not counted.
        let orchard = [("apple trees", Some(4)), ("pear trees", Some(2)), ("quince trees", None)];
        assert_eq!(shares_of("300 m2", &orchard), [0.16, 0.08, 0.04]);
        // Where crowns meet they share the plot.
        assert_eq!(shares_of("6 x 8 m", &orchard), [0.57, 0.28, 0.14]);
        assert_eq!(shares_of("300 m2", &[("apple trees", None), ("pear trees", None)]), [0.5, 0.5]);
        assert_eq!(shares_of("40 m2", &[("currant bushes", Some(4))]), [0.2]);
        let cage = [("many raspberry canes", None), ("many currant bushes", None), ("passion fruit vines", Some(1))];
        assert_eq!(shares_of("45 m2", &cage), [0.44, 0.44, 0.11]);
    }
}
