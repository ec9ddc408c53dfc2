//! A party: birds that go through the same gates. The flock is one; every group in isolation is another.
//!
//! # Formulas
//!
//! ```text
//! birds that go out = Σ number · ranging_share · min(1, (birds / ranging_flock)^−ranging_exponent)
//! green, wants, scratched, insects, seeds, slugs, trodden = Σ going out · that of the class / birds that go out     per bird-day
//! wants of a class  = green_intake · grass_taste, broadleaf_taste and fruit_taste
//! search for a pest = Σ going out · min(that of the pest, scratching or insect_search of the class) / birds that go out
//! metabolic mass W^0.75, gain, eggs, space of the rule = Σ number · that of the class                 a day, all birds
//! protein of the feed = Σ number · need · protein_share / Σ number · need                            share
//! droppings         = Σ of the groups', as their last day left them (excretion.rs)                    a day, all birds
//! infection         = Σ number · infection / birds
//! ```
//!
//! In the soil birds search no more than they scratch; for adults leaving it and larvae dropping no more than they
//! search for insects.
//!
//! # Source
//!
//! Sums and means over birds. Fewer of a large flock out: Bubier & Bradshaw 1998, Br. Poult. Sci. 39 S5 (from memory), in
//! line with Larsen et al. 2017, Animals 7:21; form ours. Numbers by class: space Reg. (EC) 889/2008 Annex III;
//! scratching and search calibrated.
//!
//! # Limits
//!
//! All birds of a party are out alike, whatever their class. Trees and hedges, which draw more of a large flock out, do
//! not count.
//!
//! # Parameters
//!
//! ```text
//! BirdParams  ranging_share [-], green_intake [g/d], grass_taste [-], broadleaf_taste [-], fruit_taste [-],
//!              scratching [m2/bird-day], insect_search [m2/bird-day],
//!              seed_search [m2/bird-day], slug_search [m2/bird-day], treading [m2/bird-day], protein_share [-],
//!              body_mass [kg], maintenance [-], gain [g/d], egg_mass [g/d], space_rule [m2]
//! PestParams  search_soil [m2/bird-day], search_emerging [m2/bird-day], search_dropping [m2/bird-day]
//! ProcessParams  ranging_flock [1], ranging_exponent [-]
//! ```

use crate::flock::energy::{metabolic_mass, need_of_metabolic_mass};
use crate::flock::excretion::Droppings;
use crate::math::pow;
use crate::plot::bites::Wants;
use crate::simd::soa::soa;
use crate::site::{Group, Quarters, Site};
use crate::species::ProcessParams;

/// A group as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GroupState {
    /// On the site.
    pub present: bool,
    /// Where it is in isolation.
    pub isolated_in: Option<Quarters>,
    /// Infection, relative.
    pub infection: f64,
    /// Index into the site's birds: its own class, or that of the group it joined.
    pub class: usize,
    /// What it will drop today, g: its share of what its party ate yesterday.
    pub droppings: Droppings,
}

impl GroupState {
    /// The state of a group before the run.
    #[must_use]
    pub fn before(group: &Group) -> Self {
        Self {
            present: false,
            isolated_in: None,
            infection: group.infection,
            class: group.class,
            droppings: Droppings::default(),
        }
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

soa! { PestSearch { soil, emerging, dropping } }

/// Sums and means over the birds of a party.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Party {
    /// Where it is kept in isolation; `None`: the flock.
    pub confined_to: Option<Quarters>,
    /// Birds.
    pub birds: f64,
    /// Birds that go out on a day.
    pub ranging: f64,
    /// Means per bird-day outdoors: green g, then m² scratched, searched for insects, seeds, trodden.
    pub green: f64,
    /// Green times the taste for each kind of food, g.
    pub wants: Wants,
    /// m² scratched per bird-day.
    pub scratched: f64,
    /// m² searched for insects per bird-day.
    pub insects: f64,
    /// m² cleared of seed per bird-day.
    pub seeds: f64,
    /// m² cleared of slugs that are out per bird-day.
    pub slugs: f64,
    /// m² trodden per bird-day.
    pub trodden: f64,
    /// Droppings of all birds today, g.
    pub droppings: Droppings,
    /// Mean infection.
    pub infection: f64,
    /// Σ W^0.75 of all birds, kg^0.75.
    pub metabolic_mass: f64,
    /// Gain of all birds, g/d.
    pub gain_g: f64,
    /// Eggs of all birds, g/d.
    pub egg_g: f64,
    /// The same three sums, each class by the protein share of its feed.
    protein: [f64; 3],
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
            if groups[index].present && belongs(index) {
                self.add(site, group.number, &groups[index]);
            }
        }
        if self.ranging > 0.0 {
            let each = 1.0 / self.ranging;
            let means = [
                &mut self.green,
                &mut self.scratched,
                &mut self.insects,
                &mut self.seeds,
                &mut self.slugs,
                &mut self.trodden,
            ];
            for sum in means {
                *sum *= each;
            }
            self.wants = self.wants.times(each);
            for search in &mut self.pests {
                search.soil *= each;
                search.emerging *= each;
                search.dropping *= each;
            }
        }
        if self.birds > 0.0 {
            self.infection /= self.birds;
            self.ranging *= share_of_large_flock(&site.process, self.birds);
        }
    }

    /// Energy all birds need at this temperature, kcal a day.
    #[must_use]
    pub fn need_kcal(&self, temperature_c: f64) -> f64 {
        need_of_metabolic_mass(self.metabolic_mass, temperature_c, self.gain_g, self.egg_g)
    }

    /// Protein of their feed, each class by its need.
    #[must_use]
    pub fn feed_protein(&self, temperature_c: f64) -> f64 {
        let [mass, gain, eggs] = self.protein;
        let need = self.need_kcal(temperature_c);
        if need > 0.0 { need_of_metabolic_mass(mass, temperature_c, gain, eggs) / need } else { 0.0 }
    }

    fn add(&mut self, site: &Site, number: f64, group: &GroupState) {
        let params = &site.birds[group.class].params;
        let ranging = number * params.ranging_share;
        self.birds += number;
        self.ranging += ranging;
        let green = ranging * params.green_intake;
        self.green += green;
        self.wants.join(&Wants {
            grass: green * params.grass_taste,
            broadleaf: green * params.broadleaf_taste,
            fruit: green * params.fruit_taste,
        });
        self.scratched += ranging * params.scratching;
        self.insects += ranging * params.insect_search;
        self.seeds += ranging * params.seed_search;
        self.slugs += ranging * params.slug_search;
        self.trodden += ranging * params.treading;
        self.droppings = self.droppings.plus(&group.droppings);
        self.infection += number * group.infection;
        let (mass, gain, eggs) = (number * metabolic_mass(params), number * params.gain, number * params.egg_mass);
        self.metabolic_mass += mass;
        self.gain_g += gain;
        self.egg_g += eggs;
        for (sum, of_class) in self.protein.iter_mut().zip([mass, gain, eggs]) {
            *sum += params.protein_share * of_class;
        }
        self.space_rule_m2 += number * params.space_rule;
        for (search, pest) in self.pests.iter_mut().zip(&site.pests) {
            let p = &pest.params;
            // Birds find in the soil only what they scratch up.
            search.soil += ranging * p.search_soil.min(params.scratching);
            search.emerging += ranging * p.search_emerging.min(params.insect_search);
            search.dropping += ranging * p.search_dropping.min(params.insect_search);
        }
    }
}

/// Share of those who would go out from a small flock that do so from a flock of so many birds.
#[must_use]
pub fn share_of_large_flock(p: &ProcessParams, birds: f64) -> f64 {
    if birds > p.ranging_flock { pow(birds / p.ranging_flock, -p.ranging_exponent) } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::species::{BirdClass, BirdParams};
    use crate::testing::{garden_site, layer, near, same};

    /// Ten layers, four pullets that grow by 10 g a day, and six geese that hardly scratch.
    fn mixed_flock() -> Site {
        let mut site = garden_site();
        let of_layer = layer().params;
        let pullet = BirdParams {
            body_mass: 1.2,
            egg_mass: 0.0,
            gain: 10.0,
            green_intake: 18.0,
            scratching: 1.4,
            ..of_layer.clone()
        };
        let goose = BirdParams {
            body_mass: 5.0,
            maintenance: 1.0,
            egg_mass: 0.0,
            gain: 0.0,
            green_intake: 150.0,
            grass_taste: 1.2,
            broadleaf_taste: 0.5,
            fruit_taste: 0.0,
            scratching: 0.1,
            insect_search: 0.3,
            seed_search: 0.2,
            slug_search: 0.1,
            protein_share: 0.15,
            ranging_share: 1.0,
            treading: 1.5,
            space_rule: 15.0,
        };
        let class = |name: &str, params: BirdParams| BirdClass { name: name.into(), params };
        site.birds = vec![layer(), class("pullet", pullet), class("goose", goose)];
        let group = |class: usize, number: f64, infection: f64| Group {
            name: site.birds[class].name.clone(),
            class,
            number,
            arrive: None,
            leave: None,
            isolate: None,
            joins: None,
            infection,
        };
        site.groups = vec![group(0, 10.0, 1.0), group(1, 4.0, 0.5), group(2, 6.0, 0.0)];
        site
    }

    fn counted(site: &Site, belongs: impl Fn(usize) -> bool) -> Party {
        let droppings = Droppings { n: 2.0, p: 0.5, solids: 30.0 };
        let here = |group: &Group| GroupState { present: true, droppings, ..GroupState::before(group) };
        let groups: Vec<GroupState> = site.groups.iter().map(here).collect();
        let mut party = Party::empty(site);
        party.confined_to = Some(Quarters::Plot(7));
        party.recount(site, &groups, belongs);
        party
    }

    /// A party of one class has the class's numbers per bird-day, and the sums of its birds.
    #[test]
    fn a_party_of_layers_is_so_many_layers() {
        let site = mixed_flock();
        let party = counted(&site, |group| group == 0);
        let params = &site.birds[0].params;
        assert_eq!((party.birds, party.confined_to, party.infection), (10.0, Some(Quarters::Plot(7)), 1.0));
        same(party.ranging, 9.5);
        let each = [
            (party.green, params.green_intake),
            (party.wants.grass, params.green_intake),
            (party.scratched, params.scratching),
            (party.insects, params.insect_search),
            (party.seeds, params.seed_search),
            (party.slugs, params.slug_search),
            (party.trodden, params.treading),
            (party.feed_protein(12.0), params.protein_share),
            (party.droppings.n / 10.0, 0.2),
            (party.droppings.p / 10.0, 0.05),
            (party.droppings.solids / 10.0, 3.0),
            (party.egg_g / 10.0, params.egg_mass),
            (party.space_rule_m2 / 10.0, params.space_rule),
        ];
        each.iter().for_each(|(got, want)| same(*got, *want));
        // NRC 1994, W^0.75 of 1.8 kg.
        near(party.metabolic_mass, 15.5401, 1e-4);
    }

    /// A hen alone in isolation goes out on 19 days in 20; what a bird-day of hers does is what any layer's does.
    #[test]
    fn one_hen_is_a_party_too() {
        let mut site = mixed_flock();
        site.groups[0].number = 1.0;
        let party = counted(&site, |group| group == 0);
        same(party.ranging, 0.95);
        same(party.green, 28.0);
        let PestSearch { soil, emerging, dropping } = party.pests[0];
        [(soil, 1.2), (emerging, 0.4), (dropping, 1.0)].iter().for_each(|(is, want)| same(*is, *want));
    }

    /// Means per bird-day weigh classes by the birds that go out, sums by all birds.
    #[test]
    fn classes_weigh_by_their_birds() {
        let site = mixed_flock();
        let party = counted(&site, |_| true);
        let out = [9.5, 3.8, 6.0];
        same(party.birds, 20.0);
        same(party.ranging, 19.3);
        let mean = |of: fn(&BirdParams) -> f64| {
            site.birds.iter().zip(out).map(|(class, out)| of(&class.params) * out).sum::<f64>() / 19.3
        };
        same(party.green, mean(|params| params.green_intake));
        same(party.wants.grass, mean(|params| params.green_intake * params.grass_taste));
        same(party.wants.broadleaf, mean(|params| params.green_intake * params.broadleaf_taste));
        same(party.wants.fruit, mean(|params| params.green_intake * params.fruit_taste));
        same(party.scratched, mean(|params| params.scratching));
        same(party.insects, mean(|params| params.insect_search));
        same(party.seeds, mean(|params| params.seed_search));
        same(party.slugs, mean(|params| params.slug_search));
        same(party.trodden, mean(|params| params.treading));
        assert_eq!(party.droppings, Droppings { n: 6.0, p: 1.5, solids: 90.0 });
        let by_need: Vec<(f64, f64)> = site
            .groups
            .iter()
            .map(|group| (group.number, &site.birds[group.class].params))
            .map(|(n, class)| (n * class.protein_share, n, class))
            .map(|(protein, n, class)| {
                let need = need_of_metabolic_mass(metabolic_mass(class), 12.0, class.gain, class.egg_mass);
                (protein * need, n * need)
            })
            .collect();
        let (protein, need) = by_need.iter().fold((0.0, 0.0), |(a, b), (protein, need)| (a + protein, b + need));
        same(party.feed_protein(12.0), protein / need);
        same(party.egg_g, 500.0);
        same(party.gain_g, 40.0);
        same(party.space_rule_m2, 14.0 * 4.0 + 90.0);
        same(party.infection, (10.0 + 2.0) / 20.0);
        same(
            party.metabolic_mass,
            site.groups.iter().map(|group| group.number * metabolic_mass(&site.birds[group.class].params)).sum(),
        );
    }

    /// Birds that grow need more feed: 5.5 kcal a g of gain (NRC 1994).
    #[test]
    fn growing_birds_need_more() {
        let mut site = mixed_flock();
        let need = |party: &Party| need_of_metabolic_mass(party.metabolic_mass, 15.0, party.gain_g, party.egg_g);
        let growing = need(&counted(&site, |_| true));
        site.birds[1].params.gain = 0.0;
        near(growing - need(&counted(&site, |_| true)), 40.0 * 5.5, 1e-9);
    }

    /// Search for a pest (1.2 soil, 0.4 rising, 1.0 dropping) is held to what a class scratches and searches at all.
    #[test]
    fn a_goose_digs_no_pupae() {
        let site = mixed_flock();
        let search = |party: &Party| [party.pests[0].soil, party.pests[0].emerging, party.pests[0].dropping];
        assert_eq!(search(&counted(&site, |group| group == 0)), [1.2, 0.4, 1.0]);
        search(&counted(&site, |group| group == 2))
            .iter()
            .zip([0.1, 0.3, 0.3])
            .for_each(|(got, want)| same(*got, want));
        let mixed = search(&counted(&site, |group| group != 1));
        mixed.iter().zip([1.2 * 9.5 + 0.6, 0.4 * 9.5 + 1.8, 9.5 + 1.8]).for_each(|(got, want)| same(*got, want / 15.5));
    }

    /// Only those that are here and belong are counted, anew each time; a group counts as the class it stands as.
    #[test]
    fn a_recount_forgets_who_left() {
        let site = mixed_flock();
        let mut groups: Vec<GroupState> = site.groups.iter().map(GroupState::before).collect();
        assert_eq!(
            (groups[1].present, groups[1].isolated_in, groups[1].infection, groups[1].class),
            (false, None, 0.5, 1)
        );
        let mut party = counted(&site, |_| true);
        party.recount(&site, &groups, |_| true);
        assert_eq!(party, Party { confined_to: Some(Quarters::Plot(7)), ..Party::empty(&site) });
        // Pullets that have come into lay are layers.
        groups[1] = GroupState { present: true, class: 0, ..groups[1] };
        party.recount(&site, &groups, |_| true);
        assert_eq!((party.birds, party.egg_g, party.gain_g), (4.0, 200.0, 0.0));
        party.recount(&site, &groups, |group| group != 1);
        assert_eq!(party.birds, 0.0);
    }

    /// Of 10 or 50 birds all go out that would; of 400, 8^−0.6 = 0.287 of these; what a bird-day takes stays the same.
    #[test]
    fn fewer_of_a_large_flock_go_out() {
        let mut site = garden_site();
        site.birds = vec![layer()];
        (site.process.ranging_flock, site.process.ranging_exponent) = (50.0, 0.6);
        let party = |number: f64| {
            let group = Group {
                name: "flock".into(),
                class: 0,
                number,
                arrive: None,
                leave: None,
                isolate: None,
                joins: None,
                infection: 1.0,
            };
            let mut site = site.clone();
            site.groups = vec![group.clone()];
            let mut party = Party::empty(&site);
            party.recount(&site, &[GroupState { present: true, ..GroupState::before(&group) }], |_| true);
            party
        };
        for (number, share) in [(10.0, 1.0), (50.0, 1.0), (400.0, 0.287_174_6), (490.0, 0.254_243)] {
            near(party(number).ranging, 0.95 * number * share, 1e-4 * number);
            same(party(number).green, 28.0);
        }
        // 42 % of 490 hens and 5-10 % of 1400-2500: the fall lies between.
        let fall = share_of_large_flock(&site.process, 1950.0) / share_of_large_flock(&site.process, 490.0);
        assert!((0.1..0.5).contains(&fall), "{fall}");
    }
}
