//! `[[plot.NAME.care]]`: the keeper's work on a plot, by the same rule in every run; and the usual work
//! where the file says nothing of it.

use super::bounds;
use super::context::Context;
use super::dates::window;
use super::defaults;
use super::defaults::{LOOKS_EVERY_D, WEEDED_BEFORE_CROP_D};
use crate::quantity::kinds::{G_M2, HOURS_M2, INTERVAL_D, KG_HA};
use crate::reader::{Item, Reader};
use crate::table_format::{Kind, TableFormat, Taken, left_out, required, words};
use jiff::ToSpan;
use jiff::civil::{Date, date};
use sim_engine::dates::{days_between, spans, yearly};
use sim_engine::site::{Care, CropPlan, Ground, Task, When};

#[derive(Clone, Copy)]
enum Word {
    Weed,
    Mow,
    Clear,
    Mulch,
    Compost,
}

const WORDS: &[(&str, Word)] = &[
    ("weed", Word::Weed),
    ("mow", Word::Mow),
    ("clear", Word::Clear),
    ("mulch", Word::Mulch),
    ("compost", Word::Compost),
];

pub(super) const CARE: TableFormat = TableFormat {
    heading: "[[plot.NAME.care]]",
    written: "[[plot.orchard.care]]",
    what: "Work of the keeper on a plot, by the same rule in every run.",
    keys: &[
        required("task", Kind::Choice(|| words(WORDS)), "\"weed\"", "The work."),
        left_out(
            "every",
            Kind::Quantity(&INTERVAL_D, &bounds::INTERVAL_D),
            Taken::Words(
                "weed and mow: a look every 7 days, and work where there is more than you would leave; else it must be there",
            ),
            "\"every 3 weeks\"",
            "How often; who says how often works that often.",
        ),
        left_out(
            "season",
            Kind::Window,
            Taken::Words("the whole year"),
            "[\"04-01\", \"09-15\"]",
            "From when to when of a year.",
        ),
        left_out(
            "above",
            Kind::Either(&[Kind::Number(&bounds::SHARE), Kind::Quantity(&G_M2, &bounds::LEFT_G_M2)]),
            Taken::Words("0 with `every`, else the library's `weeds_borne` or `grass_borne`"),
            "0.1",
            "From how much on there is work: weed, a share of the ground under weeds; mow, a live mass such as \"200 g/m2\".",
        ),
        left_out(
            "leave",
            Kind::Quantity(&G_M2, &bounds::LEFT_G_M2),
            Taken::Quantity(defaults::MOW_LEAVES_G_M2, "g/m2"),
            "\"120 g/m2\"",
            "Mow: the live mass that is left standing.",
        ),
        left_out(
            "mass",
            Kind::Quantity(&G_M2, &bounds::MASS_G_M2),
            Taken::Words("mulch 800 g/m2, compost 1500 g/m2"),
            "\"800 g/m2\"",
            "Mulch and compost: the dry mass that is spread.",
        ),
        left_out(
            "nitrogen",
            Kind::Quantity(&KG_HA, &bounds::NUTRIENT_KG_HA),
            Taken::Quantity(defaults::COMPOST_N_KG_HA, "kg/ha"),
            "\"150 kg/ha\"",
            "Compost: the nitrogen in it.",
        ),
        left_out(
            "phosphorus",
            Kind::Quantity(&KG_HA, &bounds::NUTRIENT_KG_HA),
            Taken::Quantity(defaults::COMPOST_P_KG_HA, "kg/ha"),
            "\"40 kg/ha\"",
            "Compost: the phosphorus in it.",
        ),
        left_out(
            "effort",
            Kind::Quantity(&HOURS_M2, &bounds::EFFORT_H_M2),
            Taken::Words("the library's `mowing_time` (mow), 0.01 h per m2 (mulch, compost)"),
            "\"0.01 h per m2\"",
            "Mow, mulch and compost: the work it takes; weeding and clearing take as long as what they find.",
        ),
    ],
    rest: None,
    examples: &[
        "[[plot.orchard.care]]\ntask = \"weed\"\nevery = \"every 3 weeks\"\nseason = [\"04-01\", \"09-15\"]\nabove = 0.1",
        "[[plot.orchard.care]]\ntask = \"mow\"\nabove = \"200 g/m2\"\nleave = \"120 g/m2\"\neffort = \"0.01 h per m2\"",
        "[[plot.orchard.care]]\ntask = \"mulch\"\nevery = \"1 year\"\nmass = \"800 g/m2\"\neffort = \"0.01 h per m2\"",
        "[[plot.orchard.care]]\ntask = \"compost\"\nevery = \"1 year\"\nmass = \"1500 g/m2\"\nnitrogen = \"150 kg/ha\"\nphosphorus = \"40 kg/ha\"\neffort = \"0.01 h per m2\"",
        "[[plot.orchard.care]]\ntask = \"clear\"\nevery = \"1 year\"",
    ],
};

/// The care of a plot: what the file has, and the usual weeding and mowing where it has none.
pub(super) fn read(context: &mut Context<'_>, reader: &Reader<'_>, plot: &str, grounds: &[Ground]) -> Vec<Care> {
    let list = reader.get("care").and_then(|item| item.list()).unwrap_or_default();
    let mut care: Vec<Care> = list.iter().filter_map(|item| one(context, item, plot)).collect();
    let usual = reader.get("usual_care").and_then(|item| item.flag()).unwrap_or(true);
    let weeded = reader.get("weeded").and_then(|item| item.flag()).unwrap_or(false);
    let has = |wanted: fn(&Task) -> bool| care.iter().any(|care| wanted(&care.task));
    let (weeds, mows) = (has(|task| matches!(task, Task::Weed { .. })), has(|task| matches!(task, Task::Mow { .. })));
    if weeded && !weeds {
        care.push(usual_weeding(None, WHOLE_YEAR));
    }
    if usual && !weeds {
        let weeding = usual_weeding_of(grounds);
        if !weeding.is_empty() {
            context.default(format!("plot.{plot}.care"), "weed its beds where weeds cover more than you would leave");
        }
        care.extend(weeding);
    }
    if usual && !mows && grounds.iter().any(|ground| !ground.bed) {
        context.default(format!("plot.{plot}.care"), "mow its grass where it is higher than you would leave");
        let task = Task::Mow { above_g_m2: None, leave_g_m2: defaults::MOW_LEAVES_G_M2, effort_h_m2: None };
        let (from, to) = WHOLE_YEAR;
        care.push(Care { task, ground: None, every_days: LOOKS_EVERY_D, from, to });
    }
    care
}

const WHOLE_YEAR: (When, When) = (When::Yearly { month: 1, day: 1 }, When::Yearly { month: 12, day: 31 });

fn usual_weeding(ground: Option<usize>, (from, to): (When, When)) -> Care {
    Care { task: Task::Weed { above: None }, ground, every_days: LOOKS_EVERY_D, from, to }
}

/// A bed is weeded from two weeks before its first crop to the last picking of its last.
fn usual_weeding_of(grounds: &[Ground]) -> Vec<Care> {
    let mut care = Vec::new();
    for (index, ground) in grounds.iter().enumerate().filter(|(_, ground)| ground.bed) {
        for crop in &ground.crops {
            if let (When::On(from), When::On(to)) = (crop.from, last_picking(crop)) {
                let from = from.saturating_sub(WEEDED_BEFORE_CROP_D.days());
                care.push(usual_weeding(Some(index), (When::On(from), When::On(to))));
            }
        }
        care.extend(season(&ground.crops).map(|season| usual_weeding(Some(index), season)));
    }
    care
}

fn last_picking(crop: &CropPlan) -> When {
    crop.harvest.map_or(crop.to, |harvest| harvest.to)
}

/// The season of a bed whose crops come every year: all of the year but its longest time without a crop.
fn season(crops: &[CropPlan]) -> Option<(When, When)> {
    // A year without a leap day, and one on either side for crops that lie over the new year.
    let (first, last) = (date(2025, 1, 1), date(2027, 12, 31));
    let mut taken: Vec<(Date, Date)> = crops
        .iter()
        .filter(|crop| matches!(crop.from, When::Yearly { .. }))
        .flat_map(|crop| spans((crop.from, last_picking(crop)), first, last))
        .map(|(from, to)| (from.saturating_sub(WEEDED_BEFORE_CROP_D.days()), to))
        .collect();
    taken.sort_unstable();
    let mut gaps: Vec<(i32, Date, Date)> = Vec::new();
    let mut until = taken.first()?.1;
    for &(from, to) in &taken[1..] {
        if from > until && until.year() == 2026 {
            gaps.push((days_between(until, from), until, from));
        }
        until = until.max(to);
    }
    let longest = gaps.into_iter().max_by_key(|(days, ..)| *days);
    Some(longest.map_or(WHOLE_YEAR, |(_, ends, begins)| (yearly(begins), yearly(ends))))
}

fn one(context: &mut Context<'_>, item: &Item<'_>, plot: &str) -> Option<Care> {
    let reader = item.table(format!("[[plot.{plot}.care]]"))?;
    let word = reader.needed("task").and_then(|item| task_word(&item));
    let every = match reader.get("every") {
        Some(item) => Some(item.quantity(&INTERVAL_D, &bounds::INTERVAL_D)?.round() as u32),
        None => None,
    };
    let season = reader.get("season").and_then(|item| window(&item)).unwrap_or(WHOLE_YEAR);
    let task = word.map(|word| task(context, &reader, word, every, plot));
    if every.is_none() && word.is_some_and(|word| !matches!(word, Word::Weed | Word::Mow)) {
        reader.needed("every");
    }
    reader.finish();
    let (from, to) = season;
    Some(Care { task: task?, ground: None, every_days: every.unwrap_or(LOOKS_EVERY_D), from, to })
}

/// The word of a task; one of format 1 is told what to write now.
fn task_word(item: &Item<'_>) -> Option<Word> {
    if item.value().as_str() == Some("hoe") {
        let remedy = "Write task = \"weed\": it hoes and pulls, and its time goes by the weeds it finds.";
        item.fault("task \"hoe\" is of format 1", remedy);
        return None;
    }
    item.choice(WORDS)
}

/// The task of a table. Who says how often keeps to that; else what is borne decides.
fn task(context: &mut Context<'_>, reader: &Reader<'_>, word: Word, every: Option<u32>, plot: &str) -> Task {
    let mass =
        |key, bound, otherwise| reader.get(key).and_then(|item| item.quantity(&G_M2, bound)).unwrap_or(otherwise);
    let nutrient = |key, otherwise| {
        reader.get(key).and_then(|item| item.quantity(&KG_HA, &bounds::NUTRIENT_KG_HA)).unwrap_or(otherwise)
    };
    let at_every_look = every.map(|_| 0.0);
    match word {
        Word::Weed => {
            Task::Weed { above: reader.get("above").map_or(at_every_look, |item| item.number(&bounds::SHARE)) }
        }
        Word::Mow => Task::Mow {
            above_g_m2: reader.get("above").map_or(at_every_look, |item| item.quantity(&G_M2, &bounds::LEFT_G_M2)),
            leave_g_m2: mass("leave", &bounds::LEFT_G_M2, defaults::MOW_LEAVES_G_M2),
            effort_h_m2: reader.get("effort").and_then(|item| item.quantity(&HOURS_M2, &bounds::EFFORT_H_M2)),
        },
        Word::Clear => Task::Clear,
        Word::Mulch => Task::Mulch {
            mass_g_m2: mass("mass", &bounds::MASS_G_M2, defaults::MULCH_G_M2),
            effort_h_m2: effort(context, reader, plot),
        },
        Word::Compost => Task::Compost {
            nitrogen_kg_ha: nutrient("nitrogen", defaults::COMPOST_N_KG_HA),
            phosphorus_kg_ha: nutrient("phosphorus", defaults::COMPOST_P_KG_HA),
            mass_g_m2: mass("mass", &bounds::MASS_G_M2, defaults::COMPOST_G_M2),
            effort_h_m2: effort(context, reader, plot),
        },
    }
}

fn effort(context: &mut Context<'_>, reader: &Reader<'_>, plot: &str) -> f64 {
    match reader.get("effort") {
        Some(item) => item.quantity(&HOURS_M2, &bounds::EFFORT_H_M2).unwrap_or(defaults::SPREADING_H_M2),
        None => {
            context.default(format!("plot.{plot}.care.effort"), format!("{} h per m2", defaults::SPREADING_H_M2));
            defaults::SPREADING_H_M2
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn crop(from: (i8, i8), to: (i8, i8)) -> CropPlan {
        let day = |(month, day)| When::Yearly { month, day };
        CropPlan { crop: 0, from: day(from), to: day(to), ends_when_ripe: false, harvest: None, cleared: false }
    }

    fn day(month: i8, day: i8) -> When {
        When::Yearly { month, day }
    }

    #[test]
    fn a_bed_is_weeded_from_two_weeks_before_its_first_crop_to_the_last_picking() {
        let lettuce_then_beans = [crop((4, 5), (6, 12)), crop((6, 15), (9, 5))];
        assert_eq!(season(&lettuce_then_beans), Some((day(3, 22), day(9, 5))));
        // Garlic lies over the new year.
        assert_eq!(season(&[crop((10, 20), (7, 8))]), Some((day(10, 6), day(7, 8))));
        // Never two weeks free.
        assert_eq!(season(&[crop((3, 1), (8, 31)), crop((9, 5), (2, 20))]), Some(WHOLE_YEAR));
        assert_eq!(season(&[]), None);
    }
}
