//! What is not known exactly, and a site with each unknown somewhere in its range.
//!
//! Each unknown has a least, a likely and a most value. A rank from 0 to 1 picks a
//! value: 0.5 is the likely one, and on each side values run evenly to the end of
//! the range; on a scale of logarithms where the most is over ten times the least.

mod range;

pub(crate) use range::range_at;
pub use range::{Target, Unknown};

use crate::library::EntryKind;
use crate::model::SiteModel;
use sim_engine::site::Site;
use std::collections::BTreeMap;

/// The site with its unknowns at these ranks, one per unknown of the model; missing
/// ranks count as 0.5. Unknowns of a tie take the rank of the first of them, those drawn against it 1 less that rank.
#[must_use]
pub fn at(model: &SiteModel, ranks: &[f64]) -> Site {
    let mut site = model.base.clone();
    let leaders = leaders(&model.unknowns);
    for (unknown, leader) in model.unknowns.iter().zip(leaders) {
        let rank = ranks.get(leader).copied().unwrap_or(0.5);
        let rank = if unknown.against { 1.0 - rank } else { rank };
        set(&mut site, unknown.target, unknown.at(rank));
    }
    site
}

/// For every unknown the position of the one whose rank it takes: the first of its tie, or itself.
#[must_use]
pub fn leaders<'u>(unknowns: &'u [Unknown]) -> Vec<usize> {
    let mut first_of: BTreeMap<&'u str, usize> = BTreeMap::new();
    let mut leader = |(own, unknown): (usize, &'u Unknown)| {
        *first_of.entry(unknown.tie.as_ref().unwrap_or(&unknown.name)).or_insert(own)
    };
    unknowns.iter().enumerate().map(&mut leader).collect()
}

/// Sets one unknown of a site.
pub fn set(site: &mut Site, target: Target, value: f64) {
    match target {
        Target::Number(kind, index, field) => set_number(site, kind, index, field, value),
        Target::PestStart(plot, pest) => {
            if let Some(pest) = site.plots.get_mut(plot).and_then(|plot| plot.pests.get_mut(pest)) {
                pest.start_per_m2 = value;
            }
        }
        Target::Neighbours(plot, pest) => {
            if let Some(pest) = site.plots.get_mut(plot).and_then(|plot| plot.pests.get_mut(pest)) {
                pest.neighbours = value;
            }
        }
        Target::WeedSeeds(plot, weed) => {
            if let Some(weed) = site.plots.get_mut(plot).and_then(|plot| plot.weeds.get_mut(weed)) {
                weed.1 = value;
            }
        }
        Target::CreeperReserve(plot, creeper) => {
            if let Some(creeper) = site.plots.get_mut(plot).and_then(|plot| plot.creepers.get_mut(creeper)) {
                creeper.1 = value;
            }
        }
        Target::SlugStart(plot, slug) => {
            if let Some(slug) = site.plots.get_mut(plot).and_then(|plot| plot.slugs.get_mut(slug)) {
                slug.1 = value;
            }
        }
        Target::CoverStart(plot) => {
            if let Some(plot) = site.plots.get_mut(plot) {
                plot.cover_start = value;
            }
        }
        Target::NightShare => site.house.night_share = value,
    }
}

fn set_number(site: &mut Site, kind: EntryKind, index: usize, field: usize, value: f64) {
    macro_rules! put {
        ($table:ident) => {
            if let Some(entry) = site.$table.get_mut(index) {
                entry.params.set(field, value);
            }
        };
    }
    match kind {
        EntryKind::Soil => put!(soils),
        EntryKind::Cover => put!(covers),
        EntryKind::Weed => put!(weeds),
        EntryKind::Creeper => put!(creepers),
        EntryKind::Crop => put!(crops),
        EntryKind::Canopy => put!(canopies),
        EntryKind::Pest => put!(pests),
        EntryKind::Slug => put!(slugs),
        EntryKind::Bird => put!(birds),
        EntryKind::Process => site.process.set(field, value),
    }
}
