//! Dead cover: what has died and lies on the ground, standing residue, fallen fruit.
//!
//! First-order decay with soil warmth (Q10) and moisture; part of its nitrogen becomes
//! humus, the rest mineral. (Never called by the word keepers use for bedding.)

use crate::flows::Flow;
use crate::kinds::CanopyNumbers;
use crate::lanes::{Mask, Real};
use crate::plot::look::{Look, Surroundings};
use crate::state::{KG_HA, Zone};

/// Lays `mass` g/m² of plant matter with these contents on the ground.
#[inline(always)]
pub fn add<F: Real>(zone: &mut Zone<F>, mass: F, n_content: F, p_content: F) {
    zone.dead += mass;
    zone.dead_n += mass * n_content * KG_HA;
    zone.dead_p += mass * p_content * KG_HA;
}

/// Moves a share of the standing residue to the ground.
#[inline(always)]
pub fn lay_down_residue<F: Real>(zone: &mut Zone<F>, share: F) {
    let (mass, n, p) = (zone.residue * share, zone.residue_n * share, zone.residue_p * share);
    zone.residue -= mass;
    zone.residue_n -= n;
    zone.residue_p -= p;
    zone.dead += mass;
    zone.dead_n += n;
    zone.dead_p += p;
}

/// Takes a share of the dead cover off the ground and into the soil, as scratching does.
#[inline(always)]
pub fn mix_in<F: Real>(zone: &mut Zone<F>, share: F) {
    let (mass, n, p) = (zone.dead * share, zone.dead_n * share, zone.dead_p * share);
    zone.dead -= mass;
    zone.dead_n -= n;
    zone.dead_p -= p;
    zone.fresh_n += n;
    zone.fresh_p += p;
    zone.flows.add(Flow::MixedIn, mass);
}

/// Decay and fall of a step.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, look: &Look<F>, around: &Surroundings<F>) {
    let standing = zone.residue.above(0.0);
    if standing.any() {
        lay_down_residue(zone, around.plan.residue_falls.where_(standing));
    }
    let gone = around.day.dead_keep.rest() * look.water_factor;
    let (mass, n, p) = (zone.dead * gone, zone.dead_n * gone, zone.dead_p * gone);
    zone.dead -= mass;
    zone.dead_n -= n;
    zone.dead_p -= p;
    zone.slow_n += n * around.process.humus_share;
    zone.mineral_n += n * around.process.humus_share.rest();
    zone.soil_p += p;
    zone.flows.add(Flow::Decayed, mass);
    if let Some(canopy) = around.canopy {
        fruit(zone, canopy, around);
    }
}

/// Fruit falls through its season and rots.
#[inline(always)]
fn fruit<F: Real>(zone: &mut Zone<F>, canopy: &CanopyNumbers<F>, around: &Surroundings<F>) {
    let rotten = zone.fruit * around.day.fruit_keep.rest();
    zone.fruit -= rotten;
    zone.mineral_n += rotten * canopy.nitrogen_content * KG_HA;
    zone.soil_p += rotten * canopy.phosphorus_content * KG_HA;
    zone.flows.add(Flow::Decayed, rotten);
    let day = rotten.of(around.day.since_solstice);
    let falling = day.ge(canopy.fruit_from) & canopy.fruit_to.gt(day);
    if falling.any() {
        let falls = canopy.fruit_fall / (canopy.fruit_to - canopy.fruit_from) * around.step();
        let falls = falls.where_(falling);
        zone.fruit += falls;
        book_canopy_fall(zone, falls, canopy);
    }
}

/// Books what a canopy drops on the ground.
#[inline(always)]
pub fn book_canopy_fall<F: Real>(zone: &mut Zone<F>, mass: F, canopy: &CanopyNumbers<F>) {
    zone.flows.add(Flow::CanopyFall, mass);
    zone.flows.add(Flow::CanopyN, mass * canopy.nitrogen_content * KG_HA);
    zone.flows.add(Flow::CanopyP, mass * canopy.phosphorus_content * KG_HA);
}
