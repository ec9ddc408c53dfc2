//! `[[plot.NAME.care]]`: manual care of a plot, done anyway, in every run.

use super::bounds;
use super::context::Context;
use super::dates::window;
use super::defaults;
use crate::quantity::kinds::{G_M2, HOURS_M2, INTERVAL_D, KG_HA};
use crate::reader::{Item, Reader};
use sim_engine::site::{Care, Task, When};

const WORDS: &[(&str, usize)] = &[("hoe", 0), ("mow", 1), ("clear", 2), ("mulch", 3), ("compost", 4)];

/// The care of a plot.
pub(super) fn read(context: &mut Context<'_>, reader: &Reader<'_>, plot: &str) -> Vec<Care> {
    let list = reader.get("care").and_then(|item| item.list()).unwrap_or_default();
    list.iter().filter_map(|item| one(context, item, plot)).collect()
}

fn one(context: &mut Context<'_>, item: &Item<'_>, plot: &str) -> Option<Care> {
    let reader = item.table(format!("[[plot.{plot}.care]]"))?;
    let word = reader.need("task", "\"hoe\"").and_then(|item| item.choice(WORDS));
    let every = reader.need("every", "\"3 weeks\"").and_then(|item| item.quantity(&INTERVAL_D, &bounds::INTERVAL_D));
    let (from, to) = season(&reader);
    let effort = reader.get("effort");
    let task = word.map(|word| task(&reader, word));
    let default = word.and_then(|word| defaults::EFFORT_H_M2.get(word).copied()).unwrap_or(0.0);
    let effort_h_m2 = match effort {
        Some(item) => item.quantity(&HOURS_M2, &bounds::EFFORT_H_M2).unwrap_or(default),
        None => {
            context.default(format!("plot.{plot}.care.effort"), format!("{default} h per m2"));
            default
        }
    };
    reader.finish();
    Some(Care { task: task?, every_days: every?.round() as u32, from, to, effort_h_m2 })
}

/// A season under `season`; the whole year where there is none.
fn season(reader: &Reader<'_>) -> (When, When) {
    let whole_year = (When::Yearly { month: 1, day: 1 }, When::Yearly { month: 12, day: 31 });
    reader.get("season").and_then(|item| window(&item)).unwrap_or(whole_year)
}

fn task(reader: &Reader<'_>, word: usize) -> Task {
    let mass = |key, otherwise| {
        let bound = if key == "leave" { &bounds::LEFT_G_M2 } else { &bounds::MASS_G_M2 };
        reader.get(key).and_then(|item| item.quantity(&G_M2, bound)).unwrap_or(otherwise)
    };
    let nutrient = |key, otherwise| {
        reader.get(key).and_then(|item| item.quantity(&KG_HA, &bounds::NUTRIENT_KG_HA)).unwrap_or(otherwise)
    };
    match word {
        0 => Task::Hoe {
            kill: reader.get("kill").and_then(|item| item.number(&bounds::SHARE)).unwrap_or(defaults::HOE_KILL),
        },
        1 => Task::Mow { leave_g_m2: mass("leave", defaults::MOW_LEAVES_G_M2) },
        2 => Task::Clear,
        3 => Task::Mulch { mass_g_m2: mass("mass", defaults::MULCH_G_M2) },
        _ => Task::Compost {
            nitrogen_kg_ha: nutrient("nitrogen", defaults::COMPOST_N_KG_HA),
            phosphorus_kg_ha: nutrient("phosphorus", defaults::COMPOST_P_KG_HA),
            mass_g_m2: mass("mass", defaults::COMPOST_G_M2),
        },
    }
}
