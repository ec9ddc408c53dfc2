//! The summary ledger: what a run is judged by, gathered day by day without keeping days.

mod clean_up;
mod gathering;
mod plots;

pub use gathering::Gathering;
pub(crate) use gathering::Today;
pub use plots::PlotSummary;

use crate::agenda::Happening;
use crate::measures::{Measure, Measures};
use crate::recorder::FromTheGate;
use crate::season::{DayView, Recorder};
use crate::world::World;
use clean_up::CleanUp;

/// Cover below which ground counts as bare (the least cover asked against wind erosion
/// on rangeland: Western Local Land Services, grazing principle 3).
pub const BARE_BELOW: f64 = 0.5;
const DAYS_PER_YEAR: f64 = 365.25;

/// What the no-birds run leaves for the others to be held against.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reference {
    plots: usize,
    cover: Vec<f64>,
    weed_cover: Vec<f64>,
    /// Adults risen from the site's own soil, by pest, number.
    risen: Vec<f64>,
}

impl Reference {
    /// Cover outside beds of a plot on a day of the no-birds run.
    #[inline]
    #[must_use]
    pub fn cover(&self, day: usize, plot: usize) -> f64 {
        self.cover[day * self.plots + plot]
    }

    /// Cover outside beds and cover of weeds of all plots on a day.
    #[inline]
    pub(crate) fn day(&self, day: usize) -> (&[f64], &[f64]) {
        let of_day = day * self.plots..(day + 1) * self.plots;
        (&self.cover[of_day.clone()], &self.weed_cover[of_day])
    }
}

/// Keeps the days of the no-birds run that others are held against.
#[derive(Clone, Debug, Default)]
pub struct ReferenceRecorder {
    /// What was kept.
    pub reference: Reference,
}

impl Recorder for ReferenceRecorder {
    fn start(&mut self, world: &World) {
        let plots = world.site.plots.len();
        let room = plots * world.site.days;
        self.reference = Reference {
            plots,
            cover: Vec::with_capacity(room),
            weed_cover: Vec::with_capacity(room),
            risen: vec![0.0; world.site.pests.len()],
        };
    }

    fn day(&mut self, view: &DayView) {
        for plot in 0..self.reference.plots {
            self.reference.cover.push(view.world.cover_outside_beds(plot));
            self.reference.weed_cover.push(view.world.seen_of(plot).weeds);
        }
    }

    fn end(&mut self, world: &World) {
        self.reference.risen = risen(world);
    }
}

impl FromTheGate for ReferenceRecorder {}

/// Gathers the measures of a run.
#[derive(Clone, Debug)]
pub struct Summary<'r> {
    reference: Option<&'r Reference>,
    pest_weights: &'r [f64],
    /// The measures, complete once the run has ended.
    pub measures: Measures,
    /// By plot, complete once the run has ended.
    pub plots: Vec<PlotSummary>,
    days: f64,
    gathering: Gathering,
    clean_up: CleanUp,
    bird_sums: BirdSums,
    seeds_at_start: f64,
}

#[derive(Clone, Debug, Default)]
struct BirdSums {
    green: f64,
    insects: f64,
    feed: f64,
    heat: f64,
    housed: f64,
    yard: f64,
    mud: f64,
    moves: f64,
    worms: f64,
    worm_days: f64,
    bird_days: f64,
}

impl<'r> Summary<'r> {
    /// For a run held against `reference` (the no-birds run; `None` for that run itself),
    /// with the cover its keeper asks for.
    #[must_use]
    pub fn new(reference: Option<&'r Reference>, cover_limit: f64) -> Self {
        Self {
            reference,
            pest_weights: &[],
            measures: Measures::blank(),
            plots: Vec::new(),
            days: 0.0,
            gathering: Gathering::new(cover_limit),
            clean_up: CleanUp::default(),
            bird_sums: BirdSums::default(),
            seeds_at_start: 0.0,
        }
    }

    /// Weighs the site's pests in [`Measure::PestSuppression`]; without weights all count alike.
    #[must_use]
    pub fn weighing_pests(mut self, weights: &'r [f64]) -> Self {
        self.pest_weights = weights;
        self
    }

    fn gather(&mut self, view: &DayView) {
        let world = view.world;
        let reference = self.reference.map(|reference| reference.day(view.day));
        for (plot, (seen, on)) in world.plot_seen.iter().zip(&world.birds_on).enumerate() {
            let (cover, weeds) = (seen.cover, seen.weeds);
            let (cover_without, weeds_without) = match reference {
                Some((cover, weeds)) => (cover[plot], weeds[plot]),
                None => (cover, weeds),
            };
            let today = Today { cover, weeds, cover_without, weeds_without, bird_days: on.bird_days };
            self.gathering.day(plot, &today);
        }
    }

    fn birds(&mut self, view: &DayView) {
        let (sums, birds) = (&mut self.bird_sums, view.birds);
        sums.green += birds.green_kg;
        sums.insects += birds.insects_kg;
        sums.feed += birds.feed_saved_kg;
        sums.heat += birds.heat_hours;
        sums.housed += f64::from(u8::from(birds.housed));
        sums.yard += f64::from(u8::from(birds.yard_day));
        sums.mud += f64::from(u8::from(birds.mud));
        sums.moves += view.gates.moves as f64;
        sums.bird_days += birds.birds;
        if birds.worm_eggs.is_finite() {
            sums.worms += birds.worm_eggs;
            sums.worm_days += 1.0;
        }
    }

    fn finish(&mut self, world: &World) {
        let years = self.days / DAYS_PER_YEAR;
        let gathered = self.gathering.plots.iter().enumerate();
        self.plots = gathered.map(|(plot, sums)| PlotSummary::new(world, plot, sums, self.days, years)).collect();
        let area = world.plots_area_m2();
        let seen: f64 = world.plan.plots.iter().map(|plot| plot.seen_area_m2).sum();
        let mean = |f: fn(&PlotSummary) -> f64, plots: &[PlotSummary]| {
            plots.iter().zip(&world.site.plots).map(|(s, p)| f(s) * p.area_m2).sum::<f64>() / area
        };
        let (plots, sums) = (&self.plots, &self.gathering.site);
        let most = |f: fn(&PlotSummary) -> f64| plots.iter().map(f).fold(0.0, f64::max);
        let m = &mut self.measures;
        if self.reference.is_some() {
            m.set(Measure::CoverLoss, 100.0 * sums.loss / (self.days * seen));
            let p = &world.site.process;
            m.set(Measure::WeedingSaved, sums.weed_saved * p.weeding_time / p.weeding_interval / years);
        }
        m.set(Measure::LeastCover, plots.iter().map(|p| p.least_cover).fold(1.0, f64::min));
        m.set(Measure::MeanCover, sums.cover / (self.days * seen));
        m.set(Measure::DaysUnder, plots.iter().map(|p| p.days_under).sum());
        m.set(Measure::BareDays, most(|p| p.bare_days));
        m.set(Measure::WeedCover, sums.weed / (self.days * area));
        m.set(Measure::NitrogenLoad, mean(|p| p.nitrogen, plots));
        m.set(Measure::NitrogenWorst, most(|p| p.nitrogen));
        m.set(Measure::PhosphorusLoad, mean(|p| p.phosphorus, plots));
        m.set(Measure::NitrogenLeached, mean(|p| p.leached, plots));
        self.finish_ground(world, years);
        self.finish_pests(world, years);
        self.finish_birds(world, years);
    }

    fn finish_ground(&mut self, world: &World, years: f64) {
        let sum = |f: fn(&crate::state::Zone) -> f64| {
            world.zones.iter().zip(&world.plan.zones).map(|(z, here)| f(z) * here.area_m2).sum::<f64>()
        };
        let m = &mut self.measures;
        let seeds = seeds(world);
        if self.seeds_at_start > 0.0 {
            let yearly = libm::pow(seeds / self.seeds_at_start, 1.0 / years);
            m.set(Measure::SeedBank, 100.0 * (yearly - 1.0));
        }
        m.set(Measure::CropYield, sum(|z| z.harvested) * 1e-3 / years);
        m.set(Measure::CropTaken, sum(|z| z.crop_lost) * 1e-3 / years);
        m.set(Measure::SoilThrown, sum(|z| z.thrown) / years);
        if let Some(gone) = self.clean_up.percent_gone() {
            m.set(Measure::CleanUp, gone);
        }
    }

    fn finish_pests(&mut self, world: &World, years: f64) {
        let (mut flown, mut spoilt, mut host_area) = (0.0, 0.0, 0.0);
        for (area, state, n) in pests_of(world) {
            host_area += area;
            flown += state.flown_in * area;
            let running = if state.in_season { crate::plot::pests::damage(state, n) } else { 0.0 };
            let seasons = state.seasons + f64::from(u8::from(state.in_season));
            spoilt += area * (state.damage_sum + running) / seasons.max(1.0);
        }
        let now = risen(world);
        let m = &mut self.measures;
        if host_area > 0.0 {
            m.set(Measure::Emerged, now.iter().sum::<f64>() / host_area / years);
            m.set(Measure::FlownIn, flown / host_area / years);
            m.set(Measure::PestDamage, 100.0 * spoilt / host_area);
        }
        if let Some(reference) = self.reference {
            m.set(Measure::PestSuppression, suppression(&now, &reference.risen, self.pest_weights));
        }
    }

    fn finish_birds(&mut self, world: &World, years: f64) {
        let sums = &self.bird_sums;
        let m = &mut self.measures;
        m.set(Measure::GreenEaten, sums.green / years);
        m.set(Measure::InsectsEaten, sums.insects / years);
        m.set(Measure::FeedSaved, sums.feed / years);
        m.set(Measure::HeatHours, sums.heat / years);
        m.set(Measure::HousedDays, sums.housed / years);
        m.set(Measure::YardDays, sums.yard / years);
        m.set(Measure::MudDays, sums.mud / years);
        m.set(Measure::GateMoves, sums.moves / years);
        if sums.worm_days > 0.0 {
            m.set(Measure::WormEggs, sums.worms / sums.worm_days);
        }
        let birds = sums.bird_days / self.days;
        if birds > 0.0 {
            let plots = self.gathering.plots.iter().zip(&world.plan.plots);
            let used: f64 = plots.filter(|(sums, _)| sums.open > 0.0).map(|(_, plot)| plot.area_m2).sum();
            m.set(Measure::Space, (used + world.site.yard.area_m2) / birds);
        }
    }
}

impl Recorder for Summary<'_> {
    fn start(&mut self, world: &World) {
        self.gathering.start(world);
        self.seeds_at_start = seeds(world);
    }

    fn event(&mut self, day: usize, happening: Happening) {
        if let Happening::CropOut { plot, .. } = happening {
            self.clean_up.crop_ended(plot, day);
        }
    }

    fn day(&mut self, view: &DayView) {
        self.days += 1.0;
        if !view.gathered {
            self.gather(view);
        }
        self.clean_up.evening(view.world, view.day);
        self.birds(view);
    }

    fn end(&mut self, world: &World) {
        self.finish(world);
    }
}

impl FromTheGate for Summary<'_> {
    fn gathering(&mut self) -> Option<&mut Gathering> {
        Some(&mut self.gathering)
    }
    fn held_against(&self) -> Option<&Reference> {
        self.reference
    }
}

/// 100 × (1 − risen with birds/risen without), weighted mean over pests that rise without birds.
fn suppression(now: &[f64], without: &[f64], weights: &[f64]) -> f64 {
    let (mut sum, mut weight) = (0.0, 0.0);
    for (pest, (now, without)) in now.iter().zip(without).enumerate() {
        if *without > 0.0 {
            let w = weights.get(pest).copied().unwrap_or(1.0);
            sum += w * 100.0 * (1.0 - now / without);
            weight += w;
        }
    }
    if weight > 0.0 { sum / weight } else { f64::NAN }
}

/// Adults risen from own soil so far, number by pest.
fn risen(world: &World) -> Vec<f64> {
    let mut sums = vec![0.0; world.site.pests.len()];
    for here in &world.plan.zones {
        let species = &world.site.plots[here.plot].pests;
        for (state, p) in world.pests[here.pests.clone()].iter().zip(species) {
            sums[p.pest] += state.risen * here.area_m2;
        }
    }
    sums
}

/// Every pest where it lives: area, state, numbers.
fn pests_of<'w>(
    world: &'w World,
) -> impl Iterator<Item = (f64, &'w crate::state::PestHere, &'w crate::kinds::PestNumbers)> {
    world.plan.zones.iter().flat_map(move |here| {
        let species = &world.site.plots[here.plot].pests;
        let lives = &world.plan.pest_lives[here.pests.clone()];
        let states = &world.pests[here.pests.clone()];
        states
            .iter()
            .zip(species)
            .zip(lives)
            .filter(|(_, lives)| **lives)
            .map(move |((state, p), _)| (here.area_m2, state, &world.site.pests[p.pest].numbers))
    })
}

/// Seeds in all banks of the site.
fn seeds(world: &World) -> f64 {
    world
        .plan
        .zones
        .iter()
        .map(|here| here.area_m2 * world.weeds[here.weeds.clone()].iter().map(|w| w.deep + w.surface).sum::<f64>())
        .sum()
}
