//! Where a plot's nitrogen came from and where it went, from the books.

use super::zones::zones;
use sim_engine::books::zone_stock;
use sim_engine::flows::{Currency, Flow, FlowSet};
use sim_engine::run::recorder::RunView;

/// A way in or out, as a keeper would tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Droppings of the birds.
    Manure,
    /// Heap, compost and mulch.
    Brought,
    /// Fixed from the air by legumes.
    Fixed,
    /// Rain and dust.
    Rain,
    /// Planted, sown, seedlings, leaves of trees.
    Plants,
    /// Eaten by birds.
    Eaten,
    /// Harvested, cleared away, shed as seed.
    Harvested,
    /// Lost as ammonia and by denitrification.
    Air,
    /// Leached below the roots.
    Leached,
}

impl Way {
    /// Ways in, in the order of pictures.
    pub const IN: [Way; 5] = [Way::Manure, Way::Brought, Way::Fixed, Way::Rain, Way::Plants];
    /// Ways out, in the order of pictures.
    pub const OUT: [Way; 4] = [Way::Eaten, Way::Harvested, Way::Air, Way::Leached];

    /// In a keeper's words.
    #[must_use]
    pub fn plain(self) -> &'static str {
        match self {
            Way::Manure => "droppings",
            Way::Brought => "heap, compost, mulch",
            Way::Fixed => "fixed by clover and kin",
            Way::Rain => "rain",
            Way::Plants => "sown, planted, fallen leaves",
            Way::Eaten => "eaten by birds",
            Way::Harvested => "harvested, cleared, shed",
            Way::Air => "lost to the air",
            Way::Leached => "leached",
        }
    }

    fn flows(self) -> &'static [Flow] {
        match self {
            Way::Manure => &[Flow::ManureN],
            Way::Brought => &[Flow::HeapN, Flow::BroughtN],
            Way::Fixed => &[Flow::FixedN],
            Way::Rain => &[Flow::RainN],
            Way::Plants => &[Flow::PlantedN, Flow::SeedlingN, Flow::CanopyN],
            Way::Eaten => &[Flow::EatenN],
            Way::Harvested => &[Flow::HarvestN, Flow::ClearedN, Flow::SeedN],
            Way::Air => &[Flow::VolatilisedN, Flow::DenitrifiedN],
            Way::Leached => &[Flow::LeachedN],
        }
    }
}

/// Nitrogen of a plot, kg/ha a year.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Nitrogen {
    ways: [f64; 9],
    /// More in soil and plants at the end than at the start (less: below nought).
    pub stored: f64,
}

impl Nitrogen {
    /// The flows that are read.
    pub(super) fn flows() -> FlowSet {
        let ways = Way::IN.into_iter().chain(Way::OUT);
        ways.fold(FlowSet::NONE, |all, way| all.union(FlowSet::of(way.flows())))
    }

    pub(super) fn of(run: &RunView, plot: usize, stock_at_start: f64, years: f64) -> Self {
        let area = run.world.site.plots[plot].area_m2;
        let mut ways = [0.0; 9];
        for way in Way::IN.into_iter().chain(Way::OUT) {
            let zone = |(here, zone, _): (f64, usize, &_)| {
                way.flows().iter().map(|&flow| run.flow(zone, flow) * here / area).sum::<f64>()
            };
            ways[way as usize] = zones(run, plot).map(zone).sum::<f64>() / years;
        }
        Self { ways, stored: (stock(run, plot) - stock_at_start) / years }
    }

    /// Amount of a way.
    #[must_use]
    pub fn get(&self, way: Way) -> f64 {
        self.ways[way as usize]
    }

    /// Weighted mean of several; nought of none.
    #[must_use]
    pub fn mean(all: &[(Nitrogen, f64)]) -> Nitrogen {
        let whole: f64 = all.iter().map(|(_, weight)| weight).sum();
        let mut mean = Nitrogen::default();
        for (one, weight) in all {
            let share = weight / whole;
            mean.ways.iter_mut().zip(one.ways).for_each(|(total, value)| *total += share * value);
            mean.stored += share * one.stored;
        }
        mean
    }
}

/// Nitrogen in soil and plants of a plot, kg/ha.
pub(super) fn stock(run: &RunView, plot: usize) -> f64 {
    let world = run.world;
    let zones = world.plan.plots[plot].zones.clone();
    let sum: f64 = zones.map(|zone| world.plan.zones[zone].area_m2 * zone_stock(run, zone)[Currency::N as usize]).sum();
    sum / world.site.plots[plot].area_m2
}
