//! Where a plot's nitrogen came from and where it went, from the books.

use super::zones::zones;
use sim_engine::ledger::balance::zone_stock;
use sim_engine::ledger::flows::{Currency, Flow, FlowSet};
use sim_engine::run::recorder::RunView;

/// A way in or out, as a keeper would tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NitrogenPath {
    /// Droppings of the birds.
    Manure,
    /// Heap, compost and mulch.
    Brought,
    /// Fixed from the air by legumes.
    Fixed,
    /// Rain and dust.
    Rain,
    /// Planted, sown, seedlings, reserves of trees.
    Plants,
    /// Eaten by birds.
    Eaten,
    /// Harvested, cleared away, shed as seed, grown into wood.
    Harvested,
    /// Lost as ammonia and by denitrification.
    Air,
    /// Leached below the roots.
    Leached,
}

impl NitrogenPath {
    /// Ways in, in the order of pictures.
    pub const IN: [NitrogenPath; 5] =
        [NitrogenPath::Manure, NitrogenPath::Brought, NitrogenPath::Fixed, NitrogenPath::Rain, NitrogenPath::Plants];
    /// Ways out, in the order of pictures.
    pub const OUT: [NitrogenPath; 4] =
        [NitrogenPath::Eaten, NitrogenPath::Harvested, NitrogenPath::Air, NitrogenPath::Leached];

    /// In a keeper's words.
    #[must_use]
    pub fn plain(self) -> &'static str {
        match self {
            NitrogenPath::Manure => "droppings",
            NitrogenPath::Brought => "heap, compost, mulch",
            NitrogenPath::Fixed => "fixed by clover and kin",
            NitrogenPath::Rain => "rain",
            NitrogenPath::Plants => "sown, planted, fallen leaves",
            NitrogenPath::Eaten => "eaten by birds",
            NitrogenPath::Harvested => "harvested, cleared, shed, wood",
            NitrogenPath::Air => "lost to the air",
            NitrogenPath::Leached => "leached",
        }
    }

    fn flows(self) -> &'static [Flow] {
        match self {
            NitrogenPath::Manure => &[Flow::ManureN],
            NitrogenPath::Brought => &[Flow::HeapN, Flow::BroughtN],
            NitrogenPath::Fixed => &[Flow::FixedN],
            NitrogenPath::Rain => &[Flow::RainN],
            NitrogenPath::Plants => &[Flow::PlantedN, Flow::SeedlingN, Flow::CanopyN],
            NitrogenPath::Eaten => &[Flow::EatenN],
            NitrogenPath::Harvested => &[Flow::HarvestN, Flow::ClearedN, Flow::SeedN, Flow::WoodN],
            NitrogenPath::Air => &[Flow::VolatilisedN, Flow::DenitrifiedN],
            NitrogenPath::Leached => &[Flow::LeachedN],
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
        let ways = NitrogenPath::IN.into_iter().chain(NitrogenPath::OUT);
        ways.fold(FlowSet::NONE, |all, way| all.union(FlowSet::of(way.flows())))
    }

    pub(super) fn of(run: &RunView, plot: usize, stock_at_start: f64, years: f64) -> Self {
        let area = run.world.site.plots[plot].area_m2;
        let mut ways = [0.0; 9];
        for way in NitrogenPath::IN.into_iter().chain(NitrogenPath::OUT) {
            let zone = |(here, zone, _): (f64, usize, &_)| {
                way.flows().iter().map(|&flow| run.flow(zone, flow) * here / area).sum::<f64>()
            };
            ways[way as usize] = zones(run, plot).map(zone).sum::<f64>() / years;
        }
        Self { ways, stored: (stock(run, plot) - stock_at_start) / years }
    }

    /// Amount of a way.
    #[must_use]
    pub fn get(&self, way: NitrogenPath) -> f64 {
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
    let zones = world.constants.plots[plot].zones.clone();
    let sum: f64 =
        zones.map(|zone| world.constants.zones[zone].area_m2 * zone_stock(run, zone)[Currency::N as usize]).sum();
    sum / world.site.plots[plot].area_m2
}
