//! What the model remembers from one step to the next.
//!
//! Everything per m² of zone unless said; nutrients in kg/ha, water in mm.

use crate::ledger::flows::Flows;
use crate::simd::Real;
use crate::simd::soa::soa;
use crate::site::Treatment;
use crate::species::{CoverParams, CreeperParams, WeedParams};
use crate::units::KG_HA_PER_G_M2;

/// Erlang boxes of the recovery of bitten sward, and of ripening worm eggs.
pub const BOXES: usize = 4;

/// Boxes of the stage above ground, and of a summer generation in the soil.
pub const PEST_BOXES: usize = 6;

/// A zone: one ring of one ground of a plot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Zone<F = f64> {
    /// Live ground cover, g DM/m².
    pub cover_mass: F,
    /// Share of the surface by time since the last bite: just bitten … nearly rested.
    pub bitten: [F; BOXES],
    /// Share of the surface that is rested.
    pub rested: F,
    /// Crowns alive, share of a full stand.
    pub crowns: F,
    /// Standing crop, g DM/m².
    pub crop: F,
    /// Share of its plants that are gone: torn out, or eaten whole while they were young.
    pub crop_gaps: F,
    /// Thermal time of the crop that stands, C d.
    pub crop_age: F,
    /// Cousens' weed pressure (share of yield), summed over the crop's days, d.
    pub crop_weed_days: F,
    /// Days the crop has stood.
    pub crop_days: F,
    /// Yield taken since the start, g DM/m².
    pub harvested: F,
    /// Standing crop lost to birds since the start, eaten or scratched out, g DM/m².
    pub crop_lost: F,
    /// Residue of a finished crop that still stands, g DM/m².
    pub residue: F,
    /// Its nitrogen, kg/ha.
    pub residue_n: F,
    /// Its phosphorus, kg/ha.
    pub residue_p: F,
    /// Dead cover, g DM/m².
    pub dead: F,
    /// Its nitrogen, kg/ha.
    pub dead_n: F,
    /// Its phosphorus, kg/ha.
    pub dead_p: F,
    /// Fallen fruit, g DM/m².
    pub fruit: F,
    /// Its nitrogen, kg/ha.
    pub fruit_n: F,
    /// Its phosphorus, kg/ha.
    pub fruit_p: F,
    /// Nitrogen the canopies have taken up here for leaves and fruit, kg/ha.
    pub canopy_n: F,
    /// Its phosphorus, kg/ha.
    pub canopy_p: F,
    /// Water in the root zone above wilting, mm.
    pub water: F,
    /// Ground pressed firm, share.
    pub firm: F,
    /// Fresh organic nitrogen, kg/ha.
    pub fresh_n: F,
    /// Mineral nitrogen, kg/ha.
    pub mineral_n: F,
    /// Slow organic nitrogen, kg/ha.
    pub slow_n: F,
    /// Fresh organic phosphorus, kg/ha.
    pub fresh_p: F,
    /// Soil phosphorus, kg/ha; the P balance is this against its start.
    pub soil_p: F,
    /// Share of the surface scratched lately.
    pub disturbed: F,
    /// Soil thrown out of the bed since the start, kg/m².
    pub thrown: F,
    /// Invertebrate food at the surface, g DM/m².
    pub insects: F,
    /// Worm eggs.
    pub worms: WormEggs<F>,
    /// Cover of plants and dead cover when last seen: at the end of a step, after an event; 0 to 1.
    pub seen_cover: F,
    /// Annual weeds when last seen, g DM/m².
    pub seen_weed_mass: F,
    /// Shoots of creeping weeds when last seen, g DM/m².
    pub seen_shoot_mass: F,
    /// Books since the start: those flows that the recorders of the run read.
    pub(crate) flows: Flows<F>,
}

impl Zone {
    /// Live plants of a sward as last seen, g DM/m².
    #[must_use]
    pub fn live_mass(&self) -> f64 {
        self.cover_mass + self.seen_weed_mass + self.seen_shoot_mass
    }
}

soa! {
    Zone {
        cover_mass, bitten, rested, crowns, crop, crop_gaps, crop_age, crop_weed_days, crop_days, harvested, crop_lost,
        residue, residue_n, residue_p, dead, dead_n, dead_p, fruit, fruit_n, fruit_p, canopy_n, canopy_p, water, firm, fresh_n,
        mineral_n, slow_n, fresh_p, soil_p, disturbed, thrown, insects, worms, seen_cover, seen_weed_mass,
        seen_shoot_mass, flows,
    }
}

/// Worm eggs that die alike, per m², relative to `worm_shed`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EggPool<F = f64> {
    /// Ripening.
    pub ripening: [F; BOXES],
    /// Infective.
    pub infective: F,
}

soa! { EggPool { ripening, infective } }

/// Worm eggs on the ground: nearly all die within a year, a few last.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WormEggs<F = f64> {
    /// Those that die within a year.
    pub frail: EggPool<F>,
    /// Those that last.
    pub hardy: EggPool<F>,
}

soa! { WormEggs { frail, hardy } }

impl<F: Real> WormEggs<F> {
    /// All that are infective.
    #[inline(always)]
    #[must_use]
    pub fn infective(&self) -> F {
        self.frail.infective + self.hardy.infective
    }
}

impl WormEggs {
    /// So many infective ones, as they are shed.
    #[must_use]
    pub fn lying(infective: f64, hardy_share: f64) -> Self {
        let of = |share: f64| EggPool { infective: infective * share, ..EggPool::default() };
        Self { frail: of(1.0 - hardy_share), hardy: of(hardy_share) }
    }

    /// All that still ripen.
    #[must_use]
    pub fn ripening(&self) -> f64 {
        self.frail.ripening.iter().chain(&self.hardy.ripening).sum()
    }
}

/// An annual weed in a zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Weed<F = f64> {
    /// Young, leafy and mature plants, g DM/m².
    pub ages: [F; 3],
    /// Seeds in the soil, per m².
    pub deep: F,
    /// Seeds at the surface, per m².
    pub surface: F,
    /// What each age gains in the step under way, g DM/m²: proposed before birds bite, added after.
    pub grown: [F; 3],
}

soa! { Weed { ages, deep, surface, grown } }

impl<F: Real> Weed<F> {
    /// All live mass, g DM/m².
    #[inline(always)]
    #[must_use]
    pub fn mass(&self) -> F {
        self.ages[0] + self.ages[1] + self.ages[2]
    }
}

/// A creeping weed in a zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Creeper<F = f64> {
    /// Shoots, g DM/m².
    pub shoots: F,
    /// Root reserve, g DM/m².
    pub reserve: F,
    /// What the plant gains in the step under way, g DM/m².
    pub grown: F,
}

soa! { Creeper { shoots, reserve, grown } }

/// A pest in a zone; numbers per m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PestHere<F = f64> {
    /// Degree-days since counting started; 0 outside the season.
    pub age: F,
    /// Share of spring emergence that is over.
    pub emerged_share: F,
    /// In the soil since before the last winter.
    pub overwintered: F,
    /// Of these in the layer that birds scratch.
    pub overwintered_near: F,
    /// In the soil since this year, for next year.
    pub dropped: F,
    /// Of these in the layer that birds scratch.
    pub dropped_near: F,
    /// A summer generation in the soil.
    pub summer: [F; PEST_BOXES],
    /// Of these in the layer that birds scratch.
    pub summer_near: [F; PEST_BOXES],
    /// Adults that do not lay yet.
    pub waiting: [F; PEST_BOXES],
    /// Adults that lay.
    pub adults: F,
    /// Eggs and larvae above ground.
    pub above: [F; PEST_BOXES],
    /// Grown larvae in fallen fruit.
    pub in_fruit: F,
    /// Larvae that grew up above ground this season.
    pub grown_this_season: F,
    /// Adults risen from this soil since the start.
    pub risen: F,
    /// Adults flown in since the start.
    pub flown_in: F,
    /// Largest share of crop damaged in each finished season, summed.
    pub damage_sum: F,
    /// Finished seasons.
    pub seasons: F,
}

soa! {
    PestHere {
        age, emerged_share, overwintered, overwintered_near, dropped, dropped_near, summer, summer_near, waiting, adults, above,
        in_fruit, grown_this_season, risen, flown_in, damage_sum, seasons,
    }
}

impl PestHere {
    /// All stages, per m².
    #[must_use]
    pub fn total(&self) -> f64 {
        self.overwintered + self.dropped + self.all_adults() + self.summer.iter().sum::<f64>() + self.young()
    }

    /// Adults, per m².
    #[must_use]
    pub fn all_adults(&self) -> f64 {
        self.adults + self.waiting.iter().sum::<f64>()
    }

    /// Eggs and larvae above ground or in fallen fruit, per m².
    #[must_use]
    pub fn young(&self) -> f64 {
        self.above.iter().sum::<f64>() + self.in_fruit
    }
}

/// A kind of slug or snail in a zone; numbers per m².
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SlugsHere<F = f64> {
    /// Eggs.
    pub eggs: [F; PEST_BOXES],
    /// Young, from hatched to nearly grown.
    pub young: [F; PEST_BOXES],
    /// Adults.
    pub adults: F,
    /// Young and adults times days since the start, d/m².
    pub slug_days: F,
}

soa! { SlugsHere { eggs, young, adults, slug_days } }

impl<F: Real> SlugsHere<F> {
    /// Young and adults, per m².
    #[inline(always)]
    #[must_use]
    pub fn number(&self) -> F {
        self.young.iter().fold(self.adults, |sum, &young| sum + young)
    }

    /// All ages, per m².
    #[inline(always)]
    #[must_use]
    pub fn with_eggs(&self) -> F {
        self.eggs.iter().fold(self.number(), |sum, &eggs| sum + eggs)
    }
}

impl SlugsHere {
    /// So many of all sizes: two in three are young, and there are as many eggs (from memory).
    #[must_use]
    pub fn of_all_sizes(number: f64) -> Self {
        let box_of = |share: f64| [number * share / PEST_BOXES as f64; PEST_BOXES];
        Self { eggs: box_of(1.0), young: box_of(2.0 / 3.0), adults: number / 3.0, slug_days: 0.0 }
    }
}

/// The ground of a site, zone after zone in the order of its constants: of one run, or by lane of several.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GroundState<F = f64> {
    /// Zones.
    pub zones: Vec<Zone<F>>,
    /// Annual weeds, zone after zone.
    pub weeds: Vec<Weed<F>>,
    /// Creeping weeds, zone after zone.
    pub creepers: Vec<Creeper<F>>,
    /// Pests, zone after zone.
    pub pests: Vec<PestHere<F>>,
    /// Slugs and snails, zone after zone.
    pub slugs: Vec<SlugsHere<F>>,
}

soa! { GroundState { zones, weeds, creepers, pests, slugs } }

/// The ground of one zone of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct ZoneState {
    /// The zone.
    pub zone: Zone,
    /// Its annual weeds.
    pub weeds: Vec<Weed>,
    /// Its creeping weeds.
    pub creepers: Vec<Creeper>,
    /// Its pests.
    pub pests: Vec<PestHere>,
    /// Its slugs and snails.
    pub slugs: Vec<SlugsHere>,
}

/// The yard: the reservoir of everything birds drop.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct YardState {
    /// Nitrogen lying in the yard, kg.
    pub n_kg: f64,
    /// Phosphorus lying in the yard, kg.
    pub p_kg: f64,
    /// Dry matter of droppings lying in the yard, kg.
    pub solids_kg: f64,
    /// Worm eggs.
    pub worms: WormEggs,
    /// Water standing in the top of the yard, mm.
    pub water: f64,
    /// Muddy today.
    pub mud: bool,
}

/// The house's heap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeapState {
    /// Nitrogen, kg.
    pub n_kg: f64,
    /// Phosphorus, kg.
    pub p_kg: f64,
    /// Dry matter, kg.
    pub solids_kg: f64,
}

impl HeapState {
    /// Takes a share of the heap away.
    #[must_use]
    pub fn take(&mut self, share: f64) -> Self {
        let taken = Self { n_kg: self.n_kg * share, p_kg: self.p_kg * share, solids_kg: self.solids_kg * share };
        self.n_kg -= taken.n_kg;
        self.p_kg -= taken.p_kg;
        self.solids_kg -= taken.solids_kg;
        taken
    }
}

/// What a keeper keeps in mind of a plot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlotMemory {
    /// Open today.
    pub open: bool,
    /// Days open in a row.
    pub days_open: f64,
    /// Days at rest in a row.
    pub days_at_rest: f64,
    /// Days since a crop ended here; large where none has.
    pub days_since_crop: f64,
    /// A crop stands on some bed.
    pub crop_standing: bool,
    /// A crop stands on some bed without guards of its own.
    pub crop_open: bool,
    /// Share of the plot that guards around no plant of their own keep birds off.
    pub guarded: f64,
    /// Share of the plot that is beds whose crops have guards of their own.
    pub guarded_beds: f64,
    /// Share of the plot under nets.
    pub netted: f64,
    /// A group is isolated here.
    pub isolation: bool,
    /// What on it harms birds, and the first day of the run on which they may come again.
    pub keep_out: Option<(Treatment, usize)>,
}

/// Mass and nutrient stock of the live plants of a zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LivePlants {
    /// g DM/m².
    pub mass: f64,
    /// kg/ha.
    pub n: f64,
    /// kg/ha.
    pub p: f64,
}

impl LivePlants {
    /// Adds `mass` g/m² of a plant with these contents.
    pub fn add(&mut self, mass: f64, n_content: f64, p_content: f64) {
        self.mass += mass;
        self.n += mass * n_content * KG_HA_PER_G_M2;
        self.p += mass * p_content * KG_HA_PER_G_M2;
    }

    /// Adds ground cover.
    pub fn add_cover(&mut self, mass: f64, cover: &CoverParams) {
        self.add(mass, cover.nitrogen_content, cover.phosphorus_content);
    }

    /// Adds an annual weed.
    pub fn add_weed(&mut self, weed: &Weed, params: &WeedParams) {
        self.add(weed.mass(), params.nitrogen_content, params.phosphorus_content);
    }

    /// Adds a creeping weed with its reserve.
    pub fn add_creeper(&mut self, creeper: &Creeper, params: &CreeperParams) {
        self.add(creeper.shoots + creeper.reserve, params.nitrogen_content, params.phosphorus_content);
    }
}
