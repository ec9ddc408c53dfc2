//! What birds do to a zone in a step: eat, scratch, disturb, tread, drop.
//!
//! What they take of plants and leavings hangs on what is within reach ([`fodder`]), what they tear out and press in on
//! how soft the ground is ([`treading`]).

pub mod fodder;
#[cfg(test)]
#[path = "../../../tests/common/laid_ground.rs"]
pub(crate) mod laid_ground;
mod leavings;
mod plants;
pub mod pressure;
pub mod treading;

use crate::plot::context::ZoneContext;
use crate::plot::nutrients;
use crate::simd::Real;
use crate::state::{Creeper, Weed, Zone};
use fodder::Fodder;
pub use fodder::Intake;
pub use pressure::{Pressure, Wants};
use treading::Feet;

/// Applies the birds' step. `exposed` is the share of the zone guards leave open.
#[inline(always)]
pub fn take<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    birds: &Pressure<F>,
    exposed: F,
    context: &ZoneContext<F>,
) -> Intake<F> {
    let birds = &treading::on_turf(zone, birds, context);
    let fodder = Fodder::within_reach(zone, weeds, creepers, birds, exposed, context);
    let feet = Feet::on(zone, birds, context);
    let mut intake = Intake::none(context.zero());
    plants::bite_cover(zone, &fodder, &feet, context, &mut intake);
    plants::bite_weeds(zone, weeds, &fodder, &feet, context, &mut intake);
    leavings::find_seed(zone, weeds, birds, exposed, context, &mut intake);
    plants::bite_creepers(zone, creepers, &fodder, &feet, context, &mut intake);
    plants::bite_crop(zone, &fodder, &feet, context, &mut intake);
    leavings::eat(zone, &fodder, birds, context, &mut intake);
    leavings::find_insects(zone, birds, exposed, &mut intake);
    treading::disturb(zone, birds, &feet, exposed, context);
    nutrients::receive_droppings(zone, birds.n, birds.p, context.process);
    intake
}

/// Share of fallen fruit that birds eat in a step, whether any lies there or not.
#[inline(always)]
#[must_use]
pub fn share_of_fruit<F: Real>(
    zone: &Zone<F>,
    weeds: &[Weed<F>],
    creepers: &[Creeper<F>],
    birds: &Pressure<F>,
    exposed: F,
    context: &ZoneContext<F>,
) -> F {
    let fodder = Fodder::within_reach(zone, weeds, creepers, birds, exposed, context);
    exposed * fodder.share(exposed.splat(1.0), fodder.wants.fruit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::{Currency, Flow, Flows};
    use crate::testing::{near, net, same};
    use laid_ground::{EXPOSED, LaidGround, PREFERENCE, WITHIN, asking};

    #[test]
    fn behind_guards_nothing_is_touched_and_droppings_still_count() {
        let mut ground = LaidGround::laid();
        let birds = Pressure {
            green: 20.0,
            wants: asking(20.0).wants,
            scratched: 2.0,
            insects: 2.0,
            seeds: 2.0,
            trodden: 2.0,
            n: 4.0,
            p: 1.0,
            ..Pressure::default()
        };
        let (zone, weeds, creepers) = (ground.zone.clone(), ground.weeds, ground.creepers);
        let intake = ground.take(&birds, 0.0);
        assert_eq!((intake, ground.weeds, ground.creepers), (Intake::none(0.0), weeds, creepers));
        let books = Flows::default();
        let (mineral_n, fresh_n, fresh_p) = (ground.zone.mineral_n, ground.zone.fresh_n, ground.zone.fresh_p);
        assert!(mineral_n > 0.0 && fresh_n > 0.0 && fresh_p > 0.0);
        let flows = ground.zone.flows.clone();
        same(flows.get(Flow::ManureN), 4.0);
        same(flows.get(Flow::ManureP), 1.0);
        let untouched = Zone { mineral_n: 0.0, fresh_n: 0.0, fresh_p: 0.0, flows: books, ..ground.zone.clone() };
        assert_eq!(untouched, zone);
    }

    #[test]
    fn all_that_birds_take_is_booked() {
        let mut ground = LaidGround::laid();
        ground.garden.constants.species.process.mix_in = 0.05;
        let before = ground.stocks();
        let birds = Pressure { scratched: 2.0, insects: 0.7, seeds: 0.3, n: 4.0, p: 1.0, ..asking(20.0) };
        ground.take(&birds, EXPOSED);
        let after = ground.stocks();
        let books = &ground.zone.flows;
        for (currency, (before, after)) in
            [Currency::DryMatter, Currency::N, Currency::Seeds].into_iter().zip(before.iter().zip(after))
        {
            near(after - before, net(books, currency), 1e-11);
        }
        let got = [Flow::EatenN, Flow::EatenP].map(|flow| books.get(flow));
        let contents =
            [(Flow::EatenCover, 0.25, 0.032), (Flow::EatenCrop, 0.28, 0.035), (Flow::EatenFruit, 0.12, 0.015)];
        let (mut n, mut p) = (0.0, 0.0);
        for (flow, of_n, of_p) in contents {
            n += books.get(flow) * of_n;
            p += books.get(flow) * of_p;
        }
        let residue = books.get(Flow::EatenResidue) / 30.0;
        let weed = 60.0 * EXPOSED * 0.9 * 2.0 * 20.0
            / (60.0 + EXPOSED * WITHIN.iter().zip(PREFERENCE).map(|(w, p)| w * p).sum::<f64>());
        let creeper = books.get(Flow::EatenWeeds) - weed;
        same(got[0], n + 6.0 * residue + 0.3 * weed + 0.22 * creeper);
        same(got[1], p + 0.9 * residue + 0.04 * weed + 0.03 * creeper);
    }
}
