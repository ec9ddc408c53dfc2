//! The ground's part of a day, for all runs of a batch at once.

use crate::drivers::{Drivers, PlantDay};
use crate::plot::bites::{self, Intake, Pressure};
use crate::plot::context::{StandingCrop, ZoneContext};
use crate::plot::predation::{self, Predation};
use crate::plot::seen::PlotCondition;
use crate::plot::slugs::{self, SlugDay, SlugMeetings};
use crate::plot::{step, worm_eggs};
use crate::run::forcing::Forcing;
use crate::run::ground::{Crop, LaneGround};
use crate::run::world::World;
use crate::simd::Real;
use crate::simd::soa::{Rows, StructOfArrays};
use crate::units::KG_PER_G;

impl<F: Real> LaneGround<F> {
    /// All steps of a day.
    #[inline(always)]
    pub fn day(&mut self, forcing: &Forcing, worlds: &mut [World], day: usize) {
        self.refresh_stale(worlds);
        self.today.visited.fill(false);
        worlds.iter().flat_map(|world| &world.visited).for_each(|&plot| self.today.visited[plot] = true);
        for _ in 0..worlds[0].site.steps_per_day {
            self.read_mean_adults(worlds);
            let plots = self.stale_plots.len();
            for plot in 0..plots {
                forcing.fetch(day + 1, plot, plots);
                self.step_plot(worlds, plot);
            }
        }
    }

    /// A day begins: its numbers are read, and every run is told of its weather.
    #[inline(always)]
    pub(super) fn dawn(&mut self, forcing: &Forcing, worlds: &mut [World], day: usize) {
        let drivers = worlds[0].drivers;
        self.read_day(forcing, drivers, day);
        let date = drivers.days[day].date;
        for (world, air) in worlds.iter_mut().zip(forcing.airs(day)) {
            let today = &mut world.today;
            today.date = date;
            today.yesterday_tmax_c = today.air.tmax_c;
            today.air = *air;
        }
    }

    #[inline(always)]
    fn read_day(&mut self, forcing: &Forcing, drivers: &Drivers, day: usize) {
        let today = &mut self.today;
        let mut rows = Rows { token: self.zero, left: forcing.day(day) };
        today.day = StructOfArrays::read(&mut rows, &drivers.days[day].ground);
        for both in &mut today.degree_days {
            *both = [rows.take(), rows.take()];
        }
        for slug in &mut today.slugs {
            *slug = SlugDay { warmth: rows.take(), hatching: rows.take(), ageing: rows.take(), frost: rows.take() };
        }
        for water in &mut today.canopy_water {
            *water = rows.take();
        }
        for (day, grower) in today.plants.iter_mut().zip(drivers.growers()) {
            day.used(grower.plant).for_each(|number| *number = rows.take());
        }
    }

    #[inline(always)]
    fn read_mean_adults(&mut self, worlds: &[World]) {
        if worlds[0].site.plots.iter().any(|plot| !plot.nets.is_empty()) {
            return self.read_mean_of_open(worlds);
        }
        let means = &mut self.today.mean_adults;
        means.fill(self.zero);
        for ((state, &kind), &share) in
            self.state.pests.iter().zip(&self.constants.pest_kinds).zip(&self.constants.pest_shares)
        {
            means[kind] += state.adults * share;
        }
    }

    /// As [`Self::read_mean_adults`], of the shares of the zones that are under no net: only from there adults fly.
    #[inline(always)]
    fn read_mean_of_open(&mut self, worlds: &[World]) {
        for (kind, mean) in self.today.mean_adults.iter_mut().enumerate() {
            let (mut sum, mut weight) = (self.zero, self.zero);
            for here in &self.constants.zones {
                let open = open_share(self.zero, worlds, here.plot);
                for at in here.pests.clone().filter(|&at| self.constants.pest_kinds[at] == kind) {
                    let share = self.constants.pest_shares[at] * open;
                    sum += self.state.pests[at].adults * share;
                    weight += share;
                }
            }
            *mean = (sum / weight).select_or_zero(weight.above(0.0));
        }
    }

    /// The birds on a plot, and how they search; `None` where no run has any there.
    #[inline(always)]
    fn read_birds(&mut self, worlds: &[World], plot: usize) -> Option<Pressure<F>> {
        if !self.today.visited[plot] {
            return None;
        }
        let run = |lane: usize| &worlds[lane.min(worlds.len() - 1)];
        // Nearly always the flock is all there is, and its search is at hand already.
        let today = &mut self.today;
        let parties = worlds.iter().map(|world| (world.birds_on[plot].party, world.recounts));
        if !today.searching.iter().copied().eq(parties.clone()) {
            today.searching.clear();
            today.searching.extend(parties);
            for (pest, search) in today.search.iter_mut().enumerate() {
                let of = |world: &'_ World| world.birds_on[plot].party;
                *search = StructOfArrays::gather(self.zero, |lane| &run(lane).parties[of(run(lane))].pests[pest]);
            }
        }
        Some(StructOfArrays::gather(self.zero, |lane| &run(lane).birds_on[plot].pressure))
    }

    /// One step of a plot's zones and their pests.
    #[inline(always)]
    fn step_plot(&mut self, worlds: &mut [World], plot: usize) {
        let (zero, runs) = (self.zero, self.runs);
        let (site, drivers) = (worlds[0].site, worlds[0].drivers);
        let spec = &site.plots[plot];
        let mut birds = self.read_birds(worlds, plot);
        if let Some(birds) = &mut birds {
            *birds = birds.through_snow(&self.today.day);
        }
        let constants = &self.constants;
        let today = &self.today;
        let mut context =
            ZoneContext::of_plot(&today.day, constants, spec, plot, today.canopy_water[plot], &today.plants, drivers);
        let open = if spec.nets.is_empty() { zero.splat(1.0) } else { open_share(zero, worlds, plot) };
        let mut condition = PlotCondition::nothing(zero);
        let mut found = Intake::none(zero);
        for index in constants.plots[plot].zones.clone() {
            let here = &constants.zones[index];
            context.here = here;
            context.crop = match &self.crops[index] {
                Some(crop) => crop_today(crop, &today.plants),
                None => None,
            };
            let zone = &mut self.state.zones[index];
            let exposed = if spec.guards.is_empty() {
                zero.splat(1.0)
            } else {
                zero.by_lane(|lane| {
                    let world = &worlds[lane.min(runs - 1)];
                    let (beds, memory) = (world.constants.plots[plot].beds, &world.plots[plot]);
                    let behind = guarded_share(beds, memory.guarded_beds, here.bed, memory.guarded);
                    (1.0 - behind) * (1.0 - world.around_plants[index])
                })
            };
            let mut pressure = None;
            if let Some(birds) = &birds {
                pressure = Some(birds.in_ring(here.use_factor, zero.splat(drivers.step)));
            }
            let cover = zone.seen_cover;
            let (weeds, creepers) =
                (&mut self.state.weeds[here.weeds.clone()], &mut self.state.creepers[here.creepers.clone()]);
            let mut fruit = zero;
            if let (Some(pressure), false) = (&pressure, here.pests.is_empty()) {
                fruit = bites::share_of_fruit(zone, weeds, creepers, pressure, exposed, &context);
            }
            let intake = step::step(zone, weeds, creepers, pressure.as_ref(), exposed, &context);
            let mut bird_days = zero;
            if let Some(pressure) = &pressure {
                bird_days = pressure.bird_days;
                found.add(&intake, here.area_m2 * KG_PER_G);
                let taken = worm_eggs::uptake(&mut zone.worms, pressure.uptake * exposed) * here.area_m2;
                for (lane, world) in worlds.iter_mut().enumerate() {
                    world.eggs_taken[world.birds_on[plot].party] += taken.lane(lane);
                }
            }
            condition.add(zone, here, context.process.weed_visible);
            if !here.pests.is_empty() {
                let predation = Predation {
                    degree_days: &today.degree_days,
                    mean_adults: &today.mean_adults,
                    cover,
                    exposed,
                    open,
                    bird_days,
                    fruit,
                    search: birds.is_some().then_some(today.search.as_slice()),
                };
                let times = &self.times[here.pests.clone()];
                predation::step(zone, &mut self.state.pests[here.pests.clone()], &context, &predation, times);
            }
            if !here.slugs.is_empty() {
                let meets = SlugMeetings { days: &today.slugs, cover, exposed, birds: pressure.as_ref() };
                let slugs = &mut self.state.slugs[here.slugs.clone()];
                slugs::step(zone, weeds, creepers, slugs, &meets, &context);
            }
        }
        if birds.is_some() {
            for (lane, world) in worlds.iter_mut().enumerate() {
                let mut of_run = Intake::none(0.0);
                found.lane_into(lane, &mut of_run);
                world.found[world.birds_on[plot].party].add(&of_run, 1.0);
            }
        }
        self.today.conditions[plot] = condition;
    }
}

/// A zone's crop today.
#[inline(always)]
fn crop_today<'c, F: Real>(crop: &'c Crop<F>, plants: &[PlantDay<F>]) -> Option<StandingCrop<'c, F>> {
    let (&(first, _), others) = crop.slots().split_first()?;
    let mut day = plants[first];
    for &(slot, here) in others {
        day.growth = F::select(here, plants[slot].growth, day.growth);
        day.thermal = F::select(here, plants[slot].thermal, day.thermal);
    }
    Some(StandingCrop { params: &crop.params, day, stands: crop.stands })
}

/// Share of a plot that is under no net, by run.
#[inline(always)]
fn open_share<F: Real>(zero: F, worlds: &[World], plot: usize) -> F {
    zero.by_lane(|lane| 1.0 - worlds[lane.min(worlds.len() - 1)].plots[plot].netted)
}

/// Share of a ground that guards cover: beds are guarded first, those that have none of their own.
fn guarded_share(beds: f64, of_their_own: f64, bed: bool, guarded: f64) -> f64 {
    let open_beds = (beds - of_their_own).max(0.0);
    if guarded <= 0.0 {
        0.0
    } else if bed {
        (guarded / open_beds).min(1.0)
    } else if beds < 1.0 {
        ((guarded - open_beds) / (1.0 - beds)).clamp(0.0, 1.0)
    } else {
        0.0
    }
}
