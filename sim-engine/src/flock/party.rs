//! A party: birds that go through the same gates. The flock is one; every group in
//! isolation is another.

use crate::flock::energy::metabolic_mass;
use crate::lanes::laned::laned;
use crate::site::{Group, Site};

/// A group as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroupState {
    /// On the site.
    pub here: bool,
    /// Plot of its isolation.
    pub isolated_in: Option<usize>,
    /// Infection, relative.
    pub infection: f64,
    /// Index into the site's birds: its own class, or that of the group it joined.
    pub class: usize,
}

impl GroupState {
    /// The state of a group before the run.
    #[must_use]
    pub fn before(group: &Group) -> Self {
        Self { here: false, isolated_in: None, infection: group.infection, class: group.class }
    }
}

/// How one bird-day of a party searches for one pest, m² per bird-day.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PestSearch<F = f64> {
    /// In the soil: never more than is scratched.
    pub soil: F,
    /// For adults leaving the soil.
    pub emerging: F,
    /// For larvae dropping.
    pub dropping: F,
}

laned! { PestSearch { soil, emerging, dropping } }

/// Sums and means over the birds of a party.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Party {
    /// Plot it is confined to; `None`: the flock.
    pub confined_to: Option<usize>,
    /// Birds.
    pub birds: f64,
    /// Birds that go out on a day.
    pub ranging: f64,
    /// Means per bird-day outdoors: green g, then m² scratched, searched for insects, seeds, trodden.
    pub green: f64,
    /// m² scratched per bird-day.
    pub scratched: f64,
    /// m² searched for insects per bird-day.
    pub insects: f64,
    /// m² cleared of seed per bird-day.
    pub seeds: f64,
    /// m² trodden per bird-day.
    pub trodden: f64,
    /// Droppings of all birds a day: nitrogen, g.
    pub n_g: f64,
    /// Phosphorus, g.
    pub p_g: f64,
    /// Dry matter, g.
    pub solids_g: f64,
    /// Mean infection.
    pub infection: f64,
    /// Σ W^0.75 of all birds, kg^0.75.
    pub metabolic_mass: f64,
    /// Gain of all birds, g/d.
    pub gain_g: f64,
    /// Eggs of all birds, g/d.
    pub egg_g: f64,
    /// Space the rule asks for all birds, m².
    pub space_rule_m2: f64,
    /// Search for each pest of the site.
    pub pests: Vec<PestSearch>,
}

impl Party {
    /// An empty party with room for the site's pests.
    #[must_use]
    pub fn empty(site: &Site) -> Self {
        Self { pests: vec![PestSearch::default(); site.pests.len()], ..Self::default() }
    }

    /// Recounts the party from the groups of which `belongs` holds.
    pub fn recount(&mut self, site: &Site, groups: &[GroupState], belongs: impl Fn(usize) -> bool) {
        let pests = core::mem::take(&mut self.pests);
        *self = Self { confined_to: self.confined_to, pests, ..Self::default() };
        self.pests.fill(PestSearch::default());
        for (index, group) in site.groups.iter().enumerate() {
            if groups[index].here && belongs(index) {
                self.add(site, group.number, &groups[index]);
            }
        }
        if self.ranging > 0.0 {
            let each = 1.0 / self.ranging;
            for sum in [&mut self.green, &mut self.scratched, &mut self.insects, &mut self.seeds, &mut self.trodden] {
                *sum *= each;
            }
            for search in &mut self.pests {
                search.soil *= each;
                search.emerging *= each;
                search.dropping *= each;
            }
        }
        if self.birds > 0.0 {
            self.infection /= self.birds;
        }
    }

    fn add(&mut self, site: &Site, number: f64, group: &GroupState) {
        let n = &site.birds[group.class].numbers;
        let ranging = number * n.ranging_share;
        self.birds += number;
        self.ranging += ranging;
        self.green += ranging * n.green_intake;
        self.scratched += ranging * n.scratching;
        self.insects += ranging * n.insect_search;
        self.seeds += ranging * n.seed_search;
        self.trodden += ranging * n.treading;
        self.n_g += number * n.nitrogen;
        self.p_g += number * n.phosphorus;
        self.solids_g += number * n.solids;
        self.infection += number * group.infection;
        self.metabolic_mass += number * metabolic_mass(n.body_mass);
        self.gain_g += number * n.gain;
        self.egg_g += number * n.egg_mass;
        self.space_rule_m2 += number * n.space_rule;
        for (search, pest) in self.pests.iter_mut().zip(&site.pests) {
            let p = &pest.numbers;
            // Birds find in the soil only what they scratch up.
            search.soil += ranging * p.search_soil.min(n.scratching);
            search.emerging += ranging * p.search_emerging.min(n.insect_search);
            search.dropping += ranging * p.search_dropping.min(n.insect_search);
        }
    }
}
