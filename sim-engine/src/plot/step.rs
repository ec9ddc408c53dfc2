//! The order of a step in a zone, all but its pests.
//!
//! 1. Look: all rates come from the state at the start of the step.
//! 2. Growth is proposed and nitrogen shared out: all growth scales by one factor.
//! 3. Birds eat, scratch and drop (from the state before growth).
//! 4. Growth is added; plants age, shed and die; the dead decay; trees take up what they build.
//! 5. Water, then turnover and losses of nutrients.
//! 6. Worm eggs ripen, insects come and go, scratched ground settles and firm ground loosens.
//!
//! The birds' uptake of worm eggs and the step of the zone's pests (`predation.rs`) follow in `run/ground_day.rs`; the
//! pests too meet the cover of the start of the step.
//!
//! # Formulas
//!
//! ```text
//! C₁ = C₀ + factor · growth(C₀) − eaten(C₀) − …      g/m²: growth from the mass before the birds ate
//! pressure = Σ yield_loss_per_mass · mass            of annual and creeping weeds on a crop, share
//! disturbed ·= exp(−settling · step),  firm ·= exp(−firm_loosening · step)
//! ```
//!
//! # Source
//!
//! Growth and grazing of the same state: Noy-Meir 1975, J. Ecol. 63:459. Pressure: Cousens 1985's initial slope, by mass
//! for density. Settling and loosening: first order, from memory. The order itself is ours.
//!
//! # Limits
//!
//! A step is a day unless the site asks for halves or quarters; within it nothing reacts to anything else.
//!
//! # Parameters
//!
//! ```text
//! CoverParams   fixed_share [-]
//! ProcessParams fixing_half [kg/ha], worm_hardy_share [-]
//! WeedParams, CreeperParams  yield_loss_per_mass [m2/g]
//! of all plants  nitrogen_content [g/g], phosphorus_content [g/g]
//!                by the step (constants/site.rs): uptake_share [-], settling [1/d], firm_loosening [1/d]
//! ```

use crate::plot::bites::{self, Intake, Pressure};
use crate::plot::context::{ZoneContext, ZoneRates, see};
use crate::plot::nutrients::{self, Need};
use crate::plot::{
    canopy_uptake, cover, creepers as creeping, crops, dead_cover, insects, water, weeds as annual, worm_eggs,
};
use crate::simd::{Mask, Real};
use crate::state::{Creeper, Weed, Zone};

/// One step of everything in a zone but its pests; returns what birds ate, g/m².
#[inline(always)]
pub fn step<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    birds: Option<&Pressure<F>>,
    exposed: F,
    context: &ZoneContext<F>,
) -> Intake<F> {
    let rates = ZoneRates::at(zone, context);
    let mut grown = Grown::propose(zone, weeds, creepers, &rates, context);
    let factor = nutrients::feed_growth(zone, &grown.need, context.constants.uptake_share, context.process.fixing_half);
    grown.scale(factor, weeds, creepers);
    let pressure = if context.crop.is_some() { weed_pressure(weeds, creepers, context) } else { context.zero() };
    let intake = match birds {
        Some(birds) => bites::take(zone, weeds, creepers, birds, exposed, context),
        None => Intake::none(context.zero()),
    };
    zone.cover_mass += grown.cover;
    cover::advance(zone, &rates, context);
    for ((weed, &slot), &(kind, _)) in weeds.iter_mut().zip(&context.slots.weeds).zip(&context.plot.weeds) {
        let plant = &context.plants[slot];
        annual::advance(weed, zone, &context.weeds[kind], &context.constants.weeds[kind], plant, &rates, context);
    }
    for ((creeper, &slot), &(kind, _)) in creepers.iter_mut().zip(&context.slots.creepers).zip(&context.plot.creepers) {
        creeping::advance(creeper, zone, &context.creepers[kind], &context.plants[slot], &rates, context);
    }
    if let Some(crop) = &context.crop {
        zone.crop += grown.crop;
        crops::advance(zone, crop, pressure, context);
    }
    dead_cover::advance(zone, &rates, context);
    if !context.canopies.is_empty() {
        canopy_uptake::take_up(zone, context);
    }
    let drained = water::advance(zone, &rates, context);
    nutrients::advance(zone, drained, &rates, context);
    let shed = match birds {
        Some(birds) => birds.shed,
        None => context.zero(),
    };
    let day = context.day;
    let keep = [day.worm_keep, day.worm_keep_hardy];
    worm_eggs::advance(&mut zone.worms, shed, context.process.worm_hardy_share, day.worm_rate, keep);
    insects::advance(zone, context);
    zone.disturbed *= context.constants.settle_keep;
    zone.firm *= context.constants.firm_keep;
    see(zone, weeds, creepers, context);
    intake
}

/// Growth of cover and crop before and after nitrogen is shared out, g/m²; weeds keep theirs themselves.
struct Grown<F> {
    cover: F,
    crop: F,
    need: Need<F>,
}

impl<F: Real> Grown<F> {
    #[inline(always)]
    fn propose(
        zone: &Zone<F>,
        weeds: &mut [Weed<F>],
        creepers: &mut [Creeper<F>],
        rates: &ZoneRates<F>,
        context: &ZoneContext<F>,
    ) -> Self {
        let zero = context.zero();
        let mut grown = Self { cover: zero, crop: zero, need: Need { n: zero, p: zero, can_fix: zero, mass: zero } };
        if zone.crowns.above(0.0).any() {
            let params = context.cover;
            grown.cover = cover::growth(zone, rates, context);
            grown.need.add(grown.cover, params.nitrogen_content, params.phosphorus_content);
            grown.need.can_fix = params.fixed_share * grown.need.n;
        }
        for ((weed, &slot), &(kind, _)) in weeds.iter_mut().zip(&context.slots.weeds).zip(&context.plot.weeds) {
            weed.grown = [zero; 3];
            let mass = weed.mass();
            if mass.above(0.0).any() {
                let params = &context.weeds[kind];
                let rate = annual::growth(params, &context.plants[slot], zone, rates, context);
                let [young, leafy, mature] = weed.ages;
                weed.grown = [young * rate, leafy * rate, mature * rate];
                grown.need.add(mass * rate, params.nitrogen_content, params.phosphorus_content);
            }
        }
        for ((creeper, &slot), &(kind, _)) in
            creepers.iter_mut().zip(&context.slots.creepers).zip(&context.plot.creepers)
        {
            let params = &context.creepers[kind];
            creeper.grown = creeping::growth(creeper, params, &context.plants[slot], zone, rates, context);
            grown.need.add(creeper.grown, params.nitrogen_content, params.phosphorus_content);
        }
        if let Some(crop) = &context.crop {
            let params = crop.params;
            grown.crop = crops::growth(zone, crop, rates);
            grown.need.add(grown.crop, params.nitrogen_content, params.phosphorus_content);
        }
        grown
    }

    #[inline(always)]
    fn scale(&mut self, factor: F, weeds: &mut [Weed<F>], creepers: &mut [Creeper<F>]) {
        if factor.below(1.0).any() {
            self.cover *= factor;
            self.crop *= factor;
            for weed in weeds {
                for grown in &mut weed.grown {
                    *grown *= factor;
                }
            }
            for creeper in creepers {
                creeper.grown *= factor;
            }
        }
    }
}

/// Σ Cousens' initial slope × mass over the weeds of a zone.
#[inline(always)]
fn weed_pressure<F: Real>(weeds: &[Weed<F>], creepers: &[Creeper<F>], context: &ZoneContext<F>) -> F {
    let (mut annual, mut creeping) = (context.zero(), context.zero());
    for (weed, &(kind, _)) in weeds.iter().zip(&context.plot.weeds) {
        annual += weed.mass() * context.weeds[kind].yield_loss_per_mass;
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&context.plot.creepers) {
        creeping += creeper.shoots * context.creepers[kind].yield_loss_per_mass;
    }
    annual + creeping
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drivers::PlantDay;
    use crate::ledger::flows::{Currency, Flow};
    use crate::plot::bites::Wants;
    use crate::testing::{BED, Garden, hazard_to_prob, near, net, same};
    use crate::units::KG_HA_PER_G_M2;

    /// The bed with its crop, a cover, a weed and a creeper on it, short of nothing.
    struct Bed {
        garden: Garden,
        zone: Zone,
        weeds: [Weed; 1],
        creepers: [Creeper; 1],
    }

    impl Bed {
        /// On a day of full growth on which nothing else moves by itself.
        fn growing() -> Self {
            let mut garden = Garden::new();
            garden.plants.fill(PlantDay { growth: 1.0, ..PlantDay::default() });
            let kinds = &mut garden.constants.species;
            (kinds.process.nitrogen_half, kinds.process.rain_nitrogen) = (0.0, 0.0);
            (kinds.covers[0].crown_regrowth, kinds.creepers[0].shooting_rate) = (0.0, 0.0);
            (kinds.creepers[0].reserve_share, kinds.weeds[0].seeds_per_mass) = (0.0, 0.0);
            garden.constants.weeds[0].dies = 0.0;
            let zone = Zone {
                cover_mass: 60.0,
                rested: 1.0,
                crowns: 1.0,
                crop: 50.0,
                water: garden.constants.zones[BED].available_water,
                mineral_n: 1000.0,
                slow_n: 4500.0,
                soil_p: 500.0,
                ..Zone::default()
            };
            let weeds = [Weed { ages: [4.0, 8.0, 12.0], ..Weed::default() }];
            let creepers = [Creeper { shoots: 20.0, reserve: 70.0, ..Creeper::default() }];
            let mut bed = Self { garden, zone, weeds, creepers };
            see(&mut bed.zone, &bed.weeds, &bed.creepers, &bed.garden.with_crop());
            bed
        }

        /// One in which everything is at work, on a day of rain.
        fn busy() -> Self {
            let mut bed = Self::growing();
            bed.garden.constants.species = Garden::new().constants.species;
            bed.garden.constants.weeds[0].dies = 0.03;
            bed.garden.plants.fill(PlantDay { growth: 0.8, thermal: 11.0, dies: 0.01, upkeep: 0.002 });
            let day = &mut bed.garden.day;
            (day.liquid_mm, day.et0_mm, day.insect_warmth, day.q10_15, day.insect_going) = (30.0, 3.0, 0.7, 1.1, 0.13);
            (day.dead_keep, day.fruit_keep, day.fresh_keep, day.denitrified) = (0.99, 0.95, 0.99, 0.02);
            (day.since_solstice, day.worm_rate, day.worm_keep) = (230.0, 0.2, 0.99);
            let zone = &mut bed.zone;
            (zone.residue, zone.residue_n, zone.residue_p) = (30.0, 6.0, 0.9);
            (zone.dead, zone.dead_n, zone.dead_p, zone.fruit, zone.insects) = (80.0, 16.0, 2.0, 5.0, 0.3);
            (zone.mineral_n, zone.fresh_n, zone.fresh_p) = (15.0, 20.0, 3.0);
            (bed.weeds[0].deep, bed.weeds[0].surface) = (900.0, 100.0);
            bed
        }

        fn step(&mut self, birds: Option<&Pressure>) -> Intake {
            let context = self.garden.with_crop();
            step(&mut self.zone, &mut self.weeds, &mut self.creepers, birds, 0.8, &context)
        }

        /// Cover, weed, creeper, crop, g/m².
        fn live(&self) -> [f64; 4] {
            [self.zone.cover_mass, self.weeds[0].mass(), self.creepers[0].shoots, self.zone.crop]
        }

        /// What the zone holds of water, nitrogen, phosphorus, dry matter and seeds, in the units of its books.
        fn stocks(&self) -> [f64; 5] {
            let (zone, live) = (&self.zone, self.live());
            let reserve = self.creepers[0].reserve;
            let masses = [live[0], live[1], live[2] + reserve, live[3], zone.fruit];
            let held =
                |contents: [f64; 5]| KG_HA_PER_G_M2 * masses.iter().zip(contents).map(|(m, c)| m * c).sum::<f64>();
            [
                zone.water,
                held([0.025, 0.03, 0.022, 0.028, 0.0])
                    + zone.fruit_n
                    + zone.residue_n
                    + zone.canopy_n
                    + zone.dead_n
                    + zone.fresh_n
                    + zone.mineral_n
                    + zone.slow_n,
                held([0.0032, 0.004, 0.003, 0.0035, 0.0])
                    + zone.fruit_p
                    + zone.residue_p
                    + zone.canopy_p
                    + zone.dead_p
                    + zone.fresh_p
                    + zone.soil_p,
                masses.iter().sum::<f64>() + zone.residue + zone.dead + zone.insects,
                self.weeds[0].deep + self.weeds[0].surface,
            ]
        }
    }

    fn birds() -> Pressure {
        Pressure {
            bird_days: 0.1,
            green: 2.8,
            wants: Wants { grass: 2.8, broadleaf: 2.8, fruit: 2.8 },
            scratched: 0.18,
            insects: 0.8,
            seeds: 0.05,
            trodden: 0.05,
            n: 1.5,
            p: 0.5,
            shed: 10.0,
            uptake: 0.015,
            ..Pressure::default()
        }
    }

    /// Noy-Meir 1975: a day takes g V (1 − V/K) and c V/(V + H), both of the morning's V.
    #[test]
    fn growth_and_grazing_work_on_the_mornings_mass() {
        let mut bed = Bed::growing();
        let cover = &mut bed.garden.constants.species.covers[0];
        (cover.out_of_reach, cover.scratch_loss) = (0.0, 0.0);
        (bed.weeds, bed.creepers, bed.zone.crop) = Default::default();
        see(&mut bed.zone, &bed.weeds, &bed.creepers, &bed.garden.with_crop());
        let context = bed.garden.with_crop();
        let wants = Wants { grass: 6.0, broadleaf: 6.0, fruit: 6.0 };
        let asking = Pressure { green: 6.0, wants, ..Pressure::default() };
        let intake = step(&mut bed.zone, &mut bed.weeds, &mut bed.creepers, Some(&asking), 1.0, &context);
        same(intake.green, 6.0 * 60.0 / 120.0);
        same(bed.zone.cover_mass, 60.0 + 0.06 * 60.0 * (1.0 - 60.0 / 300.0) - 3.0);
    }

    /// Short of nitrogen, cover, weeds, creepers and crop all grow by one factor: what there is over what they ask.
    #[test]
    fn all_growth_scales_by_one_factor_when_nitrogen_is_short() {
        let (mut fed, mut short) = (Bed::growing(), Bed::growing());
        short.zone.mineral_n = 1.0;
        let before = fed.live();
        fed.step(None);
        short.step(None);
        let grown = |bed: &Bed| -> Vec<f64> { bed.live().iter().zip(before).map(|(now, was)| now - was).collect() };
        let asked: f64 = grown(&fed).iter().zip([0.25, 0.3, 0.22, 0.28]).map(|(mass, n)| mass * n).sum();
        for (short, fed) in grown(&short).iter().zip(grown(&fed)) {
            assert!(fed > 0.1);
            near(*short, fed * 0.6 / asked, 1e-9);
        }
        same(fed.zone.flows.get(Flow::Growth), grown(&fed).iter().sum());
        near(short.zone.flows.get(Flow::Growth), grown(&short).iter().sum(), 1e-9);
        // Each age of a weed grew alike.
        let ages = short.weeds[0].ages;
        same(ages[1] / ages[0], 2.0);
        same(ages[2] / ages[0], 3.0);
    }

    /// A legume asks its share of the air first: with none in the soil it grows by that share, and alone does so.
    #[test]
    fn a_legume_grows_on_air_where_the_soil_is_spent() {
        let mut bed = Bed::growing();
        bed.garden.constants.species.covers[0].fixed_share = 0.35;
        (bed.weeds, bed.creepers, bed.zone.crop) = Default::default();
        bed.zone.mineral_n = 1e-12;
        see(&mut bed.zone, &bed.weeds, &bed.creepers, &bed.garden.with_crop());
        bed.step(None);
        near(bed.zone.cover_mass, 60.0 + 0.35 * 0.06 * 60.0 * (1.0 - 60.0 / 300.0), 1e-9);
        near(bed.zone.flows.get(Flow::FixedN), 0.25 * (bed.zone.cover_mass - 60.0), 1e-9);
    }

    /// A seedling's half gram grows like any weed.
    #[test]
    fn the_smallest_weed_grows() {
        let mut bed = Bed::growing();
        bed.weeds[0].ages = [0.5, 0.0, 0.0];
        bed.step(None);
        let room = 1.0 - (24.0 + 20.0 + 0.3 * 110.0) / 300.0;
        near(bed.weeds[0].mass(), 0.5 * (0.15 * room).exp(), 1e-9);
    }

    /// Bitten sward recovers and old leaf dies by the step; insects come and go.
    #[test]
    fn the_step_takes_cover_and_insects_on() {
        let mut bed = Bed::busy();
        (bed.zone.bitten[0], bed.zone.rested) = (1.0, 0.0);
        (bed.zone.cover_mass, bed.garden.constants.species.covers[0].growth_rate) = (60.0, 0.0);
        let cover = &mut bed.garden.constants.species.covers[0];
        (cover.crown_regrowth, cover.crown_death) = (0.0, 0.0);
        bed.step(None);
        assert!(bed.zone.bitten[1] > 0.0);
        same(bed.zone.cover_mass, 60.0 - 0.01 * 50.0);
        same(bed.zone.insects, 0.3 + 0.08 * 0.7 - 0.3 * 0.13);
    }

    /// Where the crowns are gone, no cover grows.
    #[test]
    fn without_crowns_there_is_no_growth_of_cover() {
        let mut bed = Bed::growing();
        bed.zone.crowns = 0.0;
        bed.step(None);
        assert_eq!(bed.zone.cover_mass, 60.0);
    }

    /// Cousens' slopes, 0.005 and 0.004 m²/g, on the morning's 24 g/m² of weeds and 20 of shoots; none without a crop.
    #[test]
    fn weeds_press_on_a_crop() {
        let mut bed = Bed::growing();
        bed.garden.constants.step = 0.5;
        bed.step(Some(&birds()));
        same(bed.zone.crop_weed_days, 0.5 * (24.0 * 0.005 + 20.0 * 0.004));
        let mut bare = Bed::growing();
        let context = bare.garden.zone_context(BED);
        step(&mut bare.zone, &mut bare.weeds, &mut bare.creepers, None, 1.0, &context);
        assert_eq!((bare.zone.crop_weed_days, bare.zone.crop_days, bare.zone.crop), (0.0, 0.0, 50.0));
    }

    #[test]
    fn without_birds_nothing_is_eaten_dropped_or_disturbed() {
        let mut bed = Bed::busy();
        assert_eq!(bed.step(None), Intake::none(0.0));
        for flow in [
            Flow::EatenCover,
            Flow::EatenWeeds,
            Flow::EatenCrop,
            Flow::EatenResidue,
            Flow::EatenFruit,
            Flow::EatenInsects,
            Flow::SeedsEaten,
            Flow::ManureN,
            Flow::ManureP,
        ] {
            assert_eq!(bed.zone.flows.get(flow), 0.0);
        }
        assert_eq!((bed.zone.disturbed, bed.zone.thrown, bed.zone.bitten[0]), (0.0, 0.0, 0.0));
        assert_eq!(bed.zone.worms.frail.ripening, [0.0; 4]);
    }

    /// A wet and busy month: what the zone holds changes by what its books say came and went, in every currency.
    #[test]
    fn the_books_of_a_zone_hold() {
        for asked in [None, Some(birds())] {
            let mut bed = Bed::busy();
            let start = bed.stocks();
            for day in 0..30 {
                bed.garden.day.liquid_mm = if day % 3 == 0 { 45.0 } else { 0.0 };
                bed.step(asked.as_ref());
            }
            let currencies = [Currency::Water, Currency::N, Currency::P, Currency::DryMatter, Currency::Seeds];
            for (currency, (start, end)) in currencies.into_iter().zip(start.iter().zip(bed.stocks())) {
                let booked = net(&bed.zone.flows, currency);
                near(end - start, booked, 1e-11 * start.max(100.0));
                assert!(booked != 0.0, "{currency:?}");
            }
            // All of it was at work: water drained and took nitrate along, wet soil lost nitrogen, fruit fell.
            for flow in
                [Flow::Drainage, Flow::LeachedN, Flow::DenitrifiedN, Flow::CanopyFall, Flow::Shed, Flow::Decayed]
            {
                assert!(bed.zone.flows.get(flow) > 0.0, "{flow:?}");
            }
        }
    }

    /// Birds disturb first, then ground settles: exp(−0.04) of what was scratched is left, and exp(−0.015) of what is firm.
    #[test]
    fn scratched_ground_settles_and_firm_ground_loosens() {
        let mut bed = Bed::growing();
        (bed.zone.disturbed, bed.zone.firm) = (0.5, 0.4);
        let scratching = Pressure { scratched: 0.5, ..Pressure::default() };
        bed.step(Some(&scratching));
        let scratched = 0.5 + 0.5 * hazard_to_prob(0.5) * 0.8;
        same(bed.zone.disturbed, scratched * (1.0 - hazard_to_prob(0.04)));
        same(bed.zone.firm, 0.4 * (1.0 - hazard_to_prob(0.015)));
    }

    #[test]
    fn eggs_shed_by_birds_begin_to_ripen() {
        let mut bed = Bed::busy();
        bed.garden.constants.species.process.worm_hardy_share = 0.0;
        bed.zone.worms.frail.ripening[0] = 100.0;
        bed.step(Some(&birds()));
        same(bed.zone.worms.frail.ripening[0], 100.0 * 0.8 * 0.99 + 10.0);
        same(bed.zone.worms.frail.ripening[1], 100.0 * 0.2 * 0.99);
    }

    /// At the end of a step the zone has been seen as it stands then.
    #[test]
    fn the_evening_sees_what_stands() {
        let mut bed = Bed::busy();
        bed.step(Some(&birds()));
        let zone = bed.zone.clone();
        see(&mut bed.zone, &bed.weeds, &bed.creepers, &bed.garden.with_crop());
        assert_eq!(bed.zone, zone);
    }
}
