//! Dead cover: what has died and lies on the ground, standing residue, fallen fruit. (Never called by the word keepers
//! use for bedding.)
//!
//! # Formulas
//!
//! ```text
//! decay    = dead · (1 − exp(−dead_decay · Q10)) · Ks          g/m² a day; its nitrogen goes with it
//! of its nitrogen humus_share becomes slow organic, the rest mineral; its phosphorus goes to the soil
//! fall     = residue · (1 − exp(−residue_fall))                g/m² a day, residue to dead cover
//! fruit   += fruit_fall · share / (fruit_to − fruit_from)      g/m² a day, from fruit_from until before fruit_to
//! rots     = fruit · (1 − exp(−fruit_decay · Q10))             g/m² a day, its nitrogen mineral at once
//! ```
//!
//! Fruit of all canopies of a plot, each over its share of the ground, is one pool with its own nitrogen and phosphorus;
//! the season may run over the year's end (`constants/canopy.rs`). Q10 is soil life against 20 C and comes with the day as a share kept (`drivers.rs`), Ks the moisture of the ground, 0
//! to 1. What scratching mixes in is fresh organic matter of the soil (`nutrients.rs`).
//!
//! # Source
//!
//! First-order decay with Q10 and moisture: common practice, no source; rates from memory. Cover that dead material
//! gives, 1 − exp(−a · mass): form of RUSLE, Renard et al. 1997, AH-703 (from memory), computed in `context.rs`.
//!
//! # Limits
//!
//! One rate for straw, leaves and turf. Wet ground decays as fast as moist ground. Fruit falls evenly through its season;
//! none hangs too long or is harvested from the ground.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  humus_share [-]
//! CanopyParams   fruit_from [d], fruit_to [d], fruit_fall [g/m2], nitrogen_content [g/g], phosphorus_content [g/g]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::canopy_uptake;
use crate::plot::constants::SOLSTICE_YEAR_D;
use crate::plot::context::{ZoneContext, ZoneRates};
use crate::simd::{Mask, Real};
use crate::state::Zone;
use crate::units::KG_HA_PER_G_M2;

/// Lays `mass` g/m² of plant matter with these contents on the ground.
#[inline(always)]
pub fn add<F: Real>(zone: &mut Zone<F>, mass: F, n_content: F, p_content: F) {
    zone.dead += mass;
    zone.dead_n += mass * n_content * KG_HA_PER_G_M2;
    zone.dead_p += mass * p_content * KG_HA_PER_G_M2;
}

/// Moves a share of the standing residue to the ground.
#[inline(always)]
pub fn lay_down_residue<F: Real>(zone: &mut Zone<F>, share: F) {
    let (mass, n, p) = (zone.residue * share, zone.residue_n * share, zone.residue_p * share);
    zone.residue -= mass;
    zone.residue_n -= n;
    zone.residue_p -= p;
    zone.dead += mass;
    zone.dead_n += n;
    zone.dead_p += p;
}

/// Takes a share of the dead cover off the ground and into the soil, as scratching does.
#[inline(always)]
pub fn mix_in<F: Real>(zone: &mut Zone<F>, share: F) {
    let (mass, n, p) = (zone.dead * share, zone.dead_n * share, zone.dead_p * share);
    zone.dead -= mass;
    zone.dead_n -= n;
    zone.dead_p -= p;
    zone.fresh_n += n;
    zone.fresh_p += p;
    zone.flows.add(Flow::MixedIn, mass);
}

/// Decay and fall of a step.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, rates: &ZoneRates<F>, context: &ZoneContext<F>) {
    let standing = zone.residue.above(0.0);
    if standing.any() {
        lay_down_residue(zone, context.constants.residue_falls.select_or_zero(standing));
    }
    let gone = context.day.dead_keep.one_minus() * rates.water_factor;
    let (mass, n, p) = (zone.dead * gone, zone.dead_n * gone, zone.dead_p * gone);
    zone.dead -= mass;
    zone.dead_n -= n;
    zone.dead_p -= p;
    zone.slow_n += n * context.process.humus_share;
    zone.mineral_n += n * context.process.humus_share.one_minus();
    zone.soil_p += p;
    zone.flows.add(Flow::Decayed, mass);
    if !context.canopies.is_empty() {
        fruit(zone, context);
    }
}

/// Fruit falls through its season and rots.
#[inline(always)]
fn fruit<F: Real>(zone: &mut Zone<F>, context: &ZoneContext<F>) {
    let rots = context.day.fruit_keep.one_minus();
    let (rotten, n, p) = (zone.fruit * rots, zone.fruit_n * rots, zone.fruit_p * rots);
    zone.fruit -= rotten;
    zone.fruit_n -= n;
    zone.fruit_p -= p;
    zone.mineral_n += n;
    zone.soil_p += p;
    zone.flows.add(Flow::Decayed, rotten);
    let day = rotten.splat(context.day.since_solstice);
    // The 366th day would drop more fruit than a season over the year's end has.
    let in_year = day.below(SOLSTICE_YEAR_D);
    for canopy in context.canopies {
        let falling = canopy.fruiting.on(day) & in_year;
        if falling.any() {
            let falls = canopy.fruit_falls.select_or_zero(falling);
            zone.fruit += falls;
            zone.fruit_n += falls * canopy.nitrogen_content * KG_HA_PER_G_M2;
            zone.fruit_p += falls * canopy.phosphorus_content * KG_HA_PER_G_M2;
            canopy_uptake::drop(zone, falls, canopy.nitrogen_content, canopy.phosphorus_content);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::testing::{Garden, SWARD, at_ease, garden_site, near, net, same};

    fn laid() -> Zone {
        Zone {
            residue: 60.0,
            residue_n: 12.0,
            residue_p: 1.8,
            dead: 100.0,
            dead_n: 20.0,
            dead_p: 3.0,
            ..Zone::default()
        }
    }

    /// 1 g/m² is 10 kg/ha.
    #[test]
    fn what_dies_keeps_its_contents() {
        let mut zone = laid();
        add(&mut zone, 40.0, 0.025, 0.003);
        assert_eq!((zone.dead, zone.dead_n, zone.dead_p), (140.0, 30.0, 4.2));
    }

    #[test]
    fn residue_that_falls_and_dead_cover_mixed_in_only_change_place() {
        let mut zone = laid();
        lay_down_residue(&mut zone, 0.25);
        assert_eq!((zone.residue, zone.residue_n, zone.residue_p), (45.0, 9.0, 1.35));
        assert_eq!((zone.dead, zone.dead_n, zone.dead_p), (115.0, 23.0, 3.45));
        assert_eq!(net(&zone.flows, Currency::DryMatter), 0.0);
        mix_in(&mut zone, 0.2);
        assert_eq!((zone.dead, zone.dead_n), (92.0, 18.4));
        same(zone.dead_p, 2.76);
        same(zone.fresh_n, 4.6);
        same(zone.fresh_p, 0.69);
        same(net(&zone.flows, Currency::DryMatter), -23.0);
    }

    /// First order: the day's share of what lies, by moisture; 0.3 of its nitrogen is humus, and none is lost.
    #[test]
    fn dead_cover_decays_to_humus_and_mineral_nitrogen() {
        let mut garden = Garden::new();
        garden.day.dead_keep = 0.9;
        garden.constants.residue_falls = 0.0;
        for (water_factor, gone) in [(1.0, 10.0), (0.5, 5.0), (0.0, 0.0)] {
            let mut zone = Zone { slow_n: 4000.0, mineral_n: 7.0, soil_p: 500.0, ..laid() };
            advance(&mut zone, &ZoneRates { water_factor, ..at_ease() }, &garden.zone_context(SWARD));
            same(zone.dead, 100.0 - gone);
            same(zone.dead_n, 20.0 - 0.2 * gone);
            same(zone.dead_p, 3.0 - 0.03 * gone);
            near(zone.slow_n, 4000.0 + 0.3 * 0.2 * gone, 1e-9);
            same(zone.mineral_n, 7.0 + 0.7 * 0.2 * gone);
            near(zone.soil_p, 500.0 + 0.03 * gone, 1e-9);
            same(zone.flows.get(Flow::Decayed), gone);
        }
    }

    #[test]
    fn residue_falls_over_at_its_rate() {
        let mut garden = Garden::new();
        garden.constants.residue_falls = 0.25;
        for (residue, falls) in [(60.0, 15.0), (0.8, 0.2)] {
            let mut zone = Zone { residue, ..laid() };
            advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
            same(zone.residue, residue - falls);
            same(zone.dead, 100.0 + falls);
        }
    }

    /// The fruit of a year that rots nowhere.
    fn fallen_in_a_year(step: f64) -> (Zone, Vec<f64>) {
        let mut site = garden_site();
        site.steps_per_day = (1.0 / step) as u32;
        let mut garden = Garden::of(site);
        let mut zone = Zone::default();
        let mut by_day = Vec::new();
        for day in 0..365 {
            garden.day.since_solstice = f64::from(day);
            let before = zone.fruit;
            for _ in 0..(1.0 / step) as usize {
                advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
            }
            by_day.push(zone.fruit - before);
        }
        (zone, by_day)
    }

    /// `fruit_fall` is the fruit of a year: 40 g/m² between days 215 and 270, whatever the step.
    #[test]
    fn the_years_fruit_adds_up() {
        for step in [1.0, 0.25] {
            let (zone, by_day) = fallen_in_a_year(step);
            same(zone.fruit, 40.0);
            assert_eq!(by_day.iter().position(|&fell| fell > 0.0), Some(215));
            assert_eq!(by_day.iter().rposition(|&fell| fell > 0.0), Some(269));
            same(zone.flows.get(Flow::CanopyFall), 40.0);
            // The canopy's own uptake of the season held what fell.
            near(zone.flows.get(Flow::CanopyN), 40.0 * 0.12, 1e-9);
        }
    }

    /// A season over the winter solstice drops the same fruit, in a leap year too.
    #[test]
    fn fruit_may_fall_over_the_years_end() {
        let mut site = garden_site();
        (site.canopies[0].params.fruit_from, site.canopies[0].params.fruit_to) = (330.0, 150.0);
        let mut garden = Garden::of(site);
        for days in [365, 366] {
            let mut zone = Zone::default();
            for day in 0..days {
                garden.day.since_solstice = f64::from(day);
                advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
                if day == 200 {
                    near(zone.fruit, 40.0 * 150.0 / 185.0, 1e-9);
                }
            }
            near(zone.fruit, 40.0, 1e-9);
            near(zone.fruit_n, 40.0 * 0.12, 1e-9);
        }
    }

    #[test]
    fn fallen_fruit_rots_and_leaves_its_contents_in_the_soil() {
        let mut garden = Garden::new();
        garden.day.fruit_keep = 0.95;
        let mut zone =
            Zone { fruit: 30.0, fruit_n: 3.6, fruit_p: 0.45, mineral_n: 2.0, soil_p: 5.0, ..Zone::default() };
        advance(&mut zone, &at_ease(), &garden.zone_context(SWARD));
        same(zone.fruit, 28.5);
        same(zone.mineral_n, 2.0 + 1.5 * 0.12);
        same(zone.soil_p, 5.0 + 1.5 * 0.015);
        same(zone.flows.get(Flow::Decayed), 1.5);
    }
}
