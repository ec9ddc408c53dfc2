//! The ground of the runs of a batch, one in each lane: the one home of its state.

use crate::drivers::{GroundDay, PlantDay};
use crate::flock::party::PestSearch;
use crate::plot::constants::{SiteConstants, ZoneConstants};
use crate::plot::predation::PestTimes;
use crate::plot::seen::PlotCondition;
use crate::plot::slugs::SlugDay;
use crate::run::world::{LONG_AGO, World};
use crate::run::zone_editor::RunGround;
use crate::simd::soa::StructOfArrays;
use crate::simd::{MOST_LANES, Real};
use crate::species::CropParams;
use crate::state::{GroundState, ZoneState};

/// The crop of a zone in the runs in which one stands.
#[derive(Clone)]
pub(crate) struct Crop<F: Real> {
    pub(super) params: CropParams<F>,
    pub(super) stands: F::Mask,
    /// Its slot among the plants, and in which runs it is that: of the crops that stand, each once.
    slots: [(usize, F::Mask); MOST_LANES],
    distinct: usize,
}

impl<F: Real> Crop<F> {
    pub(super) fn slots(&self) -> &[(usize, F::Mask)] {
        &self.slots[..self.distinct]
    }
}

/// Ground in lanes.
#[derive(Clone)]
pub(crate) struct LaneGround<F: Real> {
    /// 0 in every lane.
    pub(super) zero: F,
    pub(super) runs: usize,
    pub(super) constants: SiteConstants<F>,
    pub(super) state: GroundState<F>,
    /// What stands in each zone, read off the runs when a crop comes or goes.
    pub(super) crops: Vec<Option<Crop<F>>>,
    /// Season and host of each pest, read off the runs likewise.
    pub(super) times: Vec<PestTimes<F>>,
    /// Plots where crops came or went, or a pest's season began or ended, since they were last read.
    pub(super) stale_plots: Vec<bool>,
    pub(super) today: GroundToday<F>,
}

/// Figures of the day.
#[derive(Clone)]
pub(crate) struct GroundToday<F> {
    pub(super) day: GroundDay<F>,
    pub(super) degree_days: Vec<[F; 2]>,
    /// Adults of each pest per m² of host zone, at the start of the step.
    pub(super) mean_adults: Vec<F>,
    pub(super) slugs: Vec<SlugDay<F>>,
    pub(super) canopy_water: Vec<F>,
    pub(super) plants: Vec<PlantDay<F>>,
    pub(super) search: Vec<PestSearch<F>>,
    /// Whose search that is: parties and how often they were counted, by run.
    pub(super) searching: Vec<(usize, u32)>,
    pub(super) conditions: Vec<PlotCondition<F>>,
    /// Whether birds are on each plot, in any run.
    pub(super) visited: Vec<bool>,
}

impl<F: Real> LaneGround<F> {
    /// Gathers the ground of runs; `zero` is 0 in every lane. Lanes past the last run repeat it.
    #[inline(always)]
    pub fn new(zero: F, worlds: &[World], grounds: &[GroundState]) -> Self {
        let (first, runs) = (&worlds[0], worlds.len());
        let plots = first.site.plots.len();
        let pests = first.site.pests.len();
        let no_plant = PlantDay { growth: zero, thermal: zero, dies: zero, upkeep: zero };
        let no_slugs = SlugDay { warmth: zero, hatching: zero, ageing: zero, frost: zero };
        let no_times = PestTimes { in_season: zero.mask(0), host: zero.mask(0) };
        let last = |lane: usize| lane.min(runs - 1);
        let mut ground = Self {
            zero,
            runs,
            constants: StructOfArrays::gather(zero, |lane| &worlds[last(lane)].constants),
            state: StructOfArrays::gather(zero, |lane| &grounds[last(lane)]),
            crops: first.constants.zones.iter().map(|_| None).collect(),
            times: vec![no_times; grounds[0].pests.len()],
            stale_plots: vec![true; plots],
            today: GroundToday {
                day: StructOfArrays::gather(zero, |_| &first.drivers.days[0].ground),
                degree_days: vec![[zero; 2]; pests],
                mean_adults: vec![zero; pests],
                slugs: vec![no_slugs; first.site.slugs.len()],
                canopy_water: vec![zero; plots],
                plants: vec![no_plant; first.drivers.plants(0).len()],
                search: vec![PestSearch { soil: zero, emerging: zero, dropping: zero }; pests],
                searching: Vec::with_capacity(runs),
                conditions: vec![PlotCondition::nothing(zero); plots],
                visited: vec![false; plots],
            },
        };
        ground.refresh_stale(worlds);
        ground
    }

    /// The ground of one run.
    pub fn of_run(&mut self, lane: usize) -> GroundOfRun<'_, F> {
        GroundOfRun { ground: self, lane }
    }

    /// Lets a run see its plots from the gate.
    pub fn show(&self, world: &mut World, lane: usize) {
        let plots = self.today.conditions.iter().zip(&mut world.conditions).zip(&world.birds_on).zip(&world.plots);
        for (((of_lanes, condition), on), memory) in plots {
            // Asked for only where birds are, and where crops leave residue.
            let (worms, residue) = (on.bird_days > 0.0, memory.days_since_crop < LONG_AGO);
            of_lanes.show(lane, condition, worms, residue);
        }
    }

    /// Reads anew what stands where a crop came or went, and which pests are in season.
    pub(super) fn refresh_stale(&mut self, worlds: &[World]) {
        for plot in 0..self.stale_plots.len() {
            if core::mem::take(&mut self.stale_plots[plot]) {
                for zone in self.constants.plots[plot].zones.clone() {
                    self.crops[zone] = self.crop(worlds, zone);
                    self.read_times(worlds, zone);
                }
            }
        }
    }

    fn crop(&self, worlds: &[World], zone: usize) -> Option<Crop<F>> {
        let mut kinds = [None; MOST_LANES];
        let kinds = &mut kinds[..self.runs];
        for (kind, world) in kinds.iter_mut().zip(worlds) {
            *kind = kind_standing(world, zone);
        }
        let some = kinds.iter().flatten().next().copied()?;
        let of_kind = |lane: usize| {
            let run = lane.min(self.runs - 1);
            &worlds[run].constants.species.crops[kinds[run].unwrap_or(some)]
        };
        let plot = self.constants.zones[zone].plot;
        let mut crop = Crop {
            params: StructOfArrays::gather(self.zero, of_kind),
            stands: self.zero.mask(bits(kinds.iter().map(Option::is_some))),
            slots: [(0, self.zero.mask(0)); MOST_LANES],
            distinct: 0,
        };
        for (at, kind) in kinds.iter().enumerate().filter(|(at, kind)| !kinds[..*at].contains(kind)) {
            let Some(kind) = *kind else { continue };
            let here = bits(kinds[at..].iter().map(|&other| other == Some(kind))) << at;
            crop.slots[crop.distinct] = (worlds[0].drivers.slots[plot].crop(kind), self.zero.mask(here));
            crop.distinct += 1;
        }
        Some(crop)
    }

    fn read_times(&mut self, worlds: &[World], zone: usize) {
        let here = &self.constants.zones[zone];
        for (offset, at) in here.pests.clone().enumerate() {
            let in_season = bits(worlds.iter().map(|world| world.in_season(self.constants.pest_kinds[at])));
            let host = bits(worlds.iter().map(|world| {
                let plot = &world.site.plots[here.plot];
                self.constants.feeds(plot, plot.pests[offset].pest, kind_standing(world, zone))
            }));
            self.times[at] = PestTimes { in_season: self.zero.mask(in_season), host: self.zero.mask(host) };
        }
    }
}

/// The site's crop that stands in a zone of a run.
fn kind_standing(world: &World, zone: usize) -> Option<usize> {
    let here = &world.constants.zones[zone];
    let crop = world.standing[zone]?;
    Some(world.site.plots[here.plot].grounds[here.ground].crops[crop].crop)
}

/// One bit a run, the first lowest.
fn bits(runs: impl Iterator<Item = bool>) -> u8 {
    runs.enumerate().fold(0, |bits, (lane, yes)| bits | u8::from(yes) << lane)
}

/// The lane of one run.
pub(crate) struct GroundOfRun<'g, F: Real> {
    ground: &'g mut LaneGround<F>,
    lane: usize,
}

impl<F: Real> RunGround for GroundOfRun<'_, F> {
    fn copy_out(&self, zone: usize, here: &ZoneConstants, out: &mut ZoneState) {
        let state = &self.ground.state;
        state.zones[zone].lane_into(self.lane, &mut out.zone);
        out.weeds.resize_with(here.weeds.len(), Default::default);
        out.creepers.resize_with(here.creepers.len(), Default::default);
        out.pests.resize_with(here.pests.len(), Default::default);
        out.slugs.resize_with(here.slugs.len(), Default::default);
        copy_lane(&state.weeds[here.weeds.clone()], self.lane, &mut out.weeds);
        copy_lane(&state.creepers[here.creepers.clone()], self.lane, &mut out.creepers);
        copy_lane(&state.pests[here.pests.clone()], self.lane, &mut out.pests);
        copy_lane(&state.slugs[here.slugs.clone()], self.lane, &mut out.slugs);
    }

    fn copy_back(&mut self, zone: usize, here: &ZoneConstants, from: &ZoneState) {
        let state = &mut self.ground.state;
        state.zones[zone].set_lane(self.lane, &from.zone);
        set_lane(&mut state.weeds[here.weeds.clone()], self.lane, &from.weeds);
        set_lane(&mut state.creepers[here.creepers.clone()], self.lane, &from.creepers);
        set_lane(&mut state.pests[here.pests.clone()], self.lane, &from.pests);
        set_lane(&mut state.slugs[here.slugs.clone()], self.lane, &from.slugs);
    }

    fn note_crops(&mut self, plot: usize) {
        self.ground.stale_plots[plot] = true;
    }

    fn note_seasons(&mut self) {
        self.ground.stale_plots.fill(true);
    }
}

fn copy_lane<F: Real, T: StructOfArrays<F>>(of_lanes: &[T], lane: usize, one: &mut [T::One]) {
    of_lanes.iter().zip(one).for_each(|(of_lanes, one)| of_lanes.lane_into(lane, one));
}

fn set_lane<F: Real, T: StructOfArrays<F>>(of_lanes: &mut [T], lane: usize, one: &[T::One]) {
    of_lanes.iter_mut().zip(one).for_each(|(of_lanes, one)| of_lanes.set_lane(lane, one));
}
