//! A run looked at closely, plot by plot: what pictures and plot pages of a report need
//! beyond the measures. Some of it is gathered as the days go by, the rest read off the
//! books when the run is over.

mod nitrogen;
mod pace;
mod weekly;
mod zones;

pub use nitrogen::{Nitrogen, NitrogenPath};
pub use weekly::{EVERY_DAYS, Quantity, Weekly};

use pace::Pace;
use scenarios::SiteModel;
use sim_engine::agenda::Event;
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::plot::harvest::Harvest;
use sim_engine::run::recorder::{DayView, Recorder, RunView};
use sim_engine::state::Zone;
use sim_engine::summary::{PestFigures, mean_slugs, seeds, total, yearly_change_percent};
use sim_engine::units::{DAYS_PER_YEAR, KG_PER_G};

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
#[derive(Clone, Debug, PartialEq)]
pub struct PlotFigures {
    /// Stays of the birds, a year.
    pub stays: f64,
    /// Days of the longest stay.
    pub longest_stay_d: f64,
    /// Days of the shortest rest between two stays.
    pub shortest_rest_d: f64,
    /// Change of the weed seed bank, % a year.
    pub seed_bank_percent: f64,
    /// Its pests.
    pub pests: PestFigures,
    /// Harvests of a year, fresh.
    pub harvest: Harvest,
    /// Standing crop eaten or scratched out by birds, kg dry a year.
    pub crop_taken_kg: f64,
    /// Soil thrown out of beds, kg a year.
    pub soil_thrown_kg: f64,
    /// Live cover, weeds and crop eaten, kg dry a year.
    pub green_eaten_kg: f64,
    /// Insects and worms eaten, kg dry a year.
    pub insects_eaten_kg: f64,
    /// Slugs and snails of all sizes, mean per m²; `NaN` where none live.
    pub slugs_m2: f64,
    /// Standing crop they ate, dry, a year, kg.
    pub crop_to_slugs_kg: f64,
    /// Days from a crop's end until nine tenths of its residue was gone, mean of those that got there.
    /// Not [`sim_engine::measures::Measure::CleanUp`]: that is the share gone within three weeks.
    pub residue_gone_d: f64,
    /// Where nitrogen came from and went.
    pub nitrogen: Nitrogen,
}

fn harvest_of_a_year(of_kinds: &[Harvest], years: f64) -> Harvest {
    let mut all = Harvest::default();
    of_kinds.iter().for_each(|of_kind| all.add(of_kind));
    all.times(1.0 / years)
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
const EATEN: FlowSet = FlowSet::of(&GREEN).union(FlowSet::of(&[Flow::EatenInsects, Flow::CropEatenBySlugs]));

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
        self.seeds_at_start =
            plots.clone().map(|plot| seeds(run, run.world.constants.plots[plot].zones.clone())).collect();
        self.nitrogen_at_start = plots.map(|plot| nitrogen::stock(run, plot)).collect();
        self.weekly = Weekly::start(site);
    }

    fn event(&mut self, day: usize, event: Event) {
        if let Event::CropOut { plot, .. } = event {
            self.pace[plot].crop_ended(day);
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
        let zones = || run.world.constants.plots[plot].zones.clone();
        let state = |of: fn(&Zone) -> f64| total(run, zones(), of) / years;
        let flow = |flow: Flow| {
            let areas = zones().zip(&run.world.constants.zones[zones()]);
            areas.map(|(zone, here)| run.flow(zone, flow) * here.area_m2).sum::<f64>() / years
        };
        let pace = &self.pace[plot];
        PlotFigures {
            stays: pace.stays / years,
            longest_stay_d: pace.longest_stay,
            shortest_rest_d: pace.shortest_rest,
            seed_bank_percent: yearly_change_percent(self.seeds_at_start[plot], seeds(run, zones()), years),
            pests: PestFigures::of(run, zones(), years),
            harvest: harvest_of_a_year(&run.world.harvests[plot], years),
            crop_taken_kg: KG_PER_G * state(|zone| zone.crop_lost),
            soil_thrown_kg: state(|zone| zone.thrown),
            green_eaten_kg: KG_PER_G * GREEN.into_iter().map(flow).sum::<f64>(),
            insects_eaten_kg: KG_PER_G * flow(Flow::EatenInsects),
            slugs_m2: mean_slugs(run, zones(), run.world.site.days as f64),
            crop_to_slugs_kg: KG_PER_G * flow(Flow::CropEatenBySlugs),
            residue_gone_d: pace.residue_gone_d(),
            nitrogen: Nitrogen::of(run, plot, self.nitrogen_at_start[plot], years),
        }
    }
}
