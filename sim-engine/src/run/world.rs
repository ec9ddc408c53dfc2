//! A site in the middle of a run: all that changes from day to day, but for the ground itself
//! ([`GroundState`](crate::state::GroundState)), which several runs may share lane beside lane.

use crate::agenda::Agenda;
use crate::drivers::{Drivers, OpenAir};
use crate::flock::energy::metabolic_mass;
use crate::flock::excretion::Droppings;
use crate::flock::foraging::OpenGate;
use crate::flock::party::{GroupState, Party};
use crate::gates::PlotObservation;
use crate::ledger::flows::SiteFlows;
use crate::load::Loads;
use crate::plot::bites::{Intake, Pressure};
use crate::plot::constants::{SiteConstants, ZoneConstants};
use crate::plot::context::{StandingCrop, ZoneContext, see};
use crate::plot::harvest::Harvest;
use crate::plot::labour::WorkHours;
use crate::plot::seen::PlotCondition;
use crate::run::zone_editor::ZoneEditor;
use crate::site::Site;
use crate::state::{HeapState, PlotMemory, YardState, ZoneState};
use jiff::civil::Date;

/// "No crop has ended here", and rest before the run, days.
pub const LONG_AGO: f64 = 1e6;

/// Why a run fails: before its first day, or when it is to go on with a recorder that reads what it does not keep.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum RunError {
    /// The weather is shorter than the run.
    #[error("the run needs {asked} days of weather and has {given}")]
    TooLittleWeather {
        /// Days of the run.
        asked: usize,
        /// Days of weather.
        given: usize,
    },
    /// A batch was made ready for other realizations than it is asked to run.
    #[error("the batch was made ready for {ready} realizations, {given} were given, with {recorders} recorders")]
    OtherRealizations {
        /// Realizations made ready.
        ready: usize,
        /// Realizations given.
        given: usize,
        /// Recorders given.
        recorders: usize,
    },
    /// More is unaccounted for than rounding explains: a fault of the program.
    #[error(
        "the books do not balance: on {date}, in {place}, {relative:.0e} of the {currency} that is there or flows is unaccounted for. The figures cannot be trusted; please report this with the site file"
    )]
    BooksOff {
        /// What is unaccounted for.
        currency: &'static str,
        /// Where: a plot, or yard, house and flock.
        place: String,
        /// The first day.
        date: Date,
        /// How much, relative to what is there or flows.
        relative: f64,
    },
    /// A figure ran away: a fault of the program, or numbers of the site that do not go together.
    #[error(
        "{what} comes to no finite number. The figures cannot be trusted, and nothing is written; please report this with the site file"
    )]
    NotFinite {
        /// What it is.
        what: &'static str,
    },
    /// A recorder reads a flow that the run does not keep.
    #[error("a recorder reads the flow {flow}, which this run does not keep: it was begun for others")]
    FlowNotKept {
        /// Name of the flow.
        flow: &'static str,
    },
}

/// The birds on a plot on one day: means over the plot, per m² and day. Of several parties (groups
/// isolated together) pests are searched for as the one does that is there most.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlotBirds {
    /// Party that is there; of several, the one that is there most.
    pub party: usize,
    /// Bird-days.
    pub bird_days: f64,
    /// Per m² and day.
    pub pressure: Pressure,
}

impl PlotBirds {
    /// Another party comes.
    pub(crate) fn join(&mut self, others: Self) {
        if others.bird_days > self.bird_days {
            self.party = others.party;
        }
        self.bird_days += others.bird_days;
        self.pressure.join(&others.pressure);
    }
}

/// What birds, gates and keeper read of the weather today: a copy, which runs side by side
/// make together.
#[derive(Clone, Debug)]
pub(crate) struct AirToday {
    pub date: Date,
    pub air: OpenAir,
    pub yesterday_tmax_c: f64,
}

/// A run's state.
#[derive(Clone, Debug)]
pub struct World<'a> {
    /// The site.
    pub site: &'a Site,
    /// What weather and calendar decide.
    pub drivers: &'a Drivers,
    /// Numbers of the site resolved once, for the whole draw.
    pub constants: SiteConstants,
    /// Which crop of its ground's plan stands in each zone, if any.
    pub standing: Vec<Option<usize>>,
    /// What a keeper keeps in mind.
    pub plots: Vec<PlotMemory>,
    /// The yard.
    pub yard: YardState,
    /// The heap.
    pub heap: HeapState,
    /// Groups.
    pub groups: Vec<GroupState>,
    /// The flock, then one party for each group in isolation.
    pub parties: Vec<Party>,
    /// Events to come.
    pub agenda: Agenda,
    /// Books of yard, heap, snow and flock.
    pub site_flows: SiteFlows,
    /// Load of the ground.
    pub loads: Loads,
    /// Birds on each plot today.
    pub birds_on: Vec<PlotBirds>,
    /// What is seen over each gate this morning.
    pub observed: Vec<PlotObservation>,
    /// Gates set by hand.
    pub by_hand: Vec<Option<bool>>,
    /// A housing order is in force.
    pub housed: bool,
    /// Whether each pest's degree-days are counted now.
    pub counting: Vec<bool>,
    /// Guards that stand, by plot and guard.
    pub guards_up: Vec<Vec<bool>>,
    /// Share of each zone that guards around plants keep birds off.
    pub(crate) around_plants: Vec<f64>,
    /// Nets that stand, by plot and net.
    pub nets_up: Vec<Vec<bool>>,
    /// Harvests so far of each crop of the site, by plot; after them those of the fruit of each canopy of the site.
    pub harvests: Vec<Vec<Harvest>>,
    /// Bird-days per m² while this year's fruit ripened and fell, by plot and canopy.
    pub(crate) fruit_bird_days: Vec<Vec<f64>>,
    /// The keeper's work so far, by plot.
    pub work: Vec<WorkHours>,
    /// Whether manual care is done at all in this run.
    pub care: bool,
    /// Worm eggs shed in the yard today, per m², relative to `worm_shed`.
    pub(crate) yard_shed: f64,
    /// What each party ate on plots today, kg.
    pub(crate) found: Vec<Intake>,
    /// Worm eggs each party took up in plots today, number relative to `worm_shed`.
    pub(crate) eggs_taken: Vec<f64>,
    pub(crate) conditions: Vec<PlotCondition>,
    /// Of each of the constants' watched pests, whether its rising was noted this season.
    pub(crate) noted: Vec<bool>,
    pub(crate) today: AirToday,
    pub(crate) infection_follow: f64,
    /// How often the parties were counted anew.
    pub(crate) recounts: u32,
    /// Plots birds are on today.
    pub(crate) visited: Vec<usize>,
    /// The plot on which a house that moves with the flock stands; `None`: in the yard.
    pub(crate) house_at: Option<usize>,
    /// Open gates and how they draw a party, and when they open and shut: room to reckon in.
    pub(crate) gates: Vec<OpenGate>,
    pub(crate) cuts: Vec<f64>,
}

impl<'a> World<'a> {
    /// Sees a zone anew after something changed it between steps.
    pub(crate) fn see_zone(&self, zone: usize, state: &mut ZoneState) {
        let context = zone_context(self.site, self.drivers, &self.constants, zone, 0, self.standing[zone]);
        see(&mut state.zone, &state.weeds, &state.creepers, &context);
    }

    /// Looks at a plot.
    pub(crate) fn see_plot(&mut self, plot: usize, editor: &mut ZoneEditor) {
        let mut condition = PlotCondition::nothing(0.0);
        for zone in self.constants.plots[plot].zones.clone() {
            let state = editor.look(&self.constants, zone);
            condition.add(&state.zone, &self.constants.zones[zone], self.site.process.weed_visible);
        }
        self.conditions[plot] = condition;
    }

    /// Whether a pest's degree-days are counted now.
    #[inline]
    #[must_use]
    pub fn in_season(&self, pest: usize) -> bool {
        self.counting[pest]
    }

    /// What is seen of a plot: in the morning after the day's events, and in the evening.
    #[inline]
    #[must_use]
    pub fn condition_of(&self, plot: usize) -> &PlotCondition {
        &self.conditions[plot]
    }

    /// Cover of a plot outside its beds, 0 to 1, as last seen: in the morning after the day's events,
    /// and in the evening. Blank (NaN) where it is all beds: what grows on these is no sward to keep.
    #[inline]
    #[must_use]
    pub fn cover_outside_beds(&self, plot: usize) -> f64 {
        if self.site.plots[plot].has_sward() { self.conditions[plot].cover } else { f64::NAN }
    }

    /// As [`Self::cover_outside_beds`], of the plot's barest ring: what a keeper judges it by.
    #[inline]
    #[must_use]
    pub fn barest_cover(&self, plot: usize) -> f64 {
        if self.site.plots[plot].has_sward() { self.conditions[plot].barest } else { f64::NAN }
    }

    /// Recounts the flock and the isolated parties after birds came, moved or went.
    pub fn recount_parties(&mut self) {
        self.recounts += 1;
        let (site, groups) = (self.site, &self.groups);
        let (flock, isolated) = self.parties.split_at_mut(1);
        flock[0].recount(site, groups, |g| groups[g].isolated_in.is_none());
        for (index, party) in isolated.iter_mut().enumerate() {
            party.confined_to = groups[index].isolated_in;
            party.recount(site, groups, |g| g == index && groups[g].isolated_in.is_some());
        }
    }

    /// A party's infection is each of its groups'.
    pub(crate) fn remember_infection(&mut self, party: usize) {
        let infection = self.parties[party].infection;
        for (index, group) in self.groups.iter_mut().enumerate() {
            let of_flock = party == 0 && group.isolated_in.is_none();
            if group.present && (of_flock || party == index + 1) {
                group.infection = infection;
            }
        }
    }

    /// What a party will drop is its groups', each by its metabolic mass.
    pub(crate) fn remember_droppings(&mut self, party: usize, droppings: &Droppings) {
        let of_party = &mut self.parties[party];
        of_party.droppings = *droppings;
        let per_mass = 1.0 / of_party.metabolic_mass;
        for (index, group) in self.groups.iter_mut().enumerate() {
            let of_flock = party == 0 && group.isolated_in.is_none();
            if group.present && (of_flock || party == index + 1) {
                let mass = metabolic_mass(&self.site.birds[group.class].params);
                group.droppings = droppings.times(self.site.groups[index].number * mass * per_mass);
            }
        }
    }

    /// All birds on the site.
    #[must_use]
    pub fn birds(&self) -> f64 {
        self.parties.iter().map(|p| p.birds).sum()
    }

    /// What all birds ate today and will drop tomorrow, g.
    #[must_use]
    pub fn in_birds(&self) -> Droppings {
        self.groups.iter().fold(Droppings::default(), |sum, group| sum.plus(&group.droppings))
    }

    /// Area of all plots, m².
    #[must_use]
    pub fn plots_area_m2(&self) -> f64 {
        self.site.plots.iter().map(|p| p.area_m2).sum()
    }
}

/// The surroundings of a zone, from parts (so that its state can be borrowed mutably beside).
#[inline]
#[must_use]
pub fn zone_context<'w>(
    site: &'w Site,
    drivers: &'w Drivers,
    constants: &'w SiteConstants,
    zone: usize,
    day: usize,
    crop: Option<usize>,
) -> ZoneContext<'w> {
    let here = &constants.zones[zone];
    let (plot, today) = (here.plot, &drivers.days[day].ground);
    let water = drivers.canopy(day, plot).water;
    let of_plot = ZoneContext::of_plot(today, constants, &site.plots[plot], plot, water, drivers.plants(day), drivers);
    ZoneContext { here, crop: standing(site, drivers, constants, here, day, crop), ..of_plot }
}

/// The crop that stands in a zone, if any.
#[inline]
fn standing<'w>(
    site: &'w Site,
    drivers: &'w Drivers,
    constants: &'w SiteConstants,
    here: &ZoneConstants,
    day: usize,
    crop: Option<usize>,
) -> Option<StandingCrop<'w>> {
    let crop = crop?;
    let kind = site.plots[here.plot].grounds[here.ground].crops[crop].crop;
    let slot = drivers.slots[here.plot].crop(kind);
    Some(StandingCrop { params: &constants.species.crops[kind], day: drivers.plants(day)[slot], stands: true })
}
