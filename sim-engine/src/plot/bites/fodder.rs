//! Eating: of several foods by preference, as much as is within reach.
//!
//! # Formulas
//!
//! ```text
//! within = max(0, mass − out_of_reach) · exposed                  g/m², what of a food birds can get at; of a cover its
//!                                                                  crowns alone hold it out of reach
//! eaten  = within · min(1, p · t · asked / (Σ p · t · within + H))  g/m², of every food: demand, or all there is
//! t      = grass_share · grass_taste + (1 − grass_share) · broadleaf_taste; fruit_taste of fruit
//! ```
//!
//! p is how readily hens take a food, t what the birds there make of that, mean over what they ask; H `intake_half`; `asked` is the green food all birds of the step would take at most,
//! g/m²; `exposed` is the share of the zone that guards leave open. The foods are cover, annual and creeping weeds, crop,
//! residue, and fruit (p = 1).
//!
//! # Source
//!
//! Intake that saturates with the food within reach: Noy-Meir 1975, J. Ecol. 63:459; shared out among several
//! foods by preference: form ours, calibrated. Tastes: shares in the library.
//!
//! # Limits
//!
//! Birds know no habit and no fill: preferences are constant, and what one food lacks another makes up only through
//! the sum.
//!
//! # Parameters
//!
//! ```text
//! CoverParams, WeedParams, CreeperParams  preference [-], grass_share [-], out_of_reach [g/m2]
//! CropParams     preference [-], grass_share [-], residue_preference [-]
//! by the birds (flock/party.rs): grass_taste [-], broadleaf_taste [-], fruit_taste [-]
//! ProcessParams  intake_half [g/m2]
//! ```

use super::pressure::{Pressure, Wants};
use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::simd::Real;
use crate::simd::soa::soa;
use crate::species::CropParams;
use crate::state::{Creeper, Weed, Zone};
use crate::units::KG_HA_PER_G_M2;

/// What birds got from a zone in a step, g/m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Intake<F = f64> {
    /// Green: cover, weeds, crop.
    pub green: F,
    /// Residue, fruit and seed.
    pub other: F,
    /// Insects and worms.
    pub insects: F,
    /// Nitrogen of all but the insects.
    pub plant_n: F,
    /// Phosphorus of all but the insects.
    pub plant_p: F,
}

soa! { Intake { green, other, insects, plant_n, plant_p } }

impl<F: Real> Intake<F> {
    /// Nothing; `zero` is 0 in every lane.
    #[inline(always)]
    #[must_use]
    pub fn none(zero: F) -> Self {
        Self { green: zero, other: zero, insects: zero, plant_n: zero, plant_p: zero }
    }

    /// Adds a meal times a factor.
    #[inline(always)]
    pub fn add(&mut self, intake: &Self, factor: F) {
        self.green += intake.green * factor;
        self.other += intake.other * factor;
        self.insects += intake.insects * factor;
        self.plant_n += intake.plant_n * factor;
        self.plant_p += intake.plant_p * factor;
    }

    /// Adds `mass` g/m² of plant with these contents to the nutrients.
    #[inline(always)]
    pub(super) fn add_nutrients(&mut self, mass: F, n_content: F, p_content: F) {
        self.plant_n += mass * n_content;
        self.plant_p += mass * p_content;
    }
}

/// How the demand is met: the same share of food everywhere, weighted by preference and taste.
pub(super) struct Fodder<F> {
    /// What is wanted of each kind of food.
    pub wants: Wants<F>,
    /// What of a food of preference 1 is eaten, per g/m² wanted.
    eaten_per_wanted: F,
    /// Share of the zone that guards leave open.
    pub exposed: F,
}

impl<F: Real> Fodder<F> {
    /// All that is within reach of the birds of a step.
    #[inline(always)]
    pub(super) fn within_reach(
        zone: &Zone<F>,
        weeds: &[Weed<F>],
        creepers: &[Creeper<F>],
        birds: &Pressure<F>,
        exposed: F,
        context: &ZoneContext<F>,
    ) -> Self {
        let asked = birds.green;
        let appetite = appetite(zone, weeds, creepers, &birds.wants, context) * exposed;
        // Tastes are the wants over what is asked: all of it times what is asked.
        let eaten_per_wanted = asked / (appetite + context.process.intake_half * asked);
        Self { wants: birds.wants, eaten_per_wanted: eaten_per_wanted.select_or_zero(asked.above(0.0)), exposed }
    }

    /// What of `mass` is within reach, and what of that is eaten: food of this preference, of which so much is `wanted`.
    #[inline(always)]
    pub(super) fn eaten(&self, mass: F, out_of_reach: F, preference: F, wanted: F) -> (F, F) {
        let within = (mass - out_of_reach).clamp_min_zero() * self.exposed;
        (within, within * self.share(preference, wanted))
    }

    /// Share eaten of what is within reach.
    #[inline(always)]
    pub(super) fn share(&self, preference: F, wanted: F) -> F {
        (preference * wanted * self.eaten_per_wanted).clamp_max_one()
    }
}

/// Σ preference × wanted × mass within reach over all foods, (g/m²)².
#[inline(always)]
fn appetite<F: Real>(
    zone: &Zone<F>,
    weeds: &[Weed<F>],
    creepers: &[Creeper<F>],
    wants: &Wants<F>,
    context: &ZoneContext<F>,
) -> F {
    let params = context.cover;
    let cover = (zone.cover_mass - params.out_of_reach * zone.crowns).clamp_min_zero();
    let mut sum = params.preference * wants.of_leaf(params.grass_share) * cover;
    for (weed, &(kind, _)) in weeds.iter().zip(&context.plot.weeds) {
        let w = &context.weeds[kind];
        sum += w.preference * wants.of_leaf(w.grass_share) * (weed.mass() - w.out_of_reach).clamp_min_zero();
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&context.plot.creepers) {
        let c = &context.creepers[kind];
        sum += c.preference * wants.of_leaf(c.grass_share) * (creeper.shoots - c.out_of_reach).clamp_min_zero();
    }
    if let Some(crop) = &context.crop {
        sum += crop.params.preference * wants.of_leaf(crop.params.grass_share) * zone.crop;
    }
    let (preference, grass_share) = residue_preference(context);
    sum + preference * wants.of_leaf(grass_share) * zone.residue + wants.fruit * zone.fruit
}

/// How readily residue is taken, and its share of grass: that of the last crop of this ground, else as sward.
#[inline(always)]
pub(super) fn residue_preference<F: Real>(context: &ZoneContext<F>) -> (F, F) {
    match last_crop(context) {
        Some(params) => (params.residue_preference, params.grass_share),
        None => (context.zero().splat(1.0), context.cover.grass_share),
    }
}

#[inline(always)]
pub(super) fn last_crop<'a, F: Real>(context: &ZoneContext<'a, F>) -> Option<&'a CropParams<F>> {
    let plan = context.plot.grounds[context.here.ground].crops.first()?;
    Some(&context.crops[plan.crop])
}

/// Books what was eaten of a plant of these contents.
#[inline(always)]
pub(super) fn book_eaten<F: Real>(
    zone: &mut Zone<F>,
    flow: Flow,
    mass: F,
    n_content: F,
    p_content: F,
    intake: &mut Intake<F>,
) {
    intake.add_nutrients(mass, n_content, p_content);
    zone.flows.add(flow, mass);
    zone.flows.add(Flow::EatenN, mass * n_content * KG_HA_PER_G_M2);
    zone.flows.add(Flow::EatenP, mass * p_content * KG_HA_PER_G_M2);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::bites::laid_ground::{EXPOSED, LaidGround, PREFERENCE, WITHIN, asking};
    use crate::plot::bites::take;
    use crate::testing::{Garden, SWARD, same};

    /// Noy-Meir 1975: c V/(V + H), half of the most at V = H; V is what stands above the residue out of reach.
    #[test]
    fn intake_saturates_with_the_food_within_reach() {
        let garden = Garden::new();
        for (within, want) in [(60.0, 3.0), (30.0, 2.0), (240.0, 4.8), (0.0, 0.0)] {
            let mut zone = Zone { cover_mass: 20.0 + within, crowns: 1.0, ..Zone::default() };
            let intake = take(&mut zone, &mut [], &mut [], &asking(6.0), 1.0, &garden.zone_context(SWARD));
            same(intake.green, want);
            same(zone.cover_mass, 20.0 + within - want);
            same(zone.flows.get(Flow::EatenCover), want);
        }
    }

    #[test]
    fn never_more_is_eaten_than_is_within_reach() {
        let mut ground = LaidGround::laid();
        let intake = ground.take(&asking(1e6), 1.0);
        let left = ground.foods();
        for (left, out_of_reach) in left.iter().zip([20.0, 6.0, 5.0, 0.0, 0.0, 0.0]) {
            same(*left, out_of_reach);
        }
        same(intake.green, WITHIN[..4].iter().sum());
        same(intake.other, WITHIN[4..].iter().sum());
        // Less than the stubble stands: none is taken, and none is missed elsewhere.
        let garden = Garden::new();
        let mut zone = Zone { cover_mass: 15.0, crowns: 1.0, ..Zone::default() };
        let mut weeds = [Weed { ages: [2.0, 0.0, 0.0], ..Weed::default() }];
        let mut creepers = [Creeper { shoots: 3.0, ..Creeper::default() }];
        let intake = take(&mut zone, &mut weeds, &mut creepers, &asking(1e6), 1.0, &garden.zone_context(SWARD));
        assert_eq!((intake, zone.cover_mass, weeds[0].mass(), creepers[0].shoots), (Intake::none(0.0), 15.0, 2.0, 3.0));
    }

    /// Of a cover only living crowns hold anything out of reach: half of the stubble where half are dead.
    #[test]
    fn dead_crowns_hold_no_stubble() {
        for (crowns, left) in [(1.0, 20.0), (0.5, 10.0), (0.0, 0.0)] {
            let garden = Garden::new();
            let mut zone = Zone { cover_mass: 30.0, crowns, ..Zone::default() };
            take(&mut zone, &mut [], &mut [], &asking(1e6), 1.0, &garden.zone_context(SWARD));
            same(zone.cover_mass, left);
        }
    }

    /// Geese that like grass as hens do and weeds half as much, with hens that ask as much: the weed is wanted by three quarters.
    #[test]
    fn kinds_of_birds_differ_in_what_they_take() {
        let mut ground = LaidGround::laid();
        ground.garden.constants.species.covers[0].grass_share = 1.0;
        let wants = Wants { grass: 8.0, broadleaf: 6.0, fruit: 4.0 };
        let before = ground.foods();
        ground.take(&Pressure { green: 8.0, wants, ..Pressure::default() }, 1.0);
        let taste = [1.0, 0.75, 0.75, 0.75, 0.75, 0.5];
        let all: f64 = (0..6).map(|food| WITHIN[food] * PREFERENCE[food] * taste[food]).sum();
        for (food, (before, after)) in before.iter().zip(ground.foods()).enumerate() {
            same(before - after, WITHIN[food] * PREFERENCE[food] * taste[food] * 8.0 / (all + 60.0));
        }
    }

    /// Half a gram is food like any other, where nothing is out of reach.
    #[test]
    fn the_last_gram_is_found_too() {
        let mut ground = LaidGround::laid();
        let species = &mut ground.garden.constants.species;
        (species.covers[0].out_of_reach, species.weeds[0].out_of_reach) = (0.0, 0.0);
        (ground.zone.cover_mass, ground.zone.residue, ground.weeds[0].ages) = (0.5, 0.5, [0.5, 0.0, 0.0]);
        ground.take(&asking(1e6), 1.0);
        assert_eq!((ground.zone.cover_mass, ground.zone.residue, ground.weeds[0].mass()), (0.0, 0.0, 0.0));
    }

    /// Of every food the share min(1, p · asked/(Σ p · within + H)), H 60 g/m².
    #[test]
    fn foods_are_shared_out_by_preference() {
        let mut ground = LaidGround::laid();
        let before = ground.foods();
        let intake = ground.take(&asking(9.0), EXPOSED);
        let all: f64 = WITHIN.iter().zip(PREFERENCE).map(|(within, p)| within * p * EXPOSED).sum();
        let after = ground.foods();
        let eaten: Vec<f64> = before.iter().zip(after).map(|(before, after)| before - after).collect();
        for food in 0..6 {
            same(eaten[food], WITHIN[food] * EXPOSED * PREFERENCE[food] * 9.0 / (all + 60.0));
        }
        same(intake.green, eaten[..4].iter().sum());
        same(intake.other, eaten[4..].iter().sum());
        // Of each age of a weed the same share.
        let share = 1.0 - eaten[1] / 60.0;
        for (age, was) in ground.weeds[0].ages.iter().zip([10.0, 20.0, 30.0]) {
            same(*age, was * share);
        }
        let books = &ground.zone.flows;
        let booked = [
            (Flow::EatenCover, eaten[0]),
            (Flow::EatenWeeds, eaten[1] + eaten[2]),
            (Flow::EatenCrop, eaten[3]),
            (Flow::EatenResidue, eaten[4]),
            (Flow::EatenFruit, eaten[5]),
        ];
        for (flow, want) in booked {
            same(books.get(flow), want);
        }
        same(ground.zone.crop_lost, eaten[3]);
        assert_eq!(ground.zone.dead, 80.0);
    }

    #[test]
    fn meals_add_up() {
        let mut intake = Intake::none(0.0);
        intake.add(&Intake { green: 1.0, other: 2.0, insects: 3.0, plant_n: 4.0, plant_p: 5.0 }, 2.0);
        intake.add(&Intake { green: 1.0, other: 1.0, insects: 1.0, plant_n: 1.0, plant_p: 1.0 }, 1.0);
        assert_eq!(intake, Intake { green: 3.0, other: 5.0, insects: 7.0, plant_n: 9.0, plant_p: 11.0 });
    }
}
