//! Dead cover: what has died and lies on the ground, standing residue, fallen fruit.
//!
//! First-order decay with soil warmth (Q10) and moisture; part of its nitrogen becomes
//! humus, the rest mineral. (Never called by the word keepers use for bedding.)

use crate::flows::Flow;
use crate::plot::look::{Look, Surroundings};
use crate::state::{KG_HA, Zone};

/// Lays `mass` g/m² of plant matter with these contents on the ground.
#[inline(always)]
pub fn add(zone: &mut Zone, mass: f64, n_content: f64, p_content: f64) {
    zone.dead += mass;
    zone.dead_n += mass * n_content * KG_HA;
    zone.dead_p += mass * p_content * KG_HA;
}

/// Moves a share of the standing residue to the ground.
#[inline]
pub fn lay_down_residue(zone: &mut Zone, share: f64) {
    let (mass, n, p) = (zone.residue * share, zone.residue_n * share, zone.residue_p * share);
    zone.residue -= mass;
    zone.residue_n -= n;
    zone.residue_p -= p;
    zone.dead += mass;
    zone.dead_n += n;
    zone.dead_p += p;
}

/// Takes a share of the dead cover off the ground and into the soil, as scratching does.
#[inline]
pub fn mix_in(zone: &mut Zone, share: f64) {
    let (mass, n, p) = (zone.dead * share, zone.dead_n * share, zone.dead_p * share);
    zone.dead -= mass;
    zone.dead_n -= n;
    zone.dead_p -= p;
    zone.fresh_n += n;
    zone.fresh_p += p;
    zone.flows.add(Flow::MixedIn, mass);
}

/// Decay and fall of a step.
#[inline]
pub fn advance(zone: &mut Zone, look: &Look, around: &Surroundings) {
    if zone.residue > 0.0 {
        lay_down_residue(zone, around.plan.residue_falls);
    }
    let gone = (1.0 - around.day.dead_keep) * look.water_factor;
    let (mass, n, p) = (zone.dead * gone, zone.dead_n * gone, zone.dead_p * gone);
    zone.dead -= mass;
    zone.dead_n -= n;
    zone.dead_p -= p;
    zone.slow_n += n * around.process.humus_share;
    zone.mineral_n += n * (1.0 - around.process.humus_share);
    zone.soil_p += p;
    zone.flows.add(Flow::Decayed, mass);
    if let Some(canopy) = around.canopy {
        fruit(zone, &canopy.numbers, around);
    }
}

/// Fruit falls through its season and rots.
#[inline]
fn fruit(zone: &mut Zone, canopy: &crate::kinds::CanopyNumbers, around: &Surroundings) {
    let rotten = zone.fruit * (1.0 - around.day.fruit_keep);
    zone.fruit -= rotten;
    zone.mineral_n += rotten * canopy.nitrogen_content * KG_HA;
    zone.soil_p += rotten * canopy.phosphorus_content * KG_HA;
    zone.flows.add(Flow::Decayed, rotten);
    let day = f64::from(around.day.since_solstice);
    if day >= canopy.fruit_from && day < canopy.fruit_to {
        let falls = canopy.fruit_fall / (canopy.fruit_to - canopy.fruit_from) * around.step();
        zone.fruit += falls;
        book_canopy_fall(zone, falls, canopy);
    }
}

/// Books what a canopy drops on the ground.
pub fn book_canopy_fall(zone: &mut Zone, mass: f64, canopy: &crate::kinds::CanopyNumbers) {
    zone.flows.add(Flow::CanopyFall, mass);
    zone.flows.add(Flow::CanopyN, mass * canopy.nitrogen_content * KG_HA);
    zone.flows.add(Flow::CanopyP, mass * canopy.phosphorus_content * KG_HA);
}
