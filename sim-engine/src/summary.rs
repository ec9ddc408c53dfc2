//! The summary ledger: what a run is judged by, gathered day by day without keeping days.

mod clean_up;
mod end;
mod flow_for;
mod plots;

pub use end::{PestFigures, mean_slugs, percent_fewer, seeds, total, yearly_change_percent};
pub use plots::{HarvestOf, PlotSummary};

use crate::agenda::Event;
use crate::ledger::balance::stocks;
use crate::ledger::flows::{Currency, Flow, FlowSet};
use crate::ledger::stocks::{Stock, zone_stocks};
use crate::measures::{Measure, Measures};
use crate::plot::harvest::Harvest;
use crate::plot::labour::WorkHours;
use crate::run::plot_sums::{Baseline, PlotAccumulator};
use crate::run::recorder::{DayView, Recorder, RunView};
use crate::run::world::RunError;
use crate::state::Zone;
use crate::units::{DAYS_PER_YEAR, KG_PER_G};
use clean_up::CleanUp;
use std::ops::Range;
use std::sync::Arc;

/// Records the run of birds shut in for others to be measured against.
#[derive(Clone, Debug, Default)]
pub struct BaselineRecorder {
    /// What was recorded.
    pub baseline: Baseline,
}

impl Recorder for BaselineRecorder {
    fn start(&mut self, run: &RunView) {
        let plots = run.world.site.plots.len();
        let room = plots * run.world.site.days;
        self.baseline = Baseline {
            plots,
            cover: Vec::with_capacity(room),
            work_h: Vec::new(),
            barest: Vec::with_capacity(room),
            risen: vec![0.0; run.world.site.pests.len()],
        };
    }

    fn day(&mut self, view: &DayView) {
        for plot in 0..self.baseline.plots {
            self.baseline.cover.push(view.world.cover_outside_beds(plot));
            self.baseline.barest.push(view.world.barest_cover(plot));
        }
    }

    fn end(&mut self, run: &RunView) {
        self.baseline.risen = end::emerged(run, whole_site(run));
        self.baseline.work_h = (0..self.baseline.plots).map(|plot| end::work(run, plot).total()).collect();
    }
}

/// Gathers the measures of a run.
#[derive(Clone, Debug)]
pub struct Summary {
    pest_weights: Vec<f64>,
    /// The measures, complete once the run has ended.
    pub measures: Measures,
    /// By plot, complete once the run has ended.
    pub plots: Vec<PlotSummary>,
    days: f64,
    accumulator: PlotAccumulator,
    clean_up: CleanUp,
    bird_sums: BirdSums,
    seeds_at_start: f64,
    not_finite: Option<&'static str>,
}

#[derive(Clone, Debug, Default)]
struct BirdSums {
    green: f64,
    insects: f64,
    feed: f64,
    feed_bought: f64,
    eggs: f64,
    days_kept: f64,
    heat: f64,
    housed: f64,
    yard: f64,
    mud: f64,
    moves: f64,
    days_moved: f64,
    house_moves: f64,
    worms: f64,
    worm_days: f64,
    bird_days: f64,
}

impl Summary {
    /// For a run measured against `baseline` (birds shut in; `None` for that run itself),
    /// with the cover its keeper asks for.
    #[must_use]
    pub fn new(baseline: Option<Arc<Baseline>>, cover_limit: f64) -> Self {
        Self {
            pest_weights: Vec::new(),
            measures: Measures::blank(),
            plots: Vec::new(),
            days: 0.0,
            accumulator: PlotAccumulator::new(baseline, cover_limit),
            clean_up: CleanUp::default(),
            bird_sums: BirdSums::default(),
            seeds_at_start: 0.0,
            not_finite: None,
        }
    }

    /// What of the run is no finite number, once it has ended: a measure that is not blank by design, or what a zone
    /// or the site holds.
    ///
    /// # Errors
    /// [`RunError::NotFinite`] names it.
    pub fn sound(&self) -> Result<(), RunError> {
        self.not_finite.map_or(Ok(()), |what| Err(RunError::NotFinite { what }))
    }

    /// Weighs the site's pests in [`Measure::PestSuppression`]; without weights all count alike.
    #[must_use]
    pub fn weighing_pests(mut self, weights: &[f64]) -> Self {
        self.pest_weights = weights.to_vec();
        self
    }

    fn birds(&mut self, view: &DayView) {
        let (sums, birds) = (&mut self.bird_sums, view.birds);
        sums.green += birds.green_kg;
        sums.insects += birds.insects_kg;
        sums.feed += birds.feed_saved_kg;
        sums.feed_bought += birds.feed_bought_kg;
        sums.eggs += birds.eggs_kg;
        sums.days_kept += f64::from(u8::from(birds.birds > 0.0));
        sums.heat += birds.heat_hours;
        sums.housed += f64::from(u8::from(birds.housed));
        sums.yard += f64::from(u8::from(birds.yard_day));
        sums.mud += f64::from(u8::from(birds.mud));
        sums.moves += view.gates.moves as f64;
        sums.house_moves += f64::from(u8::from(birds.house_moved));
        sums.days_moved += f64::from(u8::from(view.gates.moves > 0));
        sums.bird_days += birds.birds;
        if !birds.worm_eggs.is_nan() {
            sums.worms += birds.worm_eggs;
            sums.worm_days += 1.0;
        }
    }

    fn finish(&mut self, run: &RunView) {
        let world = run.world;
        let years = self.days / DAYS_PER_YEAR;
        let plots = self.accumulator.sums.plots.iter().enumerate();
        let shut_in_h = |plot: usize| self.accumulator.baseline.as_ref().map(|baseline| baseline.work_h[plot]);
        let summary = |(plot, sums)| PlotSummary::new(run, plot, sums, shut_in_h(plot), [self.days, years]);
        self.plots = plots.map(summary).collect();
        let area = world.plots_area_m2();
        let sward: f64 = world.constants.plots.iter().map(|plot| plot.sward_area_m2).sum();
        let mean = |f: fn(&PlotSummary) -> f64, plots: &[PlotSummary]| {
            plots.iter().zip(&world.site.plots).map(|(s, p)| f(s) * p.area_m2).sum::<f64>() / area
        };
        let (plots, sums) = (&self.plots, &self.accumulator.sums.site);
        let most = |f: fn(&PlotSummary) -> f64| plots.iter().map(f).fold(0.0, f64::max);
        let m = &mut self.measures;
        // A plot that is all bed has no cover to lose: it lies bare between crops, whatever the birds do.
        let swards = || plots.iter().zip(&world.site.plots).filter(|(_, plot)| plot.has_sward()).map(|(seen, _)| seen);
        if self.accumulator.baseline.is_some() {
            let lost = self.accumulator.sums.plots.iter().zip(&world.site.plots).filter(|(_, plot)| plot.has_sward());
            let most_lost = lost.map(|(sums, _)| sums.loss).fold(0.0, f64::max);
            m.set(Measure::CoverLoss, 100.0 * most_lost / self.days);
        }
        // Blank where no plot has a sward.
        if swards().next().is_some() {
            m.set(Measure::LeastCover, swards().map(|p| p.least_cover).fold(1.0, f64::min));
            m.set(Measure::MeanCover, sums.cover / (self.days * sward));
            m.set(Measure::DaysUnder, swards().map(|p| p.days_under).sum());
            m.set(Measure::BareDays, swards().map(|p| p.bare_days).fold(0.0, f64::max));
        }
        m.set(Measure::WeedCover, sums.weed / (self.days * area));
        let load = world.loads.of_site();
        m.set(Measure::NitrogenLoad, load.n);
        m.set(Measure::NitrogenWorst, most(|p| p.nitrogen));
        m.set(Measure::PhosphorusLoad, load.p);
        m.set(Measure::NitrogenLeached, mean(|p| p.leached, plots));
        self.finish_work(run, years);
        self.finish_ground(run, years);
        self.finish_pests(run, years);
        self.finish_birds(run, years);
    }

    fn finish_work(&mut self, run: &RunView, years: f64) {
        let mut work = WorkHours {
            moving: self.bird_sums.days_moved * run.world.site.process.moving_time
                + self.bird_sums.house_moves * run.world.site.process.house_moving_time,
            ..WorkHours::default()
        };
        (0..self.plots.len()).for_each(|plot| work.add(&end::work(run, plot)));
        let m = &mut self.measures;
        if let Some(baseline) = &self.accumulator.baseline {
            // Plot by plot, so that what is alike cancels out.
            let by_plot = baseline.work_h.iter().enumerate().map(|(plot, hours)| hours - end::work(run, plot).total());
            m.set(Measure::WorkSaved, (by_plot.sum::<f64>() - work.moving) / years);
        }
        m.set(Measure::Work, work.total() / years);
        m.set(Measure::WorkWeeding, work.weeding / years);
        m.set(Measure::WorkMowing, work.mowing / years);
        m.set(Measure::WorkClearing, work.clearing / years);
        m.set(Measure::WorkShovelling, work.shovelling / years);
        m.set(Measure::WorkMoving, work.moving / years);
        m.set(Measure::WorkOther, (work.guards + work.other) / years);
    }

    fn finish_ground(&mut self, run: &RunView, years: f64) {
        let kg = |of: fn(&Zone) -> f64| total(run, whole_site(run), of) * KG_PER_G / years;
        let m = &mut self.measures;
        m.set(Measure::SeedBank, yearly_change_percent(self.seeds_at_start, seeds(run, whole_site(run)), years));
        let mut harvest = Harvest::default();
        run.world.harvests.iter().flatten().for_each(|of_kind| harvest.add(of_kind));
        m.set(Measure::HarvestKept, harvest.kept_kg / years);
        m.set(Measure::HarvestLost, harvest.lost_to_pests_kg / years);
        m.set(Measure::FruitTaken, harvest.taken_by_birds_kg / years);
        m.set(Measure::CropTaken, kg(|zone| zone.crop_lost));
        m.set(Measure::Slugs, mean_slugs(run, whole_site(run), self.days));
        if run.world.site.plots.iter().any(|plot| !plot.slugs.is_empty()) {
            let zones = run.world.constants.zones.iter().enumerate();
            let eaten = |zone| flow_for::flow_for(Measure::CropToSlugs, run, zone, Flow::CropEatenBySlugs);
            let eaten_kg: f64 = zones.map(|(zone, here)| eaten(zone) * here.area_m2 * KG_PER_G).sum();
            m.set(Measure::CropToSlugs, eaten_kg / years);
        }
        m.set(Measure::SoilThrown, total(run, whole_site(run), |zone| zone.thrown) / years);
        if let Some(gone) = self.clean_up.percent_gone() {
            m.set(Measure::CleanUp, gone);
        }
    }

    fn finish_pests(&mut self, run: &RunView, years: f64) {
        let pests = PestFigures::of(run, whole_site(run), years);
        let m = &mut self.measures;
        m.set(Measure::Emerged, pests.emerged_m2);
        m.set(Measure::FlownIn, pests.flown_in_m2);
        m.set(Measure::PestDamage, pests.damage_percent);
        if let Some(baseline) = &self.accumulator.baseline {
            let now = end::emerged(run, whole_site(run));
            m.set(Measure::PestSuppression, suppression(&now, &baseline.risen, &self.pest_weights));
        }
    }

    fn finish_birds(&mut self, run: &RunView, years: f64) {
        let sums = &self.bird_sums;
        let m = &mut self.measures;
        m.set(Measure::GreenEaten, sums.green / years);
        m.set(Measure::InsectsEaten, sums.insects / years);
        m.set(Measure::FeedSaved, sums.feed / years);
        m.set(Measure::FeedBought, sums.feed_bought / years);
        m.set(Measure::Eggs, sums.eggs / years);
        m.set(Measure::CareOfBirds, sums.days_kept * run.world.site.process.bird_care / years);
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
            let world = run.world;
            let plots = self.accumulator.sums.plots.iter().zip(&world.constants.plots);
            let counted = |open: f64| (open / years / world.site.process.space_days).min(1.0);
            let used: f64 = plots.map(|(sums, plot)| counted(sums.open) * plot.area_m2).sum();
            // With no gate open the yard is all they have.
            let days_out = sums.days_kept - sums.housed;
            let gate_open = if days_out > 0.0 { 1.0 - sums.yard / days_out } else { 0.0 };
            m.set(Measure::Space, (world.site.yard.outdoor_area_m2() + gate_open * used) / birds);
        }
    }
}

impl Recorder for Summary {
    fn flows(&self) -> FlowSet {
        Measure::all_read()
    }

    fn accumulators(&mut self, each: &mut dyn FnMut(&mut PlotAccumulator)) {
        each(&mut self.accumulator);
    }

    fn start(&mut self, run: &RunView) {
        self.accumulator.start(run.world);
        self.seeds_at_start = seeds(run, whole_site(run));
    }

    fn event(&mut self, day: usize, event: Event) {
        if let Event::CropOut { plot, .. } = event {
            self.clean_up.crop_ended(plot, day);
        }
    }

    fn day(&mut self, view: &DayView) {
        self.days += 1.0;
        self.clean_up.evening(view.world, view.day);
        self.birds(view);
    }

    fn end(&mut self, run: &RunView) {
        self.finish(run);
        self.not_finite = not_finite(run, &self.measures);
    }
}

/// The first that is no finite number, of what zones and site hold and of the measures.
fn not_finite(run: &RunView, measures: &Measures) -> Option<&'static str> {
    let zones = 0..run.ground.zones.len();
    let in_zones = zones.flat_map(|zone| Stock::ALL.iter().zip(zone_stocks(run, zone)));
    let in_zone = in_zones.into_iter().find(|(_, amount)| !amount.is_finite()).map(|(stock, _)| stock.name());
    let on_site = || Currency::ALL.iter().zip(stocks(run, None)).find(|(_, sum)| !sum.is_finite());
    let measure = || {
        let wrong = |measure: Measure| {
            let value = measures.get(measure);
            !(value.is_finite() || (value.is_nan() && measure.may_be_blank()))
        };
        Measure::ALL.iter().copied().find(|measure| wrong(*measure)).map(Measure::name)
    };
    in_zone.or_else(|| on_site().map(|(currency, _)| currency.name())).or_else(measure)
}

/// How many fewer have risen than with the birds shut in, %: weighted mean over pests that then rise.
fn suppression(now: &[f64], without: &[f64], weights: &[f64]) -> f64 {
    let (mut sum, mut weight) = (0.0, 0.0);
    for (pest, (now, without)) in now.iter().zip(without).enumerate() {
        if *without > 0.0 {
            let w = weights.get(pest).copied().unwrap_or(1.0);
            sum += w * percent_fewer(*now, *without);
            weight += w;
        }
    }
    if weight > 0.0 { sum / weight } else { f64::NAN }
}

fn whole_site(run: &RunView) -> Range<usize> {
    0..run.ground.zones.len()
}

#[cfg(test)]
mod tests {
    use super::flow_for::flow_for;
    use super::*;
    use crate::run::{Run, RunOptions};
    use crate::testing::{ample, best_days, core_cover, one_plot};

    #[test]
    #[should_panic(expected = "the measure harvest_kept reads the flow water.out.drainage and does not name it")]
    fn a_measure_on_a_flow_it_does_not_name_is_a_fault() {
        let site = one_plot(core_cover(0.1, 300.0), ample(50.0), 3, 1);
        let drivers = best_days(&site);
        let run = Run::new(&site, &drivers, RunOptions::no_birds(), FlowSet::ALL);
        let view = run.as_ref().map(|run| run.view(FlowSet::ALL));
        let _ = view.map(|view| flow_for(Measure::HarvestKept, &view, 0, Flow::Drainage));
    }

    #[test]
    fn every_flow_a_measure_names_is_kept_for_a_summary() {
        let named = Measure::ALL.iter().flat_map(|m| Flow::ALL.iter().filter(|flow| m.reads().has(**flow)));
        assert!(named.clone().count() > 0);
        let summary = Summary::new(None, 0.7);
        assert!(named.into_iter().all(|&flow| summary.flows().has(flow)));
    }
}
