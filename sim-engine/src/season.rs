//! A run: the order of a day on one page.
//!
//! 1. Events due leave the agenda.
//! 2. (Weather and what follows from it is in the drivers, once per draw.)
//! 3. The strategy sees what a keeper could see and proposes gates.
//! 4. Hard rules veto, each with its reason; gates set by hand and a decision turned
//!    round for the sake of "why" come last.
//! 5. The birds go out; every zone takes its step(s) from the state of the morning.
//! 6. The evening: yard, heap, infection; then books and recorders.

use crate::agenda::Happening;
use crate::birds_day::{self, BirdsDay};
use crate::drivers::Drivers;
use crate::gates::reason::Reason;
use crate::gates::rules::{Facts, veto};
use crate::gates::spec::StrategySpec;
use crate::gates::{self, Opening, Proposal, SeenPlot, Sight, Strategy};
use crate::happenings;
use crate::plot::bites::Meal;
use crate::plot::hunt::{self, Hunt, Times};
use crate::plot::seen::Seen;
use crate::plot::{step, worm_eggs};
pub use crate::recorder::{DayView, GateDay, Recorder};
use crate::site::Site;
use crate::state::PestHere;
use crate::world::{RunError, World, around_plot, standing};

/// Wetness above which ground is mud to hens and keeper, share of the room above field
/// capacity (common practice, no source).
const MUD: f64 = 0.5;
/// Wetness above which a keeper who keeps birds off wet ground calls it wet: it still gives water
/// to the boot, long before it is mud (common practice, no source).
const WET: f64 = 0.1;
/// 1 g in kg.
pub(crate) const KG_PER_G: f64 = 1e-3;

/// How a run is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunOptions {
    /// There are birds.
    pub birds: bool,
    /// Hands hoe, mow, clear and so on.
    pub hands: bool,
    /// One decision turned round: day of the run and plot.
    pub turn_round: Option<(usize, usize)>,
}

impl Default for RunOptions {
    fn default() -> Self {
        Self { birds: true, hands: true, turn_round: None }
    }
}

/// Runs strategy `which` of `strategies` on a site under the drivers of one draw.
/// Returns the world at the end.
///
/// # Errors
/// If the run cannot start: see [`RunError`].
pub fn run<'a, R: Recorder>(
    site: &'a Site,
    drivers: &'a Drivers,
    strategies: &[StrategySpec],
    which: usize,
    options: RunOptions,
    recorder: &mut R,
) -> Result<World<'a>, RunError> {
    run_with(site, drivers, gates::build(site, strategies, which).as_mut(), options, recorder)
}

/// Runs a strategy of any make, for example one that asks another program.
///
/// # Errors
/// If the run cannot start: see [`RunError`].
pub fn run_with<'a, R: Recorder>(
    site: &'a Site,
    drivers: &'a Drivers,
    strategy: &mut dyn Strategy,
    options: RunOptions,
    recorder: &mut R,
) -> Result<World<'a>, RunError> {
    let mut world = World::new(site, drivers, options.birds, options.hands)?;
    let mut desk = Desk::new(site);
    recorder.start(&world);
    for day in 0..site.days {
        world.dawn(day);
        happenings::run_due(&mut world, day, |happening| recorder.event(day, happening));
        look_over_gates(&mut world, day);
        desk.decide(&mut world, strategy, day, options.turn_round);
        let mut report = BirdsDay::default();
        birds_day::send_out(&mut world, &desk.gates.openings, &mut report);
        let mut eaten = Meal::default();
        for _ in 0..site.steps_per_day {
            let meal = take_step(&mut world, day);
            eaten.green += meal.green;
            eaten.other += meal.other;
            eaten.insects += meal.insects;
        }
        birds_day::evening(&mut world, day, eaten, &mut report);
        world.see_emergence();
        remember(&mut world, day);
        recorder.day(&DayView { day, world: &world, birds: &report, gates: &desk.gates, gathered: false });
    }
    recorder.end(&world);
    Ok(world)
}

/// Fills `world.seen`: what the keeper sees this morning, and what the rules say.
pub(crate) fn look_over_gates(world: &mut World, day: usize) {
    let (frozen, snow) = (world.today.air.frozen > 0.0, world.today.air.snow > 0.0);
    // Slices of one length: nothing is looked up twice in this loop.
    let plots = world.plan.plots.as_slice();
    let memories = &world.plots[..plots.len()];
    let grounds = &world.plot_seen[..plots.len()];
    let harvests = &world.drivers.days_to_harvest(day)[..plots.len()];
    let leaves = &world.drivers.in_leaf(day)[..plots.len()];
    for (plot, seen) in world.seen[..plots.len()].iter_mut().enumerate() {
        let (here, memory, ground) = (&plots[plot], &memories[plot], &grounds[plot]);
        let facts = Facts {
            housed: world.housed,
            crop_standing: memory.crop_standing,
            beds: here.beds,
            guarded: memory.guarded,
            days_to_harvest: harvests[plot],
            isolation: memory.isolation,
            mud: ground.wetness > MUD,
            frozen,
            snow,
        };
        *seen = SeenPlot {
            cover: ground.cover,
            area_m2: here.area_m2,
            open: memory.open,
            days_open: memory.days_open,
            days_at_rest: memory.days_at_rest,
            days_since_crop: memory.days_since_crop,
            shade: here.shades[usize::from(leaves[plot])],
            wet: ground.wetness > WET,
            shut: veto(&world.site.rules, &facts),
        };
    }
}

/// Where a day's gates are decided; keeps its lists from day to day.
pub(crate) struct Desk {
    proposal: Proposal,
    pest_degree_days: Vec<Option<f64>>,
    /// Plots opened yesterday, in the order they were.
    opened: Vec<usize>,
    was_open: Vec<bool>,
    pub(crate) gates: GateDay,
}

impl Desk {
    pub(crate) fn new(site: &Site) -> Self {
        let plots = site.plots.len();
        Self {
            proposal: Proposal::with_room(plots),
            pest_degree_days: vec![None; site.pests.len()],
            opened: Vec::with_capacity(plots),
            was_open: vec![false; plots],
            gates: GateDay {
                openings: Vec::with_capacity(plots),
                reason: Reason::NoAnswer,
                vetoed: Vec::with_capacity(plots),
                by_hand: Vec::with_capacity(plots),
                turned_round: None,
                moves: 0,
            },
        }
    }

    pub(crate) fn decide(
        &mut self,
        world: &mut World,
        strategy: &mut dyn Strategy,
        day: usize,
        turn_round: Option<(usize, usize)>,
    ) {
        self.proposal.clear();
        for (dd, (age, pest)) in self.pest_degree_days.iter_mut().zip(world.pest_age.iter().zip(&world.site.pests)) {
            *dd = age.map(|age| age - pest.numbers.emergence);
        }
        if world.parties[0].birds > 0.0 {
            let sight = Sight {
                date: world.today.date,
                plots: &world.seen,
                pest_degree_days: &self.pest_degree_days,
                yesterday_tmax_c: world.today.yesterday_tmax_c,
                birds: world.parties[0].birds,
            };
            strategy.propose(&sight, &mut self.proposal);
        }
        self.apply_rules(world);
        self.apply_hands(world);
        self.turn_round(world, day, turn_round);
        self.count_moves();
    }

    fn apply_rules(&mut self, world: &World) {
        let gates = &mut self.gates;
        gates.openings.clear();
        gates.vetoed.clear();
        gates.reason = self.proposal.reason;
        for opening in &self.proposal.openings {
            match world.seen[opening.plot].shut {
                Some(why) => gates.vetoed.push((opening.plot, why)),
                None => gates.openings.push(*opening),
            }
        }
    }

    /// Gates set by hand: the keeper's own doing, but a rule still keeps a gate shut.
    fn apply_hands(&mut self, world: &World) {
        let gates = &mut self.gates;
        gates.by_hand.clear();
        if world.by_hand.iter().all(Option::is_none) {
            return;
        }
        for (plot, set) in world.by_hand.iter().enumerate() {
            let Some(open) = *set else { continue };
            gates.by_hand.push(plot);
            gates.openings.retain(|o| o.plot != plot);
            match world.seen[plot].shut {
                Some(why) if open => gates.vetoed.push((plot, why)),
                None if open => gates.openings.push(Opening { plot, hours: None, birds: None }),
                _ => {}
            }
        }
    }

    fn turn_round(&mut self, world: &World, day: usize, turn_round: Option<(usize, usize)>) {
        self.gates.turned_round = None;
        let Some((on, plot)) = turn_round else { return };
        if on != day || world.parties[0].birds <= 0.0 {
            return;
        }
        self.gates.turned_round = Some(plot);
        let before = self.gates.openings.len();
        self.gates.openings.retain(|o| o.plot != plot);
        if self.gates.openings.len() == before {
            self.gates.openings.push(Opening { plot, hours: None, birds: None });
        }
    }

    fn count_moves(&mut self) {
        self.gates.moves = 0;
        let now = self.gates.openings.iter().map(|opening| opening.plot);
        if now.clone().eq(self.opened.iter().copied()) {
            return;
        }
        self.opened.clear();
        self.opened.extend(now);
        for (plot, was) in self.was_open.iter_mut().enumerate() {
            let is = self.gates.openings.iter().any(|o| o.plot == plot);
            self.gates.moves += usize::from(is != *was);
            *was = is;
        }
    }
}

/// One step of every zone and pest; returns what birds ate, kg DM.
fn take_step(world: &mut World, day: usize) -> Meal {
    mean_adults(world);
    let mut eaten = Meal::default();
    for plot in 0..world.site.plots.len() {
        step_plot(world, plot, day, &mut eaten);
    }
    eaten
}

/// One step of a plot's zones and their pests.
fn step_plot(world: &mut World, plot: usize, day: usize, eaten: &mut Meal) {
    let (site, drivers) = (world.site, world.drivers);
    let mut around = around_plot(site, drivers, &world.plan, plot, day);
    let on = world.birds_on[plot];
    let search = (on.bird_days > 0.0).then(|| world.parties[on.party].pests.as_slice());
    let mut seen = Seen::nothing(0.0);
    for index in world.plan.plots[plot].zones.clone() {
        let here = &world.plan.zones[index];
        let zone = &mut world.zones[index];
        around.here = here;
        around.crop = standing(site, drivers, &world.plan, here, day, zone.crop_standing);
        let exposed = 1.0 - guarded_share(world.plan.plots[plot].beds, here.bed, world.plots[plot].guarded);
        let pressure = (on.bird_days > 0.0).then(|| on.pressure.times(here.use_factor * drivers.step));
        let cover = zone.seen_cover;
        let (weeds, creepers) = (&mut world.weeds[here.weeds.clone()], &mut world.creepers[here.creepers.clone()]);
        let meal = step::step(zone, weeds, creepers, pressure.as_ref(), exposed, &around);
        if let Some(pressure) = &pressure {
            eaten.add(&meal, here.area_m2 * KG_PER_G);
            let taken = worm_eggs::uptake(&mut zone.worms, pressure.uptake * exposed);
            world.eggs_taken[on.party] += taken * here.area_m2;
        }
        seen.add(zone, here, around.process.weed_visible);
        if !here.pests.is_empty() {
            let hunt = Hunt {
                degree_days: drivers.pest_degree_days(day),
                mean_adults: &world.mean_adults,
                cover,
                exposed,
                bird_days: pressure.map_or(0.0, |p| p.bird_days),
                search,
            };
            let crop = zone.crop_standing.map(|c| site.plots[plot].grounds[here.ground].crops[c].crop);
            let times = |offset: usize, state: &PestHere| Times {
                in_season: state.in_season,
                host: world.plan.feeds(&site.plots[plot], site.plots[plot].pests[offset].pest, crop),
            };
            hunt::step(zone, &mut world.pests[here.pests.clone()], &around, &hunt, times);
        }
    }
    world.plot_seen[plot] = seen;
}

/// Share of a ground that guards cover: beds are guarded first.
pub(crate) fn guarded_share(beds: f64, bed: bool, guarded: f64) -> f64 {
    if guarded <= 0.0 {
        0.0
    } else if bed {
        (guarded / beds).min(1.0)
    } else if beds < 1.0 {
        ((guarded - beds) / (1.0 - beds)).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// Adults of each pest, mean over its host zones by area.
fn mean_adults(world: &mut World) {
    world.mean_adults.fill(0.0);
    for ((state, &kind), &share) in world.pests.iter().zip(&world.plan.pest_kinds).zip(&world.plan.pest_shares) {
        world.mean_adults[kind] += state.adults * share;
    }
}

/// The evening's memory: days open and at rest, thermal times, what begins tomorrow.
pub(crate) fn remember(world: &mut World, day: usize) {
    for (memory, on) in world.plots.iter_mut().zip(&world.birds_on) {
        let on = on.bird_days;
        memory.open = on > 0.0;
        if memory.open {
            memory.days_open += 1.0;
            memory.days_at_rest = 0.0;
            memory.bird_days += on;
        } else {
            memory.days_open = 0.0;
            memory.days_at_rest += 1.0;
            memory.bird_days = 0.0;
        }
        memory.days_since_crop += 1.0;
    }
    for (age, covered) in world.pest_age.iter_mut().zip(&world.today.covered_degree_days) {
        if let Some(age) = age {
            *age += covered;
        }
    }
    note_emergence(world, day);
    end_ripe_crops(world, day);
}

/// Emergence that begins puts a note on tomorrow's agenda, once a season and plot.
fn note_emergence(world: &mut World, day: usize) {
    for &index in &world.rising {
        let watched = &world.plan.watched[index];
        if !world.pests[watched.at].announced {
            world.pests[watched.at].announced = true;
            world.agenda.put(day + 1, Happening::EmergenceBegins { plot: watched.plot, pest: watched.pest });
        }
    }
}

/// A crop that ends when ripe leaves tomorrow: thermal time puts the event on the agenda.
fn end_ripe_crops(world: &mut World, day: usize) {
    for &index in &world.plan.ripening {
        let (here, zone) = (&world.plan.zones[index], &world.zones[index]);
        let Some(crop) = zone.crop_standing else { continue };
        let plan = &world.site.plots[here.plot].grounds[here.ground].crops[crop];
        if !plan.ends_when_ripe {
            continue;
        }
        let ripe_at = world.site.crops[plan.crop].numbers.days_to_ripe;
        let slot = world.drivers.slots[here.plot].crop(plan.crop);
        let today = world.drivers.plants(day)[slot].thermal;
        if zone.crop_age >= ripe_at && zone.crop_age - today < ripe_at {
            let (plot, ground) = (here.plot, here.ground);
            world.agenda.put(day + 1, Happening::HarvestEnds { plot, ground, crop });
            world.agenda.put(day + 1, Happening::CropOut { plot, ground, crop });
        }
    }
}
