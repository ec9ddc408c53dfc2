//! A run looked at closely, plot by plot: what pictures and plot pages of a report need
//! beyond the measures. Some of it is gathered as the days go by, the rest read off the
//! books when the run is over.

mod nitrogen;
mod pace;
mod weekly;

pub use nitrogen::{Nitrogen, Way};
pub use weekly::{EVERY_DAYS, Quantity, Weekly};

pub(crate) use pace::Waits;

use pace::Pace;
use scenarios::SiteModel;
use sim_engine::agenda::Happening;
use sim_engine::flows::Flow;
use sim_engine::recorder::FromTheGate;
use sim_engine::season::{DayView, Recorder};
use sim_engine::world::World;

const DAYS_PER_YEAR: f64 = 365.25;
const KG_PER_G: f64 = 1e-3;
/// Possible years looked at closely at most: as many as a usual run has.
const MOST_DRAWS: usize = 200;
/// Bytes the weeks of all runs may take together.
const MOST_BYTES: usize = 64 << 20;
/// Runs of a draw besides the strategies'.
const BASELINES: usize = 2;

/// How many possible years are looked at closely: all of a usual run, fewer where plots and
/// strategies are many, so that memory has a bound.
#[must_use]
pub fn draws_looked_at(model: &SiteModel, strategies: usize) -> usize {
    let each = Weekly::bytes(model.base.plots.len(), model.base.days);
    (MOST_BYTES / (each * (strategies + BASELINES)).max(1)).clamp(1, MOST_DRAWS)
}

/// Figures of one plot over a run; `NaN` where there is nothing to measure. Amounts a year.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlotFigures {
    /// Stays of the birds, a year.
    pub stays: f64,
    /// Days of the longest stay.
    pub longest_stay_d: f64,
    /// Days of the shortest rest between two stays.
    pub shortest_rest_d: f64,
    /// Change of the weed seed bank, % a year.
    pub seed_bank_percent: f64,
    /// Pest adults risen from the plot's own soil, per m² where pests live, a year.
    pub emerged_m2: f64,
    /// Pest adults flown in, per m² where pests live, a year.
    pub flown_in_m2: f64,
    /// Crop damaged by pests, %, mean over seasons.
    pub damage_percent: f64,
    /// Crop harvested, kg dry a year.
    pub harvested_kg: f64,
    /// Standing crop eaten or scratched out by birds, kg dry a year.
    pub crop_taken_kg: f64,
    /// Soil thrown out of beds, kg a year.
    pub soil_thrown_kg: f64,
    /// Live cover and weeds eaten, kg dry a year.
    pub green_eaten_kg: f64,
    /// Insects and worms eaten, kg dry a year.
    pub insects_eaten_kg: f64,
    /// Days from a crop's end until nine tenths of its residue was gone, mean of those that got there.
    pub clean_up_d: f64,
    /// Day of the run on which the first of these clean-ups was done.
    pub first_cleaned_day: f64,
    /// First harvest of the run that birds went before: day of the run from which the waiting
    /// period allows it.
    pub harvest_allowed_day: f64,
    /// Where nitrogen came from and went.
    pub nitrogen: Nitrogen,
}

/// Gathers figures and weeks of a run.
#[derive(Clone, Debug, Default)]
pub struct Closely {
    /// By plot, complete once the run has ended.
    pub plots: Vec<PlotFigures>,
    /// Week by week.
    pub weekly: Weekly,
    pace: Vec<Pace>,
    seeds_at_start: Vec<f64>,
    nitrogen_at_start: Vec<f64>,
}

impl Recorder for Closely {
    fn start(&mut self, world: &World) {
        let plots = 0..world.site.plots.len();
        self.pace = plots.clone().map(|plot| Pace::of(world.site, plot)).collect();
        self.seeds_at_start = plots.clone().map(|plot| seeds(world, plot)).collect();
        self.nitrogen_at_start = plots.map(|plot| nitrogen::stock(world, plot)).collect();
        self.weekly = Weekly::start(world);
    }

    fn event(&mut self, day: usize, happening: Happening) {
        match happening {
            Happening::CropOut { plot, .. } => self.pace[plot].crop_ended(day),
            Happening::HarvestBegins { plot } => self.pace[plot].harvest_begins(day),
            _ => {}
        }
    }

    fn day(&mut self, view: &DayView) {
        for (plot, pace) in self.pace.iter_mut().enumerate() {
            pace.day(view, plot);
        }
        self.weekly.day(view);
    }

    fn end(&mut self, world: &World) {
        let years = world.site.days as f64 / DAYS_PER_YEAR;
        self.plots = (0..self.pace.len()).map(|plot| self.figures(world, plot, years)).collect();
    }
}

impl FromTheGate for Closely {
    fn looks_closely(&self, day: usize) -> bool {
        Weekly::looks_on(day)
    }

    fn reads_books(&self) -> bool {
        true
    }
}

impl Closely {
    fn figures(&self, world: &World, plot: usize, years: f64) -> PlotFigures {
        let sum = |of: fn(&sim_engine::state::Zone) -> f64| -> f64 {
            zones(world, plot).map(|(area, zone)| area * of(zone)).sum::<f64>() / years
        };
        let pace = &self.pace[plot];
        let pests = pests(world, plot, years);
        PlotFigures {
            stays: pace.stays / years,
            longest_stay_d: pace.longest_stay,
            shortest_rest_d: pace.shortest_rest,
            seed_bank_percent: yearly_change(self.seeds_at_start[plot], seeds(world, plot), years),
            emerged_m2: pests.0,
            flown_in_m2: pests.1,
            damage_percent: pests.2,
            harvested_kg: KG_PER_G * sum(|z| z.harvested),
            crop_taken_kg: KG_PER_G * sum(|z| z.crop_lost),
            soil_thrown_kg: sum(|z| z.thrown),
            green_eaten_kg: KG_PER_G * sum(|z| z.flows.get(Flow::EatenCover) + z.flows.get(Flow::EatenWeeds)),
            insects_eaten_kg: KG_PER_G * sum(|z| z.flows.get(Flow::EatenInsects)),
            clean_up_d: pace.clean_up_d(),
            first_cleaned_day: pace.first_cleaned,
            harvest_allowed_day: pace.harvest_allowed,
            nitrogen: Nitrogen::of(world, plot, self.nitrogen_at_start[plot], years),
        }
    }
}

/// Area and state of every zone of a plot.
fn zones<'w>(world: &'w World, plot: usize) -> impl Iterator<Item = (f64, &'w sim_engine::state::Zone)> {
    world.plan.plots[plot].zones.clone().map(move |zone| (world.plan.zones[zone].area_m2, &world.zones[zone]))
}

/// Weed seeds in the plot's soil.
fn seeds(world: &World, plot: usize) -> f64 {
    let of = |zone: usize| {
        let here = &world.plan.zones[zone];
        here.area_m2 * world.weeds[here.weeds.clone()].iter().map(|weed| weed.deep + weed.surface).sum::<f64>()
    };
    world.plan.plots[plot].zones.clone().map(of).sum()
}

fn yearly_change(start: f64, end: f64, years: f64) -> f64 {
    if start > 0.0 { 100.0 * (sim_engine::math::pow(end / start, 1.0 / years) - 1.0) } else { f64::NAN }
}

/// Risen, flown in (per m² of host ground a year) and damage, %.
fn pests(world: &World, plot: usize, years: f64) -> (f64, f64, f64) {
    let (mut ground, mut risen, mut flown, mut spoilt) = (0.0, 0.0, 0.0, 0.0);
    for zone in world.plan.plots[plot].zones.clone() {
        let here = &world.plan.zones[zone];
        let species = &world.site.plots[plot].pests;
        let lives = &world.plan.pest_lives[here.pests.clone()];
        for ((state, kind), _) in
            world.pests[here.pests.clone()].iter().zip(species).zip(lives).filter(|(_, lives)| **lives)
        {
            let numbers = &world.site.pests[kind.pest].numbers;
            let running = if state.in_season { sim_engine::plot::pests::damage(state, numbers) } else { 0.0 };
            let seasons = state.seasons + f64::from(u8::from(state.in_season));
            ground += here.area_m2;
            risen += here.area_m2 * state.risen;
            flown += here.area_m2 * state.flown_in;
            spoilt += here.area_m2 * (state.damage_sum + running) / seasons.max(1.0);
        }
    }
    if ground > 0.0 {
        (risen / ground / years, flown / ground / years, 100.0 * spoilt / ground)
    } else {
        (f64::NAN, f64::NAN, f64::NAN)
    }
}
