//! The gates of a day: what the keeper sees, what the strategy proposes, what the hard rules veto,
//! what was set by hand, and a decision inverted for the sake of "why".

use crate::gates::reason::Reason;
use crate::gates::rules::{GateFacts, veto};
use crate::gates::{Observation, Opening, PlotObservation, Proposal, Strategy};
use crate::run::recorder::GateDay;
use crate::run::world::World;
use crate::site::{Site, Treatment};

/// Wetness above which ground is mud to hens and keeper, share of the room above field
/// capacity (common practice, no source).
const MUD: f64 = 0.5;
/// Wetness above which a keeper who keeps birds off wet ground calls it wet: it still gives water
/// to the boot, long before it is mud (common practice, no source).
const WET: f64 = 0.1;

/// Where the gates of a run are decided; keeps its lists from day to day.
#[derive(Clone)]
pub(crate) struct GateController {
    proposal: Proposal,
    /// Plots opened yesterday, in the order they were.
    opened: Vec<usize>,
    was_open: Vec<bool>,
    pub gates: GateDay,
}

impl GateController {
    pub fn new(site: &Site) -> Self {
        let plots = site.plots.len();
        Self {
            proposal: Proposal::with_room(plots),
            opened: Vec::with_capacity(plots),
            was_open: vec![false; plots],
            gates: GateDay {
                openings: Vec::with_capacity(plots),
                reason: Reason::NoAnswer,
                vetoed: Vec::with_capacity(plots),
                by_hand: Vec::with_capacity(plots),
                counterfactual: None,
                moves: 0,
            },
        }
    }

    /// Decides today's gates; `counterfactual` is the one decision of the run to be inverted.
    pub fn decide(
        &mut self,
        world: &mut World,
        strategy: &mut dyn Strategy,
        day: usize,
        counterfactual: Option<(usize, usize)>,
    ) {
        look_over_gates(world, day);
        self.proposal.clear();
        if world.parties[0].birds > 0.0 {
            let observation = Observation {
                date: world.today.date,
                plots: &world.observed,
                pest_degree_days: world.drivers.keepers_counts(day),
                yesterday_tmax_c: world.today.yesterday_tmax_c,
                frozen: world.today.air.frozen > 0.0,
                snow: world.today.air.snow > 0.0,
                birds: world.parties[0].birds,
            };
            strategy.propose(&observation, &mut self.proposal);
        }
        self.apply_rules(world);
        self.apply_hands(world);
        self.counterfactual(world, day, counterfactual);
        self.count_moves();
    }

    fn apply_rules(&mut self, world: &World) {
        let gates = &mut self.gates;
        gates.openings.clear();
        gates.vetoed.clear();
        gates.reason = self.proposal.reason;
        let day_length_h = world.today.air.day_length_h;
        // A stretch of the day that lies in the dark opens no gate.
        let by_day = |opening: &&Opening| opening.hours.is_none_or(|hours| hours.within(day_length_h).is_some());
        for opening in self.proposal.openings.iter().filter(by_day) {
            match world.observed[opening.plot].shut {
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
            match world.observed[plot].shut {
                Some(why) if open => gates.vetoed.push((plot, why)),
                None if open => gates.openings.push(Opening { plot, hours: None, birds: None }),
                _ => {}
            }
        }
    }

    fn counterfactual(&mut self, world: &World, day: usize, counterfactual: Option<(usize, usize)>) {
        self.gates.counterfactual = None;
        let Some((on, plot)) = counterfactual else { return };
        if on != day || world.parties[0].birds <= 0.0 {
            return;
        }
        self.gates.counterfactual = Some(plot);
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

/// What keeps birds out today, and for how many days from today.
fn days_left(treatment: Treatment, until: usize, day: usize) -> Option<(Treatment, u16)> {
    let days = until.saturating_sub(day);
    (days > 0).then_some((treatment, u16::try_from(days).unwrap_or(u16::MAX)))
}

/// Fills `world.observed`: what the keeper sees this morning, and what the rules say.
fn look_over_gates(world: &mut World, day: usize) {
    let (frozen, snow) = (world.today.air.frozen > 0.0, world.today.air.snow > 0.0);
    // Slices of one length: nothing is looked up twice in this loop.
    let plots = world.constants.plots.as_slice();
    let memories = &world.plots[..plots.len()];
    let grounds = &world.conditions[..plots.len()];
    let harvests = &world.drivers.days_to_harvest(day)[..plots.len()];
    for (plot, observed) in world.observed[..plots.len()].iter_mut().enumerate() {
        let (here, memory, ground) = (&plots[plot], &memories[plot], &grounds[plot]);
        let facts = GateFacts {
            housed: world.housed,
            crop_standing: memory.crop_open,
            beds: here.beds - memory.guarded_beds,
            guarded: memory.guarded,
            days_to_harvest: harvests[plot],
            isolation: memory.isolation,
            keep_out: memory.keep_out.and_then(|(treatment, until)| days_left(treatment, until, day)),
            mud: ground.wetness > MUD,
            frozen,
            snow,
        };
        *observed = PlotObservation {
            cover: ground.barest,
            area_m2: here.area_m2,
            open: memory.open,
            days_open: memory.days_open,
            days_at_rest: memory.days_at_rest,
            days_since_crop: memory.days_since_crop,
            crop_standing: memory.crop_standing,
            shade: world.drivers.canopy(day, plot).shade,
            wet: ground.wetness > WET,
            shut: veto(&world.site.rules, &facts),
        };
    }
}
