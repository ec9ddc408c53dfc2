//! What trees, bushes and canes take up for leaves, fruit and wood, and what they drop of it.
//!
//! # Formulas
//!
//! ```text
//! taken   = min(N · uptake_share, asked)                                           kg/ha a day in leaf; what is not wood is stored
//! dropped = fallen mass · nitrogen_content · 10, from the store as far as it goes; the rest from the canopy's reserves
//! ```
//!
//! Phosphorus alike. What is asked: `constants/canopy.rs`. N is mineral nitrogen, kg/ha, after the plants of the ground have had theirs.
//! What the soil of the root zone cannot give is drawn from reserves and deeper soil, and booked as such when it falls.
//!
//! # Source
//!
//! Uptake while in leaf, from the soil as far as it has it: forms ours. Amounts: Cheng & Raba 2009 (`constants/canopy.rs`).
//!
//! # Limits
//!
//! Fruit that is picked is no part of it, nor are roots below the root zone. Trees never starve: a poor soil costs them no
//! growth.
//!
//! # Parameters
//!
//! ```text
//! CanopyParams   nitrogen_content [g/g], phosphorus_content [g/g]
//! of all plants  by the step (constants/site.rs): uptake_share [-]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::constants::CanopyNeed;
use crate::plot::context::ZoneContext;
use crate::simd::{Mask, Real};
use crate::species::CanopyParams;
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// A step's uptake, as far as the soil has it.
#[inline(always)]
pub fn take_up<F: Real>(zone: &mut Zone<F>, need: &CanopyNeed<F>, context: &ZoneContext<F>) {
    let day = need.n.splat(context.day.since_solstice);
    let leafy = day.ge(need.from) & need.until.gt(day);
    if !leafy.any() {
        return;
    }
    let n = need.n.min(zone.mineral_n * context.constants.uptake_share).select_or_zero(leafy);
    let p = need.p.min(zone.soil_p).select_or_zero(leafy);
    zone.mineral_n -= n;
    zone.soil_p -= p;
    zone.canopy_n += n * need.wood_n.one_minus();
    zone.canopy_p += p * need.wood_p.one_minus();
    zone.flows.add(Flow::WoodN, n * need.wood_n);
    zone.flows.add(Flow::WoodP, p * need.wood_p);
}

/// Takes what `mass` g/m² of leaf or fruit holds out of the canopy as it falls; what was not taken up here comes
/// from its reserves.
#[inline(always)]
pub fn drop<F: Real>(zone: &mut Zone<F>, mass: F, canopy: &CanopyParams<F>) {
    let n = mass * canopy.nitrogen_content * KG_HA_PER_G_M2;
    let p = mass * canopy.phosphorus_content * KG_HA_PER_G_M2;
    let (stored_n, stored_p) = (n.min(zone.canopy_n), p.min(zone.canopy_p));
    zone.canopy_n -= stored_n;
    zone.canopy_p -= stored_p;
    zone.flows.add(Flow::CanopyFall, mass);
    zone.flows.add(Flow::CanopyN, n - stored_n);
    zone.flows.add(Flow::CanopyP, p - stored_p);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, SWARD, near, same};

    /// A year of a plum, 180 g/m² of leaf and 40 of fruit at 1.2 % nitrogen and 15 kg in wood: 41.4 kg/ha.
    const BUILT_N: f64 = 220.0 * 0.12;

    fn a_year(mineral_n: f64) -> Zone {
        let mut garden = Garden::new();
        let need = garden.constants.canopies[0];
        let mut zone = Zone { mineral_n, soil_p: 500.0, ..Zone::default() };
        for day in 0..365 {
            garden.day.since_solstice = f64::from(day);
            take_up(&mut zone, &need, &garden.zone_context(SWARD));
        }
        zone
    }

    #[test]
    fn a_canopy_takes_up_what_it_builds_in_its_leafy_season() {
        let zone = a_year(1000.0);
        near(1000.0 - zone.mineral_n, BUILT_N + 15.0, 1e-9);
        near(zone.canopy_n, BUILT_N, 1e-9);
        near(zone.flows.get(Flow::WoodN), 15.0, 1e-9);
        near(500.0 - zone.soil_p, 220.0 * 0.015 + 1.5, 1e-9);
        near(zone.flows.get(Flow::WoodP), 1.5, 1e-9);
    }

    /// What falls comes from the store, and what is missing there from reserves: books close either way.
    #[test]
    fn what_falls_was_taken_up_or_comes_from_reserves() {
        let garden = Garden::new();
        let canopy = &garden.constants.species.canopies[0];
        for (mineral_n, from_reserves) in [(1000.0, 0.0), (0.0, 180.0 * 0.12)] {
            let mut zone = a_year(mineral_n);
            let held = zone.canopy_n;
            drop(&mut zone, 180.0, canopy);
            near(zone.flows.get(Flow::CanopyN), from_reserves, 1e-9);
            near(held - zone.canopy_n, 180.0 * 0.12 - from_reserves, 1e-9);
            same(zone.flows.get(Flow::CanopyFall), 180.0);
        }
    }
}
