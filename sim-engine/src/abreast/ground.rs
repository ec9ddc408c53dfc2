//! The ground of years that run abreast, in lanes.

use super::shared::Shared;
use crate::agenda::Happening;
use crate::drivers::{Drivers, GroundDay, Plant, PlantDay};
use crate::flock::party::PestSearch;
use crate::happenings::{Touched, touched};
use crate::kinds::CropNumbers;
use crate::lanes::laned::{Laned, Rows};
use crate::lanes::{Mask, Real};
use crate::plot::bites::{Meal, Pressure};
use crate::plot::hunt::{self, Hunt, Times};
use crate::plot::look::{StandingCrop, Surroundings};
use crate::plot::plan::Plan;
use crate::plot::seen::Seen;
use crate::plot::{step, worm_eggs};
use crate::season::{KG_PER_G, guarded_share};
use crate::state::{Creeper, PestHere, Weed, Zone};
use crate::world::{LONG_AGO, World};

/// The crop of a zone in the years in which one stands.
struct Crop<F: Real> {
    numbers: CropNumbers<F>,
    stands: F::Mask,
    /// Its slot among the plants, and in which years it is that.
    slots: Vec<(usize, F::Mask)>,
}

/// Ground in lanes.
pub struct Ground<F: Real> {
    /// 0 in every lane.
    zero: F,
    years: usize,
    plan: Plan<F>,
    zones: Vec<Zone<F>>,
    weeds: Vec<Weed<F>>,
    creepers: Vec<Creeper<F>>,
    pests: Vec<PestHere<F>>,
    crops: Vec<Option<Crop<F>>>,
    times: Vec<Times<F>>,
    host_area: Vec<F>,
    plot_area: Vec<F>,
    seen_area: Vec<F>,
    /// Plots whose plants, and whose pests, are with their year just now.
    away: Vec<Away>,
    any_away: bool,
    /// Plots where crops came or went, or a pest's season turned, since they were last looked over.
    turned: Vec<bool>,
    today: Today<F>,
}

#[derive(Clone, Copy, Default)]
struct Away {
    plants: bool,
    pests: bool,
}

/// Figures of the day.
struct Today<F> {
    day: GroundDay<F>,
    degree_days: Vec<[F; 2]>,
    mean_adults: Vec<F>,
    canopy_water: Vec<F>,
    plants: Vec<PlantDay<F>>,
    search: Vec<PestSearch<F>>,
    /// Whose search that is: parties and how often they were counted, by lane.
    searching: F,
    plot_seen: Vec<Seen<F>>,
    eaten: Meal<F>,
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
        let of_years = |of: &dyn Fn(&World) -> f64| zero.from_lanes(|lane| of(year(lane)));
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
            host_area: (0..pests).map(|pest| of_years(&|world| world.host_area[pest])).collect(),
            plot_area: (0..plots).map(|plot| of_years(&|world| world.site.plots[plot].area_m2)).collect(),
            seen_area: (0..plots).map(|plot| of_years(&|world| world.plan.seen_area_m2[plot])).collect(),
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
                searching: zero.of(-1.0),
                plot_seen: vec![Seen::nothing(zero); plots],
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
        for zone in self.plan.of_plot[plot].clone() {
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
        for zone in self.plan.of_plot[plot].clone() {
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
            for zone in self.plan.of_plot[plot].clone() {
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
        for (watched, emerged) in self.plan.watched.iter().zip(&mut world.emerged) {
            if self.times[watched.at].in_season.any() {
                *emerged = self.pests[watched.at].emerged_share.lane(lane);
            }
        }
        for (plot, (of_lanes, seen)) in self.today.plot_seen.iter().zip(&mut world.plot_seen).enumerate() {
            seen.cover = of_lanes.cover.lane(lane);
            seen.weeds = of_lanes.weeds.lane(lane);
            seen.wetness = of_lanes.wetness.lane(lane);
            seen.green = of_lanes.green.lane(lane);
            // Asked for only where birds are, and where crops leave residue.
            if world.birds_on[plot].bird_days > 0.0 {
                seen.worms = of_lanes.worms.lane(lane);
            }
            if world.plots[plot].days_since_crop < LONG_AGO {
                seen.residue_kg = of_lanes.residue_kg.lane(lane);
            }
        }
    }

    /// What the birds of a year ate today, kg DM.
    pub fn eaten(&self, lane: usize) -> Meal {
        let eaten = &self.today.eaten;
        Meal { green: eaten.green.lane(lane), other: eaten.other.lane(lane), insects: eaten.insects.lane(lane) }
    }

    /// All steps of a day.
    #[inline(always)]
    pub fn day(&mut self, shared: &Shared, worlds: &mut [World], day: usize) {
        self.look_over_turned(worlds);
        self.read_day(shared, worlds[0].drivers, day);
        self.today.eaten = Meal::none(self.zero);
        for _ in 0..worlds[0].site.steps_per_day {
            self.read_mean_adults(worlds);
            let mut eaten = Meal::none(self.zero);
            let plots = self.turned.len();
            for plot in 0..plots {
                shared.fetch(day + 1, plot, plots);
                self.step_plot(worlds, plot, &mut eaten);
            }
            self.today.eaten.add(&eaten, self.zero.of(1.0));
        }
    }

    /// Reads anew what stands where a crop came or went, and which pests are in season.
    fn look_over_turned(&mut self, worlds: &[World]) {
        for plot in 0..self.turned.len() {
            if core::mem::take(&mut self.turned[plot]) {
                for zone in self.plan.of_plot[plot].clone() {
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

    #[inline(always)]
    fn read_day(&mut self, shared: &Shared, drivers: &Drivers, day: usize) {
        let today = &mut self.today;
        let mut rows = Rows { proof: self.zero, left: shared.day(day) };
        today.day = Laned::read(&mut rows, &drivers.days[day].ground);
        for both in &mut today.degree_days {
            *both = [rows.take(), rows.take()];
        }
        for water in &mut today.canopy_water {
            *water = rows.take();
        }
        // In the order of `shared::list`; what a plant has no need of stays 0.
        for (day, grower) in today.plants.iter_mut().zip(drivers.growers()) {
            day.growth = rows.take();
            match grower.plant {
                Plant::Cover(_) => day.dies = rows.take(),
                Plant::Weed(_) => (day.thermal, day.dies) = (rows.take(), rows.take()),
                Plant::Creeper(_) => (day.dies, day.upkeep) = (rows.take(), rows.take()),
                Plant::Crop(_) => day.thermal = rows.take(),
            }
        }
    }

    #[inline(always)]
    fn read_mean_adults(&mut self, worlds: &[World]) {
        let means = &mut self.today.mean_adults;
        means.fill(self.zero);
        for here in &self.plan.zones {
            let species = &worlds[0].site.plots[here.plot].pests;
            for (state, p) in self.pests[here.pests.clone()].iter().zip(species) {
                means[p.pest] += state.adults * here.area_m2;
            }
        }
        for (mean, &area) in means.iter_mut().zip(&self.host_area) {
            *mean = (*mean / area).where_(area.above(0.0));
        }
    }

    /// One step of a plot's zones and their pests.
    #[inline(always)]
    fn step_plot(&mut self, worlds: &mut [World], plot: usize, eaten: &mut Meal<F>) {
        let (zero, years) = (self.zero, self.years);
        let plan = &self.plan;
        let (site, drivers) = (worlds[0].site, worlds[0].drivers);
        let spec = &site.plots[plot];
        let worlds_now = &*worlds;
        let year = |lane: usize| &worlds_now[lane.min(years - 1)];
        let mut on: Option<Pressure<F>> = None;
        if worlds_now.iter().any(|world| world.birds_on[plot].bird_days > 0.0) {
            on = Some(Laned::gather(zero, |lane| &year(lane).birds_on[plot].pressure));
            // Nearly always the flock is all there is, and its search is at hand already.
            let parties =
                zero.from_lanes(|lane| year(lane).birds_on[plot].party as f64 + year(lane).recounts as f64 * 1e3);
            if parties != self.today.searching {
                self.today.searching = parties;
                for (pest, search) in self.today.search.iter_mut().enumerate() {
                    *search = Laned::gather(zero, |lane| {
                        let world = year(lane);
                        &world.parties[world.birds_on[plot].party].pests[pest]
                    });
                }
            }
        }
        let kinds = &plan.kinds;
        let mut around = Surroundings {
            day: &self.today.day,
            plan,
            here: &plan.zones[plan.of_plot[plot].start],
            plot: spec,
            process: &kinds.process,
            cover: &kinds.covers[spec.cover],
            weeds: &kinds.weeds,
            creepers: &kinds.creepers,
            crops: &kinds.crops,
            pests: &kinds.pests,
            canopy: spec.canopy.map(|c| &kinds.canopies[c]),
            canopy_water: self.today.canopy_water[plot],
            plants: &self.today.plants,
            slots: &drivers.slots[plot],
            crop: None,
        };
        let mut seen = Seen::nothing(zero);
        for index in plan.of_plot[plot].clone() {
            let here = &plan.zones[index];
            around.here = here;
            around.crop = match &self.crops[index] {
                Some(crop) => Some(crop_today(crop, &self.today.plants)),
                None => None,
            };
            let zone = &mut self.zones[index];
            let exposed = if spec.guards.is_empty() {
                zero.of(1.0)
            } else {
                zero.from_lanes(|lane| {
                    let world = &worlds[lane.min(years - 1)];
                    1.0 - guarded_share(world.plan.beds[plot], here.bed, world.plots[plot].guarded)
                })
            };
            let pressure = match &on {
                Some(on) => Some(on.times(here.use_factor * drivers.step)),
                None => None,
            };
            let cover = zone.seen_cover;
            let (weeds, creepers) = (&mut self.weeds[here.weeds.clone()], &mut self.creepers[here.creepers.clone()]);
            let meal = step::step(zone, weeds, creepers, pressure.as_ref(), exposed, &around);
            let mut bird_days = zero;
            if let Some(pressure) = &pressure {
                bird_days = pressure.bird_days;
                eaten.add(&meal, here.area_m2 * KG_PER_G);
                let taken = worm_eggs::uptake(&mut zone.worms, pressure.uptake * exposed) * here.area_m2;
                for (lane, world) in worlds.iter_mut().enumerate() {
                    world.eggs_taken[world.birds_on[plot].party] += taken.lane(lane);
                }
            }
            seen.add(zone, here, around.process.weed_visible);
            if !here.pests.is_empty() {
                let hunt = Hunt {
                    degree_days: &self.today.degree_days,
                    mean_adults: &self.today.mean_adults,
                    cover,
                    exposed,
                    bird_days,
                    search: on.is_some().then_some(self.today.search.as_slice()),
                };
                let times = &self.times[here.pests.clone()];
                hunt::step(zone, &mut self.pests[here.pests.clone()], &around, &hunt, |offset, _| times[offset]);
            }
        }
        self.today.plot_seen[plot] = seen.means(self.plot_area[plot], self.seen_area[plot]);
    }
}

/// A zone's crop today.
#[inline(always)]
fn crop_today<'c, F: Real>(crop: &'c Crop<F>, plants: &[PlantDay<F>]) -> StandingCrop<'c, F> {
    let mut day = plants[crop.slots[0].0];
    for &(slot, here) in &crop.slots[1..] {
        day.growth = F::choose(here, plants[slot].growth, day.growth);
        day.thermal = F::choose(here, plants[slot].thermal, day.thermal);
    }
    StandingCrop { numbers: &crop.numbers, day, stands: crop.stands }
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
