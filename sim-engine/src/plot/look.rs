//! The zone as it is at the start of a step: what all rates are taken from.

use crate::drivers::{DayDriver, PlantDay};
use crate::kinds::{Canopy, CoverNumbers, CreeperPlant, CropPlant, Pest, ProcessNumbers, WeedPlant};
use crate::plot::plan::{Plan, ZonePlan};
use crate::site::Plot;
use crate::state::{Creeper, Weed, Zone};

/// What a zone's processes read besides its state.
#[derive(Clone, Copy)]
pub struct Surroundings<'a> {
    /// The day.
    pub day: &'a DayDriver,
    /// Step constants.
    pub plan: &'a Plan,
    /// Zone constants.
    pub here: &'a ZonePlan,
    /// The plot.
    pub plot: &'a Plot,
    /// Process numbers.
    pub process: &'a ProcessNumbers,
    /// Numbers of the cover.
    pub cover: &'a CoverNumbers,
    /// All annual weeds of the site.
    pub weeds: &'a [WeedPlant],
    /// All creeping weeds of the site.
    pub creepers: &'a [CreeperPlant],
    /// All crops of the site.
    pub crops: &'a [CropPlant],
    /// All pests of the site.
    pub pests: &'a [Pest],
    /// The plot's canopy.
    pub canopy: Option<&'a Canopy>,
    /// Canopy in leaf.
    pub in_leaf: bool,
    /// The day of each plant, by slot of the plot; the cover's first.
    pub plants: &'a [PlantDay],
    /// Slot of the standing crop.
    pub crop_slot: usize,
}

impl Surroundings<'_> {
    /// Step, days.
    #[inline(always)]
    #[must_use]
    pub fn step(&self) -> f64 {
        self.plan.step
    }

    /// The site's crop that stands in `zone`.
    #[inline(always)]
    #[must_use]
    pub fn crop_of(&self, zone: &Zone) -> Option<&CropPlant> {
        let plan = zone.crop_standing?;
        let crop = self.plot.grounds[self.here.ground].crops[plan].crop;
        Some(&self.crops[crop])
    }
}

/// Start-of-step figures that several processes use.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Look {
    /// Annual weeds, g/m².
    pub weeds: f64,
    /// Shoots of creeping weeds, g/m².
    pub shoots: f64,
    /// All live plants above ground, g/m².
    pub live: f64,
    /// Water stress factor, 1 none to 0 (FAO-56 Ks, eq. 84).
    pub water_factor: f64,
    /// Nitrogen factor of growth.
    pub nitrogen_factor: f64,
    /// Both factors times the step, days.
    pub conditions: f64,
    /// How far the sward has recovered from bites, 0 to 1.
    pub rested: f64,
}

impl Look {
    /// Looks at a zone.
    #[inline]
    #[must_use]
    pub fn at(zone: &Zone, around: &Surroundings) -> Self {
        let here = around.here;
        let water_factor = water_factor(zone.water, here.available_water, here.depletion, around.day.et0_mm);
        let nitrogen_factor = zone.mineral_n / (zone.mineral_n + around.process.nitrogen_half);
        Self {
            weeds: zone.seen_weeds,
            shoots: zone.seen_shoots,
            live: zone.cover + zone.seen_weeds + zone.seen_shoots + zone.crop,
            water_factor,
            nitrogen_factor,
            conditions: water_factor * nitrogen_factor * around.step(),
            rested: recovery(&zone.bitten, zone.rested),
        }
    }
}

/// How far a sward has recovered: rested share plus boxes weighted by (j/4)².
#[inline(always)]
#[must_use]
pub fn recovery(bitten: &[f64; 4], rested: f64) -> f64 {
    rested + (bitten[1] + 4.0 * bitten[2] + 9.0 * bitten[3]) * (1.0 / 16.0)
}

/// FAO-56 Ks (eq. 84) with the depletion fraction adjusted for demand (Table 22 note:
/// p + 0.04 (5 − ETc), 0.1 to 0.8).
#[inline(always)]
#[must_use]
pub fn water_factor(water_mm: f64, available_mm: f64, depletion: f64, demand_mm: f64) -> f64 {
    let p = (depletion + 0.04 * (5.0 - demand_mm)).clamp(0.1, 0.8);
    (water_mm / ((1.0 - p) * available_mm)).min(1.0)
}

/// Sees a zone's weeds and its cover by plants and dead material, 0 to 1, overlapping at
/// random: 1 − exp(−Σ extinction × mass) (Monsi–Saeki for leaves, RUSLE form for dead cover).
#[inline]
pub fn see(zone: &mut Zone, weeds: &[Weed], creepers: &[Creeper], around: &Surroundings) {
    let mut depth =
        zone.cover * around.cover.cover_per_mass + (zone.dead + zone.residue) * around.process.dead_cover_per_mass;
    let (mut weed_mass, mut shoots) = (0.0, 0.0);
    for (weed, &(kind, _)) in weeds.iter().zip(&around.plot.weeds) {
        let mass = weed.mass();
        weed_mass += mass;
        depth += mass * around.weeds[kind].numbers.cover_per_mass;
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&around.plot.creepers) {
        shoots += creeper.shoots;
        depth += creeper.shoots * around.creepers[kind].numbers.cover_per_mass;
    }
    if let Some(crop) = around.crop_of(zone) {
        depth += zone.crop * crop.numbers.cover_per_mass;
    }
    zone.seen_cover = crate::math::lost(depth);
    zone.seen_weeds = weed_mass;
    zone.seen_shoots = shoots;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn water_factor_follows_the_ks_table() {
        // FAO-56 Example 37 pattern (facts topic 1.2): tomato on silt, TAW 160, p 0.40
        // (held fixed by a demand of 5 mm), ETc 6 mm, depletion 55 mm, ten dry days.
        let want = [1.0, 1.0, 0.969, 0.908, 0.851, 0.798, 0.748, 0.702, 0.658, 0.617];
        let mut water = 160.0 - 55.0;
        for ks in want {
            let got = water_factor(water, 160.0, 0.40, 5.0);
            assert!((got - ks).abs() < 0.005, "{got} {ks}");
            water -= got * 6.0;
        }
        assert!((160.0 - water - 104.51).abs() < 0.05);
    }

    #[test]
    fn monsi_saeki_table() {
        // Facts topic 11: k 0.5, L 1, 2, 4.
        for (lai, cover) in [(1.0, 0.393_469), (2.0, 0.632_121), (4.0, 0.864_665)] {
            assert!((crate::math::lost(0.5 * lai) - cover).abs() < 1e-6);
        }
    }
}
