//! The zone as it is at the start of a step: what all rates are taken from.
//!
//! # Formulas
//!
//! ```text
//! ETc      = (Kc bare + (Kc full − Kc bare) · cover + canopy) · ET0                   mm a day, without stress
//! Ks       = min(1, W / ((1 − p) · TAW)),  p = depletion + 0.04 · (5 − ETc), kept in 0.1 to 0.8
//! N        = mineral N / (mineral N + nitrogen_half)
//! rooting  = 1 − firm_growth_loss · firm                                             share of growth
//! recovery = rested + Σ x_j (j/4)²,  j = 0 … 3        x_j: shares of the surface by time since the last bite
//! cover    = 1 − exp(−Σ cover_per_mass · mass)        plants, and dead_cover_per_mass · (dead + residue)
//! ```
//!
//! W is water above wilting and TAW that between wilting and field capacity, mm; p is the share of TAW used before growth
//! slows.
//!
//! # Source
//!
//! Ks: FAO-56 eq. 84, p by the note to its Table 22. Cover of leaves: Monsi–Saeki; of dead material: form of RUSLE,
//! Renard et al. 1997, AH-703 (from memory). Growth on trodden ground: Drewry, Cameron & Buchan 2008, Aust. J. Soil Res. 46:237,
//! a review of cattle and sheep; form ours. N and recovery: forms ours, calibrated.
//!
//! # Limits
//!
//! Plants overlap at random. Nitrogen factor and recovery are the same for all plants, a legume apart (`cover.rs`).
//!
//! # Parameters
//!
//! ```text
//! CoverParams, WeedParams, CreeperParams, CropParams  cover_per_mass [m2/g]
//! ProcessParams                                          dead_cover_per_mass [m2/g], nitrogen_half [kg/ha],
//!                                                         firm_growth_loss [-],
//!                                                         crop_coefficient_bare [-], crop_coefficient_full [-]
//!                 by zone (constants/zone.rs): depletion_fraction [-];  by canopy: water_use [-]
//! ```

use crate::drivers::{Drivers, GroundDay, PlantDay, PlotSlots};
use crate::plot::constants::{CanopyStep, SiteConstants, ZoneConstants};
use crate::plot::recovery::recovery;
use crate::simd::Real;
use crate::site::Plot;
use crate::species::{CoverParams, CreeperParams, CropParams, PestParams, ProcessParams, SlugParams, WeedParams};
use crate::state::{Creeper, Weed, Zone};

/// What a zone's processes read besides its state.
#[derive(Clone, Copy)]
pub struct ZoneContext<'a, F: Real = f64> {
    /// The day.
    pub day: &'a GroundDay<F>,
    /// Step constants.
    pub constants: &'a SiteConstants<F>,
    /// Zone constants.
    pub here: &'a ZoneConstants<F>,
    /// The plot: which plants, crops and pests it has, and drip lines (not its numbers).
    pub plot: &'a Plot,
    /// Process numbers.
    pub process: &'a ProcessParams<F>,
    /// Numbers of the cover.
    pub cover: &'a CoverParams<F>,
    /// All annual weeds of the site.
    pub weeds: &'a [WeedParams<F>],
    /// All creeping weeds of the site.
    pub creepers: &'a [CreeperParams<F>],
    /// All crops of the site.
    pub crops: &'a [CropParams<F>],
    /// All pests of the site.
    pub pests: &'a [PestParams<F>],
    /// Slugs and snails of the site.
    pub slugs: &'a [SlugParams<F>],
    /// The plot's canopies.
    pub canopies: &'a [CanopyStep<F>],
    /// Water they use today, against reference evaporation.
    pub canopy_water: F,
    /// The day of each plant, by slot.
    pub plants: &'a [PlantDay<F>],
    /// The slots of the plot's plants.
    pub slots: &'a PlotSlots,
    /// The crop that stands.
    pub crop: Option<StandingCrop<'a, F>>,
}

/// A crop on the ground.
#[derive(Clone, Copy)]
pub struct StandingCrop<'a, F: Real = f64> {
    /// Its numbers.
    pub params: &'a CropParams<F>,
    /// Its day.
    pub day: PlantDay<F>,
    /// In which lanes it stands; in the others its mass is 0.
    pub stands: F::Mask,
}

impl<'a, F: Real> ZoneContext<'a, F> {
    /// What the zones of plot `index` share; `here` is its first zone, and no crop stands.
    #[inline(always)]
    #[must_use]
    pub fn of_plot(
        day: &'a GroundDay<F>,
        constants: &'a SiteConstants<F>,
        plot: &'a Plot,
        index: usize,
        canopy_water: F,
        plants: &'a [PlantDay<F>],
        drivers: &'a Drivers,
    ) -> Self {
        let species = &constants.species;
        Self {
            day,
            constants,
            here: &constants.zones[constants.plots[index].zones.start],
            plot,
            process: &species.process,
            cover: &species.covers[plot.cover],
            weeds: &species.weeds,
            creepers: &species.creepers,
            crops: &species.crops,
            pests: &species.pests,
            slugs: &species.slugs,
            canopies: &constants.canopies[constants.plots[index].canopies.clone()],
            canopy_water,
            plants,
            slots: &drivers.slots[index],
            crop: None,
        }
    }

    /// Step, days.
    #[inline(always)]
    #[must_use]
    pub fn step(&self) -> f64 {
        self.constants.step
    }

    /// The day of the cover.
    #[inline(always)]
    #[must_use]
    pub fn cover_day(&self) -> &PlantDay<F> {
        &self.plants[self.slots.cover]
    }

    /// 0, by lane.
    #[inline(always)]
    #[must_use]
    pub fn zero(&self) -> F {
        self.constants.settle_keep.zero()
    }
}

/// Start-of-step figures that several processes use.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ZoneRates<F = f64> {
    /// Annual weeds, g/m².
    pub weed_mass: F,
    /// Shoots of creeping weeds, g/m².
    pub shoot_mass: F,
    /// All live plants above ground, g/m².
    pub live: F,
    /// What the plants would evaporate without stress, mm a day (FAO-56 ETc).
    pub crop_evaporation_mm: F,
    /// Share of the available water used before growth slows (FAO-56 p).
    pub depletion: F,
    /// Water stress factor, 1 none to 0 (FAO-56 Ks, eq. 84).
    pub water_factor: F,
    /// Nitrogen factor of growth.
    pub nitrogen_factor: F,
    /// Growth that firm ground leaves.
    pub rooting: F,
    /// All three factors times the step, days.
    pub conditions: F,
    /// How far the sward has recovered from bites, 0 to 1.
    pub rested: F,
}

impl<F: Real> ZoneRates<F> {
    /// Looks at a zone.
    #[inline(always)]
    #[must_use]
    pub fn at(zone: &Zone<F>, context: &ZoneContext<F>) -> Self {
        let here = context.here;
        let crop_evaporation_mm = crop_evaporation_mm(zone, context);
        let depletion = adjusted_depletion(here.depletion, crop_evaporation_mm);
        let water_factor = water_factor(zone.water, here.available_water, depletion);
        let nitrogen_factor = zone.mineral_n / (zone.mineral_n + context.process.nitrogen_half);
        let rooting = (context.process.firm_growth_loss * zone.firm).one_minus();
        Self {
            weed_mass: zone.seen_weed_mass,
            shoot_mass: zone.seen_shoot_mass,
            live: zone.cover_mass + zone.seen_weed_mass + zone.seen_shoot_mass + zone.crop,
            crop_evaporation_mm,
            depletion,
            water_factor,
            nitrogen_factor,
            rooting,
            conditions: water_factor * nitrogen_factor * rooting * context.step(),
            rested: recovery(&zone.bitten, zone.rested),
        }
    }
}

/// Crop coefficient from cover and canopy, times reference evaporation, mm a day.
#[inline(always)]
fn crop_evaporation_mm<F: Real>(zone: &Zone<F>, context: &ZoneContext<F>) -> F {
    let p = context.process;
    let full = p.crop_coefficient_full - p.crop_coefficient_bare;
    (p.crop_coefficient_bare + full * zone.seen_cover + context.canopy_water) * context.day.et0_mm
}

/// The depletion fraction on a day of so much crop evaporation, mm (FAO-56, note to Table 22: p + 0.04 (5 − ETc), 0.1
/// to 0.8).
#[inline(always)]
#[must_use]
pub fn adjusted_depletion<F: Real>(depletion: F, crop_evaporation_mm: F) -> F {
    let p = depletion + (depletion.splat(5.0) - crop_evaporation_mm) * 0.04;
    p.max(depletion.splat(0.1)).min(depletion.splat(0.8))
}

/// FAO-56 Ks (eq. 84) with the depletion fraction of the day.
#[inline(always)]
#[must_use]
pub fn water_factor<F: Real>(water_mm: F, available_mm: F, depletion: F) -> F {
    (water_mm / (depletion.one_minus() * available_mm)).clamp_max_one()
}

/// Sees a zone's weeds and its cover by plants and dead material, 0 to 1, overlapping at
/// random: 1 − exp(−Σ extinction × mass) (Monsi–Saeki for leaves, RUSLE form for dead cover).
#[inline(always)]
pub fn see<F: Real>(zone: &mut Zone<F>, weeds: &[Weed<F>], creepers: &[Creeper<F>], context: &ZoneContext<F>) {
    let mut depth = zone.cover_mass * context.cover.cover_per_mass
        + (zone.dead + zone.residue) * context.process.dead_cover_per_mass;
    let (mut weed_mass, mut shoots) = (context.zero(), context.zero());
    for (weed, &(kind, _)) in weeds.iter().zip(&context.plot.weeds) {
        let mass = weed.mass();
        weed_mass += mass;
        depth += mass * context.weeds[kind].cover_per_mass;
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&context.plot.creepers) {
        shoots += creeper.shoots;
        depth += creeper.shoots * context.creepers[kind].cover_per_mass;
    }
    if let Some(crop) = &context.crop {
        depth += zone.crop * crop.params.cover_per_mass;
    }
    zone.seen_cover = depth.hazard_to_prob();
    zone.seen_weed_mass = weed_mass;
    zone.seen_shoot_mass = shoots;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, SWARD, hazard_to_prob, near, same};

    #[test]
    fn water_factor_follows_the_ks_table() {
        // FAO-56 Example 37 pattern recomputed: tomato on silt, TAW 160, p 0.40
        // (held fixed), ETc 6 mm, depletion 55 mm, ten dry days.
        let want = [1.0, 1.0, 0.969, 0.908, 0.851, 0.798, 0.748, 0.702, 0.658, 0.617];
        let mut water = 160.0 - 55.0;
        for ks in want {
            let got = water_factor(water, 160.0, 0.40);
            assert!((got - ks).abs() < 0.005, "{got} {ks}");
            water -= got * 6.0;
        }
        assert!((160.0 - water - 104.51).abs() < 0.05);
    }

    /// Table 22's p holds for 5 mm a day: 0.04 less for each mm more, within 0.1 and 0.8; Ks is 1/2 half-way down.
    #[test]
    fn plants_slow_down_earlier_under_high_demand() {
        for (p, demand, want) in [(0.5, 5.0, 0.5), (0.5, 10.0, 0.3), (0.5, 0.0, 0.7), (0.2, 10.0, 0.1), (0.7, 0.0, 0.8)]
        {
            let dry = (1.0 - want) * 160.0;
            let p = adjusted_depletion(p, demand);
            near(p, want, 1e-12);
            near(water_factor(0.5 * dry, 160.0, p), 0.5, 1e-12);
            near(water_factor(0.99 * dry, 160.0, p), 0.99, 1e-12);
            assert_eq!(water_factor(1.01 * dry, 160.0, p), 1.0);
        }
        assert_eq!(water_factor(0.0, 160.0, 0.5), 0.0);
    }

    /// p follows what the plants themselves evaporate: under 8 mm of reference evaporation bare ground, Kc 0.3, is at
    /// 2.4 mm and p 0.5 + 0.104, closed sward, Kc 0.97, at 7.76 mm and p 0.5 − 0.1104.
    #[test]
    fn the_depletion_fraction_takes_the_plants_own_evaporation() {
        let mut garden = Garden::new();
        garden.day.et0_mm = 8.0;
        let context = garden.zone_context(SWARD);
        for (seen_cover, evaporation, p) in [(0.0, 2.4, 0.604), (1.0, 7.76, 0.3896)] {
            let water = 0.3 * context.here.available_water;
            let rates = ZoneRates::at(&Zone { seen_cover, water, ..Zone::default() }, &context);
            near(rates.crop_evaporation_mm, evaporation, 1e-12);
            near(rates.depletion, p, 1e-12);
            near(rates.water_factor, 0.3 / (1.0 - p), 1e-12);
        }
    }

    /// The zone is seen as it stands: sums of plants, FAO-56's Ks, half of growth at `nitrogen_half` = 4 kg/ha.
    #[test]
    fn a_look_gathers_what_rates_are_taken_from() {
        let mut garden = Garden::new();
        garden.constants.step = 0.5;
        // A closed sward of Kc 0.97 evaporates 5 mm.
        garden.day.et0_mm = 5.0 / 0.97;
        let context = garden.zone_context(SWARD);
        let zone = Zone {
            cover_mass: 100.0,
            seen_cover: 1.0,
            seen_weed_mass: 20.0,
            seen_shoot_mass: 7.0,
            crop: 50.0,
            water: 0.25 * context.here.available_water,
            mineral_n: 12.0,
            bitten: [0.0, 0.0, 0.4, 0.0],
            rested: 0.6,
            ..Zone::default()
        };
        let rates = ZoneRates::at(&zone, &context);
        assert_eq!((rates.weed_mass, rates.shoot_mass, rates.live), (20.0, 7.0, 177.0));
        same(rates.water_factor, 0.5);
        same(rates.nitrogen_factor, 0.75);
        same(rates.conditions, 0.5 * 0.75 * 0.5);
        same(rates.rested, 0.7);
        let fed = Zone { mineral_n: 4.0, ..zone };
        same(ZoneRates::at(&fed, &context).nitrogen_factor, 0.5);
    }

    /// Monsi–Saeki for 80, 150 and 300 g/m² of 25 m²/kg with 0.7 of it leaf, k 0.5, recomputed.
    #[test]
    fn sward_covers_the_ground_by_its_leaf_area() {
        let mut garden = Garden::new();
        garden.constants.species.covers[0].cover_per_mass = 0.5 * 0.025 * 0.7;
        for (mass, cover) in [(80.0, 0.503_415), (150.0, 0.730_854), (300.0, 0.927_560)] {
            let mut zone = Zone { cover_mass: mass, ..Zone::default() };
            see(&mut zone, &[], &[], &garden.zone_context(SWARD));
            near(zone.seen_cover, cover, 1e-6);
        }
    }

    /// Overlap at random: what each kind leaves open is multiplied, dead material with the rest.
    #[test]
    fn all_kinds_cover_the_ground_together() {
        let garden = Garden::new();
        let mut zone = Zone { cover_mass: 50.0, dead: 40.0, residue: 60.0, crop: 30.0, ..Zone::default() };
        let weeds = [Weed { ages: [1.0, 2.0, 4.0], ..Weed::default() }];
        let creepers = [Creeper { shoots: 9.0, reserve: 100.0, ..Creeper::default() }];
        let open = |hazards: &[f64]| 1.0 - hazards.iter().map(|h| 1.0 - hazard_to_prob(*h)).product::<f64>();
        let parts = [0.55, 0.16, 0.24, 0.126, 0.108, 0.36];
        see(&mut zone, &weeds, &creepers, &garden.with_crop());
        same(zone.seen_cover, open(&parts));
        assert_eq!((zone.seen_weed_mass, zone.seen_shoot_mass), (7.0, 9.0));
        // Where no crop stands none is seen.
        see(&mut zone, &weeds, &creepers, &garden.zone_context(SWARD));
        same(zone.seen_cover, open(&parts[..5]));
    }
}
