//! Creeping weeds: shoots from a root reserve birds cannot reach.
//!
//! The reserve sends up shoots; shoots grow and pay part of their growth back. Bitten
//! shoots come again until the reserve is spent, which takes many bites (common practice).

use crate::drivers::PlantDay;
use crate::flows::Flow;
use crate::kinds::CreeperNumbers;
use crate::math::lost;
use crate::plot::dead_cover;
use crate::plot::look::{Look, Surroundings};
use crate::state::{Creeper, KG_HA, Zone};

fn room(n: &CreeperNumbers, zone: &Zone, look: &Look, around: &Surroundings) -> f64 {
    let crowd = look.weeds + look.shoots + n.crowding * (zone.cover + zone.crop);
    (1.0 - crowd * around.here.per_capacity).max(0.0)
}

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline]
#[must_use]
pub fn growth(
    creeper: &Creeper,
    n: &CreeperNumbers,
    plant: &PlantDay,
    zone: &Zone,
    look: &Look,
    around: &Surroundings,
) -> f64 {
    n.growth_rate * plant.growth * look.conditions * creeper.shoots * room(n, zone, look, around)
}

/// Shooting, growth, storing, ageing and frost of a step; `grown` in g/m².
#[inline]
pub fn advance(
    creeper: &mut Creeper,
    zone: &mut Zone,
    n: &CreeperNumbers,
    grown: f64,
    slot: usize,
    look: &Look,
    around: &Surroundings,
) {
    let step = around.step();
    let plant = &around.plants[slot];
    let shooting = lost(n.shooting_rate * plant.growth * look.water_factor * step);
    let sent = creeper.reserve * shooting * room(n, zone, look, around);
    let stored = grown * n.reserve_share * (1.0 - creeper.reserve / n.reserve_room).max(0.0);
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
