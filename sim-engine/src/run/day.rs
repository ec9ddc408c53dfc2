//! The order of a day, once, for one run or for as many as the processor has lanes.
//!
//! 1. The weather of the day, and what follows from it alone, is read (`Forcing`, made once per draw).
//! 2. Events due leave the agenda.
//! 3. The strategy sees what a keeper could see and proposes gates; hard rules veto, each with its
//!    reason; gates set by hand and a decision inverted for the sake of "why" come last.
//! 4. The birds go out.
//! 5. The ground of every zone takes its step or steps, each from the state at its start, all runs at once.
//! 6. The evening: yard, heap, infection, memory; then the recorders.
//!
//! Events, gates, birds and recorders go run by run; the ground, which is most of the work, goes
//! lane beside lane ([`crate::simd`]), and every lane ends with the bits of its run alone.

use crate::agenda::Event;
use crate::birds_day::{self, BirdsDay};
use crate::dates::{days_between, last_before};
use crate::gates::Strategy;
use crate::ledger::flows::FlowSet;
use crate::plot::harvest;
use crate::run::accumulate::BatchAccumulators;
use crate::run::events;
use crate::run::forcing::Forcing;
use crate::run::gate_control::GateController;
use crate::run::ground::LaneGround;
use crate::run::guards;
use crate::run::options::{Realization, RunOptions};
use crate::run::recorder::{DayView, Recorder, RunView};
use crate::run::start::start;
use crate::run::world::{RunError, World};
use crate::run::zone_editor::ZoneEditor;
use crate::simd::Real;
use crate::simd::soa::StructOfArrays;
use crate::site::{HarvestWindow, Plant};
use crate::state::{GroundState, ZoneState};

/// Share of spring emergence at which it is noted that a pest has begun to rise (from memory).
const EMERGENCE_NOTED: f64 = 0.05;

/// Runs side by side, in the evening of some day: the same strategy on realizations of one site.
#[derive(Clone)]
pub(crate) struct LaneBatch<'a, F: Real> {
    /// Days that are over.
    pub day: usize,
    pub ground: LaneGround<F>,
    pub members: Members<'a>,
    options: RunOptions,
    keep: FlowSet,
    /// Room for the ground of one run, to be shown to its recorder.
    shown: GroundState,
    /// Room for a zone that an event works on.
    scratch: ZoneState,
}

/// What the runs of a batch have each for themselves, by lane.
#[derive(Clone)]
pub(crate) struct Members<'a> {
    pub worlds: Vec<World<'a>>,
    gates: Vec<GateController>,
    birds: Vec<BirdsDay>,
    grounds: Vec<GroundState>,
}

impl<'a> Members<'a> {
    /// The runs on the evening before their first day.
    pub fn new(realizations: &[Realization<'a>], options: RunOptions, keep: FlowSet) -> Result<Self, RunError> {
        let started = |&(site, drivers): &Realization<'a>| start(site, drivers, options, keep);
        let started = realizations.iter().map(started).collect::<Result<Vec<_>, _>>()?;
        let (worlds, grounds): (Vec<World>, Vec<GroundState>) = started.into_iter().unzip();
        Ok(Self {
            gates: worlds.iter().map(|world| GateController::new(world.site)).collect(),
            birds: vec![BirdsDay::default(); worlds.len()],
            worlds,
            grounds,
        })
    }
}

impl<'a, F: Real> LaneBatch<'a, F> {
    /// Gathers the ground of the runs; `zero` is 0 in every lane.
    #[inline(always)]
    pub fn new(zero: F, mut members: Members<'a>, options: RunOptions, keep: FlowSet) -> Self {
        let grounds = core::mem::take(&mut members.grounds);
        Self {
            day: 0,
            ground: LaneGround::new(zero, &members.worlds, &grounds),
            scratch: ZoneState::for_any_zone(&members.worlds[0].constants, &grounds[0]),
            shown: grounds[0].clone(),
            members,
            options,
            keep,
        }
    }

    /// Lets every recorder see its run before the first day.
    pub fn start(&mut self, recorders: &mut [&mut dyn Recorder]) {
        self.show(recorders, |recorder, run| recorder.start(run));
    }

    /// Lets every recorder see its run after the last day.
    pub fn end(&mut self, recorders: &mut [&mut dyn Recorder]) {
        self.show(recorders, |recorder, run| recorder.end(run));
    }

    fn show(&mut self, recorders: &mut [&mut dyn Recorder], to: fn(&mut dyn Recorder, &RunView)) {
        for (lane, (recorder, world)) in recorders.iter_mut().zip(&self.members.worlds).enumerate() {
            self.ground.state.lane_into(lane, &mut self.shown);
            let flows = recorder.flows();
            to(*recorder, &RunView::new(world, &self.shown, flows));
        }
    }

    /// Runs the days up to `until`.
    ///
    /// # Errors
    /// If a recorder reads a flow the run does not keep.
    #[inline(always)]
    pub fn advance(
        &mut self,
        forcing: &Forcing,
        until: usize,
        strategies: &mut [&mut dyn Strategy],
        recorders: &mut [&mut dyn Recorder],
    ) -> Result<(), RunError> {
        let missing = recorders.iter().find_map(|recorder| recorder.flows().first_not_in(self.keep));
        if let Some(flow) = missing {
            return Err(RunError::FlowNotKept { flow: flow.name() });
        }
        let mut accumulators = BatchAccumulators::take(self.ground.zero, recorders);
        while self.day < until {
            let day = self.day;
            self.ground.dawn(forcing, &mut self.members.worlds, day);
            self.morning(day, strategies, recorders);
            self.ground.day(forcing, &mut self.members.worlds, day);
            accumulators.day(&self.ground, &self.members.worlds, day);
            self.evening(day, recorders);
            self.day += 1;
        }
        accumulators.hand_back(recorders);
        Ok(())
    }

    /// The day up to the birds' going out, run by run.
    fn morning(&mut self, day: usize, strategies: &mut [&mut dyn Strategy], recorders: &mut [&mut dyn Recorder]) {
        let Members { worlds, gates, birds, .. } = &mut self.members;
        let runs = worlds.iter_mut().zip(gates).zip(birds).zip(strategies).zip(recorders).enumerate();
        for (lane, ((((world, gates), birds), strategy), recorder)) in runs {
            let mut ground = self.ground.of_run(lane);
            let mut editor = ZoneEditor::new(&mut ground, &mut self.scratch);
            events::run_due(world, &mut editor, day, |event| recorder.event(day, event));
            gates.decide(world, *strategy, day, self.options.counterfactual);
            *birds = BirdsDay::default();
            birds_day::send_out(world, &gates.gates.openings, birds);
        }
    }

    /// The evening, run by run.
    fn evening(&mut self, day: usize, recorders: &mut [&mut dyn Recorder]) {
        let Members { worlds, gates, birds, .. } = &mut self.members;
        let runs = worlds.iter_mut().zip(gates).zip(birds).zip(recorders).enumerate();
        for (lane, (((world, gates), birds), recorder)) in runs {
            self.ground.show(world, lane);
            birds_day::evening(world, day, birds);
            remember(world, day);
            note_emergence(world, &self.ground, lane, day);
            end_ripe_crops(world, &self.ground, lane, day);
            let ground = recorder.reads_ground(day).then(|| {
                self.ground.state.lane_into(lane, &mut self.shown);
                &self.shown
            });
            recorder.day(&DayView::new(day, world, birds, &gates.gates, ground, recorder.flows()));
        }
    }
}

/// The evening's memory: days open and at rest.
fn remember(world: &mut World, day: usize) {
    let (since_solstice, date) = (world.drivers.days[day].since_solstice, world.drivers.days[day].date);
    let picked_d = |windows: &[HarvestWindow]| {
        let last = windows.iter().filter_map(|window| last_before(window.to, date)).max();
        last.map(|last| days_between(last, date))
    };
    for (plot, (memory, on)) in world.plots.iter_mut().zip(&world.birds_on).enumerate() {
        if on.bird_days > 0.0 {
            let spec = &world.site.plots[plot];
            for (canopy, so_far) in spec.canopies.iter().zip(&mut world.fruit_bird_days[plot]) {
                let params = &world.site.canopies[canopy.canopy].params;
                let fruit = Plant::Canopy(canopy.canopy);
                let behind_guards = guards::around(&spec.guards, &world.guards_up[plot], fruit);
                if !behind_guards && harvest::hangs(params, since_solstice, picked_d(&canopy.harvest)) {
                    *so_far += on.bird_days / spec.area_m2 * (1.0 - memory.netted);
                }
            }
        }
        memory.open = on.bird_days > 0.0;
        if memory.open {
            memory.days_open += 1.0;
            memory.days_at_rest = 0.0;
        } else {
            memory.days_open = 0.0;
            memory.days_at_rest += 1.0;
        }
        memory.days_since_crop += 1.0;
    }
}

/// Emergence that begins puts a note on tomorrow's agenda, once a season and plot.
fn note_emergence<F: Real>(world: &mut World, ground: &LaneGround<F>, lane: usize, day: usize) {
    for (watched, noted) in world.constants.watched.iter().zip(&mut world.noted) {
        if !*noted && ground.state.pests[watched.at].emerged_share.lane(lane) > EMERGENCE_NOTED {
            *noted = true;
            world.agenda.put(day + 1, Event::EmergenceBegins { plot: watched.plot, pest: watched.pest });
        }
    }
}

/// A crop that ends when ripe leaves tomorrow: thermal time puts the event on the agenda.
fn end_ripe_crops<F: Real>(world: &mut World, ground: &LaneGround<F>, lane: usize, day: usize) {
    for &zone in &world.constants.ripening {
        let here = &world.constants.zones[zone];
        let Some(crop) = world.standing[zone] else { continue };
        let plan = &world.site.plots[here.plot].grounds[here.ground].crops[crop];
        if !plan.ends_when_ripe {
            continue;
        }
        let age = ground.state.zones[zone].crop_age.lane(lane);
        let ripe_at = world.site.crops[plan.crop].params.days_to_ripe;
        let slot = world.drivers.slots[here.plot].crop(plan.crop);
        let today = world.drivers.plants(day)[slot].thermal;
        if age >= ripe_at && age - today < ripe_at {
            let (plot, ground) = (here.plot, here.ground);
            world.agenda.put(day + 1, Event::HarvestEnds { plot, ground, crop });
            world.agenda.put(day + 1, Event::CropOut { plot, ground, crop });
        }
    }
}
