//! The ground of years that run abreast, in lanes.

use crate::agenda::Happening;
use crate::drivers::{GroundDay, PlantDay};
use crate::flock::party::PestSearch;
use crate::happenings::{Touched, touched};
use crate::kinds::CropNumbers;
use crate::lanes::Real;
use crate::lanes::laned::Laned;
use crate::plot::bites::Meal;
use crate::plot::hunt::Times;
use crate::plot::plan::Plan;
use crate::plot::seen::Seen;
use crate::state::{Creeper, PestHere, Weed, Zone};
use crate::world::{EMERGENCE_NOTED, LONG_AGO, World};

/// The crop of a zone in the years in which one stands.
pub(super) struct Crop<F: Real> {
    pub(super) numbers: CropNumbers<F>,
    pub(super) stands: F::Mask,
    /// Its slot among the plants, and in which years it is that.
    pub(super) slots: Vec<(usize, F::Mask)>,
}

/// Ground in lanes.
pub(super) struct Ground<F: Real> {
    /// 0 in every lane.
    pub(super) zero: F,
    pub(super) years: usize,
    pub(super) plan: Plan<F>,
    pub(super) zones: Vec<Zone<F>>,
    pub(super) weeds: Vec<Weed<F>>,
    pub(super) creepers: Vec<Creeper<F>>,
    pub(super) pests: Vec<PestHere<F>>,
    pub(super) crops: Vec<Option<Crop<F>>>,
    pub(super) times: Vec<Times<F>>,
    /// Plots whose plants, and whose pests, are with their year just now.
    away: Vec<Away>,
    any_away: bool,
    /// Plots where crops came or went, or a pest's season turned, since they were last looked over.
    pub(super) turned: Vec<bool>,
    pub(super) today: Today<F>,
}

#[derive(Clone, Copy, Default)]
struct Away {
    pub(super) plants: bool,
    pub(super) pests: bool,
}

/// Figures of the day.
pub(super) struct Today<F> {
    pub(super) day: GroundDay<F>,
    pub(super) degree_days: Vec<[F; 2]>,
    pub(super) mean_adults: Vec<F>,
    pub(super) canopy_water: Vec<F>,
    pub(super) plants: Vec<PlantDay<F>>,
    pub(super) search: Vec<PestSearch<F>>,
    /// Whose search that is: parties and how often they were counted, by year.
    pub(super) searching: Vec<(usize, u32)>,
    pub(super) plot_seen: Vec<Seen<F>>,
    /// Whether birds are on each plot, in any year.
    pub(super) visited: Vec<bool>,
    /// Which of the plan's watched pests rise in some year.
    pub(super) rising: Vec<usize>,
    pub(super) eaten: Meal<F>,
}

impl<F: Real> Ground<F> {
    /// Gathers the ground of years; `zero` is 0 in every lane.
    #[inline(always)]
    pub fn new(zero: F, worlds: &[World]) -> Self {
        let (first, years) = (&worlds[0], worlds.len());
        let plots = first.site.plots.len();
        let pests = first.site.pests.len();
        let no_plant = PlantDay { growth: zero, thermal: zero, dies: zero, upkeep: zero };
        let no_times = Times { in_season: zero.mask(0), host: zero.mask(0) };
        let year = |lane: usize| &worlds[lane.min(years - 1)];
        let mut ground = Self {
            zero,
            years,
            plan: Laned::gather(zero, |lane| &year(lane).plan),
            zones: Laned::gather(zero, |lane| &year(lane).zones),
            weeds: Laned::gather(zero, |lane| &year(lane).weeds),
            creepers: Laned::gather(zero, |lane| &year(lane).creepers),
            pests: Laned::gather(zero, |lane| &year(lane).pests),
            crops: first.zones.iter().map(|_| None).collect(),
            times: vec![no_times; first.pests.len()],
            away: vec![Away::default(); plots],
            any_away: false,
            turned: vec![true; plots],
            today: Today {
                day: Laned::gather(zero, |_| &first.drivers.days[0].ground),
                degree_days: vec![[zero; 2]; pests],
                mean_adults: vec![zero; pests],
                canopy_water: vec![zero; plots],
                plants: vec![no_plant; first.drivers.plants(0).len()],
                search: vec![PestSearch { soil: zero, emerging: zero, dropping: zero }; pests],
                searching: Vec::with_capacity(years),
                plot_seen: vec![Seen::nothing(zero); plots],
                visited: vec![false; plots],
                rising: Vec::with_capacity(first.plan.watched.len()),
                eaten: Meal::none(zero),
            },
        };
        ground.look_over_turned(worlds);
        ground
    }

    /// Hands a year the ground that an event works on, unless it has it already today.
    pub fn bring(&mut self, world: &mut World, lane: usize, happening: Happening) {
        match touched(happening) {
            Touched::Nothing => {}
            Touched::Plot(plot) => {
                self.turned[plot] |= matches!(happening, Happening::CropIn { .. } | Happening::CropOut { .. });
                self.bring_plants(world, lane, plot);
                self.bring_pests(world, lane, plot);
            }
            Touched::Pests => {
                self.turned.fill(true);
                (0..self.away.len()).for_each(|plot| self.bring_pests(world, lane, plot));
            }
        }
    }

    fn bring_plants(&mut self, world: &mut World, lane: usize, plot: usize) {
        if core::mem::replace(&mut self.away[plot].plants, true) {
            return;
        }
        self.any_away = true;
        self.show_plants(world, lane, plot);
    }

    fn show_plants(&self, world: &mut World, lane: usize, plot: usize) {
        for zone in self.plan.plots[plot].zones.clone() {
            let here = &self.plan.zones[zone];
            self.zones[zone].lane_into(lane, &mut world.zones[zone]);
            here.weeds.clone().for_each(|at| self.weeds[at].lane_into(lane, &mut world.weeds[at]));
            here.creepers.clone().for_each(|at| self.creepers[at].lane_into(lane, &mut world.creepers[at]));
        }
    }

    fn bring_pests(&mut self, world: &mut World, lane: usize, plot: usize) {
        if core::mem::replace(&mut self.away[plot].pests, true) {
            return;
        }
        self.any_away = true;
        self.show_pests(world, lane, plot);
    }

    fn show_pests(&self, world: &mut World, lane: usize, plot: usize) {
        for zone in self.plan.plots[plot].zones.clone() {
            self.plan.zones[zone].pests.clone().for_each(|at| self.pests[at].lane_into(lane, &mut world.pests[at]));
        }
    }

    /// Takes back what a year was handed.
    pub fn put_back(&mut self, world: &World, lane: usize) {
        if !core::mem::take(&mut self.any_away) {
            return;
        }
        for plot in 0..self.away.len() {
            let away = core::mem::take(&mut self.away[plot]);
            for zone in self.plan.plots[plot].zones.clone() {
                let here = &self.plan.zones[zone];
                if away.plants {
                    self.zones[zone].set_lane(lane, &world.zones[zone]);
                    here.weeds.clone().for_each(|at| self.weeds[at].set_lane(lane, &world.weeds[at]));
                    here.creepers.clone().for_each(|at| self.creepers[at].set_lane(lane, &world.creepers[at]));
                }
                if away.pests {
                    here.pests.clone().for_each(|at| self.pests[at].set_lane(lane, &world.pests[at]));
                }
            }
        }
    }

    /// Lets a year see all its ground.
    pub fn show_all(&self, world: &mut World, lane: usize) {
        for plot in 0..self.away.len() {
            self.show_plants(world, lane, plot);
            self.show_pests(world, lane, plot);
        }
    }

    /// Lets a year see its ground from the gate.
    pub fn show(&self, world: &mut World, lane: usize) {
        for &zone in &self.plan.ripening {
            if self.crops[zone].is_some() {
                world.zones[zone].crop_age = self.zones[zone].crop_age.lane(lane);
            }
        }
        world.rising.clear();
        let rises =
            |&&index: &&usize| self.pests[self.plan.watched[index].at].emerged_share.lane(lane) > EMERGENCE_NOTED;
        world.rising.extend(self.today.rising.iter().filter(rises));
        let plots = self.today.plot_seen.iter().zip(&mut world.plot_seen).zip(&world.birds_on).zip(&world.plots);
        for (((of_lanes, seen), on), memory) in plots {
            seen.cover = of_lanes.cover.lane(lane);
            seen.weeds = of_lanes.weeds.lane(lane);
            seen.wetness = of_lanes.wetness.lane(lane);
            seen.green = of_lanes.green.lane(lane);
            // Asked for only where birds are, and where crops leave residue.
            if on.bird_days > 0.0 {
                seen.worms = of_lanes.worms.lane(lane);
            }
            if memory.days_since_crop < LONG_AGO {
                seen.residue_kg = of_lanes.residue_kg.lane(lane);
            }
        }
    }

    /// What the birds of a year ate today, kg DM.
    pub fn eaten(&self, lane: usize) -> Meal {
        let eaten = &self.today.eaten;
        Meal { green: eaten.green.lane(lane), other: eaten.other.lane(lane), insects: eaten.insects.lane(lane) }
    }

    /// Reads anew what stands where a crop came or went, and which pests are in season.
    pub(super) fn look_over_turned(&mut self, worlds: &[World]) {
        for plot in 0..self.turned.len() {
            if core::mem::take(&mut self.turned[plot]) {
                for zone in self.plan.plots[plot].zones.clone() {
                    self.crops[zone] = self.crop(worlds, zone);
                    self.read_times(worlds, zone);
                }
            }
        }
    }

    fn crop(&self, worlds: &[World], zone: usize) -> Option<Crop<F>> {
        let kinds: Vec<Option<usize>> = worlds.iter().map(|world| kind_standing(world, zone)).collect();
        let some = kinds.iter().flatten().next().copied()?;
        let of_kind = |lane: usize| {
            let year = lane.min(self.years - 1);
            &worlds[year].plan.kinds.crops[kinds[year].unwrap_or(some)]
        };
        let plot = self.plan.zones[zone].plot;
        let distinct =
            kinds.iter().enumerate().filter(|(i, kind)| !kinds[..*i].contains(kind)).filter_map(|(_, kind)| *kind);
        Some(Crop {
            numbers: Laned::gather(self.zero, of_kind),
            stands: self.zero.mask(bits(kinds.iter().map(Option::is_some))),
            slots: distinct
                .map(|kind| {
                    (
                        worlds[0].drivers.slots[plot].crop(kind),
                        self.zero.mask(bits(kinds.iter().map(|&k| k == Some(kind)))),
                    )
                })
                .collect(),
        })
    }

    fn read_times(&mut self, worlds: &[World], zone: usize) {
        let here = &self.plan.zones[zone];
        for (offset, at) in here.pests.clone().enumerate() {
            let in_season = bits(worlds.iter().map(|world| world.pests[at].in_season));
            let host = bits(worlds.iter().map(|world| {
                let plot = &world.site.plots[here.plot];
                self.plan.feeds(plot, plot.pests[offset].pest, kind_standing(world, zone))
            }));
            self.times[at] = Times { in_season: self.zero.mask(in_season), host: self.zero.mask(host) };
        }
    }
}

/// The site's crop that stands in a zone of a year.
fn kind_standing(world: &World, zone: usize) -> Option<usize> {
    let here = &world.plan.zones[zone];
    let crop = world.zones[zone].crop_standing?;
    Some(world.site.plots[here.plot].grounds[here.ground].crops[crop].crop)
}

/// One bit a year, the first lowest.
fn bits(years: impl Iterator<Item = bool>) -> u8 {
    years.enumerate().fold(0, |bits, (lane, yes)| bits | u8::from(yes) << lane)
}
