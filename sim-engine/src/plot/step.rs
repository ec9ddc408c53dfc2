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

use crate::lanes::{Mask, Real};
use crate::plot::bites::{self, Meal, Pressure};
use crate::plot::look::{Look, Surroundings, see};
use crate::plot::nutrients::{self, Need};
use crate::plot::{cover, creepers as creeping, crops, dead_cover, insects, water, weeds as annual, worm_eggs};
use crate::state::{Creeper, Weed, Zone};

/// One step of everything in a zone but its pests; returns what birds ate, g/m².
#[inline(always)]
pub fn step<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    birds: Option<&Pressure<F>>,
    exposed: F,
    around: &Surroundings<F>,
) -> Meal<F> {
    let look = Look::at(zone, around);
    let mut grown = Grown::propose(zone, weeds, creepers, &look, around);
    let factor = nutrients::feed_growth(zone, &grown.need, around.plan.uptake_share);
    grown.scale(factor, weeds, creepers);
    let pressure = if around.crop.is_some() { weed_pressure(weeds, creepers, around) } else { around.zero() };
    let meal = match birds {
        Some(birds) => bites::take(zone, weeds, creepers, birds, exposed, around),
        None => Meal::none(around.zero()),
    };
    zone.cover += grown.cover;
    cover::advance(zone, &look, around);
    for ((weed, &slot), &(kind, _)) in weeds.iter_mut().zip(&around.slots.weeds).zip(&around.plot.weeds) {
        let plant = &around.plants[slot];
        annual::advance(weed, zone, &around.weeds[kind], &around.plan.weeds[kind], plant, &look, around);
    }
    for ((creeper, &slot), &(kind, _)) in creepers.iter_mut().zip(&around.slots.creepers).zip(&around.plot.creepers) {
        creeping::advance(creeper, zone, &around.creepers[kind], &around.plants[slot], &look, around);
    }
    if let Some(crop) = &around.crop {
        zone.crop += grown.crop;
        crops::advance(zone, crop, pressure, around);
    }
    dead_cover::advance(zone, &look, around);
    let drained = water::advance(zone, &look, around);
    nutrients::advance(zone, drained, around);
    let shed = match birds {
        Some(birds) => birds.shed,
        None => around.zero(),
    };
    worm_eggs::advance(&mut zone.worms_ripening, &mut zone.worms, shed, around.day.worm_rate, around.day.worm_keep);
    insects::advance(zone, around);
    zone.disturbed *= around.plan.settle_keep;
    zone.firm *= around.plan.firm_keep;
    see(zone, weeds, creepers, around);
    meal
}

/// Growth of cover and crop before and after nitrogen is shared out, g/m²; weeds keep theirs themselves.
struct Grown<F> {
    cover: F,
    crop: F,
    need: Need<F>,
}

impl<F: Real> Grown<F> {
    #[inline(always)]
    fn propose(
        zone: &Zone<F>,
        weeds: &mut [Weed<F>],
        creepers: &mut [Creeper<F>],
        look: &Look<F>,
        around: &Surroundings<F>,
    ) -> Self {
        let zero = around.zero();
        let mut grown = Self { cover: zero, crop: zero, need: Need { n: zero, p: zero, can_fix: zero, mass: zero } };
        if zone.crowns.above(0.0).any() {
            let n = around.cover;
            grown.cover = cover::growth(zone, look, around);
            grown.need.add(grown.cover, n.nitrogen_content, n.phosphorus_content);
            grown.need.can_fix = n.fixed_share * grown.need.n;
        }
        for ((weed, &slot), &(kind, _)) in weeds.iter_mut().zip(&around.slots.weeds).zip(&around.plot.weeds) {
            weed.grown = [zero; 3];
            let mass = weed.mass();
            if mass.above(0.0).any() {
                let n = &around.weeds[kind];
                let rate = annual::growth(n, &around.plants[slot], zone, look, around);
                let [young, leafy, mature] = weed.ages;
                weed.grown = [young * rate, leafy * rate, mature * rate];
                grown.need.add(mass * rate, n.nitrogen_content, n.phosphorus_content);
            }
        }
        for ((creeper, &slot), &(kind, _)) in creepers.iter_mut().zip(&around.slots.creepers).zip(&around.plot.creepers)
        {
            let n = &around.creepers[kind];
            creeper.grown = creeping::growth(creeper, n, &around.plants[slot], zone, look, around);
            grown.need.add(creeper.grown, n.nitrogen_content, n.phosphorus_content);
        }
        if let Some(crop) = &around.crop {
            let n = crop.numbers;
            grown.crop = crops::growth(zone, crop, look);
            grown.need.add(grown.crop, n.nitrogen_content, n.phosphorus_content);
        }
        grown
    }

    #[inline(always)]
    fn scale(&mut self, factor: F, weeds: &mut [Weed<F>], creepers: &mut [Creeper<F>]) {
        if factor.below(1.0).any() {
            self.cover *= factor;
            self.crop *= factor;
            for weed in weeds {
                for grown in &mut weed.grown {
                    *grown *= factor;
                }
            }
            for creeper in creepers {
                creeper.grown *= factor;
            }
        }
    }
}

/// Σ Cousens' initial slope × mass over the weeds of a zone.
#[inline(always)]
fn weed_pressure<F: Real>(weeds: &[Weed<F>], creepers: &[Creeper<F>], around: &Surroundings<F>) -> F {
    let (mut annual, mut creeping) = (around.zero(), around.zero());
    for (weed, &(kind, _)) in weeds.iter().zip(&around.plot.weeds) {
        annual += weed.mass() * around.weeds[kind].yield_loss_per_mass;
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&around.plot.creepers) {
        creeping += creeper.shoots * around.creepers[kind].yield_loss_per_mass;
    }
    annual + creeping
}
