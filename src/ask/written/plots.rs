//! `[plot.NAME]` of each plot.

use super::values::{key, quoted};
use crate::ask::answers::{Answers, CanopyAnswer, CropAnswer, PlotAnswer, Trouble, Window};
use scenarios::library::EntryKind;
use scenarios::quantity::beds_area;

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
    text += &canopies(&plot.canopies);
    let troubles: Vec<&Trouble> = answers.troubles.iter().filter(|trouble| trouble.plots.contains(&at)).collect();
    text += &weeds(&troubles);
    plot.crops.iter().zip(bed_numbers(&plot.crops)).for_each(|(crop, bed)| text += &one_crop(&name, crop, bed));
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

fn canopies(canopies: &[CanopyAnswer]) -> String {
    let picked = |canopy: &CanopyAnswer| canopy.picked.as_ref().map(window);
    match canopies {
        [] => String::new(),
        [one] => {
            let harvest = picked(one).map_or(String::new(), |days| format!("fruit_harvest = {days}\n"));
            format!("canopy = {}\n{harvest}", quoted(&one.name))
        }
        several => {
            let all: u32 = several.iter().map(|canopy| canopy.count).sum();
            let each = several.iter().map(|canopy| {
                let harvest = picked(canopy).map_or(String::new(), |days| format!(", harvest = {days}"));
                let share = share(canopy.count, all);
                format!("  {{ plant = {}, share = {share}{harvest} }},\n", quoted(&canopy.name))
            });
            format!(
                "canopy = [                         # shares of the ground, by how many there are\n{}]\n",
                each.collect::<String>()
            )
        }
    }
}

/// A share in points of a hundred, rounded down so that all add to 1 at most.
fn share(count: u32, all: u32) -> f64 {
    f64::from((u64::from(count) * 100 / u64::from(all.max(1))).max(1) as u32) / 100.0
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

fn one_crop(plot: &str, crop: &CropAnswer, bed: Option<usize>) -> String {
    let name = quoted(&crop.name);
    let Some(dates) = &crop.dates else {
        return format!(
            "# [[plot.{plot}.crop]]               # dates are missing: fill them in and take the # away\n# crop = {name}\n# in_ground = [\"MM-DD\", \"MM-DD\"]\n# harvest = [\"MM-DD\", \"MM-DD\"]\n"
        );
    };
    let bed = bed.map_or(String::new(), |bed| format!("bed = \"bed {bed}\"\n"));
    let harvest = dates.picked.as_ref().map_or(String::new(), |days| format!("harvest = {}\n", window(days)));
    format!("[[plot.{plot}.crop]]\ncrop = {name}\n{bed}in_ground = {}\n{harvest}", window(&dates.in_ground))
}

/// The bed of each crop, from 1: those that stand at the same time need beds of their own. None where one bed does.
fn bed_numbers(crops: &[CropAnswer]) -> Vec<Option<usize>> {
    let mut beds: Vec<Vec<&Window>> = Vec::new();
    let mut numbers = Vec::new();
    for dates in crops.iter().map(|crop| crop.dates.as_ref()) {
        numbers.push(dates.map(|dates| {
            let free = beds.iter().position(|bed| bed.iter().all(|other| !meet(other, &dates.in_ground)));
            let at = free.unwrap_or_else(|| {
                beds.push(Vec::new());
                beds.len() - 1
            });
            beds[at].push(&dates.in_ground);
            at + 1
        }));
    }
    if beds.len() > 1 { numbers } else { vec![None; crops.len()] }
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
    use crate::ask::answers::CropDates;

    fn crop(from: &str, to: &str) -> CropAnswer {
        let in_ground = (from.to_owned(), to.to_owned());
        CropAnswer { name: "leek".to_owned(), dates: Some(CropDates { in_ground, picked: None }) }
    }

    #[test]
    fn crops_that_stand_together_have_beds_of_their_own() {
        let of = |crops: &[CropAnswer]| bed_numbers(crops);
        assert_eq!(of(&[crop("03-20", "07-25"), crop("07-26", "10-10")]), [None, None]);
        assert_eq!(of(&[crop("10-05", "07-10"), crop("05-20", "09-25")]), [Some(1), Some(2)]);
        assert_eq!(
            of(&[crop("10-05", "02-10"), crop("01-20", "04-25"), crop("05-01", "09-30")]),
            [Some(1), Some(2), Some(1)]
        );
    }

    #[test]
    fn shares_of_trees_add_to_one_at_most() {
        let counts = [4, 2, 1];
        let shares: Vec<f64> = counts.iter().map(|count| share(*count, 7)).collect();
        assert_eq!(shares, [0.57, 0.28, 0.14]);
    }
}
