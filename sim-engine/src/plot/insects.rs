//! Invertebrate food at the surface: renewed by warmth, gone again if nothing eats it.
//!
//! # Formulas
//!
//! ```text
//! up   = insect_renewal · warmth                                        g/m² a day
//! gone = insects · (1 − exp(−insect_renewal/insect_room · warmth))      g/m² a day
//! ```
//!
//! Where nothing eats, it settles at `insect_room`. Warmth is 0 to 1, the share gone of a step comes with the day
//! (`drivers.rs`).
//!
//! # Source
//!
//! Form ours, calibrated: a few tenths of a gram a bird and day on a holding of 30 m² a bird; not measured.
//!
//! # Limits
//!
//! One stock of worms, beetles and larvae; useful ones are in it and not told apart, and no pest gains by their loss. No
//! pulse after rain. Pests are counted apart (`plot/pests/`) and are no part of it.
//!
//! Helpers lost are told to the keeper, not modelled. Hens and geese in an orchard: spiders and harvestmen fewer, ground and
//! rove beetles and earthworms unchanged (Clark & Gage 1997, Appl. Soil Ecol. 5:255). Broilers on plots: spiders and rove
//! beetles more on the ground, plant-living beetles, bugs and wasps 4 to 5 times fewer (Garcia et al. 2023, Front. Sustain.
//! Food Syst.), against the former on spiders. Ducks in rice: spiders fewer, hoppers more (Qian et al. 2022, Biocontrol Sci.
//! Technol.). Earwigs nest in the ground over winter and spring, November to May in the north (Moerkens et al. 2009).
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  insect_renewal [g/m2/d]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::simd::Real;
use crate::state::Zone;

/// Renewal and loss of a step; settles at `insect_room` where nothing eats.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, context: &ZoneContext<F>) {
    let up = context.process.insect_renewal * context.day.insect_warmth * context.step();
    let gone = zone.insects * context.day.insect_going;
    zone.insects += up - gone;
    zone.flows.add(Flow::InsectsUp, up);
    zone.flows.add(Flow::InsectsGone, gone);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::testing::{Garden, SWARD, hazard_to_prob, net, same};

    /// A garden of this warmth, its rates taken from renewal 0.08 and room 0.4 g/m².
    fn warm(warmth: f64, step: f64) -> Garden {
        let mut garden = Garden::new();
        garden.constants.step = step;
        garden.day.insect_warmth = warmth;
        garden.day.insect_going = hazard_to_prob(0.08 / 0.4 * warmth * step);
        garden
    }

    #[test]
    fn insects_come_with_warmth_and_go_again() {
        for (warmth, step) in [(1.0, 1.0), (0.5, 1.0), (1.0, 0.5), (0.0, 1.0)] {
            let garden = warm(warmth, step);
            let mut zone = Zone { insects: 0.3, ..Zone::default() };
            advance(&mut zone, &garden.zone_context(SWARD));
            let (up, gone) = (0.08 * warmth * step, 0.3 * hazard_to_prob(0.2 * warmth * step));
            same(zone.insects, 0.3 + up - gone);
            same(zone.flows.get(Flow::InsectsUp), up);
            same(zone.flows.get(Flow::InsectsGone), gone);
            same(net(&zone.flows, Currency::DryMatter), up - gone);
        }
    }

    /// Settles where what comes equals what goes: at the room in fine steps, from either side, at any warmth.
    #[test]
    fn uneaten_insects_settle_at_their_room() {
        for warmth in [0.3, 1.0] {
            for start in [0.0, 2.0] {
                let garden = warm(warmth, 1e-3);
                let mut zone = Zone { insects: start, ..Zone::default() };
                for _ in 0..400_000 {
                    advance(&mut zone, &garden.zone_context(SWARD));
                }
                assert!((zone.insects / 0.4 - 1.0).abs() < 1e-3, "{}", zone.insects);
            }
        }
    }
}
