//! Crops of the beds: growth, harvest with losses, what is left standing.
//!
//! # Formulas
//!
//! ```text
//! growth   = growth_rate · T · Ks · N · V · max(0, 1 − V / (capacity · (1 − gaps)))      g/m² a day
//! gaps     = 1 − Π (1 − torn out) · (1 − eaten · young),  young = 1 / (1 + V / (young_stand · planted_mass))
//! age     += thermal time of the day                                                     C d, ripe at days_to_ripe
//! pressure = mean over the crop's days (at least one) of Σ yield_loss_per_mass · weeds   share, Cousens' I·D
//! yield    = V · harvest_share · (1 − weed loss) · (1 − pest damage)                     g/m²
//! weed loss = pressure / (1 + pressure / greatest_yield_loss)                            share
//! ```
//!
//! V is the stand, g/m², T the temperature response × light (of the day: `drivers.rs`), Ks water, N nitrogen,
//! each 0 to 1. Gaps are the share of its plants that are gone: what birds tear out, and of what birds and slugs eat the share that
//! is whole plants, most while the stand is young.
//!
//! # Source
//!
//! Yield lost to weeds: Cousens 1985 (`weeds.rs`). Logistic stand and thermal time to ripe: forms ours, calibrated;
//! numbers of most crops from memory. Rooting depth and depletion of water: FAO-56 Table 22 (`constants/zone.rs`).
//!
//! # Limits
//!
//! One mass stands for leaf, root and fruit; quality and bolting are not followed. What weeds and pests cost stays
//! standing, it is not taken out of growth. Neighbours do not fill a gap, and nobody sows again. Weeds count by their mass, whenever they stood.
//!
//! # Parameters
//!
//! ```text
//! CropParams  growth_rate [1/d], capacity [g/m2], planted_mass [g/m2], harvest_share [-], dry_matter [-], greatest_yield_loss [-],
//!              nitrogen_content [g/g], phosphorus_content [g/g]
//! ProcessParams  young_stand [-]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::{StandingCrop, ZoneContext, ZoneRates};
use crate::plot::harvest::{self, Harvest};
use crate::plot::weeds::yield_loss;
use crate::simd::Real;
use crate::species::CropPlant;
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// Share of the plants below which a stand counts as gone (definition).
const LEAST_STAND: f64 = 1e-6;

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline(always)]
#[must_use]
pub fn growth<F: Real>(zone: &Zone<F>, crop: &StandingCrop<F>, rates: &ZoneRates<F>) -> F {
    let params = crop.params;
    let conditions = crop.day.growth * rates.conditions;
    let stand = params.capacity * zone.crop_gaps.one_minus().max(zone.crop.splat(LEAST_STAND));
    let room = (zone.crop / stand).one_minus().clamp_min_zero();
    params.growth_rate * conditions * zone.crop * room
}

/// Thermal time and weed pressure of a step.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, crop: &StandingCrop<F>, weed_pressure: F, context: &ZoneContext<F>) {
    let step = context.step();
    zone.crop_age += crop.day.thermal * step;
    zone.crop_weed_days += weed_pressure * step;
    zone.crop_days += zone.crop_days.splat(step);
}

/// A share of the plants is gone.
#[inline(always)]
pub fn lose_plants<F: Real>(zone: &mut Zone<F>, share: F) {
    zone.crop_gaps = (zone.crop_gaps.one_minus() * share.one_minus()).one_minus();
}

/// Of what is eaten of a crop the share that is whole plants: nearly all of a stand just planted, little of a grown one.
#[inline(always)]
#[must_use]
pub fn whole_plants<F: Real>(zone: &Zone<F>, crop: &StandingCrop<F>, context: &ZoneContext<F>) -> F {
    let one = zone.crop.splat(1.0);
    one / (one + zone.crop / (context.process.young_stand * crop.params.planted_mass))
}

/// Puts a crop in.
pub fn plant(zone: &mut Zone, crop: &CropPlant) {
    let params = &crop.params;
    zone.crop = params.planted_mass;
    zone.crop_gaps = 0.0;
    zone.crop_age = 0.0;
    zone.crop_weed_days = 0.0;
    zone.crop_days = 0.0;
    zone.flows.add(Flow::Planted, params.planted_mass);
    zone.flows.add(Flow::PlantedN, params.planted_mass * params.nitrogen_content * KG_HA_PER_G_M2);
    zone.flows.add(Flow::PlantedP, params.planted_mass * params.phosphorus_content * KG_HA_PER_G_M2);
}

/// A crop that stood before the run: its stand, its thermal time and its days, free of weeds so far.
pub fn grown_on(zone: &mut Zone, mass: f64, age: f64, days: f64) {
    zone.crop = mass;
    zone.crop_gaps = 0.0;
    zone.crop_age = age;
    zone.crop_weed_days = 0.0;
    zone.crop_days = days;
}

/// Takes the yield: the harvest share of the stand, less what weeds and pests cost.
/// What they cost stays standing. Gives the harvest of so many m², fresh.
pub fn harvest(zone: &mut Zone, crop: &CropPlant, pest_damage: f64, area_m2: f64) -> Harvest {
    let params = &crop.params;
    let pressure = zone.crop_weed_days / zone.crop_days.max(1.0);
    let weed_loss = yield_loss(pressure, params.greatest_yield_loss);
    let ripe = zone.crop * params.harvest_share;
    let taken = ripe * (1.0 - weed_loss) * (1.0 - pest_damage);
    zone.crop -= taken;
    zone.harvested += taken;
    zone.flows.add(Flow::Harvested, taken);
    zone.flows.add(Flow::HarvestN, taken * params.nitrogen_content * KG_HA_PER_G_M2);
    zone.flows.add(Flow::HarvestP, taken * params.phosphorus_content * KG_HA_PER_G_M2);
    harvest::of_crop(ripe * area_m2, weed_loss, pest_damage, params.dry_matter)
}

/// Ends a crop: what is left stands as residue.
pub fn end(zone: &mut Zone, crop: &CropPlant) {
    let params = &crop.params;
    zone.residue += zone.crop;
    zone.residue_n += zone.crop * params.nitrogen_content * KG_HA_PER_G_M2;
    zone.residue_p += zone.crop * params.phosphorus_content * KG_HA_PER_G_M2;
    zone.crop = 0.0;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drivers::PlantDay;
    use crate::ledger::flows::Currency;
    use crate::testing::{Garden, at_ease, net, same};

    /// Rate 0.15 a day, capacity 350 g/m²: best at half the capacity, none at all of it.
    #[test]
    fn the_stand_grows_by_the_logistic() {
        let mut garden = Garden::new();
        garden.plants.fill(PlantDay { growth: 0.8, ..PlantDay::default() });
        let context = garden.with_crop();
        let crop = context.crop.unwrap();
        let grows = |mass: f64, rates: &ZoneRates| growth(&Zone { crop: mass, ..Zone::default() }, &crop, rates);
        same(grows(175.0, &at_ease()), 0.15 * 0.8 * 350.0 / 4.0);
        same(grows(70.0, &at_ease()), 0.15 * 0.8 * 70.0 * 0.8);
        same(grows(70.0, &ZoneRates { conditions: 0.5, ..at_ease() }), 0.15 * 0.4 * 70.0 * 0.8);
        assert_eq!((grows(350.0, &at_ease()), grows(400.0, &at_ease())), (0.0, 0.0));
    }

    /// With a fifth of its plants gone, and then a quarter of the rest, a stand stops at 0.6 of its capacity; none left, none grows.
    #[test]
    fn a_gap_stays_a_gap() {
        let mut garden = Garden::new();
        garden.plants.fill(PlantDay { growth: 1.0, ..PlantDay::default() });
        let context = garden.with_crop();
        let crop = context.crop.unwrap();
        let mut zone = Zone { crop: 210.0, ..Zone::default() };
        lose_plants(&mut zone, 0.2);
        lose_plants(&mut zone, 0.25);
        same(zone.crop_gaps, 0.4);
        same(growth(&zone, &crop, &at_ease()), 0.0);
        zone.crop = 105.0;
        same(growth(&zone, &crop, &at_ease()), 0.15 * 105.0 * 0.5);
        lose_plants(&mut zone, 1.0);
        assert_eq!(growth(&zone, &crop, &at_ease()), 0.0);
        plant(&mut zone, &garden.site.crops[0]);
        assert_eq!(zone.crop_gaps, 0.0);
    }

    /// Planted with 3 g/m²: at 9 g/m² half of what is eaten is whole plants, of a stand of 297 g/m² one in 34.
    #[test]
    fn of_a_young_stand_whole_plants_are_eaten() {
        let mut garden = Garden::new();
        garden.constants.species.process.young_stand = 3.0;
        let context = garden.with_crop();
        let share = |crop: f64| whole_plants(&Zone { crop, ..Zone::default() }, &context.crop.unwrap(), &context);
        for (mass, want) in [(0.0, 1.0), (9.0, 0.5), (297.0, 1.0 / 34.0)] {
            same(share(mass), want);
        }
    }

    #[test]
    fn thermal_time_and_weed_pressure_add_up_over_the_days() {
        let mut garden = Garden::new();
        garden.constants.step = 0.5;
        garden.plants.fill(PlantDay { thermal: 12.0, ..PlantDay::default() });
        let context = garden.with_crop();
        let mut zone = Zone::default();
        for _ in 0..20 {
            advance(&mut zone, &context.crop.unwrap(), 0.3, &context);
        }
        same(zone.crop_age, 120.0);
        same(zone.crop_weed_days, 3.0);
        same(zone.crop_days, 10.0);
    }

    #[test]
    fn a_crop_begins_with_its_plants_and_without_a_past() {
        let garden = Garden::new();
        let mut zone = Zone { crop_age: 700.0, crop_weed_days: 9.0, crop_days: 90.0, ..Zone::default() };
        plant(&mut zone, &garden.site.crops[0]);
        assert_eq!(zone.crop, 3.0);
        assert_eq!((zone.crop_age, zone.crop_weed_days, zone.crop_days), (0.0, 0.0, 0.0));
        same(zone.flows.get(Flow::Planted), 3.0);
        same(zone.flows.get(Flow::PlantedN), 3.0 * 0.28);
        same(zone.flows.get(Flow::PlantedP), 3.0 * 0.035);
    }

    /// A stand of 200 g/m² under a mean pressure of 0.25, asymptote 0.75: Cousens' loss is a quarter over 4/3, 0.1875.
    #[test]
    fn weeds_and_pests_cost_yield_and_stay_standing() {
        let garden = Garden::new();
        let reaped = |weed_days: f64, days: f64, damage: f64| {
            let mut zone = Zone { crop: 200.0, crop_weed_days: weed_days, crop_days: days, ..Zone::default() };
            zone.harvested = 7.0;
            harvest(&mut zone, &garden.site.crops[0], damage, 1.0);
            let taken = zone.harvested - 7.0;
            same(zone.crop, 200.0 - taken);
            same(zone.flows.get(Flow::Harvested), taken);
            same(zone.flows.get(Flow::HarvestN), taken * 0.28);
            same(zone.flows.get(Flow::HarvestP), taken * 0.035);
            taken
        };
        same(reaped(0.0, 80.0, 0.0), 160.0);
        same(reaped(20.0, 80.0, 0.0), 160.0 * (1.0 - 0.1875));
        same(reaped(20.0, 80.0, 0.2), 160.0 * (1.0 - 0.1875) * 0.8);
        // The first day counts whole.
        same(reaped(0.25, 0.5, 0.0), 160.0 * (1.0 - 0.1875));
    }

    #[test]
    fn what_is_left_stands_as_residue() {
        let garden = Garden::new();
        let mut stands = Zone { crop: 40.0, residue: 10.0, residue_n: 2.0, residue_p: 0.2, ..Zone::default() };
        end(&mut stands, &garden.site.crops[0]);
        same(stands.residue, 50.0);
        same(stands.residue_n, 2.0 + 40.0 * 0.28);
        same(stands.residue_p, 0.2 + 40.0 * 0.035);
        assert_eq!((net(&stands.flows, Currency::DryMatter), stands.crop), (0.0, 0.0));
    }
}
