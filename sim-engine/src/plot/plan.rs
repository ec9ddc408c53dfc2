//! What of a zone never changes within a draw: numbers resolved once.

use crate::flock::foraging::nearness;
use crate::kinds::{
    CanopyNumbers, CoverNumbers, CreeperNumbers, CropNumbers, CropPlant, Host, Pest, PestNumbers, ProcessNumbers,
    WeedNumbers,
};
use crate::lanes::laned::laned;
use crate::plot::cover::recovery_per_growth;
use crate::site::{Plot, Site};
use crate::state::PEST_BOXES;
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

laned! { WeedStep { dies, ageing, bank_death, bank_death_disturbed, blown_in } }

impl WeedStep {
    fn new(n: &WeedNumbers, step: f64) -> Self {
        let of_year = step / DAYS_PER_YEAR;
        Self {
            dies: 1.0 - libm::exp(-n.death_mature * step),
            ageing: 1.0 / (0.5 * n.days_to_mature),
            bank_death: n.bank_death * of_year,
            bank_death_disturbed: (n.bank_death_disturbed - n.bank_death) * of_year,
            blown_in: n.seeds_blown_in * of_year,
        }
    }
}

const DAYS_PER_YEAR: f64 = 365.25;

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

laned! {
    PestStep {
        adult_death, death_soil, death_above_ground, per_spread, eggs, above_per_degree_day, summer_per_degree_day,
        fly_in, mixing,
    }
}

impl PestStep {
    /// Resolves a pest's numbers for a step of so many days.
    #[must_use]
    pub fn new(n: &PestNumbers, step: f64) -> Self {
        let boxes = PEST_BOXES as f64;
        Self {
            adult_death: 1.0 - libm::exp(-(1.0 / n.adult_life + n.death_adult) * step),
            death_soil: (n.death_soil * step).min(1.0),
            death_above_ground: n.death_above_ground * step,
            per_spread: 1.0 / n.emergence_spread,
            eggs: n.eggs_per_adult / n.adult_life * step,
            above_per_degree_day: boxes / n.egg_to_drop,
            summer_per_degree_day: boxes / n.summer_soil,
            fly_in: n.fly_in * step,
            mixing: (n.mixing * step).min(1.0),
        }
    }
}

/// Constants of a zone.
#[derive(Clone, Debug, PartialEq)]
pub struct ZonePlan<F = f64> {
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

laned! {
    ZonePlan {
        area_m2, share, seen_share, use_factor, available_water, saturation_room, per_saturation_room, drained, depletion,
        curve_good, curve_bare, slow_release, per_capacity, recovery,
    }
    plain {
        plot, ground, bed, weeds, creepers, pests, seen,
    }
}

/// Constants of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotPlan {
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
pub struct Kinds<F = f64> {
    /// Ground covers.
    pub covers: Vec<CoverNumbers<F>>,
    /// Annual weeds.
    pub weeds: Vec<WeedNumbers<F>>,
    /// Creeping weeds.
    pub creepers: Vec<CreeperNumbers<F>>,
    /// Crops.
    pub crops: Vec<CropNumbers<F>>,
    /// Canopies.
    pub canopies: Vec<CanopyNumbers<F>>,
    /// Pests.
    pub pests: Vec<PestNumbers<F>>,
    /// Processes.
    pub process: ProcessNumbers<F>,
}

laned! { Kinds { covers, weeds, creepers, crops, canopies, pests, process } }

impl Kinds {
    fn new(site: &Site) -> Self {
        Self {
            covers: site.covers.iter().map(|kind| kind.numbers.clone()).collect(),
            weeds: site.weeds.iter().map(|kind| kind.numbers.clone()).collect(),
            creepers: site.creepers.iter().map(|kind| kind.numbers.clone()).collect(),
            crops: site.crops.iter().map(|kind| kind.numbers.clone()).collect(),
            canopies: site.canopies.iter().map(|kind| kind.numbers.clone()).collect(),
            pests: site.pests.iter().map(|kind| kind.numbers.clone()).collect(),
            process: site.process.clone(),
        }
    }
}

/// Constants of all zones and the shares of constant hazards in a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan<F = f64> {
    /// Numbers of plants, pests and processes.
    pub kinds: Kinds<F>,
    /// Zones in the order plot, ring, ground.
    pub zones: Vec<ZonePlan<F>>,
    /// Plots.
    pub plots: Vec<PlotPlan>,
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

laned! {
    Plan {
        kinds, zones, weeds, pests, neighbours, pest_shares, uptake_share, settle_keep, firm_keep, residue_falls,
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

impl Plan {
    /// Resolves the site's numbers.
    #[must_use]
    pub fn new(site: &Site) -> Self {
        let step = 1.0 / f64::from(site.steps_per_day);
        let p = &site.process;
        let share = |rate: f64| 1.0 - libm::exp(-rate * step);
        let mut plan = Self {
            kinds: Kinds::new(site),
            zones: Vec::new(),
            plots: Vec::new(),
            weeds: site.weeds.iter().map(|w| WeedStep::new(&w.numbers, step)).collect(),
            pests: site.pests.iter().map(|p| PestStep::new(&p.numbers, step)).collect(),
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
            plan.push_plot(site, plot);
        }
        plan.share_out_pests(site);
        plan
    }

    /// Finds each zone's share of the ground its pests live on.
    fn share_out_pests(&mut self, site: &Site) {
        let area = |zone: &ZonePlan| zone.pests.clone().map(|_| zone.area_m2).collect::<Vec<_>>();
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
        self.plots.push(PlotPlan {
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

    fn zone(&self, site: &Site, index: usize, ground: usize, use_factor: f64) -> ZonePlan {
        let plot = &site.plots[index];
        let here = &plot.grounds[ground];
        let soil = &site.soils[plot.soil].numbers;
        let cover = &site.covers[plot.cover].numbers;
        let crops = || here.crops.iter().map(|c| &site.crops[c.crop].numbers);
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
        ZonePlan {
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

impl<F> Plan<F> {
    /// Whether something a pest feeds on stands in a zone of `plot` where this crop of the site stands.
    #[inline(always)]
    #[must_use]
    pub fn feeds(&self, plot: &Plot, pest: usize, crop: Option<usize>) -> bool {
        crop.is_some_and(|crop| self.pest_eats[pest][crop]) || (plot.canopy.is_some() && self.canopy_pests[pest])
    }
}

fn shades(site: &Site, plot: &Plot) -> [f64; 2] {
    plot.canopy.map_or([0.0; 2], |canopy| {
        let n = &site.canopies[canopy].numbers;
        [n.shade_bare, n.shade_in_leaf]
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
