//! Creeping weeds: shoots from a root reserve birds cannot reach.
//!
//! The reserve sends up shoots; shoots grow and pay part of their growth back. Bitten
//! shoots come again until the reserve is spent, which takes many bites (common practice).

use crate::flows::Flow;
use crate::kinds::CreeperNumbers;
use crate::math::lost;
use crate::plot::dead_cover;
use crate::plot::look::{Look, Surroundings};
use crate::state::{Creeper, KG_HA, Zone};

fn room(n: &CreeperNumbers, zone: &Zone, look: &Look, around: &Surroundings) -> f64 {
    let crowd = look.weeds + look.shoots + n.crowding * (zone.cover + zone.crop);
    (1.0 - crowd / around.here.capacity).max(0.0)
}

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline]
#[must_use]
pub fn growth(
    creeper: &Creeper,
    n: &CreeperNumbers,
    slot_growth: f64,
    zone: &Zone,
    look: &Look,
    around: &Surroundings,
) -> f64 {
    let conditions = slot_growth * look.water_factor * look.nitrogen_factor * around.step();
    n.growth_rate * conditions * creeper.shoots * room(n, zone, look, around)
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
    let warmth = around.growth[slot];
    let sent =
        creeper.reserve * lost(n.shooting_rate * warmth * look.water_factor * step) * room(n, zone, look, around);
    let stored = grown * n.reserve_share * (1.0 - creeper.reserve / n.reserve_room).max(0.0);
    let upkeep = creeper.reserve * lost(n.reserve_upkeep * around.day.q10_20 * step);
    let aged = creeper.shoots * lost((n.ageing_rate * warmth + n.frost_kill * around.day.frost_degrees) * step);
    let sent = sent.min(creeper.reserve - upkeep);
    creeper.reserve += stored - sent - upkeep;
    creeper.shoots += grown - stored + sent - aged;
    dead_cover::add(zone, aged, n.nitrogen_content, n.phosphorus_content);
    // What the roots burn leaves its nitrogen and phosphorus in the soil.
    zone.mineral_n += upkeep * n.nitrogen_content * KG_HA;
    zone.soil_p += upkeep * n.phosphorus_content * KG_HA;
    zone.flows.add(Flow::Upkeep, upkeep);
}
