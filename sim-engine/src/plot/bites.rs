//! What birds do to a zone in a step: eat, scratch, disturb, tread, drop.
//!
//! # Formulas
//!
//! ```text
//! within = max(0, mass − out_of_reach) · exposed                  g/m², what of a food birds can get at
//! eaten  = within · min(1, p · asked / (Σ p · within + H))        g/m², of every food: demand, or all there is
//! torn   = (within − eaten) · (1 − exp(−u · scratched))           g/m², falls to the ground as dead cover
//! insects eaten, surface seed eaten = stock · (1 − exp(−searched)) · exposed
//! seed brought up = deep seed · surface_share · (1 − exp(−scratched)) · exposed
//! disturbed += (1 − disturbed) · (1 − exp(−scratched)) · exposed  share of the surface
//! thrown    += soil_thrown · (1 − exp(−scratched)) · exposed      kg/m², out of beds alone
//! firm      += (1 − firm) · (1 − exp(−trodden · wetness)) · exposed
//! dead cover mixed into the soil = dead · (1 − exp(−mix_in · scratched)) · exposed
//! ```
//!
//! p is the preference for a food, H `intake_half`, u the loss per scratching; `asked` is the green food all
//! birds of the step would take at most, g/m²; scratched, searched and trodden are m² per m² of zone in the step;
//! `exposed` is the share of the zone that guards leave open. The foods are cover, annual and creeping weeds,
//! crop, residue, and fruit (p = 1).
//!
//! # Source
//!
//! Intake that saturates with the food within reach: Noy-Meir 1975, J. Ecol. 63:459; shared out among several
//! foods by preference: form ours, calibrated. Chance of being found = 1 − exp(−area searched): random search
//! (Nicholson and Bailey; from memory). Scratching, disturbance, soil thrown and firming: forms ours, calibrated.
//!
//! # Limits
//!
//! Birds know no habit and no fill: preferences are constant, and what one food lacks another makes up only through
//! the sum. Insects and seed are found by area, whatever else is eaten. All ages of a weed are eaten alike; what
//! is out of reach shields older plants from scratching, not seedlings.
//!
//! # Parameters
//!
//! ```text
//! CoverParams    preference [-], out_of_reach [g/m2], scratch_loss [-]
//! WeedParams     preference [-], out_of_reach [g/m2], scratch_loss [-], scratch_loss_young [-], surface_share [-], seed_mass [g]
//! CreeperParams  preference [-], out_of_reach [g/m2], scratch_loss [-]
//! CropParams     preference [-], scratch_loss [-], residue_preference [-], residue_scratch_loss [-]
//! of all these    nitrogen_content [g/g], phosphorus_content [g/g]
//! ProcessParams  intake_half [g/m2], mix_in [-], soil_thrown [kg/m2]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::ZoneContext;
use crate::plot::{cover, dead_cover, nutrients, water};
use crate::simd::soa::soa;
use crate::simd::{Mask, Real};
use crate::species::{CropParams, WeedParams};
use crate::state::{Creeper, Weed, Zone};
use crate::units::{G_M2_PER_KG_HA, KG_HA_PER_G_M2};

/// Birds on a zone in a step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pressure<F = f64> {
    /// Bird-days, per m².
    pub bird_days: F,
    /// Green food asked for, g DM/m².
    pub green: F,
    /// Scratched, m² per m² of zone.
    pub scratched: F,
    /// Searched for insects, m² per m².
    pub insects: F,
    /// Searched for seed, m² per m².
    pub seeds: F,
    /// Trodden, m² per m².
    pub trodden: F,
    /// Nitrogen dropped, kg/ha.
    pub n: F,
    /// Phosphorus dropped, kg/ha.
    pub p: F,
    /// Worm eggs shed, per m², relative to `worm_shed`.
    pub shed: F,
    /// Searched for worm eggs, m² per m².
    pub uptake: F,
}

soa! {
    Pressure { bird_days, green, scratched, insects, seeds, trodden, n, p, shed, uptake }
}

impl<F: Real> Pressure<F> {
    /// The same birds for a share of the day, or more densely.
    #[inline(always)]
    #[must_use]
    pub fn times(&self, factor: F) -> Self {
        Self {
            bird_days: self.bird_days * factor,
            green: self.green * factor,
            scratched: self.scratched * factor,
            insects: self.insects * factor,
            seeds: self.seeds * factor,
            trodden: self.trodden * factor,
            n: self.n * factor,
            p: self.p * factor,
            shed: self.shed * factor,
            uptake: self.uptake * factor,
        }
    }
}

impl Pressure {
    /// Other birds come to these.
    pub(crate) fn join(&mut self, others: &Self) {
        let sums = [
            (&mut self.bird_days, others.bird_days),
            (&mut self.green, others.green),
            (&mut self.scratched, others.scratched),
            (&mut self.insects, others.insects),
            (&mut self.seeds, others.seeds),
            (&mut self.trodden, others.trodden),
            (&mut self.n, others.n),
            (&mut self.p, others.p),
            (&mut self.shed, others.shed),
            (&mut self.uptake, others.uptake),
        ];
        for (sum, more) in sums {
            *sum += more;
        }
    }
}

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
    fn add_nutrients(&mut self, mass: F, n_content: F, p_content: F) {
        self.plant_n += mass * n_content;
        self.plant_p += mass * p_content;
    }
}

/// How the demand is met: the same share of preference-weighted food everywhere.
struct Fodder<F> {
    asked_per_preference: F,
    exposed: F,
}

impl<F: Real> Fodder<F> {
    /// What birds ask for of all that grows and lies in a zone.
    #[inline(always)]
    fn asked(
        zone: &Zone<F>,
        weeds: &[Weed<F>],
        creepers: &[Creeper<F>],
        birds: &Pressure<F>,
        exposed: F,
        context: &ZoneContext<F>,
    ) -> Self {
        let appetite = appetite(zone, weeds, creepers, exposed, context);
        Self { asked_per_preference: birds.green / (appetite + context.process.intake_half), exposed }
    }

    /// What of `mass` is within reach, and what of that is eaten.
    #[inline(always)]
    fn eaten(&self, mass: F, out_of_reach: F, preference: F) -> (F, F) {
        let within = (mass - out_of_reach).clamp_min_zero() * self.exposed;
        (within, within * self.share(preference))
    }

    /// Share eaten of what is within reach.
    #[inline(always)]
    fn share(&self, preference: F) -> F {
        (preference * self.asked_per_preference).clamp_max_one()
    }
}

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
    let fodder = Fodder::asked(zone, weeds, creepers, birds, exposed, context);
    let mut intake = Intake::none(context.zero());
    bite_cover(zone, &fodder, birds, context, &mut intake);
    bite_weeds(zone, weeds, creepers, &fodder, birds, context, &mut intake);
    bite_crop(zone, &fodder, birds, context, &mut intake);
    bite_leftovers(zone, &fodder, birds, context, &mut intake);
    let insects = zone.insects * birds.insects.hazard_to_prob() * exposed;
    zone.insects -= insects;
    zone.flows.add(Flow::EatenInsects, insects);
    intake.insects = insects;
    disturb(zone, birds, exposed, context);
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
    let fodder = Fodder::asked(zone, weeds, creepers, birds, exposed, context);
    exposed * fodder.share(exposed.splat(1.0))
}

/// Σ preference × available over all guilds, g/m².
#[inline(always)]
fn appetite<F: Real>(
    zone: &Zone<F>,
    weeds: &[Weed<F>],
    creepers: &[Creeper<F>],
    exposed: F,
    context: &ZoneContext<F>,
) -> F {
    let params = context.cover;
    let mut sum = params.preference * (zone.cover_mass - params.out_of_reach).clamp_min_zero();
    for (weed, &(kind, _)) in weeds.iter().zip(&context.plot.weeds) {
        let w = &context.weeds[kind];
        sum += w.preference * (weed.mass() - w.out_of_reach).clamp_min_zero();
    }
    for (creeper, &(kind, _)) in creepers.iter().zip(&context.plot.creepers) {
        let c = &context.creepers[kind];
        sum += c.preference * (creeper.shoots - c.out_of_reach).clamp_min_zero();
    }
    if let Some(crop) = &context.crop {
        sum += crop.params.preference * zone.crop;
    }
    sum += residue_preference(context) * zone.residue + zone.fruit;
    sum * exposed
}

#[inline(always)]
fn bite_cover<F: Real>(
    zone: &mut Zone<F>,
    fodder: &Fodder<F>,
    birds: &Pressure<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    let params = context.cover;
    let start = zone.cover_mass;
    let grows = start.above(0.0);
    if !grows.any() {
        cover::set_back(zone, start.zero(), birds.scratched * fodder.exposed, params);
        return;
    }
    let (within, eaten) = fodder.eaten(start, params.out_of_reach, params.preference);
    let torn = (within - eaten) * (params.scratch_loss * birds.scratched).hazard_to_prob();
    zone.cover_mass -= eaten + torn;
    dead_cover::add(zone, torn, params.nitrogen_content, params.phosphorus_content);
    book_eaten(zone, Flow::EatenCover, eaten, params.nitrogen_content, params.phosphorus_content, intake);
    intake.green += eaten;
    cover::set_back(zone, ((eaten + torn) / start).select_or_zero(grows), birds.scratched * fodder.exposed, params);
}

#[inline(always)]
fn bite_weeds<F: Real>(
    zone: &mut Zone<F>,
    weeds: &mut [Weed<F>],
    creepers: &mut [Creeper<F>],
    fodder: &Fodder<F>,
    birds: &Pressure<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        let params = &context.weeds[kind];
        bite_weed(zone, weed, params, fodder, birds, intake);
        find_seed(zone, weed, params, birds, fodder.exposed, intake);
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&context.plot.creepers) {
        let params = &context.creepers[kind];
        let (within, eaten) = fodder.eaten(creeper.shoots, params.out_of_reach, params.preference);
        let torn = (within - eaten) * (params.scratch_loss * birds.scratched).hazard_to_prob();
        creeper.shoots -= eaten + torn;
        dead_cover::add(zone, torn, params.nitrogen_content, params.phosphorus_content);
        book_eaten(zone, Flow::EatenWeeds, eaten, params.nitrogen_content, params.phosphorus_content, intake);
        intake.green += eaten;
    }
}

/// Of each age the same share is eaten. Scratching spares what is out of reach of older plants, their flat rosettes
/// and stems; seedlings have none and are all uprooted.
#[inline(always)]
fn bite_weed<F: Real>(
    zone: &mut Zone<F>,
    weed: &mut Weed<F>,
    params: &WeedParams<F>,
    fodder: &Fodder<F>,
    birds: &Pressure<F>,
    intake: &mut Intake<F>,
) {
    let mass = weed.mass();
    let grows = mass.above(0.0);
    if !grows.any() {
        return;
    }
    let reached = ((mass - params.out_of_reach).clamp_min_zero() / mass).select_or_zero(grows) * fodder.exposed;
    let bitten = reached * fodder.share(params.preference);
    let eaten = mass * bitten;
    let older = (reached - bitten) * (params.scratch_loss * birds.scratched).hazard_to_prob();
    let young = (fodder.exposed - bitten) * (params.scratch_loss_young * birds.scratched).hazard_to_prob();
    let mut torn = mass.zero();
    for (age, share) in weed.ages.iter_mut().zip([young, older, older]) {
        torn += *age * share;
        *age *= bitten.one_minus() - share;
    }
    dead_cover::add(zone, torn, params.nitrogen_content, params.phosphorus_content);
    book_eaten(zone, Flow::EatenWeeds, eaten, params.nitrogen_content, params.phosphorus_content, intake);
    intake.green += eaten;
}

/// Seed at the surface is eaten; scratching brings more up to where it is found.
#[inline(always)]
fn find_seed<F: Real>(
    zone: &mut Zone<F>,
    weed: &mut Weed<F>,
    params: &WeedParams<F>,
    birds: &Pressure<F>,
    exposed: F,
    intake: &mut Intake<F>,
) {
    let seeds = weed.surface * birds.seeds.hazard_to_prob() * exposed;
    weed.surface -= seeds;
    zone.flows.add(Flow::SeedsEaten, seeds);
    let mass = seeds * params.seed_mass;
    intake.other += mass;
    intake.add_nutrients(mass, params.nitrogen_content, params.phosphorus_content);
    let up = weed.deep * params.surface_share * birds.scratched.hazard_to_prob() * exposed;
    weed.deep -= up;
    weed.surface += up;
}

#[inline(always)]
fn bite_crop<F: Real>(
    zone: &mut Zone<F>,
    fodder: &Fodder<F>,
    birds: &Pressure<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    let Some(crop) = &context.crop else { return };
    let params = crop.params;
    let (within, eaten) = fodder.eaten(zone.crop, zone.crop.zero(), params.preference);
    let torn = (within - eaten) * (params.scratch_loss * birds.scratched).hazard_to_prob();
    let (n_content, p_content) = (params.nitrogen_content, params.phosphorus_content);
    zone.crop -= eaten + torn;
    zone.crop_lost += eaten + torn;
    dead_cover::add(zone, torn, n_content, p_content);
    book_eaten(zone, Flow::EatenCrop, eaten, n_content, p_content, intake);
    intake.green += eaten;
}

/// Residue of the ground's last crop, fruit on the ground, and the dead cover stirred in.
#[inline(always)]
fn bite_leftovers<F: Real>(
    zone: &mut Zone<F>,
    fodder: &Fodder<F>,
    birds: &Pressure<F>,
    context: &ZoneContext<F>,
    intake: &mut Intake<F>,
) {
    let lies = zone.residue.above(0.0);
    if lies.any() {
        let (within, eaten) = fodder.eaten(zone.residue, zone.residue.zero(), residue_preference(context));
        let share = (eaten / zone.residue).select_or_zero(lies);
        let (n, p) = (zone.residue_n * share, zone.residue_p * share);
        let left = (zone.residue - eaten).max(eaten.splat(f64::MIN_POSITIVE));
        let torn = (within - eaten) * (residue_scratch(context) * birds.scratched).hazard_to_prob() / left;
        zone.residue -= eaten;
        zone.residue_n -= n;
        zone.residue_p -= p;
        zone.flows.add(Flow::EatenResidue, eaten);
        zone.flows.add(Flow::EatenN, n);
        zone.flows.add(Flow::EatenP, p);
        intake.plant_n += n * G_M2_PER_KG_HA;
        intake.plant_p += p * G_M2_PER_KG_HA;
        dead_cover::lay_down_residue(zone, torn.clamp_max_one());
        intake.other += eaten;
    }
    if !context.canopies.is_empty() {
        let (_, eaten) = fodder.eaten(zone.fruit, zone.fruit.zero(), zone.fruit.splat(1.0));
        let part = (eaten / zone.fruit).select_or_zero(zone.fruit.above(0.0));
        let (n, p) = (zone.fruit_n * part, zone.fruit_p * part);
        zone.fruit -= eaten;
        zone.fruit_n -= n;
        zone.fruit_p -= p;
        zone.flows.add(Flow::EatenFruit, eaten);
        zone.flows.add(Flow::EatenN, n);
        zone.flows.add(Flow::EatenP, p);
        intake.plant_n += n * G_M2_PER_KG_HA;
        intake.plant_p += p * G_M2_PER_KG_HA;
        intake.other += eaten;
    }
    dead_cover::mix_in(zone, (context.process.mix_in * birds.scratched).hazard_to_prob() * fodder.exposed);
}

/// Residue is taken as the last crop of this ground is.
#[inline(always)]
fn residue_preference<F: Real>(context: &ZoneContext<F>) -> F {
    match last_crop(context) {
        Some(params) => params.residue_preference,
        None => context.zero().splat(1.0),
    }
}

#[inline(always)]
fn residue_scratch<F: Real>(context: &ZoneContext<F>) -> F {
    match last_crop(context) {
        Some(params) => params.residue_scratch_loss,
        None => context.zero(),
    }
}

#[inline(always)]
fn last_crop<'a, F: Real>(context: &ZoneContext<'a, F>) -> Option<&'a CropParams<F>> {
    let plan = context.plot.grounds[context.here.ground].crops.first()?;
    Some(&context.crops[plan.crop])
}

#[inline(always)]
fn book_eaten<F: Real>(zone: &mut Zone<F>, flow: Flow, mass: F, n_content: F, p_content: F, intake: &mut Intake<F>) {
    intake.add_nutrients(mass, n_content, p_content);
    zone.flows.add(flow, mass);
    zone.flows.add(Flow::EatenN, mass * n_content * KG_HA_PER_G_M2);
    zone.flows.add(Flow::EatenP, mass * p_content * KG_HA_PER_G_M2);
}

/// Scratched, thrown out, trodden firm where wet.
#[inline(always)]
fn disturb<F: Real>(zone: &mut Zone<F>, birds: &Pressure<F>, exposed: F, context: &ZoneContext<F>) {
    let scratched = birds.scratched.hazard_to_prob() * exposed;
    zone.disturbed += zone.disturbed.one_minus() * scratched;
    if context.here.bed {
        zone.thrown += context.process.soil_thrown * scratched;
    }
    let wet = water::wetness(zone, context.here);
    zone.firm += zone.firm.one_minus() * (birds.trodden * wet).hazard_to_prob() * exposed;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::{Currency, Flows};
    use crate::testing::{BED, Garden, SWARD, hazard_to_prob, near, net, same};

    /// Everything a bird finds on the bed, with a third of the zone under guards.
    struct LaidGround {
        garden: Garden,
        zone: Zone,
        weeds: [Weed; 1],
        creepers: [Creeper; 1],
    }

    const EXPOSED: f64 = 2.0 / 3.0;
    /// Within reach of each food of [`LaidGround::laid`] where nothing is guarded, g/m², and how readily it is taken:
    /// cover, weed, creeper, crop, residue, fruit.
    const WITHIN: [f64; 6] = [100.0, 54.0, 40.0, 50.0, 30.0, 25.0];
    const PREFERENCE: [f64; 6] = [1.0, 2.0, 0.8, 1.5, 0.5, 1.0];
    /// Torn out per scratching; older weeds.
    const TORN: [f64; 4] = [0.04, 0.5, 0.08, 0.3];

    impl LaidGround {
        fn laid() -> Self {
            let zone = Zone {
                cover_mass: 120.0,
                rested: 1.0,
                crowns: 1.0,
                crop: 50.0,
                residue: 30.0,
                residue_n: 6.0,
                residue_p: 0.9,
                dead: 80.0,
                dead_n: 16.0,
                dead_p: 2.0,
                fruit: 25.0,
                fruit_n: 3.0,
                fruit_p: 0.375,
                water: 100.0,
                insects: 0.4,
                ..Zone::default()
            };
            let weed = Weed { ages: [10.0, 20.0, 30.0], deep: 900.0, surface: 100.0, ..Weed::default() };
            let creeper = Creeper { shoots: 45.0, reserve: 70.0, ..Creeper::default() };
            let mut garden = Garden::new();
            garden.constants.species.process.mix_in = 0.0;
            Self { garden, zone, weeds: [weed], creepers: [creeper] }
        }

        fn take(&mut self, birds: &Pressure, exposed: f64) -> Intake {
            let context = self.garden.with_crop();
            take(&mut self.zone, &mut self.weeds, &mut self.creepers, birds, exposed, &context)
        }

        /// Cover, weed, creeper, crop, residue, fruit, g/m².
        fn foods(&self) -> [f64; 6] {
            let zone = &self.zone;
            [zone.cover_mass, self.weeds[0].mass(), self.creepers[0].shoots, zone.crop, zone.residue, zone.fruit]
        }

        /// What lies or stands, g/m², and its nitrogen, kg/ha (10 kg/ha is 1 g/m²); seeds per m².
        fn stocks(&self) -> [f64; 3] {
            let (zone, foods) = (&self.zone, self.foods());
            let mass: f64 = foods.iter().sum::<f64>() + zone.dead + zone.insects;
            let live = [(foods[0], 0.025), (foods[1], 0.03), (foods[2], 0.022), (foods[3], 0.028), (foods[5], 0.012)];
            let live_n: f64 = live.iter().map(|(mass, content)| mass * content * 10.0).sum();
            let soil_n = zone.dead_n + zone.residue_n + zone.fresh_n + zone.mineral_n;
            [mass, live_n + soil_n, self.weeds[0].deep + self.weeds[0].surface]
        }
    }

    fn scratching(scratched: f64) -> Pressure {
        Pressure { scratched, ..Pressure::default() }
    }

    fn asking(green: f64) -> Pressure {
        Pressure { green, ..Pressure::default() }
    }

    /// Noy-Meir 1975: c V/(V + H), half of the most at V = H; V is what stands above the residue out of reach.
    #[test]
    fn intake_saturates_with_the_food_within_reach() {
        let garden = Garden::new();
        for (within, want) in [(60.0, 3.0), (30.0, 2.0), (240.0, 4.8), (0.0, 0.0)] {
            let mut zone = Zone { cover_mass: 20.0 + within, ..Zone::default() };
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
        let mut zone = Zone { cover_mass: 15.0, ..Zone::default() };
        let mut weeds = [Weed { ages: [2.0, 0.0, 0.0], ..Weed::default() }];
        let mut creepers = [Creeper { shoots: 3.0, ..Creeper::default() }];
        let intake = take(&mut zone, &mut weeds, &mut creepers, &asking(1e6), 1.0, &garden.zone_context(SWARD));
        assert_eq!((intake, zone.cover_mass, weeds[0].mass(), creepers[0].shoots), (Intake::none(0.0), 15.0, 2.0, 3.0));
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

    /// Ground that no crop is planned for has residue of sward's own preference, which no one scratches down.
    #[test]
    fn residue_of_no_known_crop_is_taken_like_sward() {
        let garden = Garden::new();
        let mut zone = Zone { residue: 30.0, ..Zone::default() };
        let intake = take(&mut zone, &mut [], &mut [], &asking(9.0), 1.0, &garden.zone_context(SWARD));
        same(intake.other, 30.0 * 9.0 / 90.0);
        let mut zone = Zone { residue: 30.0, ..Zone::default() };
        take(&mut zone, &mut [], &mut [], &scratching(3.0), 1.0, &garden.zone_context(SWARD));
        assert_eq!((zone.residue, zone.dead), (30.0, 0.0));
    }

    /// 1 − exp(−u · scratched) of what is within reach; seedlings have nothing out of reach.
    #[test]
    fn scratching_tears_out_what_is_within_reach() {
        let mut ground = LaidGround::laid();
        let scratched = 1.7;
        ground.take(&scratching(scratched), EXPOSED);
        let torn = |food: usize| WITHIN[food] * EXPOSED * hazard_to_prob(TORN[food] * scratched);
        let (cover, creeper, crop) = (torn(0), torn(2), torn(3));
        let young = 10.0 * EXPOSED * hazard_to_prob(0.9 * scratched);
        let older = 50.0 * (54.0 / 60.0) * EXPOSED * hazard_to_prob(0.5 * scratched);
        let residue = 30.0 * EXPOSED * hazard_to_prob(0.26 * scratched);
        let left = ground.foods();
        let want = [120.0 - cover, 60.0 - young - older, 45.0 - creeper, 50.0 - crop, 30.0 - residue, 25.0];
        for (left, want) in left.iter().zip(want) {
            same(*left, want);
        }
        same(ground.weeds[0].ages[0], 10.0 - young);
        same(ground.weeds[0].ages[2] / ground.weeds[0].ages[1], 1.5);
        same(ground.zone.crop_lost, crop);
        let zone = &ground.zone;
        same(zone.dead, 80.0 + cover + young + older + creeper + crop + residue);
        let green_n = 0.025 * cover + 0.03 * (young + older) + 0.022 * creeper + 0.028 * crop;
        let green_p = 0.0032 * cover + 0.004 * (young + older) + 0.003 * creeper + 0.0035 * crop;
        same(zone.dead_n, 16.0 + 10.0 * green_n + 6.0 * residue / 30.0);
        same(zone.dead_p, 2.0 + 10.0 * green_p + 0.9 * residue / 30.0);
        // Torn out is not lost: the plot keeps all of it.
        same(net(&zone.flows, Currency::DryMatter), 0.0);
        same(net(&zone.flows, Currency::N), 0.0);
    }

    /// What was eaten cannot be torn out any more.
    #[test]
    fn scratching_takes_of_what_eating_leaves() {
        let mut ground = LaidGround::laid();
        let birds = Pressure { green: 20.0, scratched: 1.7, ..Pressure::default() };
        ground.take(&birds, EXPOSED);
        let all: f64 = WITHIN.iter().zip(PREFERENCE).map(|(within, p)| within * p * EXPOSED).sum();
        let spared = |food: usize| 1.0 - PREFERENCE[food] * 20.0 / (all + 60.0);
        let left = |food: usize, start: f64| {
            let within = WITHIN[food] * EXPOSED;
            start - within + within * spared(food) * (1.0 - hazard_to_prob(TORN[food] * 1.7))
        };
        same(ground.zone.cover_mass, left(0, 120.0));
        same(ground.creepers[0].shoots, left(2, 45.0));
        same(ground.zone.crop, left(3, 50.0));
        same(ground.zone.crop_lost, 50.0 - left(3, 50.0));
        // Residue keeps its contents, gram for gram.
        let residue = 30.0 - 20.0 + 20.0 * spared(4) * (1.0 - hazard_to_prob(0.26 * 1.7));
        same(ground.zone.residue, residue);
        same(ground.zone.residue_n, 6.0 * residue / 30.0);
        same(ground.zone.residue_p, 0.9 * residue / 30.0);
        let ages = ground.weeds[0].ages;
        let reached = EXPOSED * 54.0 / 60.0;
        let eaten = reached * (1.0 - spared(1));
        same(ages[0], 10.0 * (1.0 - eaten - (EXPOSED - eaten) * hazard_to_prob(0.9 * 1.7)));
        same(ages[1], 20.0 * (1.0 - eaten - (reached - eaten) * hazard_to_prob(0.5 * 1.7)));
        // Two crossings of half the area tear out as much as one of the whole.
        let (mut once, mut twice) = (LaidGround::laid(), LaidGround::laid());
        once.take(&scratching(1.7), 1.0);
        for _ in 0..2 {
            twice.take(&scratching(1.7).times(0.5), 1.0);
        }
        for food in [0, 2, 3, 4] {
            near(twice.foods()[food], once.foods()[food], 1e-12 * 120.0);
        }
    }

    /// The sward falls back by what it lost and by what was touched: 1 − exp(−(2 · share lost + 0.3 · scratched)).
    #[test]
    fn bites_and_scratches_set_the_sward_back() {
        let mut ground = LaidGround::laid();
        let birds = Pressure { green: 20.0, scratched: 1.7, ..Pressure::default() };
        ground.take(&birds, EXPOSED);
        let share_lost = (120.0 - ground.zone.cover_mass) / 120.0;
        same(ground.zone.bitten[0], hazard_to_prob(2.0 * share_lost + 0.3 * 1.7 * EXPOSED));
        // Bare ground is still scratched.
        let garden = Garden::new();
        let mut bare = Zone { rested: 1.0, ..Zone::default() };
        take(&mut bare, &mut [], &mut [], &birds, EXPOSED, &garden.zone_context(SWARD));
        same(bare.bitten[0], hazard_to_prob(0.3 * 1.7 * EXPOSED));
    }

    #[test]
    fn loose_seed_and_insects_are_found_by_the_area_searched() {
        let mut ground = LaidGround::laid();
        let birds = Pressure { insects: 0.7, seeds: 0.2, scratched: 0.5, ..Pressure::default() };
        let intake = ground.take(&birds, EXPOSED);
        let seeds = 100.0 * hazard_to_prob(0.2) * EXPOSED;
        let up = 900.0 * 0.05 * hazard_to_prob(0.5) * EXPOSED;
        same(ground.weeds[0].surface, 100.0 - seeds + up);
        same(ground.weeds[0].deep, 900.0 - up);
        same(ground.zone.flows.get(Flow::SeedsEaten), seeds);
        same(intake.other, seeds * 4e-4);
        same(intake.insects, 0.4 * hazard_to_prob(0.7) * EXPOSED);
        same(ground.zone.insects, 0.4 - intake.insects);
        same(ground.zone.flows.get(Flow::EatenInsects), intake.insects);
    }

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

    #[test]
    fn behind_guards_nothing_is_touched_and_droppings_still_count() {
        let mut ground = LaidGround::laid();
        let birds = Pressure {
            green: 20.0,
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
        let birds =
            Pressure { green: 20.0, scratched: 2.0, insects: 0.7, seeds: 0.3, n: 4.0, p: 1.0, ..Pressure::default() };
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

    /// Pressures are amounts per area: they scale and add up, every one.
    #[test]
    fn pressures_scale_and_add_up() {
        let some = Pressure {
            bird_days: 1.0,
            green: 2.0,
            scratched: 3.0,
            insects: 4.0,
            seeds: 5.0,
            trodden: 6.0,
            n: 7.0,
            p: 8.0,
            shed: 9.0,
            uptake: 10.0,
        };
        let mut twice = some;
        twice.join(&some);
        assert_eq!(twice, some.times(2.0));
        assert_eq!(twice.times(0.5), some);
        assert_eq!(
            [twice.bird_days, twice.green, twice.scratched, twice.insects, twice.seeds],
            [2.0, 4.0, 6.0, 8.0, 10.0]
        );
        assert_eq!([twice.trodden, twice.n, twice.p, twice.shed, twice.uptake], [12.0, 14.0, 16.0, 18.0, 20.0]);
        let mut intake = Intake::none(0.0);
        intake.add(&Intake { green: 1.0, other: 2.0, insects: 3.0, plant_n: 4.0, plant_p: 5.0 }, 2.0);
        intake.add(&Intake { green: 1.0, other: 1.0, insects: 1.0, plant_n: 1.0, plant_p: 1.0 }, 1.0);
        assert_eq!(intake, Intake { green: 3.0, other: 5.0, insects: 7.0, plant_n: 9.0, plant_p: 11.0 });
    }
}
