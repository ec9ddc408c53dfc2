//! What of a zone never changes within a draw: numbers resolved once.
//!
//! # Formulas
//!
//! ```text
//! available water  = 1000 · (field_capacity − wilting_point) · deepest rooting_depth of cover and crops     mm
//! depletion        = least depletion_fraction of cover and crops                                        share
//! drained          = 1 − exp(−drainage_rate · drainage factor of the plot · step)                       share a step
//! slow release     = nitrogen_supply / organic_nitrogen                                                 1/d at 15 C
//! use of a ring    ∝ exp(−metres into the plot / distance_scale), mean 1 over the plot's rings
//! a rate r, 1/d    : share of a step 1 − exp(−r · step);  of a share u a day: 1 − (1 − u)^step
//! age of a weed    : moves on by 2 / days_to_mature                                                     1/(C d)
//! adult death      = 1 − exp(−(1/adult_life + death_adult) · step)                                      share a step
//! boxes of a pest  : 6 / egg_to_drop and 6 / summer_soil                                                1/(C d)
//! share of a pest  = area of its zone / area of all zones it lives on
//! ```
//!
//! # Source
//!
//! Available water and depletion: FAO-56 eq. 82 and Table 22. Use by distance: numbers of UK farms in Larsen et al. 2017;
//! form ours, calibrated. Bank of seed, 12 and 32 % a year: Roberts & Feast 1973. Boxes: Manetsch 1976. The rest follows
//! from what a rate is.
//!
//! # Limits
//!
//! Constants hold for a draw: a soil does not grow deeper, a crop's roots reach their depth the day it is planted.
//!
//! # Parameters
//!
//! ```text
//! SoilParams    field_capacity [m3/m3], wilting_point [m3/m3], saturation_room [mm], drainage_rate [1/d],
//!                curve_number_good [-], curve_number_bare [-], nitrogen_supply [kg/ha/d], organic_nitrogen [kg/ha]
//! CoverParams   rooting_depth [m], depletion_fraction [-], capacity [g/m2], recovery_days [d]
//! CropParams    rooting_depth [m], depletion_fraction [-]
//! CanopyParams  shade_bare [-], shade_in_leaf [-]
//! WeedParams    death_mature [1/d], days_to_mature [C d], bank_death [1/yr], bank_death_disturbed [1/yr],
//!                seeds_blown_in [1/m2/yr]
//! PestParams    adult_life [d], death_adult [1/d], death_soil [1/d], death_above_ground [1/d], emergence_spread [C d],
//!                eggs_per_adult [1], egg_to_drop [C d], summer_soil [C d], fly_in [1/m2/d], mixing [1/d]
//! ProcessParams uptake_share [-], settling [1/d], firm_loosening [1/d], residue_fall [1/d], seed_deepening [1/d],
//!                leaching_depth_water [mm], distance_scale [m]
//! ```

use crate::flock::foraging::nearness;
use crate::plot::recovery::recovery_per_growth;
use crate::simd::soa::soa;
use crate::site::{Plot, Site};
use crate::species::{
    CanopyParams, CoverParams, CreeperParams, CropParams, CropPlant, Host, Pest, PestParams, ProcessParams, WeedParams,
};
use crate::state::PEST_BOXES;
use crate::units::DAYS_PER_YEAR;
use core::ops::Range;

/// Constants of an annual weed, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeedStep<F = f64> {
    /// Share of mature plants that dies.
    pub dies: F,
    /// Share of an age that moves on, per C d: half way to maturity is one age.
    pub ageing: F,
    /// Share of the bank that dies undisturbed.
    pub bank_death: F,
    /// What it dies more, fully disturbed.
    pub bank_death_disturbed: F,
    /// Seeds blown in, per m².
    pub blown_in: F,
}

soa! { WeedStep { dies, ageing, bank_death, bank_death_disturbed, blown_in } }

impl WeedStep {
    fn new(params: &WeedParams, step: f64) -> Self {
        let of_year = step / DAYS_PER_YEAR;
        Self {
            dies: 1.0 - libm::exp(-params.death_mature * step),
            ageing: 1.0 / (0.5 * params.days_to_mature),
            bank_death: params.bank_death * of_year,
            bank_death_disturbed: (params.bank_death_disturbed - params.bank_death) * of_year,
            blown_in: params.seeds_blown_in * of_year,
        }
    }
}

/// Constants of a pest, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PestStep<F = f64> {
    /// Share of adults that dies.
    pub adult_death: F,
    /// Share of what is in the soil that dies, besides what birds catch.
    pub death_soil: F,
    /// Rate at which eggs and larvae above ground die.
    pub death_above_ground: F,
    /// 1 over the standard deviation of emergence, 1/(C d).
    pub per_spread: F,
    /// Eggs an adult lays.
    pub eggs: F,
    /// Boxes above ground passed per C d.
    pub above_per_degree_day: F,
    /// Boxes of a summer generation in the soil passed per C d.
    pub summer_per_degree_day: F,
    /// Adults flying in where neighbours are 'few'.
    pub fly_in: F,
    /// Share of the difference to other plots by which adults mix.
    pub mixing: F,
}

soa! {
    PestStep {
        adult_death, death_soil, death_above_ground, per_spread, eggs, above_per_degree_day, summer_per_degree_day,
        fly_in, mixing,
    }
}

impl PestStep {
    /// Resolves a pest's numbers for a step of so many days.
    #[must_use]
    pub fn new(params: &PestParams, step: f64) -> Self {
        let boxes = PEST_BOXES as f64;
        Self {
            adult_death: 1.0 - libm::exp(-(1.0 / params.adult_life + params.death_adult) * step),
            death_soil: (params.death_soil * step).min(1.0),
            death_above_ground: params.death_above_ground * step,
            per_spread: 1.0 / params.emergence_spread,
            eggs: params.eggs_per_adult / params.adult_life * step,
            above_per_degree_day: boxes / params.egg_to_drop,
            summer_per_degree_day: boxes / params.summer_soil,
            fly_in: params.fly_in * step,
            mixing: (params.mixing * step).min(1.0),
        }
    }
}

/// Constants of a zone.
#[derive(Clone, Debug, PartialEq)]
pub struct ZoneConstants<F = f64> {
    /// Index into `Site::plots`.
    pub plot: usize,
    /// Index into the plot's grounds.
    pub ground: usize,
    /// Bed, not sward.
    pub bed: bool,
    /// m².
    pub area_m2: F,
    /// Its share of the plot.
    pub share: F,
    /// Its share of what of the plot is seen over the gate.
    pub seen_share: F,
    /// Bird-days per m² here against the plot's mean.
    pub use_factor: F,
    /// Water between wilting and field capacity in the root zone, mm.
    pub available_water: F,
    /// Room above field capacity, mm.
    pub saturation_room: F,
    /// 1 over that room, 1/mm.
    pub per_saturation_room: F,
    /// Share of water above field capacity that drains in a step.
    pub drained: F,
    /// Depletion fraction of the plants here.
    pub depletion: F,
    /// SCS curve number under good cover.
    pub curve_good: F,
    /// SCS curve number bare.
    pub curve_bare: F,
    /// Share rate of slow nitrogen released a day at 15 C.
    pub slow_release: F,
    /// 1 over the plant mass at which weeds and cover stop, m²/g.
    pub per_capacity: F,
    /// Share of a box of bitten sward that moves on in a step, per growth factor.
    pub recovery: F,
    /// Its weeds in the world's list.
    pub weeds: Range<usize>,
    /// Its creeping weeds.
    pub creepers: Range<usize>,
    /// Its pests.
    pub pests: Range<usize>,
    /// Counts in the cover a keeper sees over the gate: sward, or everything where all is bed.
    pub seen: bool,
}

soa! {
    ZoneConstants {
        area_m2, share, seen_share, use_factor, available_water, saturation_room, per_saturation_room, drained, depletion,
        curve_good, curve_bare, slow_release, per_capacity, recovery,
    }
    plain {
        plot, ground, bed, weeds, creepers, pests, seen,
    }
}

/// Constants of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotConstants {
    /// Its zones.
    pub zones: Range<usize>,
    /// m².
    pub area_m2: f64,
    /// Area outside beds, m²; for a plot that is all bed, its area.
    pub seen_area_m2: f64,
    /// Share of it under beds.
    pub beds: f64,
    /// Its size as far as birds are drawn by size: the root of its area, m.
    pub root_m: f64,
    /// Nearness to the yard, 0 to 1.
    pub nearness: f64,
    /// Share of light its canopy holds back, bare and in leaf.
    pub shades: [f64; 2],
}

/// Numbers of all plants and pests of the site, by index into its lists, and of the processes.
#[derive(Clone, Debug, PartialEq)]
pub struct SpeciesParams<F = f64> {
    /// Ground covers.
    pub covers: Vec<CoverParams<F>>,
    /// Annual weeds.
    pub weeds: Vec<WeedParams<F>>,
    /// Creeping weeds.
    pub creepers: Vec<CreeperParams<F>>,
    /// Crops.
    pub crops: Vec<CropParams<F>>,
    /// Canopies.
    pub canopies: Vec<CanopyParams<F>>,
    /// Pests.
    pub pests: Vec<PestParams<F>>,
    /// Processes.
    pub process: ProcessParams<F>,
}

soa! { SpeciesParams { covers, weeds, creepers, crops, canopies, pests, process } }

impl SpeciesParams {
    fn new(site: &Site) -> Self {
        Self {
            covers: site.covers.iter().map(|kind| kind.params.clone()).collect(),
            weeds: site.weeds.iter().map(|kind| kind.params.clone()).collect(),
            creepers: site.creepers.iter().map(|kind| kind.params.clone()).collect(),
            crops: site.crops.iter().map(|kind| kind.params.clone()).collect(),
            canopies: site.canopies.iter().map(|kind| kind.params.clone()).collect(),
            pests: site.pests.iter().map(|kind| kind.params.clone()).collect(),
            process: site.process.clone(),
        }
    }
}

/// Constants of all zones and the shares of constant hazards in a step.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteConstants<F = f64> {
    /// Numbers of plants, pests and processes.
    pub species: SpeciesParams<F>,
    /// Zones in the order plot, ring, ground.
    pub zones: Vec<ZoneConstants<F>>,
    /// Plots.
    pub plots: Vec<PlotConstants>,
    /// Of each annual weed of the site.
    pub weeds: Vec<WeedStep<F>>,
    /// Of each pest of the site.
    pub pests: Vec<PestStep<F>>,
    /// Adults of each pest of the zones' lists that fly in, against 'few' = 1.
    pub neighbours: Vec<F>,
    /// Whether each pest of the zones' lists lives on its zone's ground at all.
    pub pest_lives: Vec<bool>,
    /// Which pest of the site each of the zones' lists is.
    pub pest_kinds: Vec<usize>,
    /// Share its zone has of all ground that pest lives on.
    pub pest_shares: Vec<F>,
    /// Zones with a crop that ends when it is ripe.
    pub ripening: Vec<usize>,
    /// Where each plot's pests are watched for rising: their first host zone.
    pub watched: Vec<Watched>,
    /// Whether each pest of the site feeds on canopies.
    pub canopy_pests: Vec<bool>,
    /// Whether a pest (first index) feeds on a crop (second), both of the site.
    pub pest_eats: Vec<Vec<bool>>,
    /// Step, days.
    pub step: f64,
    /// Most of the mineral nitrogen that plants can take in a step.
    pub uptake_share: F,
    /// Disturbance kept a step.
    pub settle_keep: F,
    /// Firmness kept a step.
    pub firm_keep: F,
    /// Residue that falls a step.
    pub residue_falls: F,
    /// Surface seed that sinks a step.
    pub seed_sinks: F,
    /// 1 over the water that holds the root zone's nitrate, 1/mm.
    pub per_nitrate_water: F,
}

soa! {
    SiteConstants {
        species, zones, weeds, pests, neighbours, pest_shares, uptake_share, settle_keep, firm_keep, residue_falls,
        seed_sinks, per_nitrate_water,
    }
    plain {
        canopy_pests, plots, pest_lives, pest_kinds, ripening, watched, pest_eats,
        step,
    }
}

/// A pest of a plot, at the first zone it lives in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Watched {
    /// Index into `Site::plots`.
    pub plot: usize,
    /// Index into `Site::pests`.
    pub pest: usize,
    /// Index into the world's list of pests.
    pub at: usize,
}

impl SiteConstants {
    /// Resolves the site's numbers.
    #[must_use]
    pub fn new(site: &Site) -> Self {
        let step = 1.0 / f64::from(site.steps_per_day);
        let p = &site.process;
        let share = |rate: f64| 1.0 - libm::exp(-rate * step);
        let mut constants = Self {
            species: SpeciesParams::new(site),
            zones: Vec::new(),
            plots: Vec::new(),
            weeds: site.weeds.iter().map(|w| WeedStep::new(&w.params, step)).collect(),
            pests: site.pests.iter().map(|p| PestStep::new(&p.params, step)).collect(),
            neighbours: Vec::new(),
            pest_lives: Vec::new(),
            pest_kinds: Vec::new(),
            pest_shares: Vec::new(),
            ripening: Vec::new(),
            watched: Vec::new(),
            canopy_pests: site.pests.iter().map(|pest| matches!(pest.host, Host::Canopy)).collect(),
            pest_eats: site.pests.iter().map(|pest| site.crops.iter().map(|crop| eats(pest, crop)).collect()).collect(),
            step,
            uptake_share: 1.0 - libm::pow(1.0 - p.uptake_share, step),
            settle_keep: 1.0 - share(p.settling),
            firm_keep: 1.0 - share(p.firm_loosening),
            residue_falls: share(p.residue_fall),
            seed_sinks: share(p.seed_deepening),
            per_nitrate_water: 1.0 / p.leaching_depth_water,
        };
        for plot in 0..site.plots.len() {
            constants.push_plot(site, plot);
        }
        constants.share_out_pests(site);
        constants
    }

    /// Finds each zone's share of the ground its pests live on.
    fn share_out_pests(&mut self, site: &Site) {
        let area = |zone: &ZoneConstants| zone.pests.clone().map(|_| zone.area_m2).collect::<Vec<_>>();
        self.pest_shares = self.zones.iter().flat_map(area).collect();
        let mut all_m2 = vec![0.0; site.pests.len()];
        for ((share, &kind), &lives) in self.pest_shares.iter_mut().zip(&self.pest_kinds).zip(&self.pest_lives) {
            *share *= f64::from(u8::from(lives));
            all_m2[kind] += *share;
        }
        for (share, &kind) in self.pest_shares.iter_mut().zip(&self.pest_kinds) {
            *share = if all_m2[kind] > 0.0 { *share / all_m2[kind] } else { 0.0 };
        }
    }

    fn push_plot(&mut self, site: &Site, index: usize) {
        let plot = &site.plots[index];
        let first = self.zones.len();
        let use_factors = ring_use(site, index);
        for factor in use_factors {
            for ground in 0..plot.grounds.len() {
                let zone = self.zone(site, index, ground, factor);
                if plot.grounds[ground].crops.iter().any(|crop| crop.ends_when_ripe) {
                    self.ripening.push(self.zones.len());
                }
                self.neighbours.extend(plot.pests.iter().map(|p| p.neighbours));
                self.pest_kinds.extend(plot.pests.iter().map(|p| p.pest));
                self.pest_lives.extend(plot.pests.iter().map(|p| lives_on(&site.pests[p.pest], zone.bed)));
                self.zones.push(zone);
            }
        }
        self.watch(site, index, first);
        let share = |bed: bool| plot.grounds.iter().filter(|g| g.bed == bed).map(|g| g.share).sum::<f64>();
        let sward = share(false);
        self.plots.push(PlotConstants {
            zones: first..self.zones.len(),
            area_m2: plot.area_m2,
            seen_area_m2: plot.area_m2 * if sward > 0.0 { sward } else { 1.0 },
            beds: share(true),
            root_m: plot.area_m2.sqrt(),
            nearness: nearness(&site.process, plot.distance_m),
            shades: shades(site, plot),
        });
    }

    /// Finds where each pest of a plot whose zones begin at `first` lives first.
    fn watch(&mut self, site: &Site, plot: usize, first: usize) {
        for (offset, p) in site.plots[plot].pests.iter().enumerate() {
            let mut places = self.zones[first..].iter().map(|zone| zone.pests.start + offset);
            if let Some(at) = places.find(|&at| self.pest_lives[at]) {
                self.watched.push(Watched { plot, pest: p.pest, at });
            }
        }
    }

    fn zone(&self, site: &Site, index: usize, ground: usize, use_factor: f64) -> ZoneConstants {
        let plot = &site.plots[index];
        let here = &plot.grounds[ground];
        let soil = &site.soils[plot.soil].params;
        let cover = &site.covers[plot.cover].params;
        let crops = || here.crops.iter().map(|c| &site.crops[c.crop].params);
        let rooting = crops().map(|c| c.rooting_depth).fold(cover.rooting_depth, f64::max);
        let depletion = crops().map(|c| c.depletion_fraction).fold(cover.depletion_fraction, f64::min);
        let ring = 1.0 / plot.rings as f64;
        let seen = !here.bed || plot.grounds.iter().all(|g| g.bed);
        let all_seen: f64 = if here.bed { 1.0 } else { plot.grounds.iter().filter(|g| !g.bed).map(|g| g.share).sum() };
        let last = self.zones.last();
        let next = |range: Option<&Range<usize>>, count: usize| {
            let start = range.map_or(0, |r| r.end);
            start..start + count
        };
        ZoneConstants {
            plot: index,
            ground,
            bed: here.bed,
            area_m2: plot.area_m2 * here.share * ring,
            share: here.share * ring,
            seen_share: if seen { here.share * ring / all_seen } else { 0.0 },
            use_factor,
            available_water: 1000.0 * (soil.field_capacity - soil.wilting_point) * rooting,
            saturation_room: soil.saturation_room,
            per_saturation_room: 1.0 / soil.saturation_room,
            drained: 1.0 - libm::exp(-soil.drainage_rate * plot.drainage_factor * self.step),
            depletion,
            curve_good: soil.curve_number_good,
            curve_bare: soil.curve_number_bare,
            slow_release: soil.nitrogen_supply / soil.organic_nitrogen.max(1e-9),
            per_capacity: 1.0 / cover.capacity,
            recovery: recovery_per_growth(cover.recovery_days) * self.step,
            weeds: next(last.map(|z| &z.weeds), plot.weeds.len()),
            creepers: next(last.map(|z| &z.creepers), plot.creepers.len()),
            pests: next(last.map(|z| &z.pests), plot.pests.len()),
            seen,
        }
    }
}

impl<F> SiteConstants<F> {
    /// Whether something a pest feeds on stands in a zone of `plot` where this crop of the site stands.
    #[inline(always)]
    #[must_use]
    pub fn feeds(&self, plot: &Plot, pest: usize, crop: Option<usize>) -> bool {
        crop.is_some_and(|crop| self.pest_eats[pest][crop]) || (plot.canopy.is_some() && self.canopy_pests[pest])
    }
}

fn shades(site: &Site, plot: &Plot) -> [f64; 2] {
    plot.canopy.map_or([0.0; 2], |canopy| {
        let params = &site.canopies[canopy].params;
        [params.shade_bare, params.shade_in_leaf]
    })
}

/// Pests of crops live in the beds, others everywhere.
fn lives_on(pest: &Pest, bed: bool) -> bool {
    match pest.host {
        Host::Canopy => true,
        Host::Crops(_) => bed,
    }
}

fn eats(pest: &Pest, crop: &CropPlant) -> bool {
    match &pest.host {
        Host::Canopy => false,
        Host::Crops(families) => families.contains(&crop.family),
    }
}

/// Use per m² of each ring against the plot's mean: birds thin out with distance.
fn ring_use(site: &Site, index: usize) -> Vec<f64> {
    let plot = &site.plots[index];
    let depth_m = plot.area_m2.sqrt();
    let rings = plot.rings as f64;
    let weight = |ring: usize| {
        let into_plot_m = depth_m * (ring as f64 + 0.5) / rings;
        libm::exp(-into_plot_m / site.process.distance_scale)
    };
    let weights: Vec<f64> = (0..plot.rings).map(weight).collect();
    let mean = weights.iter().sum::<f64>() / rings;
    weights.iter().map(|w| w / mean).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::{CropPlan, Ground, PlotPest};
    use crate::species::Thermometer;
    use crate::testing::{garden_site, hazard_to_prob, near, same, sawfly};

    /// The garden in two rings, with a fly of its crop, and behind it 50 m² all of bed without trees.
    fn two_plots(steps_per_day: u32) -> Site {
        let mut site = garden_site();
        site.steps_per_day = steps_per_day;
        site.pests.push(Pest {
            name: "fly".into(),
            thermometer: Thermometer::Air,
            host: Host::Crops(vec!["daisy family".into(), "cabbage family".into()]),
            params: sawfly(),
        });
        let fly = PlotPest { pest: 1, start_per_m2: 1.0, neighbours: 3.0 };
        let garden = &mut site.plots[0];
        garden.rings = 2;
        garden.pests.push(fly.clone());
        let in_bed = CropPlan { ends_when_ripe: true, ..garden.grounds[1].crops[0].clone() };
        let mut far = garden.clone();
        far.area_m2 = 50.0;
        far.distance_m = 40.0;
        far.rings = 1;
        far.grounds = vec![Ground { share: 1.0, bed: true, crops: vec![in_bed] }];
        far.weeds = vec![(0, 10.0), (0, 20.0)];
        far.creepers = vec![];
        far.canopy = None;
        far.pests = vec![fly];
        far.drainage_factor = 0.5;
        site.plots.push(far);
        site
    }

    /// What a rate takes in the steps of a day is what it takes in a day.
    #[test]
    fn the_steps_of_a_day_make_the_day() {
        for steps in [1, 2, 4] {
            let constants = SiteConstants::new(&two_plots(steps));
            let of_day = |share: f64| 1.0 - libm::pow(1.0 - share, f64::from(steps));
            same(constants.step * f64::from(steps), 1.0);
            same(of_day(constants.uptake_share), 0.6);
            same(of_day(1.0 - constants.settle_keep), hazard_to_prob(0.04));
            same(of_day(1.0 - constants.firm_keep), hazard_to_prob(0.015));
            same(of_day(constants.residue_falls), hazard_to_prob(0.008));
            same(of_day(constants.seed_sinks), hazard_to_prob(0.02));
            same(of_day(constants.zones[0].drained), hazard_to_prob(0.5));
            same(of_day(constants.weeds[0].dies), hazard_to_prob(0.03));
            same(of_day(constants.pests[0].adult_death), hazard_to_prob(0.1 + 0.02));
            same(constants.zones[0].recovery * f64::from(steps), recovery_per_growth(22.0));
            same(constants.per_nitrate_water * 135.0, 1.0);
        }
    }

    /// Rates a year are shares of the year's steps: 12 and 32 % of a bank lost are 0.128 and 0.386 a year.
    #[test]
    fn a_weeds_year_is_shared_out_over_its_steps() {
        let of_step = &SiteConstants::new(&two_plots(4)).weeds[0];
        let year = 4.0 * 365.25;
        same(of_step.bank_death * year, 0.128);
        same((of_step.bank_death + of_step.bank_death_disturbed) * year, 0.386);
        same(of_step.blown_in * year, 10.0);
        // Half way to mature, 450 C d, is one age.
        same(of_step.ageing * 450.0, 1.0);
    }

    #[test]
    fn a_pests_rates_are_resolved_for_the_step() {
        let params = sawfly();
        let of_step = PestStep::new(&params, 0.5);
        same(of_step.death_soil, 0.002);
        same(of_step.death_above_ground, 0.0175);
        same(of_step.per_spread * 30.0, 1.0);
        same(of_step.eggs, 25.0 / 10.0 * 0.5);
        same(of_step.above_per_degree_day * 260.0, 6.0);
        same(of_step.summer_per_degree_day * 300.0, 6.0);
        same(of_step.fly_in, 0.004);
        same(of_step.mixing, 0.025);
        // Never more than all.
        let fast = PestStep::new(&PestParams { death_soil: 3.0, mixing: 3.0, ..params }, 0.5);
        assert_eq!((fast.death_soil, fast.mixing), (1.0, 1.0));
    }

    /// FAO-56 eq. 82: tomato on silt, 0.32 and 0.12 m³/m³, roots to 0.8 m: 160 mm; p of the most thirsty plant.
    #[test]
    fn the_deepest_roots_decide_how_much_water_there_is() {
        let mut site = two_plots(1);
        (site.soils[0].params.field_capacity, site.soils[0].params.wilting_point) = (0.32, 0.12);
        site.crops[0].params.rooting_depth = 0.8;
        let zones = SiteConstants::new(&site).zones;
        near(zones[1].available_water, 160.0, 1e-9);
        near(zones[0].available_water, 120.0, 1e-9);
        assert_eq!((zones[1].depletion, zones[0].depletion), (0.3, 0.5));
        // A crop with shallow roots leaves the cover's.
        site.crops[0].params.rooting_depth = 0.4;
        site.crops[0].params.depletion_fraction = 0.6;
        let zones = SiteConstants::new(&site).zones;
        near(zones[1].available_water, 120.0, 1e-9);
        assert_eq!(zones[1].depletion, 0.5);
    }

    /// Drainage said to be half as fast drains less a day, by the hazard.
    #[test]
    fn slow_drainage_drains_slower() {
        let zones = SiteConstants::new(&two_plots(1)).zones;
        same(zones[0].drained, hazard_to_prob(0.5));
        same(zones[4].drained, hazard_to_prob(0.25));
    }

    #[test]
    fn a_soils_numbers_are_its_zones() {
        let mut site = two_plots(1);
        let here = &SiteConstants::new(&site).zones[0];
        same(here.slow_release * 4500.0, 0.4);
        same(here.per_capacity * 300.0, 1.0);
        same(here.per_saturation_room * 45.0, 1.0);
        assert_eq!((here.saturation_room, here.curve_good, here.curve_bare), (45.0, 67.0, 88.0));
        // A soil without organic nitrogen supplies from nothing, finitely.
        site.soils[0].params.organic_nitrogen = 0.0;
        assert!(SiteConstants::new(&site).zones[0].slow_release.is_finite());
    }

    #[test]
    fn zones_stand_in_the_order_plot_ring_ground_and_make_up_their_plot() {
        let constants = SiteConstants::new(&two_plots(1));
        let of = |zone: &ZoneConstants| (zone.plot, zone.ground, zone.bed, zone.area_m2, zone.share);
        let got: Vec<_> = constants.zones.iter().map(of).collect();
        let ring = [(0, 0, false, 37.5, 0.375), (0, 1, true, 12.5, 0.125)];
        assert_eq!(got, [ring[0], ring[1], ring[0], ring[1], (1, 0, true, 50.0, 1.0)]);
        // Seen over the gate is the sward, or the bed where there is nothing else.
        let seen: Vec<_> = constants.zones.iter().map(|zone| (zone.seen, zone.seen_share)).collect();
        assert_eq!(seen, [(true, 0.5), (false, 0.0), (true, 0.5), (false, 0.0), (true, 1.0)]);
        let [garden, far] = &constants.plots[..] else { panic!("two plots") };
        assert_eq!((garden.zones.clone(), garden.area_m2, garden.seen_area_m2, garden.beds), (0..4, 100.0, 75.0, 0.25));
        assert_eq!((far.zones.clone(), far.area_m2, far.seen_area_m2, far.beds), (4..5, 50.0, 50.0, 1.0));
        same(garden.root_m, 10.0);
        same(garden.nearness, 1.0 - hazard_to_prob(5.0 / 20.0));
        same(far.nearness, 1.0 - hazard_to_prob(2.0));
        assert_eq!((garden.shades, far.shades), ([0.2, 0.55], [0.0, 0.0]));
    }

    /// Birds thin out by a third every 20 m: ring middles of a plot 10 m deep are 5 m apart; over the plot all is 1.
    #[test]
    fn the_ring_by_the_gate_is_used_most() {
        let constants = SiteConstants::new(&two_plots(1));
        let used = |zone: usize| constants.zones[zone].use_factor;
        same(used(2) / used(0), 1.0 - hazard_to_prob(5.0 / 20.0));
        same(used(0) + used(2), 2.0);
        assert_eq!((used(0), used(2), used(4)), (used(1), used(3), 1.0));
    }

    #[test]
    fn every_zone_has_its_own_part_of_the_lists() {
        let constants = SiteConstants::new(&two_plots(1));
        let starts =
            |of: fn(&ZoneConstants) -> &Range<usize>| constants.zones.iter().map(|z| of(z).clone()).collect::<Vec<_>>();
        assert_eq!(starts(|z| &z.weeds), [0..1, 1..2, 2..3, 3..4, 4..6]);
        assert_eq!(starts(|z| &z.creepers), [0..1, 1..2, 2..3, 3..4, 4..4]);
        assert_eq!(starts(|z| &z.pests), [0..2, 2..4, 4..6, 6..8, 8..9]);
        assert_eq!(constants.pest_kinds, [0, 1, 0, 1, 0, 1, 0, 1, 1]);
        assert_eq!(constants.neighbours, [1.0, 3.0, 1.0, 3.0, 1.0, 3.0, 1.0, 3.0, 3.0]);
        assert_eq!(constants.ripening, [4]);
    }

    /// A pest of trees lives all over a plot, one of crops in the beds; its shares of all its ground add up to 1.
    #[test]
    fn pests_live_where_their_hosts_grow() {
        let constants = SiteConstants::new(&two_plots(1));
        assert_eq!(constants.pest_lives, [true, false, true, true, true, false, true, true, true]);
        let want = [0.375, 0.0, 0.125, 1.0 / 6.0, 0.375, 0.0, 0.125, 1.0 / 6.0, 2.0 / 3.0];
        constants.pest_shares.iter().zip(want).for_each(|(share, want)| same(*share, want));
        let watched = |plot, pest, at| Watched { plot, pest, at };
        assert_eq!(constants.watched, [watched(0, 0, 0), watched(0, 1, 3), watched(1, 1, 8)]);
        // However small their ground is.
        let mut site = two_plots(1);
        site.plots.truncate(1);
        site.plots[0].area_m2 = 3.0;
        let shares = SiteConstants::new(&site).pest_shares;
        [0.0, 0.5, 0.0, 0.5].iter().zip(shares.iter().skip(1).step_by(2)).for_each(|(want, share)| same(*share, *want));
        // One whose ground is nowhere has no share of it.
        let mut site = two_plots(1);
        site.plots.truncate(1);
        site.plots[0].grounds.truncate(1);
        let constants = SiteConstants::new(&site);
        assert_eq!((constants.pest_lives, constants.pest_shares[1]), (vec![true, false, true, false], 0.0));
        assert_eq!(constants.watched, [watched(0, 0, 0)]);
    }

    #[test]
    fn pests_feed_on_their_hosts_alone() {
        let mut site = two_plots(1);
        site.crops.push(CropPlant { family: "bean family".into(), ..site.crops[0].clone() });
        let constants = SiteConstants::new(&site);
        assert_eq!(constants.canopy_pests, [true, false]);
        assert_eq!(constants.pest_eats, [[false, false], [true, false]]);
        let [garden, far] = &site.plots[..] else { panic!("two plots") };
        let feeds =
            |pest: usize, crop: Option<usize>| [constants.feeds(garden, pest, crop), constants.feeds(far, pest, crop)];
        assert_eq!(feeds(0, None), [true, false]);
        assert_eq!(feeds(0, Some(0)), [true, false]);
        assert_eq!([feeds(1, None), feeds(1, Some(0)), feeds(1, Some(1))], [[false; 2], [true; 2], [false; 2]]);
    }
}
