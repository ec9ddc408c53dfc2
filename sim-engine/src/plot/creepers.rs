//! Creeping weeds (couch, bindweed): shoots from a root reserve birds cannot reach.
//!
//! # Formulas
//!
//! ```text
//! growth  = growth_rate · T · Ks · N · shoots · room                        g/m² a day, before nitrogen is shared out
//! room    = max(0, 1 − (weed mass + mass of all shoots + crowding · (cover mass + crop)) / capacity of the cover)
//! sent    = reserve · (1 − exp(−shooting_rate · T · Ks)) · room             reserve to shoots, g/m²
//! stored  = growth · reserve_share · max(0, 1 − reserve / reserve_room)     shoots to reserve, g/m²
//! upkeep  = reserve · (1 − exp(−reserve_upkeep · Q10))                      burnt by the roots
//! aged    = shoots · (1 − exp(−(ageing_rate · T + frost_kill · degrees of killing frost)))
//! ```
//!
//! T is the temperature response × light, Ks water, N nitrogen, each 0 to 1. T and the shares that are burnt and
//! that die come with the day (`drivers.rs`). Bitten shoots come again until the reserve is spent.
//!
//! # Source
//!
//! Common practice, no source: creeping weeds are worn out by taking their shoots again and again. Form ours,
//! calibrated; every number is from memory.
//!
//! # Limits
//!
//! No spread from one zone to the next. The nitrogen of burnt reserve goes to the soil around it at once.
//!
//! # Parameters
//!
//! ```text
//! CreeperParams  growth_rate [1/d], crowding [-], shooting_rate [1/d], reserve_share [-], reserve_room [g/m2],
//!                 nitrogen_content [g/g], phosphorus_content [g/g]
//! ```

use crate::drivers::PlantDay;
use crate::ledger::flows::Flow;
use crate::plot::context::{ZoneContext, ZoneRates};
use crate::plot::dead_cover;
use crate::simd::Real;
use crate::species::CreeperParams;
use crate::state::{Creeper, Zone};
use crate::units::KG_HA_PER_G_M2;

#[inline(always)]
fn room<F: Real>(params: &CreeperParams<F>, zone: &Zone<F>, rates: &ZoneRates<F>, context: &ZoneContext<F>) -> F {
    let crowd = rates.weed_mass + rates.shoot_mass + params.crowding * (zone.cover_mass + zone.crop);
    (crowd * context.here.per_capacity).one_minus().clamp_min_zero()
}

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline(always)]
#[must_use]
pub fn growth<F: Real>(
    creeper: &Creeper<F>,
    params: &CreeperParams<F>,
    plant: &PlantDay<F>,
    zone: &Zone<F>,
    rates: &ZoneRates<F>,
    context: &ZoneContext<F>,
) -> F {
    params.growth_rate * plant.growth * rates.conditions * creeper.shoots * room(params, zone, rates, context)
}

/// Shooting, growth, storing, ageing and frost of a step; `plant` is the plant's day.
#[inline(always)]
pub fn advance<F: Real>(
    creeper: &mut Creeper<F>,
    zone: &mut Zone<F>,
    params: &CreeperParams<F>,
    plant: &PlantDay<F>,
    rates: &ZoneRates<F>,
    context: &ZoneContext<F>,
) {
    let step = context.step();
    let grown = creeper.grown;
    let shooting = (params.shooting_rate * plant.growth * rates.water_factor * step).hazard_to_prob();
    let sent = creeper.reserve * shooting * room(params, zone, rates, context);
    let stored = grown * params.reserve_share * (creeper.reserve / params.reserve_room).one_minus().clamp_min_zero();
    let upkeep = creeper.reserve * plant.upkeep;
    let aged = creeper.shoots * plant.dies;
    let sent = sent.min(creeper.reserve - upkeep);
    creeper.reserve += stored - sent - upkeep;
    creeper.shoots += grown - stored + sent - aged;
    dead_cover::add(zone, aged, params.nitrogen_content, params.phosphorus_content);
    // What the roots burn leaves its nitrogen and phosphorus in the soil.
    zone.mineral_n += upkeep * params.nitrogen_content * KG_HA_PER_G_M2;
    zone.soil_p += upkeep * params.phosphorus_content * KG_HA_PER_G_M2;
    zone.flows.add(Flow::Upkeep, upkeep);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, SWARD, at_ease, hazard_to_prob, same};

    const COUCH: Creeper = Creeper { shoots: 40.0, reserve: 60.0, grown: 5.0 };
    /// The warmest day: growth at its best, a twentieth of the shoots dies, a fiftieth of the reserve is burnt.
    const DAY: PlantDay = PlantDay { growth: 1.0, thermal: 0.0, dies: 0.05, upkeep: 0.02 };

    fn step(creeper: &mut Creeper, zone: &mut Zone, day: &PlantDay, rates: &ZoneRates, step: f64) {
        let mut garden = Garden::new();
        garden.constants.step = step;
        advance(creeper, zone, &garden.constants.species.creepers[0], day, rates, &garden.zone_context(SWARD));
    }

    /// Logistic against all plants of the ground (capacity 300 g/m²), of which cover and crop weigh 0.6.
    #[test]
    fn shoots_grow_by_the_room_they_find() {
        let garden = Garden::new();
        let (context, params) = (garden.zone_context(SWARD), &garden.constants.species.creepers[0]);
        let zone = Zone { cover_mass: 60.0, crop: 40.0, ..Zone::default() };
        let rates = ZoneRates { weed_mass: 50.0, shoot_mass: 40.0, ..at_ease() };
        let free = 1.0 - (50.0 + 40.0 + 0.6 * 100.0) / 300.0;
        let best = 0.12 * 40.0 * free;
        same(growth(&COUCH, params, &DAY, &zone, &rates, &context), best);
        same(growth(&COUCH, params, &PlantDay { growth: 0.5, ..DAY }, &zone, &rates, &context), 0.5 * best);
        same(growth(&COUCH, params, &DAY, &zone, &ZoneRates { conditions: 0.5, ..rates }, &context), 0.5 * best);
        same(growth(&COUCH, params, &DAY, &Zone { cover_mass: 500.0, ..zone }, &rates, &context), 0.0);
    }

    /// What a day moves: growth comes in, the aged lie on the ground, the burnt is booked, all else only changes place.
    #[test]
    fn shoots_and_reserve_trade_mass() {
        let (mut couch, mut zone) = (COUCH, Zone { cover_mass: 60.0, crop: 40.0, ..Zone::default() });
        let rates = ZoneRates { weed_mass: 50.0, shoot_mass: 40.0, ..at_ease() };
        step(&mut couch, &mut zone, &DAY, &rates, 1.0);
        let sent = 60.0 * hazard_to_prob(0.02) * 0.5;
        let stored = 5.0 * 0.35 * (1.0 - 60.0 / 300.0);
        let (upkeep, aged) = (60.0 * 0.02, 40.0 * 0.05);
        same(couch.reserve, 60.0 + stored - sent - upkeep);
        same(couch.shoots, 40.0 + 5.0 - stored + sent - aged);
        same(couch.shoots + couch.reserve, 100.0 + 5.0 - upkeep - aged);
        same(zone.dead, aged);
        same(zone.dead_n, aged * 0.22);
        same(zone.dead_p, aged * 0.03);
        same(zone.mineral_n, upkeep * 0.22);
        same(zone.soil_p, upkeep * 0.03);
        same(zone.flows.get(Flow::Upkeep), upkeep);
    }

    /// 1 − exp(−0.02 · T · Ks · days) of the reserve comes up, less where it finds no room.
    #[test]
    fn the_reserve_sends_up_shoots_with_the_growth_of_the_day() {
        let sent = |day: PlantDay, rates: ZoneRates, days: f64| {
            let mut couch = Creeper { grown: 0.0, ..COUCH };
            step(&mut couch, &mut Zone::default(), &PlantDay { dies: 0.0, upkeep: 0.0, ..day }, &rates, days);
            same(couch.shoots + couch.reserve, 100.0);
            couch.shoots - 40.0
        };
        let half = PlantDay { growth: 0.5, ..DAY };
        same(sent(DAY, at_ease(), 1.0), 60.0 * hazard_to_prob(0.02));
        same(sent(half, at_ease(), 1.0), 60.0 * hazard_to_prob(0.01));
        same(sent(DAY, ZoneRates { water_factor: 0.5, ..at_ease() }, 1.0), 60.0 * hazard_to_prob(0.01));
        same(sent(DAY, at_ease(), 0.25), 60.0 * hazard_to_prob(0.005));
        same(sent(DAY, ZoneRates { shoot_mass: 150.0, ..at_ease() }, 1.0), 60.0 * hazard_to_prob(0.02) * 0.5);
    }

    /// A full reserve takes no more; one that burns nearly all of itself cannot send up the same grams again.
    #[test]
    fn the_reserve_neither_overflows_nor_goes_below_zero() {
        let mut full = Creeper { reserve: 300.0, ..COUCH };
        let still = PlantDay { growth: 0.0, dies: 0.0, upkeep: 0.0, thermal: 0.0 };
        step(&mut full, &mut Zone::default(), &still, &at_ease(), 1.0);
        assert_eq!((full.reserve, full.shoots), (300.0, 45.0));
        let mut over = Creeper { reserve: 330.0, ..COUCH };
        step(&mut over, &mut Zone::default(), &still, &at_ease(), 1.0);
        assert_eq!((over.reserve, over.shoots), (330.0, 45.0));
        let mut spent = Creeper { grown: 0.0, ..COUCH };
        let burning = PlantDay { upkeep: 0.995, dies: 0.0, ..DAY };
        step(&mut spent, &mut Zone::default(), &burning, &at_ease(), 1.0);
        assert!(spent.reserve.abs() < 1e-12, "{}", spent.reserve);
        same(spent.shoots, 40.0 + 60.0 * 0.005);
    }
}
