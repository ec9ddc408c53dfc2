//! Crops of the beds: growth, harvest with losses, what is left standing.

use crate::flows::Flow;
use crate::kinds::CropPlant;
use crate::lanes::Real;
use crate::plot::look::{Look, StandingCrop, Surroundings};
use crate::plot::weeds::yield_loss;
use crate::state::{KG_HA, Zone};

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline(always)]
#[must_use]
pub fn growth<F: Real>(zone: &Zone<F>, crop: &StandingCrop<F>, look: &Look<F>) -> F {
    let n = crop.numbers;
    let conditions = crop.day.growth * look.conditions;
    let room = (zone.crop / n.capacity).rest().or_zero();
    n.growth_rate * conditions * zone.crop * room
}

/// Thermal time and weed pressure of a step.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, crop: &StandingCrop<F>, weed_pressure: F, around: &Surroundings<F>) {
    let step = around.step();
    zone.crop_age += crop.day.thermal * step;
    zone.crop_weed_days += weed_pressure * step;
    zone.crop_days += zone.crop_days.of(step);
}

/// Puts a crop in.
pub fn plant(zone: &mut Zone, crop: &CropPlant) {
    let n = &crop.numbers;
    zone.crop = n.planted_mass;
    zone.crop_age = 0.0;
    zone.crop_weed_days = 0.0;
    zone.crop_days = 0.0;
    zone.flows.add(Flow::Planted, n.planted_mass);
    zone.flows.add(Flow::PlantedN, n.planted_mass * n.nitrogen_content * KG_HA);
    zone.flows.add(Flow::PlantedP, n.planted_mass * n.phosphorus_content * KG_HA);
}

/// Takes the yield: the harvest share of the stand, less what weeds and pests cost.
/// What they cost stays standing.
pub fn harvest(zone: &mut Zone, crop: &CropPlant, pest_damage: f64) {
    let n = &crop.numbers;
    let pressure = zone.crop_weed_days / zone.crop_days.max(1.0);
    let weed_loss = yield_loss(pressure, n.greatest_yield_loss);
    let taken = zone.crop * n.harvest_share * (1.0 - weed_loss) * (1.0 - pest_damage);
    zone.crop -= taken;
    zone.harvested += taken;
    zone.flows.add(Flow::Harvested, taken);
    zone.flows.add(Flow::HarvestN, taken * n.nitrogen_content * KG_HA);
    zone.flows.add(Flow::HarvestP, taken * n.phosphorus_content * KG_HA);
}

/// Ends a crop: what is left stands as residue, or is carried away.
pub fn end(zone: &mut Zone, crop: &CropPlant, cleared: bool) {
    let n = &crop.numbers;
    let (mass, nitrogen, phosphorus) =
        (zone.crop, zone.crop * n.nitrogen_content * KG_HA, zone.crop * n.phosphorus_content * KG_HA);
    if cleared {
        zone.flows.add(Flow::Cleared, mass);
        zone.flows.add(Flow::ClearedN, nitrogen);
        zone.flows.add(Flow::ClearedP, phosphorus);
    } else {
        zone.residue += mass;
        zone.residue_n += nitrogen;
        zone.residue_p += phosphorus;
    }
    zone.crop = 0.0;
}
