//! What lies and creeps on the ground: residue, fruit, loose seed, insects.
//!
//! # Formulas
//!
//! ```text
//! residue and fruit eaten as all food is (`fodder.rs`)
//! residue torn down = (within − eaten) · (1 − exp(−u · scratched))        g/m², falls to the ground as dead cover
//! insects eaten, surface seed eaten = stock · (1 − exp(−searched)) · exposed
//! seed brought up   = deep seed · surface_share · (1 − exp(−scratched)) · exposed
//! ```
//!
//! u is `residue_scratch_loss`; scratched and searched are m² per m² of zone in the step; `exposed` is the share of the zone
//! that guards leave open.
//!
//! # Source
//!
//! Chance of being found = 1 − exp(−area searched): random search (Nicholson and Bailey; from memory). Scratching: form
//! ours, calibrated.
//!
//! # Limits
//!
//! Insects and seed are found by area, whatever else is eaten.
//!
//! # Parameters
//!
//! ```text
//! WeedParams  surface_share [-], seed_mass [g], nitrogen_content [g/g], phosphorus_content [g/g]
//! CropParams  residue_scratch_loss [-]
//! ```

use super::fodder::{Fodder, Intake, last_crop, residue_preference};
use super::pressure::Pressure;
use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::plot::dead_cover;
use crate::simd::{Mask, Real};
use crate::state::{Weed, Zone};
use crate::units::G_M2_PER_KG_HA;

/// Residue of the ground's last crop, and fruit on the ground.
#[inline(always)]
pub(super) fn eat<F: Real>(
    zone: &mut Zone<F>,
    fodder: &Fodder<F>,
    birds: &Pressure<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    let lies = zone.residue.above(0.0);
    if lies.any() {
        let (preference, grass_share) = residue_preference(context);
        let wanted = fodder.wants.of_leaf(grass_share);
        let (within, eaten) = fodder.eaten(zone.residue, zone.residue.zero(), preference, wanted);
        let share = (eaten / zone.residue).select_or_zero(lies);
        let (n, p) = (zone.residue_n * share, zone.residue_p * share);
        let left = (zone.residue - eaten).max(eaten.splat(f64::MIN_POSITIVE));
        let torn = (within - eaten) * (residue_scratch(context) * birds.scratched).hazard_to_prob() / left;
        zone.residue -= eaten;
        zone.residue_n -= n;
        zone.residue_p -= p;
        zone.flows.add(Flow::EatenResidue, eaten);
        zone.flows.add(Flow::EatenN, n);
        zone.flows.add(Flow::EatenP, p);
        intake.plant_n += n * G_M2_PER_KG_HA;
        intake.plant_p += p * G_M2_PER_KG_HA;
        dead_cover::lay_down_residue(zone, torn.clamp_max_one());
        intake.other += eaten;
    }
    if !context.canopies.is_empty() {
        let (_, eaten) = fodder.eaten(zone.fruit, zone.fruit.zero(), zone.fruit.splat(1.0), fodder.wants.fruit);
        let part = (eaten / zone.fruit).select_or_zero(zone.fruit.above(0.0));
        let (n, p) = (zone.fruit_n * part, zone.fruit_p * part);
        zone.fruit -= eaten;
        zone.fruit_n -= n;
        zone.fruit_p -= p;
        zone.flows.add(Flow::EatenFruit, eaten);
        zone.flows.add(Flow::EatenN, n);
        zone.flows.add(Flow::EatenP, p);
        intake.plant_n += n * G_M2_PER_KG_HA;
        intake.plant_p += p * G_M2_PER_KG_HA;
        intake.other += eaten;
    }
}

#[inline(always)]
fn residue_scratch<F: Real>(context: &ZoneContext<F>) -> F {
    match last_crop(context) {
        Some(params) => params.residue_scratch_loss,
        None => context.zero(),
    }
}

/// Insects and worms.
#[inline(always)]
pub(super) fn find_insects<F: Real>(zone: &mut Zone<F>, birds: &Pressure<F>, exposed: F, intake: &mut Intake<F>) {
    let insects = zone.insects * birds.insects.hazard_to_prob() * exposed;
    zone.insects -= insects;
    zone.flows.add(Flow::EatenInsects, insects);
    intake.insects = insects;
}

/// Seed at the surface is eaten; scratching brings more up to where it is found.
#[inline(always)]
pub(super) fn find_seed<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    birds: &Pressure<F>,
    exposed: F,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        let params = &context.weeds[kind];
        let seeds = weed.surface * birds.seeds.hazard_to_prob() * exposed;
        weed.surface -= seeds;
        zone.flows.add(Flow::SeedsEaten, seeds);
        let mass = seeds * params.seed_mass;
        intake.other += mass;
        intake.add_nutrients(mass, params.nitrogen_content, params.phosphorus_content);
        let up = weed.deep * params.surface_share * birds.scratched.hazard_to_prob() * exposed;
        weed.deep -= up;
        weed.surface += up;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::bites::laid_ground::{EXPOSED, LaidGround, asking, scratching};
    use crate::plot::bites::take;
    use crate::testing::{Garden, SWARD, hazard_to_prob, same};

    /// Ground that no crop is planned for has residue of sward's own preference, which no one scratches down.
    #[test]
    fn residue_of_no_known_crop_is_taken_like_sward() {
        let garden = Garden::new();
        let mut zone = Zone { residue: 30.0, ..Zone::default() };
        let intake = take(&mut zone, &mut [], &mut [], &asking(9.0), 1.0, &garden.zone_context(SWARD));
        same(intake.other, 30.0 * 9.0 / 90.0);
        let mut zone = Zone { residue: 30.0, ..Zone::default() };
        take(&mut zone, &mut [], &mut [], &scratching(3.0), 1.0, &garden.zone_context(SWARD));
        assert_eq!((zone.residue, zone.dead), (30.0, 0.0));
    }

    #[test]
    fn loose_seed_and_insects_are_found_by_the_area_searched() {
        let mut ground = LaidGround::laid();
        let birds = Pressure { insects: 0.7, seeds: 0.2, scratched: 0.5, ..Pressure::default() };
        let intake = ground.take(&birds, EXPOSED);
        let seeds = 100.0 * hazard_to_prob(0.2) * EXPOSED;
        let up = 900.0 * 0.05 * hazard_to_prob(0.5) * EXPOSED;
        same(ground.weeds[0].surface, 100.0 - seeds + up);
        same(ground.weeds[0].deep, 900.0 - up);
        same(ground.zone.flows.get(Flow::SeedsEaten), seeds);
        same(intake.other, seeds * 4e-4);
        same(intake.insects, 0.4 * hazard_to_prob(0.7) * EXPOSED);
        same(ground.zone.insects, 0.4 - intake.insects);
        same(ground.zone.flows.get(Flow::EatenInsects), intake.insects);
    }
}
