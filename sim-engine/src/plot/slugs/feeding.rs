//! What slugs and snails eat of crop, weeds and sward in a night.
//!
//! # Formulas
//!
//! ```text
//! wanted     = leaf_eaten · activity · (adults + Σ young · (box + ½)/6) · step                  g/m²
//! F          = Σ taste · mass of crop, weeds, shoots and sward + slug_taste_dead · (dead cover + residue)   g/m²
//! share of a plant eaten = 1 − exp(−taste · wanted / (F + slug_food_half))
//! plants gone = share eaten · what of it is whole plants (`plot/crops.rs`)
//! taste      = slug_taste of the crop;  1 − grass_share · (1 − slug_taste_grass) of weeds, shoots and sward
//! ```
//!
//! # Source
//!
//! A slug of 0.3 to 0.6 g eats 0.1 to 0.3 g of fresh leaf a night, several lettuce seedlings a week (from memory); in proportion to
//! body mass: Honek & Martinkova 2007, Malacologia 49:273. Dead leaf before living and broad leaf before grass: common practice,
//! no source; forms ours.
//!
//! # Limits
//!
//! No fruit is spoilt, no tuber and no bark. What they eat of
//! dead leaf is part of its decay. Nitrogen and phosphorus of eaten leaf are in the soil the same night.
//!
//! # Parameters
//!
//! ```text
//! SlugParams     leaf_eaten [g/d]
//! CropParams     slug_taste [-], nitrogen_content [g/g], phosphorus_content [g/g]
//! CoverParams, WeedParams, CreeperParams  grass_share [-], nitrogen_content [g/g], phosphorus_content [g/g]
//! ProcessParams  slug_taste_grass [-], slug_taste_dead [-], slug_food_half [g/m2]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::plot::crops;
use crate::simd::Real;
use crate::state::{Creeper, PEST_BOXES, SlugsHere, Weed, Zone};
use crate::units::KG_HA_PER_G_M2;

/// Adults, and young as parts of one by their size: a box is as much further as it is older.
#[inline(always)]
pub(super) fn as_adults<F: Real>(slugs: &SlugsHere<F>) -> F {
    let mut sum = slugs.adults;
    for (at, &young) in slugs.young.iter().enumerate() {
        sum += young * ((at as f64 + 0.5) / PEST_BOXES as f64);
    }
    sum
}

/// Takes `wanted` g/m² of leaf, as far as there is any.
#[inline(always)]
pub(super) fn eat<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    wanted: F,
    context: &ZoneContext<F>,
) {
    let p = context.process;
    let leaf = |grass_share: F| (grass_share * p.slug_taste_grass.one_minus()).one_minus();
    let crop_taste = match &context.crop {
        Some(crop) => crop.params.slug_taste,
        None => context.zero(),
    };
    let sward_taste = leaf(context.cover.grass_share);
    let mut food =
        zone.crop * crop_taste + zone.cover_mass * sward_taste + (zone.dead + zone.residue) * p.slug_taste_dead;
    for (weed, &(kind, _)) in weeds.iter().zip(&context.plot.weeds) {
        food += weed.mass() * leaf(context.weeds[kind].grass_share);
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&context.plot.creepers) {
        food += creeper.shoots * leaf(context.creepers[kind].grass_share);
    }
    let per_taste = wanted / (food + p.slug_food_half);
    let share = |taste: F| (taste * per_taste).hazard_to_prob();

    let mut eaten = Eaten { leaf: context.zero(), n: context.zero(), p: context.zero() };
    let of_cover = share(sward_taste) * zone.cover_mass;
    zone.cover_mass -= of_cover;
    eaten.add(of_cover, context.cover.nitrogen_content, context.cover.phosphorus_content);
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        let params = &context.weeds[kind];
        let taken = share(leaf(params.grass_share));
        eaten.add(weed.mass() * taken, params.nitrogen_content, params.phosphorus_content);
        for age in &mut weed.ages {
            *age *= taken.one_minus();
        }
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&context.plot.creepers) {
        let params = &context.creepers[kind];
        let taken = share(leaf(params.grass_share)) * creeper.shoots;
        creeper.shoots -= taken;
        eaten.add(taken, params.nitrogen_content, params.phosphorus_content);
    }
    zone.flows.add(Flow::LeafEatenBySlugs, eaten.leaf);
    if let Some(crop) = &context.crop {
        let of_crop = share(crop_taste) * zone.crop;
        crops::lose_plants(zone, share(crop_taste) * crops::whole_plants(zone, crop, context));
        zone.crop -= of_crop;
        eaten.add(of_crop, crop.params.nitrogen_content, crop.params.phosphorus_content);
        zone.flows.add(Flow::CropEatenBySlugs, of_crop);
    }
    zone.mineral_n += eaten.n;
    zone.soil_p += eaten.p;
}

/// Leaf eaten, g/m², and its nutrients, kg/ha.
struct Eaten<F> {
    leaf: F,
    n: F,
    p: F,
}

impl<F: Real> Eaten<F> {
    #[inline(always)]
    fn add(&mut self, mass: F, nitrogen_content: F, phosphorus_content: F) {
        self.leaf += mass;
        self.n += mass * nitrogen_content * KG_HA_PER_G_M2;
        self.p += mass * phosphorus_content * KG_HA_PER_G_M2;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, near, same};

    /// Of crop (taste 2), weed and sward (grass 0.4, so 0.52) each its share; a bite of many g finds no more than there is.
    #[test]
    fn each_plant_loses_by_its_taste() {
        let mut garden = Garden::new();
        let species = &mut garden.constants.species;
        (species.process.slug_taste_grass, species.process.slug_taste_dead, species.process.slug_food_half) =
            (0.2, 0.5, 3.0);
        species.covers[0].grass_share = 0.6;
        species.weeds[0].grass_share = 0.0;
        species.creepers[0].grass_share = 1.0;
        species.crops[0].slug_taste = 2.0;
        let context = garden.with_crop();
        let start = || {
            let zone = Zone { crop: 5.0, cover_mass: 20.0, dead: 10.0, residue: 4.0, ..Zone::default() };
            (zone, [Weed { ages: [1.0, 2.0, 3.0], ..Weed::default() }], [Creeper { shoots: 8.0, ..Creeper::default() }])
        };
        let (mut zone, mut weeds, mut creepers) = start();
        eat(&mut zone, &mut weeds, &mut creepers, 0.6, &context);
        let food = 10.0 + 20.0 * 0.52 + 6.0 + 8.0 * 0.2 + 14.0 * 0.5;
        let left = |taste: f64| libm::exp(-taste * 0.6 / (food + 3.0));
        same(zone.crop, 5.0 * left(2.0));
        same(zone.cover_mass, 20.0 * left(0.52));
        near(weeds[0].ages[2], 3.0 * left(1.0), 1e-12);
        same(creepers[0].shoots, 8.0 * left(0.2));
        assert_eq!((zone.dead, zone.residue), (10.0, 4.0));
        let crop = 5.0 - zone.crop;
        let others = 20.0 - zone.cover_mass + 6.0 - weeds[0].mass() + 8.0 - creepers[0].shoots;
        same(zone.flows.get(Flow::CropEatenBySlugs), crop);
        near(zone.flows.get(Flow::LeafEatenBySlugs), others, 1e-12);
        let n = crop * 0.28
            + (20.0 - zone.cover_mass) * 0.25
            + (6.0 - weeds[0].mass()) * 0.3
            + (8.0 - creepers[0].shoots) * 0.22;
        near(zone.mineral_n, n, 1e-12);
        assert!(zone.soil_p > 0.0);
        // All there is, and not more.
        let (mut zone, mut weeds, mut creepers) = start();
        eat(&mut zone, &mut weeds, &mut creepers, 1e9, &context);
        assert_eq!((zone.crop, zone.cover_mass, weeds[0].mass(), creepers[0].shoots), (0.0, 0.0, 0.0, 0.0));
    }

    /// An adult eats as six boxes of young from a twelfth to eleven twelfths of it do together in thirds.
    #[test]
    fn young_eat_by_their_size() {
        let slugs = SlugsHere { young: [1.0; PEST_BOXES], adults: 2.0, ..SlugsHere::default() };
        same(as_adults(&slugs), 2.0 + 3.0);
    }
}
