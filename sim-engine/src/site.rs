//! A site as the engine sees it: every name resolved, every number in the
//! engine's units, every date a day. Made by the `scenarios` room.
//!
//! Units: areas m², lengths m, masses g DM/m² on the ground, kg/ha for
//! nutrients, mm for water, days for times.

use crate::species::{
    BirdClass, Canopy, CoverPlant, CreeperPlant, CropPlant, Pest, ProcessParams, Slug, Soil, WeedPlant,
};
use crate::weather::Place;
use jiff::civil::Date;

/// A whole site.
#[derive(Clone, Debug)]
pub struct Site {
    /// Latitude and elevation.
    pub place: Place,
    /// First simulated day.
    pub start: Date,
    /// Number of simulated days.
    pub days: usize,
    /// Steps a day is cut into (1, 2, 4, …).
    pub steps_per_day: u32,
    /// Numbers of the processes.
    pub process: ProcessParams,
    /// Soils in use.
    pub soils: Vec<Soil>,
    /// Ground covers in use.
    pub covers: Vec<CoverPlant>,
    /// Annual weeds in use.
    pub weeds: Vec<WeedPlant>,
    /// Creeping weeds in use.
    pub creepers: Vec<CreeperPlant>,
    /// Crops in use.
    pub crops: Vec<CropPlant>,
    /// Canopies in use.
    pub canopies: Vec<Canopy>,
    /// Pests in use.
    pub pests: Vec<Pest>,
    /// Slugs and snails in use.
    pub slugs: Vec<Slug>,
    /// Bird classes in use.
    pub birds: Vec<BirdClass>,
    /// The yard.
    pub yard: Yard,
    /// The house.
    pub house: House,
    /// Groups of birds.
    pub groups: Vec<Group>,
    /// Plots, 1 to 24.
    pub plots: Vec<Plot>,
    /// Site-wide events.
    pub events: Vec<SiteEvent>,
    /// Hard rules.
    pub rules: HardRules,
}

impl Site {
    /// Name of a crop or canopy.
    #[must_use]
    pub fn plant_name(&self, plant: Plant) -> &str {
        self.harvest_name(match plant {
            Plant::Crop(crop) => crop,
            Plant::Canopy(canopy) => self.crops.len() + canopy,
        })
    }

    /// Name of what is harvested, by its place in a plot's [`World::harvests`](crate::run::world::World::harvests): crops,
    /// then canopies.
    #[must_use]
    pub fn harvest_name(&self, place: usize) -> &str {
        let crop = self.crops.get(place).map(|crop| crop.name.as_str());
        let fruit = || self.canopies.get(place - self.crops.len()).map(|canopy| canopy.name.as_str());
        crop.or_else(fruit).unwrap_or_default()
    }
}

/// What a harvest is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plant {
    /// Index into [`Site::crops`].
    Crop(usize),
    /// Index into [`Site::canopies`].
    Canopy(usize),
}

/// A day within every year, or one date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// Once.
    On(Date),
    /// Every year; 29 February falls on the 28th where there is none.
    Yearly {
        /// 1 to 12.
        month: i8,
        /// 1 to 31, a day the month has.
        day: i8,
    },
}

/// The yard: what the birds always have.
#[derive(Clone, Debug, PartialEq)]
pub struct Yard {
    /// m².
    pub area_m2: f64,
    /// Surface that drains and takes droppings (wood chip, gravel): no mud.
    pub drained: bool,
    /// Days between clean-outs to the heap, if it is cleaned.
    pub cleaned_every_days: Option<u32>,
    /// Roofed: birds may be there under a housing order.
    pub covered: bool,
    /// Netted against wild birds: birds may be there under a housing order too.
    pub netted: bool,
    /// Shade over the yard, 0 to 1.
    pub shade: f64,
}

impl Yard {
    /// What of it counts as outdoor area, m²: none of it under a roof.
    #[must_use]
    pub fn outdoor_area_m2(&self) -> f64 {
        if self.covered { 0.0 } else { self.area_m2 }
    }

    /// Whether birds may be out of doors there under a housing order.
    #[must_use]
    pub fn open_under_order(&self) -> bool {
        self.covered || self.netted
    }
}

/// The house.
#[derive(Clone, Debug, PartialEq)]
pub struct House {
    /// Share of the droppings that fall at night in the house; what birds drop there by day comes to it.
    pub night_share: f64,
    /// It moves with the flock: what falls in it lies where it stands, and only what falls in the yard's goes to the heap.
    pub mobile: bool,
}

/// Where birds in isolation are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quarters {
    /// On a plot, all day; index into [`Site::plots`].
    Plot(usize),
    /// In a coop or pen of their own: they get to no ground, and their droppings go to the heap.
    Indoors,
}

impl Quarters {
    /// The plot, if it is one.
    #[must_use]
    pub fn plot(self) -> Option<usize> {
        match self {
            Self::Plot(plot) => Some(plot),
            Self::Indoors => None,
        }
    }
}

/// Newcomers are kept apart from the flock at first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Isolation {
    /// Where.
    pub quarters: Quarters,
    /// Days from their arrival.
    pub days: u32,
}

/// A group of birds: same class, same place, same dates.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Name in the site file.
    pub name: String,
    /// Index into [`Site::birds`].
    pub class: usize,
    /// How many.
    pub number: f64,
    /// Arrival; `None`: there from the start.
    pub arrive: Option<Date>,
    /// Departure.
    pub leave: Option<Date>,
    /// Isolation after arrival.
    pub isolate: Option<Isolation>,
    /// Group (index into [`Site::groups`]) these birds are counted with from the end of their
    /// isolation on, or from arrival where there is none: they are of its class then.
    pub joins: Option<usize>,
    /// Infection with gut worms at the start, relative to an ordinary flock = 1.
    pub infection: f64,
}

/// A gated plot.
#[derive(Clone, Debug, PartialEq)]
pub struct Plot {
    /// Name in the site file.
    pub name: String,
    /// m².
    pub area_m2: f64,
    /// Distance of its gate from the yard, m.
    pub distance_m: f64,
    /// Index into [`Site::soils`].
    pub soil: usize,
    /// Factor on the soil's drainage rate (slow drainage < 1).
    pub drainage_factor: f64,
    /// Rings by distance from the gate, 1 to 4.
    pub rings: usize,
    /// The ground: sward and beds, shares adding to 1.
    pub grounds: Vec<Ground>,
    /// Index into [`Site::covers`]: what grows outside the beds.
    pub cover: usize,
    /// Cover at the start, 0 to 1, outside the beds.
    pub cover_start: f64,
    /// Weeds: index into [`Site::weeds`] and seeds per m² at the start.
    pub weeds: Vec<(usize, f64)>,
    /// Creeping weeds: index into [`Site::creepers`] and reserve at the start, g/m².
    pub creepers: Vec<(usize, f64)>,
    /// Trees, bushes and vines over it, their shares adding to 1 at most.
    pub canopies: Vec<PlotCanopy>,
    /// Pests.
    pub pests: Vec<PlotPest>,
    /// Slugs and snails: index into [`Site::slugs`] and number of all sizes per m² at the start.
    pub slugs: Vec<(usize, f64)>,
    /// Drip irrigation.
    pub drip: bool,
    /// Guards over part of the plot.
    pub guards: Vec<Guard>,
    /// Fine nets over part of the plot.
    pub nets: Vec<Net>,
    /// Manual care that is done anyway.
    pub care: Vec<Care>,
    /// Worm eggs at the start, per m², relative to `worm_shed`.
    pub worm_eggs: f64,
}

impl Plot {
    /// Whether any of it is no bed: a plot that is all beds has no ground cover to keep.
    #[must_use]
    pub fn has_sward(&self) -> bool {
        self.grounds.iter().any(|ground| !ground.bed)
    }

    /// Share of the plot under one kind of plant: all beds in which a crop stands at some time, or a canopy.
    #[must_use]
    pub fn share_of(&self, plants: Plant) -> f64 {
        match plants {
            Plant::Crop(crop) => {
                self.grounds.iter().filter(|ground| ground.grows(crop)).map(|ground| ground.share).sum()
            }
            Plant::Canopy(canopy) => self.canopies.iter().filter(|c| c.canopy == canopy).map(|c| c.share).sum(),
        }
    }

    /// Harvests of its crops and of its canopies.
    pub fn harvests(&self) -> impl Iterator<Item = &HarvestWindow> {
        self.harvests_of().map(|(_, harvest)| harvest)
    }

    /// Harvests of its crops and of its canopies, each with what it is of.
    pub fn harvests_of(&self) -> impl Iterator<Item = (Plant, &HarvestWindow)> {
        let crops = self.grounds.iter().flat_map(|ground| &ground.crops);
        let picked = crops.filter_map(|plan| Some((Plant::Crop(plan.crop), plan.harvest.as_ref()?)));
        let fruit = |here: &PlotCanopy| Plant::Canopy(here.canopy);
        picked.chain(self.canopies.iter().flat_map(move |here| here.harvest.iter().map(move |one| (fruit(here), one))))
    }

    /// Share of its ground on which a pest finds its hosts: those of its canopies it lives on; 1 for a pest of crops.
    #[must_use]
    pub fn host_share(&self, pest: &PlotPest) -> f64 {
        if pest.hosts.is_empty() {
            return 1.0;
        }
        pest.hosts.iter().filter_map(|&at| self.canopies.get(at)).map(|canopy| canopy.share).sum()
    }
}

/// Trees, bushes or vines of one kind in a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotCanopy {
    /// Index into [`Site::canopies`].
    pub canopy: usize,
    /// Share of the plot's ground under it, above 0 to 1.
    pub share: f64,
    /// Harvest of its fruit, if it is eaten raw from the ground or tree.
    pub harvest: Vec<HarvestWindow>,
}

/// A part of a plot: sward, or one bed with its crops.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Share of the plot.
    pub share: f64,
    /// Bed or sward.
    pub bed: bool,
    /// Crops of this bed, in no order; their times in the ground do not overlap.
    pub crops: Vec<CropPlan>,
}

impl Ground {
    /// Whether a crop of the site stands here at some time.
    #[must_use]
    pub fn grows(&self, crop: usize) -> bool {
        self.crops.iter().any(|plan| plan.crop == crop)
    }
}

/// A crop's times.
#[derive(Clone, Debug, PartialEq)]
pub struct CropPlan {
    /// Index into [`Site::crops`].
    pub crop: usize,
    /// Into the ground.
    pub from: When,
    /// Out of the ground at the latest.
    pub to: When,
    /// Ends when its thermal time is reached, if that is earlier.
    pub ends_when_ripe: bool,
    /// Harvest window.
    pub harvest: Option<HarvestWindow>,
    /// What is left is carried away at the end instead of standing as residue.
    pub cleared: bool,
}

/// From the first to the last harvest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HarvestWindow {
    /// First day.
    pub from: When,
    /// Last day.
    pub to: When,
    /// The edible part touches the soil.
    pub touches_soil: bool,
    /// Of fruit that fell, not of fruit picked from the plant.
    pub windfall: bool,
    /// Index into [`HardRules::own_waits`]: the keeper's own days for this harvest, in place of the rule's.
    pub own_wait: Option<usize>,
}

impl HarvestWindow {
    /// A harvest picked from the plant, under the site's rule.
    #[must_use]
    pub const fn picked(from: When, to: When, touches_soil: bool) -> Self {
        Self { from, to, touches_soil, windfall: false, own_wait: None }
    }
}

/// A waiting period the keeper set for one harvest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnWait {
    /// Days from birds to harvest.
    pub days: u32,
    /// Why, where it is shorter than the site's rule.
    pub reason: Option<String>,
}

/// A pest in a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotPest {
    /// Index into [`Site::pests`].
    pub pest: usize,
    /// Per m² in the soil at the start.
    pub start_per_m2: f64,
    /// Adults round about, against 'few' = 1.
    pub neighbours: f64,
    /// Indices into [`Plot::canopies`]: on which a pest of canopies lives; none for a pest of crops.
    pub hosts: Vec<usize>,
}

/// Nets, cloches, collars, fences: part of the plot birds cannot reach for a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guard {
    /// Share of the plot.
    pub share: f64,
    /// The plants it stands around, all of them in the plot: the beds of a crop, or the ground under a canopy, which is
    /// spread evenly, and its hanging fruit; `None`: beds are guarded first, whatever stands there.
    pub plants: Option<Plant>,
    /// Put up.
    pub from: When,
    /// Taken down.
    pub to: When,
}

/// A fine net over bushes or beds for a time: adults of pests neither fly in nor out, and birds take no hanging fruit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Net {
    /// Share of the plot under it.
    pub share: f64,
    /// Put up.
    pub from: When,
    /// Taken down.
    pub to: When,
}

/// Manual care of a plot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Task {
    /// Weed: hoes and pulls weeds out of ground on which they cover more than is borne.
    Weed {
        /// Cover of weeds that is borne, 0 to 1: 0 to weed every time, `None` as the process has it.
        above: Option<f64>,
    },
    /// Mow: cuts a sward higher than is borne down to this mass; cuttings stay.
    Mow {
        /// Live mass that is borne, g/m²: 0 to mow every time, `None` as the process has it.
        above_g_m2: Option<f64>,
        /// Live mass left, g/m².
        leave_g_m2: f64,
        /// Hours per m²; `None` as the process has it.
        effort_h_m2: Option<f64>,
    },
    /// Clear: carries standing residue away.
    Clear,
    /// Mulch: brings dead cover, g/m².
    Mulch {
        /// Dry matter brought, g/m².
        mass_g_m2: f64,
        /// Hours per m².
        effort_h_m2: f64,
    },
    /// Compost: brings nitrogen and phosphorus, kg/ha, and dry matter g/m².
    Compost {
        /// kg N/ha.
        nitrogen_kg_ha: f64,
        /// kg P/ha.
        phosphorus_kg_ha: f64,
        /// g/m².
        mass_g_m2: f64,
        /// Hours per m².
        effort_h_m2: f64,
    },
}

/// A task and its times.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Care {
    /// What is done.
    pub task: Task,
    /// The ground of the plot it is done on; `None`: all it suits.
    pub ground: Option<usize>,
    /// Days between looks, within the season.
    pub every_days: u32,
    /// First day of its season.
    pub from: When,
    /// Last day of its season.
    pub to: When,
}

/// Something that happens to the whole site.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteEvent {
    /// First day.
    pub on: When,
    /// Last day, for what lasts.
    pub until: Option<When>,
    /// What.
    pub what: SiteEventKind,
}

/// Kinds of site event.
#[derive(Clone, Debug, PartialEq)]
pub enum SiteEventKind {
    /// The authority orders birds to be kept in.
    HousingOrder,
    /// The heap is spread.
    SpreadHeap {
        /// Indices into [`Site::plots`], each once, with their shares of the heap, 1 in all.
        plots: Vec<(usize, f64)>,
    },
    /// One gate is set by hand for the day(s), whatever the strategy says.
    GateByHand {
        /// Index into [`Site::plots`].
        plot: usize,
        /// Open or shut.
        open: bool,
    },
    /// Something that harms birds comes onto a plot: its gate stays shut for days.
    KeepOut {
        /// Index into [`Site::plots`].
        plot: usize,
        /// What comes.
        treatment: Treatment,
        /// Days from the event on, its own day the first.
        days: u32,
    },
}

/// A treatment of plants or ground that birds must not come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Treatment {
    /// Plants or ground were sprayed.
    Sprayed,
    /// Bait against slugs, rats or insects lies out.
    BaitLaid,
}

impl Treatment {
    /// Its word in site files and in sentences.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sprayed => "sprayed",
            Self::BaitLaid => "bait laid",
        }
    }
}

/// Hard rules: they veto gates.
#[derive(Clone, Debug, PartialEq)]
pub struct HardRules {
    /// Days from birds to harvest where the edible part touches the soil (USDA NOP 7 CFR 205.203(c): 120).
    pub waiting_days_touching: u32,
    /// Days otherwise (same rule: 90).
    pub waiting_days_other: u32,
    /// The keeper's own days for single harvests.
    pub own_waits: Vec<OwnWait>,
    /// Plots stay shut on mud.
    pub shut_on_mud: bool,
    /// Plots stay shut on frozen ground.
    pub shut_on_frozen: bool,
    /// Plots stay shut under snow.
    pub shut_on_snow: bool,
}

impl HardRules {
    /// Days birds must be out before a harvest: the keeper's own for it, else the site's.
    #[must_use]
    pub fn waiting_days(&self, harvest: &HarvestWindow) -> u32 {
        self.own_wait(harvest).map_or_else(|| self.waiting_days_by_rule(harvest.touches_soil), |own| own.days)
    }

    /// Days the site's rule asks for before a harvest that touches the soil, or does not.
    #[must_use]
    pub const fn waiting_days_by_rule(&self, touches_soil: bool) -> u32 {
        if touches_soil { self.waiting_days_touching } else { self.waiting_days_other }
    }

    /// The keeper's own wait before a harvest.
    #[must_use]
    pub fn own_wait(&self, harvest: &HarvestWindow) -> Option<&OwnWait> {
        self.own_waits.get(harvest.own_wait?)
    }
}
