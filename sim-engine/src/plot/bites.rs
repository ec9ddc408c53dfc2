//! What birds do to a zone in a step: eat, scratch, disturb, tread, drop.
//!
//! Eaten of a guild = available × min(1, preference · c_max · δ / (Σ preference · available + H)):
//! demand, or all there is. Torn out = 1 − exp(−u · a_s · δ) of what is left. Guards
//! spare their share of the zone; stubble and rosettes are out of reach.

use crate::flows::Flow;
use crate::kinds::CropNumbers;
use crate::lanes::laned::laned;
use crate::lanes::{Mask, Real};
use crate::plot::look::Surroundings;
use crate::plot::{cover, dead_cover, nutrients, water};
use crate::state::{Creeper, KG_HA, Weed, Zone};

/// Birds on a zone in a step; areas are m² searched per m² of zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pressure<F = f64> {
    /// Bird-days per m².
    pub bird_days: F,
    /// Green food asked for, g/m².
    pub green: F,
    /// Scratched.
    pub scratched: F,
    /// Searched for insects.
    pub insects: F,
    /// Searched for seed.
    pub seeds: F,
    /// Trodden.
    pub trodden: F,
    /// Nitrogen dropped, kg/ha.
    pub n: F,
    /// Phosphorus dropped, kg/ha.
    pub p: F,
    /// Worm eggs shed per m².
    pub shed: F,
    /// Area from which worm eggs are taken up.
    pub uptake: F,
}

laned! {
    Pressure { bird_days, green, scratched, insects, seeds, trodden, n, p, shed, uptake }
}

impl<F: Real> Pressure<F> {
    /// The same birds for a share of the day, or more densely.
    #[inline(always)]
    #[must_use]
    pub fn times(&self, factor: F) -> Self {
        Self {
            bird_days: self.bird_days * factor,
            green: self.green * factor,
            scratched: self.scratched * factor,
            insects: self.insects * factor,
            seeds: self.seeds * factor,
            trodden: self.trodden * factor,
            n: self.n * factor,
            p: self.p * factor,
            shed: self.shed * factor,
            uptake: self.uptake * factor,
        }
    }
}

impl Pressure {
    /// Other birds come to these.
    pub(crate) fn join(&mut self, others: &Self) {
        let sums = [
            (&mut self.bird_days, others.bird_days),
            (&mut self.green, others.green),
            (&mut self.scratched, others.scratched),
            (&mut self.insects, others.insects),
            (&mut self.seeds, others.seeds),
            (&mut self.trodden, others.trodden),
            (&mut self.n, others.n),
            (&mut self.p, others.p),
            (&mut self.shed, others.shed),
            (&mut self.uptake, others.uptake),
        ];
        for (sum, more) in sums {
            *sum += more;
        }
    }
}

/// What birds got from a zone in a step, g/m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Meal<F = f64> {
    /// Green: cover, weeds, crop.
    pub green: F,
    /// Residue, fruit and seed.
    pub other: F,
    /// Insects and worms.
    pub insects: F,
}

impl<F: Real> Meal<F> {
    /// Nothing; `zero` is 0 in every lane.
    #[inline(always)]
    #[must_use]
    pub fn none(zero: F) -> Self {
        Self { green: zero, other: zero, insects: zero }
    }

    /// Adds a meal times a factor.
    #[inline(always)]
    pub fn add(&mut self, meal: &Self, factor: F) {
        self.green += meal.green * factor;
        self.other += meal.other * factor;
        self.insects += meal.insects * factor;
    }
}

/// How the demand is met: the same share of preference-weighted food everywhere.
struct Table<F> {
    asked_per_preference: F,
    exposed: F,
}

impl<F: Real> Table<F> {
    /// What of `mass` is within reach, and what of that is eaten.
    #[inline(always)]
    fn eaten(&self, mass: F, out_of_reach: F, preference: F) -> (F, F) {
        let within = (mass - out_of_reach).or_zero() * self.exposed;
        (within, within * self.share(preference))
    }

    /// Share eaten of what is within reach.
    #[inline(always)]
    fn share(&self, preference: F) -> F {
        (preference * self.asked_per_preference).up_to_one()
    }
}

/// Applies the birds' step. `exposed` is the share of the zone guards leave open.
#[inline(always)]
pub fn take<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    birds: &Pressure<F>,
    exposed: F,
    around: &Surroundings<F>,
) -> Meal<F> {
    let table = Table {
        asked_per_preference: birds.green
            / (appetite(zone, weeds, creepers, exposed, around) + around.process.intake_half),
        exposed,
    };
    let mut meal = Meal::none(around.zero());
    bite_cover(zone, &table, birds, around, &mut meal);
    bite_weeds(zone, weeds, creepers, &table, birds, around, &mut meal);
    bite_crop(zone, &table, birds, around, &mut meal);
    bite_leftovers(zone, &table, birds, around, &mut meal);
    let insects = zone.insects * birds.insects.lost() * exposed;
    zone.insects -= insects;
    zone.flows.add(Flow::EatenInsects, insects);
    meal.insects = insects;
    disturb(zone, birds, exposed, around);
    nutrients::receive_droppings(zone, birds.n, birds.p, around.process);
    meal
}

/// Σ preference × available over all guilds, g/m².
#[inline(always)]
fn appetite<F: Real>(
    zone: &Zone<F>,
    weeds: &[Weed<F>],
    creepers: &[Creeper<F>],
    exposed: F,
    around: &Surroundings<F>,
) -> F {
    let n = around.cover;
    let mut sum = n.preference * (zone.cover - n.out_of_reach).or_zero();
    for (weed, &(kind, _)) in weeds.iter().zip(&around.plot.weeds) {
        let w = &around.weeds[kind];
        sum += w.preference * (weed.mass() - w.out_of_reach).or_zero();
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&around.plot.creepers) {
        let c = &around.creepers[kind];
        sum += c.preference * (creeper.shoots - c.out_of_reach).or_zero();
    }
    if let Some(crop) = &around.crop {
        sum += crop.numbers.preference * zone.crop;
    }
    sum += residue_preference(around) * zone.residue + zone.fruit;
    sum * exposed
}

#[inline(always)]
fn bite_cover<F: Real>(
    zone: &mut Zone<F>,
    table: &Table<F>,
    birds: &Pressure<F>,
    around: &Surroundings<F>,
    meal: &mut Meal<F>,
) {
    let n = around.cover;
    let start = zone.cover;
    let grows = start.above(0.0);
    if !grows.any() {
        cover::set_back(zone, start.zero(), birds.scratched * table.exposed, n);
        return;
    }
    let (within, eaten) = table.eaten(start, n.out_of_reach, n.preference);
    let torn = (within - eaten) * (n.scratch_loss * birds.scratched).lost();
    zone.cover -= eaten + torn;
    dead_cover::add(zone, torn, n.nitrogen_content, n.phosphorus_content);
    book_eaten(zone, Flow::EatenCover, eaten, n.nitrogen_content, n.phosphorus_content);
    meal.green += eaten;
    cover::set_back(zone, ((eaten + torn) / start).where_(grows), birds.scratched * table.exposed, n);
}

#[inline(always)]
fn bite_weeds<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    table: &Table<F>,
    birds: &Pressure<F>,
    around: &Surroundings<F>,
    meal: &mut Meal<F>,
) {
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&around.plot.weeds) {
        let n = &around.weeds[kind];
        let mass = weed.mass();
        let grows = mass.above(0.0);
        if grows.any() {
            let reached = ((mass - n.out_of_reach).or_zero() / mass).where_(grows) * table.exposed;
            let bitten = reached * table.share(n.preference);
            let eaten = mass * bitten;
            // Of each age the same share is eaten. Scratching spares what is out of reach of
            // older plants, their flat rosettes and stems; seedlings have none and are all uprooted
            // (sparing them too let a few g/m² through every stay, and the weeds came back).
            let older = (reached - bitten) * (n.scratch_loss * birds.scratched).lost();
            let young = (table.exposed - bitten) * (n.scratch_loss_young * birds.scratched).lost();
            let torn_share = [young, older, older];
            let mut torn = around.zero();
            for (age, share) in weed.ages.iter_mut().zip(torn_share) {
                torn += *age * share;
                *age *= bitten.rest() - share;
            }
            dead_cover::add(zone, torn, n.nitrogen_content, n.phosphorus_content);
            book_eaten(zone, Flow::EatenWeeds, eaten, n.nitrogen_content, n.phosphorus_content);
            meal.green += eaten;
        }
        let seeds = weed.surface * birds.seeds.lost() * table.exposed;
        weed.surface -= seeds;
        zone.flows.add(Flow::SeedsEaten, seeds);
        meal.other += seeds * n.seed_mass;
        // Scratching brings seed up to where it is found.
        let up = weed.deep * n.surface_share * birds.scratched.lost() * table.exposed;
        weed.deep -= up;
        weed.surface += up;
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&around.plot.creepers) {
        let n = &around.creepers[kind];
        let (within, eaten) = table.eaten(creeper.shoots, n.out_of_reach, n.preference);
        let torn = (within - eaten) * (n.scratch_loss * birds.scratched).lost();
        creeper.shoots -= eaten + torn;
        dead_cover::add(zone, torn, n.nitrogen_content, n.phosphorus_content);
        book_eaten(zone, Flow::EatenWeeds, eaten, n.nitrogen_content, n.phosphorus_content);
        meal.green += eaten;
    }
}

#[inline(always)]
fn bite_crop<F: Real>(
    zone: &mut Zone<F>,
    table: &Table<F>,
    birds: &Pressure<F>,
    around: &Surroundings<F>,
    meal: &mut Meal<F>,
) {
    let Some(crop) = &around.crop else { return };
    let n = crop.numbers;
    let (within, eaten) = table.eaten(zone.crop, zone.crop.zero(), n.preference);
    let torn = (within - eaten) * (n.scratch_loss * birds.scratched).lost();
    let (n_content, p_content) = (n.nitrogen_content, n.phosphorus_content);
    zone.crop -= eaten + torn;
    zone.crop_lost += eaten + torn;
    dead_cover::add(zone, torn, n_content, p_content);
    book_eaten(zone, Flow::EatenCrop, eaten, n_content, p_content);
    meal.green += eaten;
}

/// Residue of the ground's last crop, fruit on the ground, and the dead cover stirred in.
#[inline(always)]
fn bite_leftovers<F: Real>(
    zone: &mut Zone<F>,
    table: &Table<F>,
    birds: &Pressure<F>,
    around: &Surroundings<F>,
    meal: &mut Meal<F>,
) {
    let lies = zone.residue.above(0.0);
    if lies.any() {
        let (within, eaten) = table.eaten(zone.residue, zone.residue.zero(), residue_preference(around));
        let share = (eaten / zone.residue).where_(lies);
        let (n, p) = (zone.residue_n * share, zone.residue_p * share);
        let left = (zone.residue - eaten).max(eaten.of(f64::MIN_POSITIVE));
        let torn = (within - eaten) * (residue_scratch(around) * birds.scratched).lost() / left;
        zone.residue -= eaten;
        zone.residue_n -= n;
        zone.residue_p -= p;
        zone.flows.add(Flow::EatenResidue, eaten);
        zone.flows.add(Flow::EatenN, n);
        zone.flows.add(Flow::EatenP, p);
        dead_cover::lay_down_residue(zone, torn.up_to_one());
        meal.other += eaten;
    }
    if let Some(canopy) = around.canopy {
        let (_, eaten) = table.eaten(zone.fruit, zone.fruit.zero(), zone.fruit.of(1.0));
        zone.fruit -= eaten;
        book_eaten(zone, Flow::EatenFruit, eaten, canopy.nitrogen_content, canopy.phosphorus_content);
        meal.other += eaten;
    }
    dead_cover::mix_in(zone, (around.process.mix_in * birds.scratched).lost() * table.exposed);
}

/// Residue is taken as the last crop of this ground is.
#[inline(always)]
fn residue_preference<F: Real>(around: &Surroundings<F>) -> F {
    match last_crop(around) {
        Some(n) => n.residue_preference,
        None => around.zero().of(1.0),
    }
}

#[inline(always)]
fn residue_scratch<F: Real>(around: &Surroundings<F>) -> F {
    match last_crop(around) {
        Some(n) => n.residue_scratch_loss,
        None => around.zero(),
    }
}

#[inline(always)]
fn last_crop<'a, F: Real>(around: &Surroundings<'a, F>) -> Option<&'a CropNumbers<F>> {
    let plan = around.plot.grounds[around.here.ground].crops.first()?;
    Some(&around.crops[plan.crop])
}

#[inline(always)]
fn book_eaten<F: Real>(zone: &mut Zone<F>, flow: Flow, mass: F, n_content: F, p_content: F) {
    zone.flows.add(flow, mass);
    zone.flows.add(Flow::EatenN, mass * n_content * KG_HA);
    zone.flows.add(Flow::EatenP, mass * p_content * KG_HA);
}

/// Scratched, thrown out, trodden firm where wet.
#[inline(always)]
fn disturb<F: Real>(zone: &mut Zone<F>, birds: &Pressure<F>, exposed: F, around: &Surroundings<F>) {
    let scratched = birds.scratched.lost() * exposed;
    zone.disturbed += zone.disturbed.rest() * scratched;
    if around.here.bed {
        zone.thrown += around.process.soil_thrown * scratched;
    }
    let wet = water::wetness(zone, around.here);
    zone.firm += zone.firm.rest() * (birds.trodden * wet).lost() * exposed;
}
