//! What birds do to a zone in a step: eat, scratch, disturb, tread, drop.
//!
//! Eaten of a guild = available × min(1, preference · c_max · δ / (Σ preference · available + H)):
//! demand, or all there is. Torn out = 1 − exp(−u · a_s · δ) of what is left. Guards
//! spare their share of the zone; stubble and rosettes are out of reach.

use crate::flows::Flow;
use crate::math::lost;
use crate::plot::look::Surroundings;
use crate::plot::{cover, dead_cover, nutrients, water};
use crate::state::{Creeper, KG_HA, Weed, Zone};

/// Birds on a zone in a step; areas are m² searched per m² of zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pressure {
    /// Bird-days per m².
    pub bird_days: f64,
    /// Green food asked for, g/m².
    pub green: f64,
    /// Scratched.
    pub scratched: f64,
    /// Searched for insects.
    pub insects: f64,
    /// Searched for seed.
    pub seeds: f64,
    /// Trodden.
    pub trodden: f64,
    /// Nitrogen dropped, kg/ha.
    pub n: f64,
    /// Phosphorus dropped, kg/ha.
    pub p: f64,
    /// Worm eggs shed per m².
    pub shed: f64,
    /// Area from which worm eggs are taken up.
    pub uptake: f64,
}

impl Pressure {
    /// The same birds for a share of the day, or more densely.
    #[inline]
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
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

/// What birds got from a zone in a step, g/m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Meal {
    /// Green: cover, weeds, crop.
    pub green: f64,
    /// Residue, fruit and seed.
    pub other: f64,
    /// Insects and worms.
    pub insects: f64,
}

/// How the demand is met: the same share of preference-weighted food everywhere.
struct Table {
    asked_per_preference: f64,
    exposed: f64,
}

impl Table {
    fn eaten(&self, mass: f64, out_of_reach: f64, preference: f64) -> (f64, f64) {
        let within = (mass - out_of_reach).max(0.0) * self.exposed;
        (within, within * (preference * self.asked_per_preference).min(1.0))
    }
}

/// Applies the birds' step. `exposed` is the share of the zone guards leave open.
#[inline]
pub fn take(
    zone: &mut Zone,
    weeds: &mut [Weed],
    creepers: &mut [Creeper],
    birds: &Pressure,
    exposed: f64,
    around: &Surroundings,
) -> Meal {
    let table = Table {
        asked_per_preference: birds.green
            / (appetite(zone, weeds, creepers, exposed, around) + around.process.intake_half),
        exposed,
    };
    let mut meal = Meal::default();
    bite_cover(zone, &table, birds, around, &mut meal);
    bite_weeds(zone, weeds, creepers, &table, birds, around, &mut meal);
    bite_crop(zone, &table, birds, around, &mut meal);
    bite_leftovers(zone, &table, birds, around, &mut meal);
    let insects = zone.insects * lost(birds.insects) * exposed;
    zone.insects -= insects;
    zone.flows.add(Flow::EatenInsects, insects);
    meal.insects = insects;
    disturb(zone, birds, exposed, around);
    nutrients::receive_droppings(zone, birds.n, birds.p, around.process);
    meal
}

/// Σ preference × available over all guilds, g/m².
fn appetite(zone: &Zone, weeds: &[Weed], creepers: &[Creeper], exposed: f64, around: &Surroundings) -> f64 {
    let n = around.cover;
    let mut sum = n.preference * (zone.cover - n.out_of_reach).max(0.0);
    for (weed, &(kind, _)) in weeds.iter().zip(&around.plot.weeds) {
        let w = &around.weeds[kind].numbers;
        sum += w.preference * (weed.mass() - w.out_of_reach).max(0.0);
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&around.plot.creepers) {
        let c = &around.creepers[kind].numbers;
        sum += c.preference * (creeper.shoots - c.out_of_reach).max(0.0);
    }
    if let Some(crop) = around.crop_of(zone) {
        sum += crop.numbers.preference * zone.crop;
    }
    sum += residue_preference(around) * zone.residue + zone.fruit;
    sum * exposed
}

fn bite_cover(zone: &mut Zone, table: &Table, birds: &Pressure, around: &Surroundings, meal: &mut Meal) {
    let n = around.cover;
    let start = zone.cover;
    if start <= 0.0 {
        cover::set_back(zone, 0.0, birds.scratched * table.exposed, n);
        return;
    }
    let (within, eaten) = table.eaten(start, n.out_of_reach, n.preference);
    let torn = (within - eaten) * lost(n.scratch_loss * birds.scratched);
    zone.cover -= eaten + torn;
    dead_cover::add(zone, torn, n.nitrogen_content, n.phosphorus_content);
    book_eaten(zone, Flow::EatenCover, eaten, n.nitrogen_content, n.phosphorus_content);
    meal.green += eaten;
    cover::set_back(zone, (eaten + torn) / start, birds.scratched * table.exposed, n);
}

fn bite_weeds(
    zone: &mut Zone,
    weeds: &mut [Weed],
    creepers: &mut [Creeper],
    table: &Table,
    birds: &Pressure,
    around: &Surroundings,
    meal: &mut Meal,
) {
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&around.plot.weeds) {
        let n = &around.weeds[kind].numbers;
        let mass = weed.mass();
        if mass > 0.0 {
            let (within, eaten) = table.eaten(mass, n.out_of_reach, n.preference);
            // Of each age the same share is eaten. Scratching spares what is out of reach of
            // older plants, their flat rosettes and stems; seedlings have none and are all uprooted
            // (sparing them too let a few g/m² through every stay, and the weeds came back).
            let (reached, bitten) = (within / mass, eaten / mass);
            let torn = |reached: f64, u: f64| (reached - bitten) * lost(u * birds.scratched);
            let older = torn(reached, n.scratch_loss);
            let torn_share = [torn(table.exposed, n.scratch_loss_young), older, older];
            let mut torn = 0.0;
            for (age, share) in weed.ages.iter_mut().zip(torn_share) {
                torn += *age * share;
                *age *= 1.0 - bitten - share;
            }
            dead_cover::add(zone, torn, n.nitrogen_content, n.phosphorus_content);
            book_eaten(zone, Flow::EatenWeeds, eaten, n.nitrogen_content, n.phosphorus_content);
            meal.green += eaten;
        }
        let seeds = weed.surface * lost(birds.seeds) * table.exposed;
        weed.surface -= seeds;
        zone.flows.add(Flow::SeedsEaten, seeds);
        meal.other += seeds * n.seed_mass;
        // Scratching brings seed up to where it is found.
        let up = weed.deep * n.surface_share * lost(birds.scratched) * table.exposed;
        weed.deep -= up;
        weed.surface += up;
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&around.plot.creepers) {
        let n = &around.creepers[kind].numbers;
        let (within, eaten) = table.eaten(creeper.shoots, n.out_of_reach, n.preference);
        let torn = (within - eaten) * lost(n.scratch_loss * birds.scratched);
        creeper.shoots -= eaten + torn;
        dead_cover::add(zone, torn, n.nitrogen_content, n.phosphorus_content);
        book_eaten(zone, Flow::EatenWeeds, eaten, n.nitrogen_content, n.phosphorus_content);
        meal.green += eaten;
    }
}

fn bite_crop(zone: &mut Zone, table: &Table, birds: &Pressure, around: &Surroundings, meal: &mut Meal) {
    let Some(crop) = around.crop_of(zone) else { return };
    let n = &crop.numbers;
    let (within, eaten) = table.eaten(zone.crop, 0.0, n.preference);
    let torn = (within - eaten) * lost(n.scratch_loss * birds.scratched);
    let (n_content, p_content) = (n.nitrogen_content, n.phosphorus_content);
    zone.crop -= eaten + torn;
    zone.crop_lost += eaten + torn;
    dead_cover::add(zone, torn, n_content, p_content);
    book_eaten(zone, Flow::EatenCrop, eaten, n_content, p_content);
    meal.green += eaten;
}

/// Residue of the ground's last crop, fruit on the ground, and the dead cover stirred in.
fn bite_leftovers(zone: &mut Zone, table: &Table, birds: &Pressure, around: &Surroundings, meal: &mut Meal) {
    if zone.residue > 0.0 {
        let (within, eaten) = table.eaten(zone.residue, 0.0, residue_preference(around));
        let share = eaten / zone.residue;
        let (n, p) = (zone.residue_n * share, zone.residue_p * share);
        let torn = (within - eaten) * lost(residue_scratch(around) * birds.scratched)
            / (zone.residue - eaten).max(f64::MIN_POSITIVE);
        zone.residue -= eaten;
        zone.residue_n -= n;
        zone.residue_p -= p;
        zone.flows.add(Flow::EatenResidue, eaten);
        zone.flows.add(Flow::EatenN, n);
        zone.flows.add(Flow::EatenP, p);
        dead_cover::lay_down_residue(zone, torn.min(1.0));
        meal.other += eaten;
    }
    if let Some(canopy) = around.canopy {
        let (_, eaten) = table.eaten(zone.fruit, 0.0, 1.0);
        zone.fruit -= eaten;
        book_eaten(zone, Flow::EatenFruit, eaten, canopy.numbers.nitrogen_content, canopy.numbers.phosphorus_content);
        meal.other += eaten;
    }
    dead_cover::mix_in(zone, lost(around.process.mix_in * birds.scratched) * table.exposed);
}

/// Residue is taken as the last crop of this ground is.
fn residue_preference(around: &Surroundings) -> f64 {
    last_crop(around).map_or(1.0, |n| n.residue_preference)
}

fn residue_scratch(around: &Surroundings) -> f64 {
    last_crop(around).map_or(0.0, |n| n.residue_scratch_loss)
}

fn last_crop<'a>(around: &'a Surroundings) -> Option<&'a crate::kinds::CropNumbers> {
    let plan = around.plot.grounds[around.here.ground].crops.first()?;
    Some(&around.crops[plan.crop].numbers)
}

#[inline]
fn book_eaten(zone: &mut Zone, flow: Flow, mass: f64, n_content: f64, p_content: f64) {
    zone.flows.add(flow, mass);
    zone.flows.add(Flow::EatenN, mass * n_content * KG_HA);
    zone.flows.add(Flow::EatenP, mass * p_content * KG_HA);
}

/// Scratched, thrown out, trodden firm where wet.
fn disturb(zone: &mut Zone, birds: &Pressure, exposed: f64, around: &Surroundings) {
    let scratched = lost(birds.scratched) * exposed;
    zone.disturbed += (1.0 - zone.disturbed) * scratched;
    if around.here.bed {
        zone.thrown += around.process.soil_thrown * scratched;
    }
    let wet = water::wetness(zone, around.here);
    zone.firm += (1.0 - zone.firm) * lost(birds.trodden * wet) * exposed;
}
