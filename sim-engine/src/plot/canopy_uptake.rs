//! What trees, bushes and canes take up for leaves, fruit and wood, and what they drop of it.
//!
//! # Formulas
//!
//! ```text
//! built   = (leaf_litter + fruit_fall) · nitrogen_content · 10                     kg/ha a year, dropped again
//! asked   = (built + wood_nitrogen) / leafy days                                   kg/ha a day, from leaf_out until before leaf_fall
//! taken   = min(N · uptake_share, asked)                                           of it built/(built + wood_nitrogen) is stored
//! dropped = fallen mass · nitrogen_content · 10, from the store as far as it goes; the rest from the canopy's reserves
//! ```
//!
//! Phosphorus alike. Evergreens take up all year. N is mineral nitrogen, kg/ha, after the plants of the ground have had theirs.
//! What the soil of the root zone cannot give is drawn from reserves and deeper soil, and booked as such when it falls.
//!
//! # Source
//!
//! Apple from budbreak to harvest gains 55 kg N and 9.2 kg P a hectare of orchard at full crop, 10 and 1.7 g a m² of
//! canopy, over nine tenths of it in fruit, shoots and leaves: Cheng & Raba 2009, J. Am. Soc. Hort. Sci. 134:3-13.
//! Garden trees bear about half of that crop (from memory). Spread evenly over the leafy season: form ours.
//!
//! # Limits
//!
//! Fruit that is picked is no part of it, nor are roots below the root zone. Trees never starve: a poor soil costs them no
//! growth.
//!
//! # Parameters
//!
//! ```text
//! CanopyParams   leaf_out [d], leaf_fall [d], leaf_litter [g/m2], fruit_fall [g/m2], nitrogen_content [g/g],
//!                phosphorus_content [g/g], wood_nitrogen [kg/ha/yr], wood_phosphorus [kg/ha/yr]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::simd::soa::soa;
use crate::simd::{Mask, Real};
use crate::site::Site;
use crate::species::{Canopy, CanopyParams};
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// What a canopy asks of the soil, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanopyNeed<F = f64> {
    /// First leafy day, days after the winter solstice.
    pub from: F,
    /// The day after the last.
    pub until: F,
    /// Nitrogen, kg/ha a step.
    pub n: F,
    /// Phosphorus, kg/ha a step.
    pub p: F,
    /// Shares of these that go into wood.
    pub wood_n: F,
    /// Of phosphorus.
    pub wood_p: F,
}

soa! { CanopyNeed { from, until, n, p, wood_n, wood_p } }

impl CanopyNeed {
    /// Of every canopy of the site.
    pub(super) fn of_site(site: &Site, step: f64) -> Vec<Self> {
        site.canopies.iter().map(|canopy| Self::new(canopy, step)).collect()
    }

    fn new(canopy: &Canopy, step: f64) -> Self {
        let params = &canopy.params;
        // Days past the year's end: in leaf on every day.
        let (from, until) = if canopy.evergreen { (0.0, 367.0) } else { (params.leaf_out, params.leaf_fall) };
        let steps = (until - from).clamp(1.0, 365.25) / step;
        let dropped = (params.leaf_litter + params.fruit_fall) * KG_HA_PER_G_M2;
        let (n, p) = (dropped * params.nitrogen_content, dropped * params.phosphorus_content);
        let share = |wood: f64, dropped: f64| if wood > 0.0 { wood / (wood + dropped) } else { 0.0 };
        Self {
            from,
            until,
            n: (n + params.wood_nitrogen) / steps,
            p: (p + params.wood_phosphorus) / steps,
            wood_n: share(params.wood_nitrogen, n),
            wood_p: share(params.wood_phosphorus, p),
        }
    }
}

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
    use crate::testing::{Garden, SWARD, garden_site, near, same};

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

    /// Half the crop of Cheng & Raba 2009, 10 g N and 1.7 g P a m² of canopy, is 50 to 70 kg N: leaf, windfalls and wood are below it.
    #[test]
    fn uptake_is_of_the_size_measured_in_apple() {
        let need = &CanopyNeed::of_site(&garden_site(), 1.0)[0];
        let (n, p) = (need.n * (need.until - need.from), need.p * (need.until - need.from));
        assert!((30.0..70.0).contains(&n) && (4.0..9.0).contains(&p), "{n} {p}");
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

    #[test]
    fn an_evergreen_takes_up_every_day() {
        let mut site = garden_site();
        site.canopies[0].evergreen = true;
        let need = &CanopyNeed::of_site(&site, 0.5)[0];
        near(need.n * 365.25 / 0.5, BUILT_N + 15.0, 1e-9);
        assert!(need.from <= 0.0 && need.until > 366.0);
    }
}
