//! Feet on the ground: how hard they bear on it, and what they do to its surface.
//!
//! # Formulas
//!
//! ```text
//! scratched  = that of loose ground · (1 − (1 − turf_scratching) · crowns)  m² per m²
//! tears      = scratched · (1 + soft_tearing · softness)                  m² per m²
//! presses    = trodden · softness                                         m² per m²
//! opened     = scratched · (1 − (1 − turf_opening) · crowns)              m² per m², soil laid bare
//! disturbed += (1 − disturbed) · (1 − exp(−opened)) · exposed             share of the surface
//! thrown    += soil_thrown · (1 − exp(−scratched)) · exposed              kg/m², out of beds alone
//! firm      += (1 − firm) · (1 − exp(−presses)) · exposed
//! dead cover mixed into the soil = dead · (1 − exp(−(mix_in · scratched + tread_loss · presses))) · exposed
//! ```
//!
//! Softness, 0 to 1, is that of the start of the step (`plot/water.rs`); scratched and trodden are m² per m² of zone in the
//! step; `exposed` is the share of the zone that guards leave open.
//!
//! # Source
//!
//! Wet soil bears less and is harmed more: Drewry, Cameron & Buchan 2008, Aust. J. Soil Res. 46:237, and Greenwood & McKenzie
//! 2001, Aust. J. Exp. Agric. 41:1231, reviews of cattle and sheep. A hen presses with 5 to 8 kPa standing, a sheep with
//! 60 to 80 (worked out, from memory): hence wide ranges. Scratching, disturbance, soil thrown and firming: forms ours,
//! calibrated.
//!
//! # Limits
//!
//! Turf holds out until its last crown: a sward is loose by as much as its crowns are gone. Treading harms only soft ground, and all birds of a kind tread alike wherever they go: no paths, no gateway.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  mix_in [-], soil_thrown [kg/m2], soft_tearing [-], turf_scratching [-], turf_opening [-]
//! CoverParams    tread_loss [-]
//! ```

use super::pressure::Pressure;
use crate::plot::context::ZoneContext;
use crate::plot::{dead_cover, water};
use crate::simd::Real;
use crate::state::Zone;

/// Birds as they scratch here: less where living crowns close the sward.
#[inline(always)]
pub(super) fn on_turf<F: Real>(zone: &Zone<F>, birds: &Pressure<F>, context: &ZoneContext<F>) -> Pressure<F> {
    let loose = (context.process.turf_scratching.one_minus() * zone.crowns).one_minus();
    Pressure { scratched: birds.scratched * loose, ..*birds }
}

/// How birds bear on the ground of a step, m² per m².
pub(super) struct Feet<F> {
    /// Scratched, counted more where the ground is soft.
    pub tears: F,
    /// Trodden, as far as the ground is soft.
    pub presses: F,
}

impl<F: Real> Feet<F> {
    /// On the zone as it is now.
    #[inline(always)]
    pub(super) fn on(zone: &Zone<F>, birds: &Pressure<F>, context: &ZoneContext<F>) -> Self {
        let soft = water::softness(zone, context);
        Self { tears: birds.scratched * (context.process.soft_tearing * soft + 1.0), presses: birds.trodden * soft }
    }
}

/// Scratched, thrown out, trodden firm, and dead cover worked in.
#[inline(always)]
pub(super) fn disturb<F: Real>(
    zone: &mut Zone<F>,
    birds: &Pressure<F>,
    feet: &Feet<F>,
    exposed: F,
    context: &ZoneContext<F>,
) {
    let mixed = context.process.mix_in * birds.scratched + context.cover.tread_loss * feet.presses;
    dead_cover::mix_in(zone, mixed.hazard_to_prob() * exposed);
    let scratched = birds.scratched.hazard_to_prob() * exposed;
    // A claw that combs closed turf seldom lays soil bare.
    let opened = (context.process.turf_opening.one_minus() * zone.crowns).one_minus() * birds.scratched;
    zone.disturbed += zone.disturbed.one_minus() * opened.hazard_to_prob() * exposed;
    if context.here.bed {
        zone.thrown += context.process.soil_thrown * scratched;
    }
    zone.firm += zone.firm.one_minus() * feet.presses.hazard_to_prob() * exposed;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Flow;
    use crate::plot::bites::laid_ground::{EXPOSED, scratching};
    use crate::plot::bites::take;
    use crate::testing::{BED, Garden, SWARD, hazard_to_prob, same};

    #[test]
    fn scratched_ground_is_disturbed_thrown_out_and_mixed() {
        let mut garden = Garden::new();
        garden.constants.species.process.mix_in = 0.05;
        for (ground, thrown) in [(SWARD, 0.0), (BED, 0.4 * hazard_to_prob(0.9) * EXPOSED)] {
            let mut zone = Zone { disturbed: 0.3, dead: 80.0, dead_n: 16.0, dead_p: 2.0, ..Zone::default() };
            take(&mut zone, &mut [], &mut [], &scratching(0.9), EXPOSED, &garden.zone_context(ground));
            same(zone.disturbed, 0.3 + 0.7 * hazard_to_prob(0.9) * EXPOSED);
            same(zone.thrown, thrown);
            let mixed = 80.0 * hazard_to_prob(0.05 * 0.9) * EXPOSED;
            same(zone.dead, 80.0 - mixed);
            same(zone.fresh_n, 16.0 * mixed / 80.0);
            same(zone.flows.get(Flow::MixedIn), mixed);
        }
    }

    /// Dry ground is not pressed firm; at saturation the share trodden is.
    #[test]
    fn ground_is_trodden_firm_where_it_is_wet() {
        let garden = Garden::new();
        let context = garden.zone_context(SWARD);
        let birds = Pressure { trodden: 0.8, ..Pressure::default() };
        for (above_field_capacity, wet) in [(-5.0, 0.0), (0.0, 0.0), (22.5, 0.5), (45.0, 1.0)] {
            let water = context.here.available_water + above_field_capacity;
            let mut zone = Zone { water, firm: 0.25, ..Zone::default() };
            take(&mut zone, &mut [], &mut [], &birds, EXPOSED, &context);
            same(zone.firm, 0.25 + 0.75 * hazard_to_prob(0.8 * wet) * EXPOSED);
        }
    }

    /// Where crowns close half of the ground, three quarters of what a bird scratches of loose ground.
    #[test]
    fn closed_turf_is_scratched_less() {
        let mut garden = Garden::new();
        garden.constants.species.process.turf_scratching = 0.5;
        let context = garden.zone_context(SWARD);
        for (crowns, scratched) in [(0.0, 0.8), (0.5, 0.6), (1.0, 0.4)] {
            let mut zone = Zone { crowns, ..Zone::default() };
            take(&mut zone, &mut [], &mut [], &scratching(0.8), 1.0, &context);
            same(zone.disturbed, hazard_to_prob(scratched));
        }
    }

    /// Of what is scratched of closed turf a quarter lays soil bare.
    #[test]
    fn closed_turf_is_seldom_opened() {
        let mut garden = Garden::new();
        garden.constants.species.process.turf_opening = 0.25;
        let context = garden.zone_context(SWARD);
        for (crowns, opened) in [(0.0, 0.8), (1.0, 0.2)] {
            let mut zone = Zone { crowns, ..Zone::default() };
            take(&mut zone, &mut [], &mut [], &scratching(0.8), 1.0, &context);
            same(zone.disturbed, hazard_to_prob(opened));
        }
    }

    /// Dead cover is trodden in as the living is.
    #[test]
    fn dead_cover_is_trodden_into_soft_ground() {
        let mut garden = Garden::new();
        (garden.constants.species.process.mix_in, garden.constants.species.covers[0].tread_loss) = (0.0, 0.3);
        let context = garden.zone_context(SWARD);
        let water = context.here.available_water + 22.5;
        let mut zone = Zone { water, dead: 80.0, dead_n: 16.0, ..Zone::default() };
        take(&mut zone, &mut [], &mut [], &Pressure { trodden: 2.0, ..Pressure::default() }, EXPOSED, &context);
        same(80.0 - zone.dead, 80.0 * hazard_to_prob(0.3 * 2.0 * 0.5) * EXPOSED);
        same(zone.fresh_n, 16.0 - zone.dead_n);
    }
}
