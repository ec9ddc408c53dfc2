//! Creeping weeds: shoots from a root reserve birds cannot reach.
//!
//! The reserve sends up shoots; shoots grow and pay part of their growth back. Bitten
//! shoots come again until the reserve is spent, which takes many bites (common practice).

use crate::drivers::PlantDay;
use crate::flows::Flow;
use crate::kinds::CreeperNumbers;
use crate::lanes::Real;
use crate::plot::dead_cover;
use crate::plot::look::{Look, Surroundings};
use crate::state::{Creeper, KG_HA, Zone};

#[inline(always)]
fn room<F: Real>(n: &CreeperNumbers<F>, zone: &Zone<F>, look: &Look<F>, around: &Surroundings<F>) -> F {
    let crowd = look.weeds + look.shoots + n.crowding * (zone.cover + zone.crop);
    (crowd * around.here.per_capacity).rest().or_zero()
}

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline(always)]
#[must_use]
pub fn growth<F: Real>(
    creeper: &Creeper<F>,
    n: &CreeperNumbers<F>,
    plant: &PlantDay<F>,
    zone: &Zone<F>,
    look: &Look<F>,
    around: &Surroundings<F>,
) -> F {
    n.growth_rate * plant.growth * look.conditions * creeper.shoots * room(n, zone, look, around)
}

/// Shooting, growth, storing, ageing and frost of a step; `plant` is the plant's day.
#[inline(always)]
pub fn advance<F: Real>(
    creeper: &mut Creeper<F>,
    zone: &mut Zone<F>,
    n: &CreeperNumbers<F>,
    plant: &PlantDay<F>,
    look: &Look<F>,
    around: &Surroundings<F>,
) {
    let step = around.step();
    let grown = creeper.grown;
    let shooting = (n.shooting_rate * plant.growth * look.water_factor * step).lost();
    let sent = creeper.reserve * shooting * room(n, zone, look, around);
    let stored = grown * n.reserve_share * (creeper.reserve / n.reserve_room).rest().or_zero();
    let upkeep = creeper.reserve * plant.upkeep;
    let aged = creeper.shoots * plant.dies;
    let sent = sent.min(creeper.reserve - upkeep);
    creeper.reserve += stored - sent - upkeep;
    creeper.shoots += grown - stored + sent - aged;
    dead_cover::add(zone, aged, n.nitrogen_content, n.phosphorus_content);
    // What the roots burn leaves its nitrogen and phosphorus in the soil.
    zone.mineral_n += upkeep * n.nitrogen_content * KG_HA;
    zone.soil_p += upkeep * n.phosphorus_content * KG_HA;
    zone.flows.add(Flow::Upkeep, upkeep);
}
