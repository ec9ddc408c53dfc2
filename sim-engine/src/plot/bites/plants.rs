//! Plants under birds: eaten, torn out by scratching, pressed into soft ground.
//!
//! # Formulas
//!
//! ```text
//! torn    = (within − eaten) · (1 − exp(−u · tears))              g/m², falls to the ground as dead cover
//! pressed = (cover − eaten − torn) · (1 − exp(−tread_loss · presses)) · exposed      g/m², goes into the soil
//! crowns ·= 1 − (1 − exp(−tread_loss · presses)) · exposed
//! ```
//!
//! u is the loss per scratching; `tears` and `presses`, m² per m² of zone, count scratching more on soft ground and treading
//! only there (`treading.rs`); what is within reach and what of it is eaten stands in `fodder.rs`. What was eaten, torn
//! and pressed sets the sward back (`plot/cover.rs`).
//!
//! # Source
//!
//! Scratching: form ours, calibrated. Treading of wet swards: reviews of Drewry, Cameron & Buchan 2008, Aust. J. Soil Res.
//! 46:237, and Greenwood & McKenzie 2001, Aust. J. Exp. Agric. 41:1231, on cattle and sheep; form ours.
//!
//! # Limits
//!
//! All ages of a weed are eaten alike; what is out of reach shields older plants from scratching, not seedlings. Weeds
//! and crops are not trodden down.
//!
//! # Parameters
//!
//! ```text
//! CoverParams    preference [-], out_of_reach [g/m2], scratch_loss [-], tread_loss [-]
//! WeedParams     preference [-], out_of_reach [g/m2], scratch_loss [-], scratch_loss_young [-]
//! CreeperParams  preference [-], out_of_reach [g/m2], scratch_loss [-]
//! CropParams     preference [-], scratch_loss [-]
//! of all these   grass_share [-], nitrogen_content [g/g], phosphorus_content [g/g]
//! ```

use super::fodder::{Fodder, Intake, book_eaten};
use super::treading::Feet;
use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::plot::{cover, crops, dead_cover};
use crate::simd::{Mask, Real};
use crate::species::WeedParams;
use crate::state::{Creeper, Weed, Zone};

/// The sward: eaten, torn, pressed in, and set back by all three.
#[inline(always)]
pub(super) fn bite_cover<F: Real>(
    zone: &mut Zone<F>,
    fodder: &Fodder<F>,
    feet: &Feet<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    let params = context.cover;
    let tears = feet.tears * fodder.exposed;
    let presses = (params.tread_loss * feet.presses).hazard_to_prob() * fodder.exposed;
    let start = zone.cover_mass;
    let grows = start.above(0.0);
    if !grows.any() {
        zone.crowns *= presses.one_minus();
        cover::set_back(zone, start.zero(), tears, params);
        return;
    }
    let (within, eaten) = fodder.eaten(
        start,
        params.out_of_reach * zone.crowns,
        params.preference,
        fodder.wants.of_leaf(params.grass_share),
    );
    let torn = (within - eaten) * (params.scratch_loss * feet.tears).hazard_to_prob();
    let pressed = (start - eaten - torn) * presses;
    zone.crowns *= presses.one_minus();
    zone.cover_mass -= eaten + torn + pressed;
    dead_cover::add(zone, torn, params.nitrogen_content, params.phosphorus_content);
    cover::into_soil(zone, pressed, params);
    book_eaten(zone, Flow::EatenCover, eaten, params.nitrogen_content, params.phosphorus_content, intake);
    intake.green += eaten;
    cover::set_back(zone, ((eaten + torn + pressed) / start).select_or_zero(grows), tears, params);
}

/// Annual weeds.
#[inline(always)]
pub(super) fn bite_weeds<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    fodder: &Fodder<F>,
    feet: &Feet<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        bite_weed(zone, weed, &context.weeds[kind], fodder, feet, intake);
    }
}

/// Of each age the same share is eaten. Scratching spares what is out of reach of older plants, their flat rosettes
/// and stems; seedlings have none and are all uprooted.
#[inline(always)]
fn bite_weed<F: Real>(
    zone: &mut Zone<F>,
    weed: &mut Weed<F>,
    params: &WeedParams<F>,
    fodder: &Fodder<F>,
    feet: &Feet<F>,
    intake: &mut Intake<F>,
) {
    let mass = weed.mass();
    let grows = mass.above(0.0);
    if !grows.any() {
        return;
    }
    let reached = ((mass - params.out_of_reach).clamp_min_zero() / mass).select_or_zero(grows) * fodder.exposed;
    let bitten = reached * fodder.share(params.preference, fodder.wants.of_leaf(params.grass_share));
    let eaten = mass * bitten;
    let older = (reached - bitten) * (params.scratch_loss * feet.tears).hazard_to_prob();
    let young = (fodder.exposed - bitten) * (params.scratch_loss_young * feet.tears).hazard_to_prob();
    let mut torn = mass.zero();
    for (age, share) in weed.ages.iter_mut().zip([young, older, older]) {
        torn += *age * share;
        *age *= bitten.one_minus() - share;
    }
    dead_cover::add(zone, torn, params.nitrogen_content, params.phosphorus_content);
    book_eaten(zone, Flow::EatenWeeds, eaten, params.nitrogen_content, params.phosphorus_content, intake);
    intake.green += eaten;
}

/// Shoots of creeping weeds.
#[inline(always)]
pub(super) fn bite_creepers<F: Real>(
    zone: &mut Zone<F>,
    creepers: &mut [Creeper<F>],
    fodder: &Fodder<F>,
    feet: &Feet<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&context.plot.creepers) {
        let params = &context.creepers[kind];
        let (within, eaten) = fodder.eaten(
            creeper.shoots,
            params.out_of_reach,
            params.preference,
            fodder.wants.of_leaf(params.grass_share),
        );
        let torn = (within - eaten) * (params.scratch_loss * feet.tears).hazard_to_prob();
        creeper.shoots -= eaten + torn;
        dead_cover::add(zone, torn, params.nitrogen_content, params.phosphorus_content);
        book_eaten(zone, Flow::EatenWeeds, eaten, params.nitrogen_content, params.phosphorus_content, intake);
        intake.green += eaten;
    }
}

/// The crop that stands.
#[inline(always)]
pub(super) fn bite_crop<F: Real>(
    zone: &mut Zone<F>,
    fodder: &Fodder<F>,
    feet: &Feet<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    let Some(crop) = &context.crop else { return };
    let params = crop.params;
    let (within, eaten) =
        fodder.eaten(zone.crop, zone.crop.zero(), params.preference, fodder.wants.of_leaf(params.grass_share));
    let torn = (within - eaten) * (params.scratch_loss * feet.tears).hazard_to_prob();
    let (n_content, p_content) = (params.nitrogen_content, params.phosphorus_content);
    let gone = torn + eaten * crops::whole_plants(zone, crop, context);
    crops::lose_plants(zone, (gone / zone.crop).select_or_zero(zone.crop.above(0.0)));
    zone.crop -= eaten + torn;
    zone.crop_lost += eaten + torn;
    dead_cover::add(zone, torn, n_content, p_content);
    book_eaten(zone, Flow::EatenCrop, eaten, n_content, p_content, intake);
    intake.green += eaten;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::plot::bites::laid_ground::{EXPOSED, LaidGround, PREFERENCE, TORN, WITHIN, asking, scratching};
    use crate::plot::bites::{Pressure, take};
    use crate::testing::{Garden, SWARD, hazard_to_prob, near, net, same};

    /// 1 − exp(−u · scratched) of what is within reach; seedlings have nothing out of reach.
    #[test]
    fn scratching_tears_out_what_is_within_reach() {
        let mut ground = LaidGround::laid();
        let scratched = 1.7;
        ground.take(&scratching(scratched), EXPOSED);
        let torn = |food: usize| WITHIN[food] * EXPOSED * hazard_to_prob(TORN[food] * scratched);
        let (cover, creeper, crop) = (torn(0), torn(2), torn(3));
        let young = 10.0 * EXPOSED * hazard_to_prob(0.9 * scratched);
        let older = 50.0 * (54.0 / 60.0) * EXPOSED * hazard_to_prob(0.5 * scratched);
        let residue = 30.0 * EXPOSED * hazard_to_prob(0.26 * scratched);
        let left = ground.foods();
        let want = [120.0 - cover, 60.0 - young - older, 45.0 - creeper, 50.0 - crop, 30.0 - residue, 25.0];
        for (left, want) in left.iter().zip(want) {
            same(*left, want);
        }
        same(ground.weeds[0].ages[0], 10.0 - young);
        same(ground.weeds[0].ages[2] / ground.weeds[0].ages[1], 1.5);
        same(ground.zone.crop_lost, crop);
        let zone = &ground.zone;
        same(zone.dead, 80.0 + cover + young + older + creeper + crop + residue);
        let green_n = 0.025 * cover + 0.03 * (young + older) + 0.022 * creeper + 0.028 * crop;
        let green_p = 0.0032 * cover + 0.004 * (young + older) + 0.003 * creeper + 0.0035 * crop;
        same(zone.dead_n, 16.0 + 10.0 * green_n + 6.0 * residue / 30.0);
        same(zone.dead_p, 2.0 + 10.0 * green_p + 0.9 * residue / 30.0);
        // Torn out is not lost: the plot keeps all of it.
        same(net(&zone.flows, Currency::DryMatter), 0.0);
        same(net(&zone.flows, Currency::N), 0.0);
    }

    /// What was eaten cannot be torn out any more.
    #[test]
    fn scratching_takes_of_what_eating_leaves() {
        let mut ground = LaidGround::laid();
        let birds = Pressure { scratched: 1.7, ..asking(20.0) };
        ground.take(&birds, EXPOSED);
        let all: f64 = WITHIN.iter().zip(PREFERENCE).map(|(within, p)| within * p * EXPOSED).sum();
        let spared = |food: usize| 1.0 - PREFERENCE[food] * 20.0 / (all + 60.0);
        let left = |food: usize, start: f64| {
            let within = WITHIN[food] * EXPOSED;
            start - within + within * spared(food) * (1.0 - hazard_to_prob(TORN[food] * 1.7))
        };
        same(ground.zone.cover_mass, left(0, 120.0));
        same(ground.creepers[0].shoots, left(2, 45.0));
        same(ground.zone.crop, left(3, 50.0));
        same(ground.zone.crop_lost, 50.0 - left(3, 50.0));
        // Residue keeps its contents, gram for gram.
        let residue = 30.0 - 20.0 + 20.0 * spared(4) * (1.0 - hazard_to_prob(0.26 * 1.7));
        same(ground.zone.residue, residue);
        same(ground.zone.residue_n, 6.0 * residue / 30.0);
        same(ground.zone.residue_p, 0.9 * residue / 30.0);
        let ages = ground.weeds[0].ages;
        let reached = EXPOSED * 54.0 / 60.0;
        let eaten = reached * (1.0 - spared(1));
        same(ages[0], 10.0 * (1.0 - eaten - (EXPOSED - eaten) * hazard_to_prob(0.9 * 1.7)));
        same(ages[1], 20.0 * (1.0 - eaten - (reached - eaten) * hazard_to_prob(0.5 * 1.7)));
        // Two crossings of half the area tear out as much as one of the whole.
        let (mut once, mut twice) = (LaidGround::laid(), LaidGround::laid());
        for ground in [&mut once, &mut twice] {
            // Crowns are not lost before they were bitten: the second crossing would find less out of reach.
            ground.garden.constants.species.covers[0].crown_scratch_loss = 0.0;
        }
        once.take(&scratching(1.7), 1.0);
        for _ in 0..2 {
            twice.take(&scratching(1.7).times(0.5), 1.0);
        }
        for food in [0, 2, 3, 4] {
            near(twice.foods()[food], once.foods()[food], 1e-12 * 120.0);
        }
    }

    /// The sward falls back by what it lost and by what was touched: 1 − exp(−(2 · share lost + 0.3 · scratched)).
    #[test]
    fn bites_and_scratches_set_the_sward_back() {
        let mut ground = LaidGround::laid();
        let birds = Pressure { scratched: 1.7, ..asking(20.0) };
        ground.take(&birds, EXPOSED);
        let share_lost = (120.0 - ground.zone.cover_mass) / 120.0;
        same(ground.zone.bitten[0], hazard_to_prob(2.0 * share_lost + 0.3 * 1.7 * EXPOSED));
        // Bare ground is still scratched.
        let garden = Garden::new();
        let mut bare = Zone { rested: 1.0, ..Zone::default() };
        take(&mut bare, &mut [], &mut [], &birds, EXPOSED, &garden.zone_context(SWARD));
        same(bare.bitten[0], hazard_to_prob(0.3 * 1.7 * EXPOSED));
    }

    /// On saturated ground a scratch tears like 1 + 1.5 of them; at half of that like 1.75.
    #[test]
    fn soft_ground_is_torn_more_by_a_scratch() {
        for (water, as_many) in [(78.0, 1.0), (100.5, 1.75), (123.0, 2.5)] {
            let (mut soft, mut firm) = (LaidGround::laid(), LaidGround::laid());
            soft.garden.constants.species.process.soft_tearing = 1.5;
            (soft.zone.water, firm.zone.water) = (water, 78.0);
            soft.take(&scratching(0.4), EXPOSED);
            firm.take(&scratching(0.4 * as_many), EXPOSED);
            for (soft, firm) in soft.foods().iter().zip(firm.foods()).take(4) {
                same(*soft, firm);
            }
            for (soft, firm) in soft.zone.bitten.iter().zip(firm.zone.bitten) {
                same(*soft, firm);
            }
            same(soft.zone.crowns, firm.zone.crowns);
        }
    }

    /// 1 − exp(−0.3 · trodden · softness) of cover, stubble and all, and of crowns goes into soft ground, contents and all.
    #[test]
    fn wet_sward_is_trodden_in() {
        for (water, soft) in [(60.0, 0.0), (100.5, 0.5), (123.0, 1.0)] {
            let mut ground = LaidGround::laid();
            ground.garden.constants.species.covers[0].tread_loss = 0.3;
            ground.zone.water = water;
            let before = ground.stocks();
            ground.take(&Pressure { trodden: 2.0, ..Pressure::default() }, EXPOSED);
            let lost = hazard_to_prob(0.3 * 2.0 * soft) * EXPOSED;
            same(ground.zone.cover_mass, 120.0 * (1.0 - lost));
            same(ground.zone.crowns, 1.0 - lost);
            // The dead cover, 16 kg/ha, goes with it.
            same(ground.zone.fresh_n, (120.0 * 0.25 + 16.0) * lost);
            same(ground.zone.bitten[0], hazard_to_prob(2.0 * lost));
            for (after, before) in ground.stocks().iter().zip(before).skip(1) {
                near(*after, before, 1e-11);
            }
        }
    }

    /// A scratch on just bitten sward kills crowns, and the stubble on them dies too.
    #[test]
    fn stubble_dies_with_its_crowns() {
        let mut ground = LaidGround::laid();
        (ground.zone.bitten, ground.zone.rested) = ([1.0, 0.0, 0.0, 0.0], 0.0);
        ground.zone.cover_mass = 12.0;
        ground.take(&scratching(2.0), 1.0);
        let lost = hazard_to_prob(0.03 * 2.0);
        same(ground.zone.crowns, 1.0 - lost);
        same(ground.zone.cover_mass, 12.0 * (1.0 - lost));
    }
}
