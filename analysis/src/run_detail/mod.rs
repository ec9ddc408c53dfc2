//! A run looked at closely, plot by plot: what pictures and plot pages of a report need
//! beyond the measures. Some of it is gathered as the days go by, the rest read off the
//! books when the run is over.

mod nitrogen;
mod pace;
mod weekly;
mod zones;

pub use nitrogen::{Nitrogen, NitrogenPath};
pub use weekly::{EVERY_DAYS, Quantity, Weekly};

pub(crate) use pace::waiting_days;

use pace::Pace;
use scenarios::SiteModel;
use sim_engine::agenda::Event;
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::state::Zone;
use sim_engine::units::{DAYS_PER_YEAR, KG_PER_G};
use zones::zones;

/// Possible years looked at closely at most: as many as a usual run has.
const MOST_DRAWS: usize = 200;
/// Bytes the weeks of all runs may take together.
const MOST_BYTES: usize = 64 << 20;
/// Runs of a draw besides the strategies'.
const BASELINES: usize = 2;

/// How many possible years are looked at closely: all of a usual run, fewer where plots and
/// strategies are many, so that memory has a bound.
#[must_use]
pub fn detailed_draws(model: &SiteModel, strategies: usize) -> usize {
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
    /// Live cover, weeds and crop eaten, kg dry a year.
    pub green_eaten_kg: f64,
    /// Insects and worms eaten, kg dry a year.
    pub insects_eaten_kg: f64,
    /// Days from a crop's end until nine tenths of its residue was gone, mean of those that got there.
    /// Not [`sim_engine::measures::Measure::CleanUp`]: that is the share gone within three weeks.
    pub residue_gone_d: f64,
    /// Day of the run on which nine tenths of a crop's residue were gone for the first time.
    pub first_residue_gone_day: f64,
    /// First harvest of the run that birds went before: day of the run from which the waiting
    /// period allows it.
    pub harvest_allowed_day: f64,
    /// Where nitrogen came from and went.
    pub nitrogen: Nitrogen,
}

/// Gathers figures and weeks of a run.
#[derive(Clone, Debug, Default)]
pub struct RunDetail {
    /// By plot, complete once the run has ended.
    pub plots: Vec<PlotFigures>,
    /// Week by week.
    pub weekly: Weekly,
    pace: Vec<Pace>,
    seeds_at_start: Vec<f64>,
    nitrogen_at_start: Vec<f64>,
}

/// What counts as green among what birds eat, as in the site's own measure.
const GREEN: [Flow; 3] = [Flow::EatenCover, Flow::EatenWeeds, Flow::EatenCrop];

/// Flows of the books it reads besides those of nitrogen.
const EATEN: FlowSet = FlowSet::of(&GREEN).union(FlowSet::of(&[Flow::EatenInsects]));

impl Recorder for RunDetail {
    fn flows(&self) -> FlowSet {
        EATEN.union(Nitrogen::flows())
    }

    fn reads_ground(&self, day: usize) -> bool {
        Weekly::looks_on(day)
    }

    fn start(&mut self, run: &RunView) {
        let site = run.world.site;
        let plots = 0..site.plots.len();
        self.pace = vec![Pace::start(); site.plots.len()];
        self.seeds_at_start = plots.clone().map(|plot| seeds(run, plot)).collect();
        self.nitrogen_at_start = plots.map(|plot| nitrogen::stock(run, plot)).collect();
        self.weekly = Weekly::start(site);
    }

    fn event(&mut self, day: usize, event: Event) {
        match event {
            Event::CropOut { plot, .. } => self.pace[plot].crop_ended(day),
            Event::HarvestBegins { plot } => self.pace[plot].harvest_begins(day),
            _ => {}
        }
    }

    fn day(&mut self, view: &DayView) {
        for (plot, pace) in self.pace.iter_mut().enumerate() {
            pace.day(view, plot);
        }
        self.weekly.day(view);
    }

    fn end(&mut self, run: &RunView) {
        let years = run.world.site.days as f64 / DAYS_PER_YEAR;
        self.plots = (0..self.pace.len()).map(|plot| self.figures(run, plot, years)).collect();
    }
}

impl RunDetail {
    fn figures(&self, run: &RunView, plot: usize, years: f64) -> PlotFigures {
        let sum = |of: &dyn Fn(usize, &Zone) -> f64| -> f64 {
            zones(run, plot).map(|(area, index, zone)| area * of(index, zone)).sum::<f64>() / years
        };
        let pace = &self.pace[plot];
        let pests = pests(run, plot, years);
        PlotFigures {
            stays: pace.stays / years,
            longest_stay_d: pace.longest_stay,
            shortest_rest_d: pace.shortest_rest,
            seed_bank_percent: yearly_change(self.seeds_at_start[plot], seeds(run, plot), years),
            emerged_m2: pests.0,
            flown_in_m2: pests.1,
            damage_percent: pests.2,
            harvested_kg: KG_PER_G * sum(&|_, z| z.harvested),
            crop_taken_kg: KG_PER_G * sum(&|_, z| z.crop_lost),
            soil_thrown_kg: sum(&|_, z| z.thrown),
            green_eaten_kg: KG_PER_G * sum(&|zone, _| GREEN.iter().map(|&flow| run.flow(zone, flow)).sum()),
            insects_eaten_kg: KG_PER_G * sum(&|zone, _| run.flow(zone, Flow::EatenInsects)),
            residue_gone_d: pace.residue_gone_d(),
            first_residue_gone_day: pace.first_residue_gone,
            harvest_allowed_day: pace.harvest_allowed(run.world.site, plot),
            nitrogen: Nitrogen::of(run, plot, self.nitrogen_at_start[plot], years),
        }
    }
}

/// Weed seeds in the plot's soil.
fn seeds(run: &RunView, plot: usize) -> f64 {
    let constants = &run.world.constants;
    let of = |zone: usize| {
        let here = &constants.zones[zone];
        here.area_m2 * run.ground.weeds[here.weeds.clone()].iter().map(|weed| weed.deep + weed.surface).sum::<f64>()
    };
    constants.plots[plot].zones.clone().map(of).sum()
}

fn yearly_change(start: f64, end: f64, years: f64) -> f64 {
    if start > 0.0 { 100.0 * (sim_engine::math::pow(end / start, 1.0 / years) - 1.0) } else { f64::NAN }
}

/// Risen, flown in (per m² of host ground a year) and damage, %.
fn pests(run: &RunView, plot: usize, years: f64) -> (f64, f64, f64) {
    let world = run.world;
    let (mut ground, mut risen, mut flown, mut spoilt) = (0.0, 0.0, 0.0, 0.0);
    for zone in world.constants.plots[plot].zones.clone() {
        let here = &world.constants.zones[zone];
        let species = &world.site.plots[plot].pests;
        let lives = &world.constants.pest_lives[here.pests.clone()];
        for ((state, kind), _) in
            run.ground.pests[here.pests.clone()].iter().zip(species).zip(lives).filter(|(_, lives)| **lives)
        {
            let numbers = &world.site.pests[kind.pest].params;
            let in_season = world.in_season(kind.pest);
            let running = if in_season { sim_engine::plot::pests::damage(state, numbers) } else { 0.0 };
            let seasons = state.seasons + f64::from(u8::from(in_season));
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
