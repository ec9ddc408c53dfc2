//! The time the keeper's own work takes on a plot.
//!
//! # Formulas
//!
//! ```text
//! weeding    = area · (weeding_time_clean + weeding_time_weedy · w · (1 + weeding_time_seeding · m))   h a pass
//! mowing     = area · mowing_time                                                                      h a cut
//! clearing   = area · clearing_time · min(1, residue / residue_full)                                   h a bed
//! shovelling = soil thrown / 1300 kg/m3 · shovelling_time                                              h
//! guards     = area under them · guard_time                                                            h, up or down
//! nets       = area under them · net_time                                                              h, up or down; counted with guards
//! moving     = moving_time                                  h, a day on which another set of gates is open than the day before
//!            + house_moving_time                            h, a day on which a house that moves with the flock is moved
//! ```
//!
//! w is the cover of weeds as a keeper judges it (`seen.rs`), m the share of their mass that is in flower or seed, each
//! 0 to 1. Which pass is due on which day stands in `run/care.rs`, what it does to the ground in `manual_care.rs`.
//!
//! # Source
//!
//! Linear in the weeds: Melander & Rasmussen 2001 and Melander et al. 2005, 100–600 h/ha a season in drilled onion and leek.
//! A late pass takes half more: Tiwari et al. 2022, Int. J. Agric. Sustain. A weedy garden bed at 0.125 h/m² a pass: a trial
//! log of Massey University 2005–6, told by a seller of mulch. Loose soil of 1300 kg/m³ (from memory). The rest: common
//! practice, no source.
//!
//! # Limits
//!
//! A keeper neither tires nor learns, and way and tools are in the rates. Opening in the morning, shutting at dusk, feed,
//! eggs and house are care of the birds and not counted here.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  weeding_time_clean [h/m2], weeding_time_weedy [h/m2], weeding_time_seeding [-], mowing_time [h/m2],
//!                clearing_time [h/m2], residue_full [g/m2], shovelling_time [h/m3], guard_time [h/m2], net_time [h/m2],
//!                moving_time [h], house_moving_time [h]
//! ```

use crate::species::ProcessParams;

/// Loose soil, kg/m³ (from memory).
const LOOSE_SOIL_KG_M3: f64 = 1300.0;

/// Hours of the keeper's work since the start of the run, of a plot or of the site.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WorkHours {
    /// Weeding.
    pub weeding: f64,
    /// Mowing.
    pub mowing: f64,
    /// Clearing beds of what crops leave.
    pub clearing: f64,
    /// Shovelling scratched soil back.
    pub shovelling: f64,
    /// Moving the birds.
    pub moving: f64,
    /// Putting guards and nets up and taking them down.
    pub guards: f64,
    /// Mulch and compost.
    pub other: f64,
}

impl WorkHours {
    /// Adds another's hours.
    pub fn add(&mut self, more: &Self) {
        let Self { weeding, mowing, clearing, shovelling, moving, guards, other } = self;
        *weeding += more.weeding;
        *mowing += more.mowing;
        *clearing += more.clearing;
        *shovelling += more.shovelling;
        *moving += more.moving;
        *guards += more.guards;
        *other += more.other;
    }

    /// All of them.
    #[must_use]
    pub fn total(&self) -> f64 {
        let Self { weeding, mowing, clearing, shovelling, moving, guards, other } = self;
        weeding + mowing + clearing + shovelling + moving + guards + other
    }
}

/// Weeds as a keeper finds them on a ground.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WeedsFound {
    /// Cover, 0 to 1.
    pub cover: f64,
    /// Share of their mass in flower or seed.
    pub in_seed: f64,
}

/// Hours of one weeding of so much ground, m².
#[must_use]
pub fn weeding(process: &ProcessParams, area_m2: f64, found: WeedsFound) -> f64 {
    let late = 1.0 + process.weeding_time_seeding * found.in_seed;
    area_m2 * (process.weeding_time_clean + process.weeding_time_weedy * found.cover * late)
}

/// Hours to clear ground of so much standing residue, g/m².
#[must_use]
pub fn clearing(process: &ProcessParams, area_m2: f64, residue_g_m2: f64) -> f64 {
    area_m2 * process.clearing_time * (residue_g_m2 / process.residue_full).min(1.0)
}

/// Hours to shovel so much soil back, kg.
#[must_use]
pub fn shovelling(process: &ProcessParams, thrown_kg: f64) -> f64 {
    thrown_kg / LOOSE_SOIL_KG_M3 * process.shovelling_time
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, same};

    fn process() -> ProcessParams {
        ProcessParams {
            weeding_time_clean: 0.005,
            weeding_time_weedy: 0.12,
            weeding_time_seeding: 0.5,
            clearing_time: 0.1,
            residue_full: 200.0,
            shovelling_time: 1.0,
            ..Garden::new().constants.species.process.clone()
        }
    }

    /// A full bed takes the 0.125 h/m² of the trial log; one with 30 % weeds, four times a season, the 100 to 600 h/ha of
    /// onions and leeks.
    #[test]
    fn a_weeding_takes_what_was_measured() {
        let hours = |cover: f64, in_seed: f64| weeding(&process(), 1.0, WeedsFound { cover, in_seed });
        same(hours(1.0, 0.0), 0.125);
        same(hours(0.0, 0.0), 0.005);
        same(hours(0.5, 1.0), 0.005 + 0.06 * 1.5);
        assert!((100.0..=600.0).contains(&(10_000.0 * 4.0 * hours(0.08, 0.0))));
    }

    #[test]
    fn a_bed_half_cleared_by_birds_takes_half() {
        same(clearing(&process(), 40.0, 100.0), 2.0);
        same(clearing(&process(), 40.0, 900.0), 4.0);
        assert_eq!(clearing(&process(), 40.0, 0.0), 0.0);
    }

    #[test]
    fn a_cubic_metre_takes_an_hour() {
        same(shovelling(&process(), 2600.0), 2.0);
    }

    #[test]
    fn every_kind_of_hour_counts() {
        let one = WorkHours {
            weeding: 1.0,
            mowing: 2.0,
            clearing: 4.0,
            shovelling: 8.0,
            moving: 16.0,
            guards: 32.0,
            other: 64.0,
        };
        let mut two = one;
        two.add(&one);
        assert_eq!((one.total(), two.total()), (127.0, 254.0));
    }
}
