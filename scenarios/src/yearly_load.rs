//! The nitrogen load of a likely year, reckoned from the site file alone: what birds drop, what of it the heap brings
//! where, compost. No run stands behind it; runs have the measures `nitrogen_load` and `nitrogen_worst`.

use crate::warnings::dates;
use sim_engine::dates::days_between;
use sim_engine::flock::energy::{metabolic_mass, need_of_metabolic_mass};
use sim_engine::flock::excretion::Balance;
use sim_engine::plot::bites::Intake;
use sim_engine::site::{Care, Plot, Site, SiteEventKind, Task};

/// Law's line for the area of a whole holding, droppings counted, in a calendar year, kg/ha (Directive 91/676/EEC; in
/// England within nitrate vulnerable zones).
pub const HOLDING_YARDSTICK_KG_HA: f64 = 170.0;
/// Law's line for manure spread on any hectare in any 12 months, kg/ha (Nitrate Pollution Prevention Regulations 2015,
/// England, reg. 8); what birds let fall themselves is not "spread".
pub const FIELD_YARDSTICK_KG_HA: f64 = 250.0;
/// Temperature of the likely year, C (from memory: a temperate mean).
const MEAN_C: f64 = 12.0;
/// Soil life of a heap against 20 C over a year (from memory: near 10 C at Q10 2).
const HEAP_WARMTH: f64 = 0.5;
/// Share of the day the birds are on plots where some are open (as `home_pull` is calibrated).
const TIME_ON_PLOTS: f64 = 0.65;
const DAYS: f64 = 365.0;

/// Nitrogen on a piece of ground in twelve months, kg/ha.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceLoad {
    /// Index of the plot.
    pub plot: usize,
    /// Whether heap and compost go on its beds alone.
    pub beds: bool,
    /// Of droppings, evenly over all plots.
    pub droppings: f64,
    /// Of the heap.
    pub heap: f64,
    /// Of compost.
    pub compost: f64,
}

impl PieceLoad {
    /// In all.
    #[must_use]
    pub fn all(&self) -> f64 {
        self.droppings + self.heap + self.compost
    }
}

/// Nitrogen all birds drop in a year, kg.
#[must_use]
pub fn dropped_kg(site: &Site) -> f64 {
    let nothing = Intake { green: 0.0, other: 0.0, insects: 0.0, plant_n: 0.0, plant_p: 0.0 };
    let of_group = |(number, class): (f64, usize)| {
        let bird = &site.birds[class].params;
        let need = need_of_metabolic_mass(metabolic_mass(bird), MEAN_C, bird.gain, bird.egg_mass);
        let feed_g = need / site.process.feed_energy;
        let balance = Balance::new(feed_g, bird.protein_share, &nothing, bird.egg_mass, bird.gain, &site.process);
        number * balance.droppings().n * DAYS / 1000.0
    };
    site.groups.iter().map(|group| of_group((group.number, group.class))).sum()
}

/// What all birds drop over plots and yard, kg/ha a year: to be held against the yardstick of a holding.
#[must_use]
pub fn of_holding(site: &Site) -> f64 {
    let m2: f64 = site.plots.iter().map(|plot| plot.area_m2).sum::<f64>() + site.yard.area_m2;
    dropped_kg(site) / m2 * 1e4
}

/// The load of every plot, on its beds where it has some.
#[must_use]
pub fn of_pieces(site: &Site) -> Vec<PieceLoad> {
    let dropped = dropped_kg(site);
    let on_plots = share_on_plots(site);
    let all_m2: f64 = site.plots.iter().map(|plot| plot.area_m2).sum();
    let spreadings = spreadings(site);
    let heap = dropped * (1.0 - on_plots) * heap_keeps(site, spreadings.len());
    let piece = |(index, plot): (usize, &Plot)| {
        let beds: f64 = plot.grounds.iter().filter(|ground| ground.bed).map(|ground| ground.share).sum();
        let m2 = plot.area_m2 * if beds > 0.0 { beds } else { 1.0 };
        let shares = spreadings.iter().flat_map(|plots| plots.iter()).filter(|(to, _)| *to == index);
        let share: f64 = shares.map(|(_, share)| share).sum::<f64>() / spreadings.len().max(1) as f64;
        PieceLoad {
            plot: index,
            beds: beds > 0.0,
            droppings: dropped * on_plots / all_m2 * 1e4,
            heap: heap * share / m2 * 1e4,
            compost: plot.care.iter().filter_map(compost_a_year).sum(),
        }
    };
    site.plots.iter().enumerate().map(piece).collect()
}

/// Share of all droppings that lies on the plots.
fn share_on_plots(site: &Site) -> f64 {
    // What falls in a house that moves with the flock lies on the plots too, but for what falls while it is in the yard.
    if site.house.mobile { 1.0 } else { TIME_ON_PLOTS * (1.0 - site.house.night_share) }
}

/// What falls in yard and house in a year, kg.
#[must_use]
pub fn of_yard_and_house_kg(site: &Site) -> f64 {
    dropped_kg(site) * (1.0 - share_on_plots(site))
}

fn spreadings(site: &Site) -> Vec<&[(usize, f64)]> {
    let mut found = Vec::new();
    for event in &site.events {
        if let SiteEventKind::SpreadHeap { plots } = &event.what {
            found.push(plots.as_slice());
        }
    }
    found
}

/// Share of the heap's nitrogen still there when it is spread, of what came day by day since it last was.
fn heap_keeps(site: &Site, times_a_year: usize) -> f64 {
    let lost = site.process.heap_loss * HEAP_WARMTH * DAYS / times_a_year.max(1) as f64;
    if lost > 0.0 { (1.0 - (-lost).exp()) / lost } else { 1.0 }
}

/// Nitrogen of a care entry's compost in a year, kg/ha; `None` of other care.
#[must_use]
pub fn compost_a_year(care: &Care) -> Option<f64> {
    let Task::Compost { nitrogen_kg_ha, .. } = care.task else { return None };
    let times = times_a_year(care)?;
    Some(nitrogen_kg_ha * times)
}

/// How often a task comes in a year.
pub(crate) fn times_a_year(care: &Care) -> Option<f64> {
    let (from, to) = dates((care.from, care.to))?;
    let season = days_between(from, to) + 1;
    Some(f64::from(season.div_euclid(care.every_days.max(1) as i32) + 1))
}
