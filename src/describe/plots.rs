//! Each plot: ground, beds and crops, weeds, pests, canopy, guards, care, waiting periods.

use super::plot_dates::{open_seasons, shut_from, spoken};
use super::site::between;
use crate::text::{TextPage, counted};
use analysis::units::{Units, short};
use analysis::wording::list;
use scenarios::SiteModel;
use sim_engine::site::{Care, CropPlan, Ground, HarvestWindow, Plot, PlotCanopy, Task};

/// Tells every plot.
pub(super) fn tell(page: &mut TextPage, model: &SiteModel, units: Units) {
    for plot in &model.base.plots {
        one(page, model, plot, units);
    }
}

fn one(page: &mut TextPage, model: &SiteModel, plot: &Plot, units: Units) {
    page.heading(&format!("Plot {}: {}", plot.name, units.area(plot.area_m2)));
    page.point(&ground(model, plot, units));
    for (number, bed) in plot.grounds.iter().filter(|ground| ground.bed).enumerate() {
        beds(page, model, bed, number, plot.grounds.iter().filter(|ground| ground.bed).count());
    }
    for canopy in &plot.canopies {
        over(page, model, canopy);
    }
    plants_and_pests(page, model, plot, units);
    for guard in &plot.guards {
        let what = match guard.plants {
            Some(plants) => format!("all {} here", model.base.plant_name(plants)),
            None => format!("{} % of it", short(100.0 * guard.share)),
        };
        page.point(&format!("Guards keep birds off {what} {}.", between(guard.from, guard.to)));
    }
    for net in &plot.nets {
        let share = short(100.0 * net.share);
        page.point(&format!("Nets over {share} % of it {}.", between(net.from, net.to)));
    }
    for care in &plot.care {
        page.point(&by_hand(care, units));
    }
    if let Some(seasons) = open_seasons(plot, model) {
        page.point(&match seasons.as_str() {
            "" => "Crops and waiting periods keep it shut the whole year.".to_owned(),
            _ => format!("Crops and waiting periods leave it free from {seasons}."),
        });
    }
}

/// A canopy with its share, where it is not over all of the plot, and the harvest of its fruit.
fn over(page: &mut TextPage, model: &SiteModel, here: &PlotCanopy) {
    let name = model.base.canopies.get(here.canopy).map_or("", |canopy| canopy.name.as_str());
    let whole = here.share == 1.0;
    page.point(&match whole {
        true => format!("Over it: {name}."),
        false => format!("Over {} % of it: {name}.", short(100.0 * here.share)),
    });
    let fruit = if whole { "Fruit".to_owned() } else { format!("Fruit of {name}") };
    for harvest in &here.harvest {
        let what = if harvest.windfall { format!("{fruit} that fell") } else { fruit.clone() };
        page.point(&waiting(model, &what, harvest));
    }
}

fn ground(model: &SiteModel, plot: &Plot, units: Units) -> String {
    let site = &model.base;
    let soil = site.soils.get(plot.soil).map_or("", |soil| soil.name.as_str());
    let cover = match site.covers.get(plot.cover) {
        Some(cover) if plot.has_sward() => {
            format!("{} covering {} % at the start", cover.name, short(100.0 * plot.cover_start))
        }
        _ => "all beds".to_owned(),
    };
    let drainage = match plot.drainage_factor {
        factor if factor < 1.0 => ", draining slowly",
        factor if factor > 1.0 => ", draining fast",
        _ => "",
    };
    let drip = if plot.drip { ", with drip irrigation" } else { "" };
    let rings = if plot.rings > 1 { format!("; counted in {} rings from the gate", plot.rings) } else { String::new() };
    format!("{soil}{drainage}{drip}; {cover}; gate {} from the yard{rings}.", units.length(plot.distance_m),)
}

fn beds(page: &mut TextPage, model: &SiteModel, bed: &Ground, number: usize, of: usize) {
    let share = short(100.0 * bed.share);
    let name = if of > 1 { format!("Bed {}", number + 1) } else { "Beds".to_owned() };
    page.point(&format!("{name}: {share} % of the plot, {}.", counted(bed.crops.len(), "crop", "crops")));
    for crop in &bed.crops {
        page.point(&crop_times(model, crop));
    }
}

fn crop_times(model: &SiteModel, plan: &CropPlan) -> String {
    let crop = model.base.crops.get(plan.crop).map_or("", |crop| crop.name.as_str());
    let ends = if plan.ends_when_ripe { " or until ripe, whichever is first" } else { "" };
    let cleared = if plan.cleared { "; what is left is carried away" } else { "" };
    let words = format!("{crop}: in the ground {}{ends}{cleared}.", between(plan.from, plan.to));
    match &plan.harvest {
        Some(harvest) => format!("{words} {}", waiting(model, "", harvest)),
        None => format!("{words} No harvest is named, so no waiting period holds for it."),
    }
}

/// A harvest, its waiting period and what follows for the gate.
fn waiting(model: &SiteModel, what: &str, harvest: &HarvestWindow) -> String {
    let rules = &model.base.rules;
    let days = rules.waiting_days(harvest);
    let touches = if harvest.touches_soil { "touches" } else { "does not touch" };
    let shut = match days == 0 && !harvest.touches_soil {
        true => "birds may be in while it is picked".to_owned(),
        false => format!(
            "the gate is shut from {} until the last harvest",
            shut_from(harvest, rules, model).unwrap_or_default()
        ),
    };
    let what = if what.is_empty() { String::new() } else { format!("{what}. ") };
    format!(
        "{what}Harvest {} to {}. The edible part {touches} the soil: earliest harvest under the waiting period is {days} days after birds, so {shut}.",
        spoken(harvest.from),
        spoken(harvest.to),
    )
}

fn plants_and_pests(page: &mut TextPage, model: &SiteModel, plot: &Plot, units: Units) {
    let site = &model.base;
    let weeds: Vec<String> = plot
        .weeds
        .iter()
        .filter_map(|&(weed, seeds)| {
            Some(format!("{} ({})", site.weeds.get(weed)?.name, units.plain(seeds, "seeds per m2")))
        })
        .collect();
    let creepers: Vec<String> = plot
        .creepers
        .iter()
        .filter_map(|&(kind, grams)| {
            Some(format!("{} ({} in its roots)", site.creepers.get(kind)?.name, units.plain(grams, "g/m2")))
        })
        .collect();
    if !weeds.is_empty() {
        page.point(&format!("Weeds from seed: {}.", list(&weeds)));
    }
    if !creepers.is_empty() {
        page.point(&format!("Creeping weeds: {}.", list(&creepers)));
    }
    for pest in &plot.pests {
        let name = site.pests.get(pest.pest).map_or("", |pest| pest.name.as_str());
        let start = units.plain(pest.start_per_m2, "per m2");
        let neighbours = match pest.neighbours {
            0.0 => "none fly in".to_owned(),
            1.0 => "few fly in".to_owned(),
            times => format!("{} times \"few\" fly in", short(times)),
        };
        page.point(&format!("Pest {name}: {start} in the soil at the start; {neighbours}."));
    }
    for &(slug, number) in &plot.slugs {
        let name = site.slugs.get(slug).map_or("", |slug| slug.name.as_str());
        page.point(&format!("Slugs and snails: {name}, {} of all sizes at the start.", units.plain(number, "per m2")));
    }
    if plot.worm_eggs > 0.0 {
        page.point(&format!("Worm eggs at the start: {} (relative).", short(plot.worm_eggs)));
    }
}

fn by_hand(care: &Care, units: Units) -> String {
    let task = match care.task {
        Task::Weed { above: Some(0.0) } => "weeding".to_owned(),
        Task::Weed { above } => match above {
            Some(above) => format!("weeding where weeds cover more than {} %, looked for", short(100.0 * above)),
            None => "weeding where weeds cover more than you would leave, looked for".to_owned(),
        },
        Task::Mow { above_g_m2, leave_g_m2, .. } => {
            let leaves = units.plain(leave_g_m2, "g/m2");
            match above_g_m2 {
                Some(0.0) => format!("mowing (leaves {leaves})"),
                Some(above) => format!("mowing (above {}, leaves {leaves}), looked for", units.plain(above, "g/m2")),
                None => format!("mowing where grass is higher than you would leave (leaves {leaves}), looked for"),
            }
        }
        Task::Clear => "clearing residue".to_owned(),
        Task::Mulch { mass_g_m2, .. } => format!("mulching ({})", units.plain(mass_g_m2, "g/m2")),
        Task::Compost { mass_g_m2, nitrogen_kg_ha, phosphorus_kg_ha, .. } => format!(
            "compost ({}, with {} of nitrogen and {} of phosphorus)",
            units.plain(mass_g_m2, "g/m2"),
            units.plain(nitrogen_kg_ha, "kg/ha"),
            units.plain(phosphorus_kg_ha, "kg/ha")
        ),
    };
    format!("By hand, birds or not: {task} every {} days {}.", care.every_days, between(care.from, care.to))
}
