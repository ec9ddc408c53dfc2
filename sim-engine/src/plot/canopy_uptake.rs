//! What trees, bushes and canes take up for leaves, fruit and wood, and what they drop of it.
//!
//! # Formulas
//!
//! ```text
//! taken   = min(N · uptake_share, Σ asked)                                         kg/ha a day, of the canopies in leaf; what is not wood is stored
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
//! growth. The canopies of a plot share one store: what one took up may fall from another.
//!
//! # Parameters
//!
//! ```text
//! CanopyParams   nitrogen_content [g/g], phosphorus_content [g/g]; by the step (constants/canopy.rs): wood_nitrogen [kg/ha/yr],
//!                wood_phosphorus [kg/ha/yr]
//! ProcessParams  by the step (constants/site.rs): uptake_share [-]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::simd::{Mask, Real};
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// A step's uptake of all canopies of the plot, as far as the soil has it.
#[inline(always)]
pub fn take_up<F: Real>(zone: &mut Zone<F>, context: &ZoneContext<F>) {
    let zero = context.zero();
    let day = zero.splat(context.day.since_solstice);
    let (mut asked_n, mut asked_p, mut wood_n, mut wood_p) = (zero, zero, zero, zero);
    for canopy in context.canopies {
        let leafy = canopy.leafy.on(day);
        asked_n += canopy.n.select_or_zero(leafy);
        asked_p += canopy.p.select_or_zero(leafy);
        wood_n += canopy.wood_n.select_or_zero(leafy);
        wood_p += canopy.wood_p.select_or_zero(leafy);
    }
    if !(asked_n + asked_p).above(0.0).any() {
        return;
    }
    let n = asked_n.min(zone.mineral_n * context.constants.uptake_share);
    let p = asked_p.min(zone.soil_p);
    let wood_n = (n * (wood_n / asked_n)).select_or_zero(asked_n.above(0.0));
    let wood_p = (p * (wood_p / asked_p)).select_or_zero(asked_p.above(0.0));
    zone.mineral_n -= n;
    zone.soil_p -= p;
    zone.canopy_n += n - wood_n;
    zone.canopy_p += p - wood_p;
    zone.flows.add(Flow::WoodN, wood_n);
    zone.flows.add(Flow::WoodP, wood_p);
}

/// Takes what `mass` g/m² of leaf or fruit with these contents holds out of the canopies as it falls; what was not taken
/// up here comes from their reserves.
#[inline(always)]
pub fn drop<F: Real>(zone: &mut Zone<F>, mass: F, n_content: F, p_content: F) {
    let n = mass * n_content * KG_HA_PER_G_M2;
    let p = mass * p_content * KG_HA_PER_G_M2;
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
        let mut zone = Zone { mineral_n, soil_p: 500.0, ..Zone::default() };
        for day in 0..365 {
            garden.day.since_solstice = f64::from(day);
            take_up(&mut zone, &garden.zone_context(SWARD));
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
        let canopy = &garden.site.canopies[0].params;
        for (mineral_n, from_reserves) in [(1000.0, 0.0), (0.0, 180.0 * 0.12)] {
            let mut zone = a_year(mineral_n);
            let held = zone.canopy_n;
            drop(&mut zone, 180.0, canopy.nitrogen_content, canopy.phosphorus_content);
            near(zone.flows.get(Flow::CanopyN), from_reserves, 1e-9);
            near(held - zone.canopy_n, 180.0 * 0.12 - from_reserves, 1e-9);
            same(zone.flows.get(Flow::CanopyFall), 180.0);
        }
    }
}
