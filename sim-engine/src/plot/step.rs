//! The order of a step in a zone.
//!
//! 1. Look: all rates come from the state at the start of the step.
//! 2. Growth is proposed and nitrogen shared out: all growth scales by one factor.
//! 3. Birds eat, scratch and drop (from the state before growth).
//! 4. Growth is added; plants age, shed and die; the dead decay.
//! 5. Water, then turnover and losses of nutrients.
//! 6. Pests, worm eggs, insects.
//!
//! Eating before growing from what is left would shift the grazing equilibrium by 1.5–4 %.

use crate::plot::bites::{self, Meal, Pressure};
use crate::plot::look::{Look, Surroundings, see};
use crate::plot::nutrients::{self, Need};
use crate::plot::{cover, creepers as creeping, crops, dead_cover, insects, water, weeds as annual, worm_eggs};
use crate::state::{Creeper, Weed, Zone};

/// One step of everything in a zone but its pests; returns what birds ate, g/m².
#[inline]
pub fn step(
    zone: &mut Zone,
    weeds: &mut [Weed],
    creepers: &mut [Creeper],
    birds: Option<&Pressure>,
    exposed: f64,
    around: &Surroundings,
) -> Meal {
    let look = Look::at(zone, around);
    let mut grown = Grown::propose(zone, weeds, creepers, &look, around);
    let factor = nutrients::feed_growth(zone, &grown.need, around.plan.uptake_share);
    grown.scale(factor, weeds, creepers);
    let pressure = if zone.crop_standing.is_some() { weed_pressure(weeds, creepers, around) } else { 0.0 };
    let meal = match birds {
        Some(birds) => bites::take(zone, weeds, creepers, birds, exposed, around),
        None => Meal::default(),
    };
    zone.cover += grown.cover;
    cover::advance(zone, &look, around);
    for (i, weed) in weeds.iter_mut().enumerate() {
        let kind = around.plot.weeds[i].0;
        annual::advance(weed, zone, &around.weeds[kind].numbers, &around.plan.weeds[kind], 1 + i, &look, around);
    }
    let first = 1 + weeds.len();
    for (i, creeper) in creepers.iter_mut().enumerate() {
        let n = &around.creepers[around.plot.creepers[i].0].numbers;
        creeping::advance(creeper, zone, n, creeper.grown, first + i, &look, around);
    }
    if zone.crop_standing.is_some() {
        zone.crop += grown.crop;
        crops::advance(zone, pressure, around);
    }
    dead_cover::advance(zone, &look, around);
    let drained = water::advance(zone, &look, around);
    nutrients::advance(zone, drained, around);
    let shed = birds.map_or(0.0, |b| b.shed);
    worm_eggs::advance(&mut zone.worms_ripening, &mut zone.worms, shed, around.day.worm_rate, around.day.worm_keep);
    insects::advance(zone, around);
    zone.disturbed *= around.plan.settle_keep;
    zone.firm *= around.plan.firm_keep;
    see(zone, weeds, creepers, around);
    meal
}

/// Growth of cover and crop before and after nitrogen is shared out, g/m²; weeds keep theirs themselves.
struct Grown {
    cover: f64,
    crop: f64,
    need: Need,
}

impl Grown {
    #[inline]
    fn propose(zone: &Zone, weeds: &mut [Weed], creepers: &mut [Creeper], look: &Look, around: &Surroundings) -> Self {
        let mut grown = Self { cover: 0.0, crop: 0.0, need: Need::default() };
        if zone.crowns > 0.0 {
            let n = around.cover;
            grown.cover = cover::growth(zone, look, around);
            grown.need.add(grown.cover, n.nitrogen_content, n.phosphorus_content);
            grown.need.can_fix = n.fixed_share * grown.need.n;
        }
        for (i, weed) in weeds.iter_mut().enumerate() {
            weed.grown = [0.0; 3];
            let mass = weed.mass();
            if mass > 0.0 {
                let n = &around.weeds[around.plot.weeds[i].0].numbers;
                let rate = annual::growth(n, &around.plants[1 + i], zone, look, around);
                weed.grown = weed.ages.map(|age| age * rate);
                grown.need.add(mass * rate, n.nitrogen_content, n.phosphorus_content);
            }
        }
        let first = 1 + weeds.len();
        for (i, creeper) in creepers.iter_mut().enumerate() {
            let n = &around.creepers[around.plot.creepers[i].0].numbers;
            creeper.grown = creeping::growth(creeper, n, &around.plants[first + i], zone, look, around);
            grown.need.add(creeper.grown, n.nitrogen_content, n.phosphorus_content);
        }
        if let Some(crop) = around.crop_of(zone) {
            grown.crop = crops::growth(zone, crop, look, around);
            grown.need.add(grown.crop, crop.numbers.nitrogen_content, crop.numbers.phosphorus_content);
        }
        grown
    }

    #[inline]
    fn scale(&mut self, factor: f64, weeds: &mut [Weed], creepers: &mut [Creeper]) {
        if factor < 1.0 {
            self.cover *= factor;
            self.crop *= factor;
            weeds.iter_mut().for_each(|w| w.grown = w.grown.map(|g| g * factor));
            creepers.iter_mut().for_each(|c| c.grown *= factor);
        }
    }
}

/// Σ Cousens' initial slope × mass over the weeds of a zone.
#[inline]
fn weed_pressure(weeds: &[Weed], creepers: &[Creeper], around: &Surroundings) -> f64 {
    let annual: f64 = weeds
        .iter()
        .zip(&around.plot.weeds)
        .map(|(weed, &(kind, _))| weed.mass() * around.weeds[kind].numbers.yield_loss_per_mass)
        .sum();
    let creeping: f64 = creepers
        .iter()
        .zip(&around.plot.creepers)
        .map(|(c, &(kind, _))| c.shoots * around.creepers[kind].numbers.yield_loss_per_mass)
        .sum();
    annual + creeping
}
