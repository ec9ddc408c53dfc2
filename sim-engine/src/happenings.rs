//! What each event does to the world.
//!
//! Work on the ground is in `plot/hands.rs`, crops are in `plot/crops.rs`, seasons of pests in `plot/pests.rs`; here
//! stands who and what an event touches, and when it comes again. Figures of its own: pests of a crop's family spoil it together,
//! damage = 1 − Π (1 − damage of each) (independent of each other: ours, no source); a heap of kg is spread evenly over
//! the m² of a plot's beds, or of all of it where it has none (common practice, no source).

use crate::agenda::Happening;
use crate::calendar::{date_after, put_after_solstice, put_again, put_care_again, put_when};
use crate::flows::{Flow, SiteFlow};
use crate::plot::{crops, hands, pests};
use crate::site::{SiteEventKind, Task, When};
use crate::state::KG_HA;
use crate::world::{World, around};

/// Takes all events due on `day` off the agenda, in their order; `each` hears of every one
/// that took effect.
pub fn run_due(world: &mut World, day: usize, each: impl FnMut(Happening)) {
    run_due_on(world, day, |_, _| {}, each);
}

/// The same; `before` hears of every event before it takes effect.
pub(crate) fn run_due_on(
    world: &mut World,
    day: usize,
    mut before: impl FnMut(&mut World, Happening),
    mut each: impl FnMut(Happening),
) {
    while let Some(happening) = world.agenda.take_due(day) {
        before(world, happening);
        if apply(world, day, happening) {
            each(happening);
        }
        if let Touched::Plot(plot) = touched(happening) {
            world.see_plot(plot);
        }
    }
}

/// The ground an event reads or changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Touched {
    /// None.
    Nothing,
    /// All of a plot.
    Plot(usize),
    /// The pests of every plot.
    Pests,
}

/// What ground `happening` reads or changes.
pub(crate) fn touched(happening: Happening) -> Touched {
    match happening {
        Happening::LeafFall { plot }
        | Happening::CropIn { plot, .. }
        | Happening::HarvestEnds { plot, .. }
        | Happening::CropOut { plot, .. }
        | Happening::CareDue { plot, .. }
        | Happening::HeapSpread { plot, .. } => Touched::Plot(plot),
        Happening::CountingStarts { .. } | Happening::SeasonEnds { .. } => Touched::Pests,
        Happening::OrderBegins { .. }
        | Happening::OrderEnds
        | Happening::Arrives { .. }
        | Happening::IsolationEnds { .. }
        | Happening::Leaves { .. }
        | Happening::LeafOut { .. }
        | Happening::HarvestBegins { .. }
        | Happening::YardCleaned
        | Happening::GuardUp { .. }
        | Happening::GuardDown { .. }
        | Happening::GateSet { .. }
        | Happening::GateFree { .. }
        | Happening::EmergenceBegins { .. } => Touched::Nothing,
    }
}

/// Applies one event; `false` if it found nothing to do.
fn apply(world: &mut World, day: usize, happening: Happening) -> bool {
    match happening {
        Happening::OrderBegins { event } => order_begins(world, day, event),
        Happening::OrderEnds => world.housed = false,
        Happening::Arrives { group } => arrives(world, group),
        Happening::IsolationEnds { group } => isolation_ends(world, group),
        Happening::Leaves { group } => leaves(world, group),
        Happening::LeafOut { plot } => leaf_out(world, plot, day),
        Happening::LeafFall { plot } => leaf_fall(world, plot, day),
        Happening::CountingStarts { pest } => counting_starts(world, pest, day),
        Happening::SeasonEnds { pest } => season_ends(world, pest, day),
        Happening::CropIn { plot, ground, crop } => return crop_in(world, day, plot, ground, crop),
        Happening::HarvestBegins { plot } => harvest_begins(world, day, plot),
        Happening::HarvestEnds { plot, ground, crop } => return harvest_ends(world, day, plot, ground, crop),
        Happening::CropOut { plot, ground, crop } => return crop_out(world, day, plot, ground, crop),
        Happening::CareDue { plot, care } => care_due(world, day, plot, care),
        Happening::HeapSpread { plot, event } => heap_spread(world, day, plot, event),
        Happening::YardCleaned => yard_cleaned(world, day),
        Happening::GuardUp { plot, guard } => set_guard(world, day, plot, guard, true),
        Happening::GuardDown { plot, guard } => set_guard(world, day, plot, guard, false),
        Happening::GateSet { plot, event } => gate_set(world, day, plot, event),
        Happening::GateFree { plot } => world.by_hand[plot] = None,
        Happening::EmergenceBegins { .. } => {}
    }
    true
}

fn order_begins(world: &mut World, day: usize, event: usize) {
    let site = world.site;
    let e = &site.events[event];
    world.housed = true;
    if let Some(until) = e.until {
        // Begun before the run: its end is the next one from today.
        let today = world.drivers.days[day].date;
        if let Some(last) = crate::drivers::next_on_or_after(until, today) {
            let days = crate::drivers::days_between(today, last) as usize;
            world.agenda.put(day + days + 1, Happening::OrderEnds);
        }
    }
    put_again(world, e.on, day, Happening::OrderBegins { event });
}

fn arrives(world: &mut World, group: usize) {
    let g = &world.site.groups[group];
    world.groups[group].here = true;
    world.groups[group].isolated_in = g.isolate.map(|(plot, _)| plot);
    match g.isolate {
        Some((plot, _)) => world.plots[plot].isolation = true,
        None => joins(world, group),
    }
    world.site_flows.add(SiteFlow::Arrived, g.number);
    world.recount_parties();
}

fn isolation_ends(world: &mut World, group: usize) {
    if let Some(plot) = world.groups[group].isolated_in.take() {
        world.plots[plot].isolation = world.groups.iter().any(|g| g.isolated_in == Some(plot));
    }
    joins(world, group);
    world.recount_parties();
}

/// From now on the birds are counted as those they join: young hens have come into lay.
fn joins(world: &mut World, group: usize) {
    if let Some(other) = world.site.groups[group].joins {
        world.groups[group].class = world.groups[other].class;
    }
}

fn leaves(world: &mut World, group: usize) {
    if !world.groups[group].here {
        return;
    }
    isolation_ends(world, group);
    world.groups[group].here = false;
    world.site_flows.add(SiteFlow::Left, world.site.groups[group].number);
    world.recount_parties();
}

fn leaf_out(world: &mut World, plot: usize, day: usize) {
    world.plots[plot].in_leaf = true;
    if let Some(canopy) = world.site.plots[plot].canopy {
        let days = world.site.canopies[canopy].numbers.leaf_out;
        let tomorrow = date_after(world, day);
        put_after_solstice(world, days, tomorrow, Happening::LeafOut { plot });
    }
}

fn leaf_fall(world: &mut World, plot: usize, day: usize) {
    let Some(canopy) = world.site.plots[plot].canopy else { return };
    world.plots[plot].in_leaf = world.site.canopies[canopy].evergreen;
    let numbers = &world.site.canopies[canopy].numbers;
    for zone in world.plan.plots[plot].zones.clone() {
        hands::leaf_fall(&mut world.zones[zone], numbers);
        world.see_zone(zone);
    }
    let tomorrow = date_after(world, day);
    put_after_solstice(world, numbers.leaf_fall, tomorrow, Happening::LeafFall { plot });
}

fn counting_starts(world: &mut World, pest: usize, day: usize) {
    world.pest_age[pest] = Some(0.0);
    let site = world.site;
    for here in &world.plan.zones {
        let species = &site.plots[here.plot].pests;
        for (state, p) in world.pests[here.pests.clone()].iter_mut().zip(species) {
            if p.pest == pest {
                pests::start_season(state);
            }
        }
    }
    let tomorrow = date_after(world, day);
    put_after_solstice(world, site.pests[pest].numbers.counting_from, tomorrow, Happening::CountingStarts { pest });
}

fn season_ends(world: &mut World, pest: usize, day: usize) {
    world.pest_age[pest] = None;
    let site = world.site;
    let n = &site.pests[pest].numbers;
    for here in &world.plan.zones {
        let species = &site.plots[here.plot].pests;
        for (state, p) in world.pests[here.pests.clone()].iter_mut().zip(species) {
            if p.pest == pest {
                pests::end_season(state, n);
            }
        }
    }
    let tomorrow = date_after(world, day);
    put_after_solstice(world, n.season_end, tomorrow, Happening::SeasonEnds { pest });
}

/// Zones of one ground of a plot.
fn zones_of(world: &World, plot: usize, ground: usize) -> impl Iterator<Item = usize> + use<> {
    let first = world.plan.plots[plot].zones.start;
    let grounds = world.site.plots[plot].grounds.len();
    let rings = world.site.plots[plot].rings;
    (0..rings).map(move |ring| first + ring * grounds + ground)
}

fn crop_in(world: &mut World, day: usize, plot: usize, ground: usize, crop: usize) -> bool {
    let (site, drivers) = (world.site, world.drivers);
    let plan = &site.plots[plot].grounds[ground].crops[crop];
    put_again(world, plan.from, day, Happening::CropIn { plot, ground, crop });
    for zone in zones_of(world, plot, ground) {
        if let Some(old) = world.zones[zone].crop_standing {
            let kind = &site.crops[site.plots[plot].grounds[ground].crops[old].crop];
            crops::end(&mut world.zones[zone], kind, false);
        }
        let here = &world.plan.zones[zone];
        let (weeds, creepers) = (here.weeds.clone(), here.creepers.clone());
        let around = around(site, drivers, &world.plan, zone, day, None);
        hands::dig(&mut world.zones[zone], &mut world.weeds[weeds], &mut world.creepers[creepers], &around);
        crops::plant(&mut world.zones[zone], crop, &site.crops[plan.crop]);
        world.see_zone(zone);
    }
    recount_crops(world, plot);
    true
}

/// Harvest windows only show in the diary when they open; the rules know them from the drivers.
fn harvest_begins(world: &mut World, day: usize, plot: usize) {
    let site = world.site;
    let today = world.drivers.days[day].date;
    let starts_today = site.plots[plot].grounds.iter().flat_map(|g| &g.crops).filter_map(|c| c.harvest);
    for window in starts_today {
        let today_is = crate::drivers::next_on_or_after(window.from, today) == Some(today);
        if today_is {
            put_again(world, window.from, day, Happening::HarvestBegins { plot });
        }
    }
}

fn harvest_ends(world: &mut World, day: usize, plot: usize, ground: usize, crop: usize) -> bool {
    let site = world.site;
    let plan = &site.plots[plot].grounds[ground].crops[crop];
    let today = world.drivers.days[day].date;
    if let Some(window) = plan.harvest
        && crate::drivers::next_on_or_after(window.to, today) == Some(today)
    {
        put_again(world, window.to, day, Happening::HarvestEnds { plot, ground, crop });
    }
    take_yield(world, plot, ground, crop)
}

/// Takes the yield of a crop where it stands; `false` where it does not.
fn take_yield(world: &mut World, plot: usize, ground: usize, crop: usize) -> bool {
    let site = world.site;
    let kind = &site.crops[site.plots[plot].grounds[ground].crops[crop].crop];
    let mut taken = false;
    for zone in zones_of(world, plot, ground) {
        if world.zones[zone].crop_standing == Some(crop) {
            let damage = pest_damage(world, zone, &kind.family);
            crops::harvest(&mut world.zones[zone], kind, damage);
            world.see_zone(zone);
            taken = true;
        }
    }
    taken
}

/// Share of a crop that this season's pests of its family have spoilt.
fn pest_damage(world: &World, zone: usize, family: &str) -> f64 {
    let here = &world.plan.zones[zone];
    let site = world.site;
    let mut sound = 1.0;
    for (state, p) in world.pests[here.pests.clone()].iter().zip(&site.plots[here.plot].pests) {
        let pest = &site.pests[p.pest];
        if let crate::kinds::Host::Crops(families) = &pest.host
            && families.iter().any(|f| f == family)
        {
            sound *= 1.0 - pests::damage(state, &pest.numbers);
        }
    }
    1.0 - sound
}

fn crop_out(world: &mut World, day: usize, plot: usize, ground: usize, crop: usize) -> bool {
    let site = world.site;
    let plan = &site.plots[plot].grounds[ground].crops[crop];
    let today = world.drivers.days[day].date;
    if crate::drivers::next_on_or_after(plan.to, today) == Some(today) {
        put_again(world, plan.to, day, Happening::CropOut { plot, ground, crop });
    }
    if plan.harvest.is_none() {
        take_yield(world, plot, ground, crop);
    }
    let mut ended = false;
    for zone in zones_of(world, plot, ground) {
        if world.zones[zone].crop_standing == Some(crop) {
            crops::end(&mut world.zones[zone], &site.crops[plan.crop], plan.cleared);
            world.see_zone(zone);
            ended = true;
        }
    }
    if ended {
        world.plots[plot].days_since_crop = 0.0;
    }
    recount_crops(world, plot);
    ended
}

fn recount_crops(world: &mut World, plot: usize) {
    let zones = world.plan.plots[plot].zones.clone();
    world.plots[plot].crop_standing = world.zones[zones].iter().any(|z| z.crop_standing.is_some());
}

/// Whether a task is done on beds only (where a plot has beds), on sward only, or everywhere.
fn works_on(task: Task, bed: bool, plot_has_beds: bool) -> bool {
    match task {
        Task::Mow { .. } => !bed,
        Task::Clear => bed || !plot_has_beds,
        Task::Hoe { .. } | Task::Mulch { .. } | Task::Compost { .. } => bed || !plot_has_beds,
    }
}

fn care_due(world: &mut World, day: usize, plot: usize, care: usize) {
    let (site, drivers) = (world.site, world.drivers);
    let c = site.plots[plot].care[care];
    let has_beds = site.plots[plot].grounds.iter().any(|g| g.bed);
    for zone in world.plan.plots[plot].zones.clone() {
        let here = &world.plan.zones[zone];
        if works_on(c.task, here.bed, has_beds) {
            world.care_hours += c.effort_h_m2 * here.area_m2;
            let (weeds, creepers) = (here.weeds.clone(), here.creepers.clone());
            let around = around(site, drivers, &world.plan, zone, day, world.zones[zone].crop_standing);
            hands::work(
                c.task,
                &mut world.zones[zone],
                &mut world.weeds[weeds],
                &mut world.creepers[creepers],
                &around,
            );
        }
    }
    put_care_again(world, plot, care, day);
}

/// Spreads all of the heap on the plot's beds, or on all of it where it has none.
fn heap_spread(world: &mut World, day: usize, plot: usize, event: usize) {
    let site = world.site;
    let has_beds = site.plots[plot].grounds.iter().any(|g| g.bed);
    let takes = |zone: usize, world: &World| world.plan.zones[zone].bed || !has_beds;
    let zones = world.plan.plots[plot].zones.clone();
    let area: f64 = zones.clone().filter(|&z| takes(z, world)).map(|z| world.plan.zones[z].area_m2).sum();
    let heap = core::mem::take(&mut world.heap);
    for zone in zones {
        if takes(zone, world) {
            // kg on m² to kg/ha.
            let per_ha = 1000.0 * KG_HA / area;
            hands::fertilise(&mut world.zones[zone], heap.n_kg * per_ha, heap.p_kg * per_ha, Flow::HeapN, Flow::HeapP);
        }
    }
    world.site_flows.add(SiteFlow::SpreadN, heap.n_kg);
    world.site_flows.add(SiteFlow::SpreadP, heap.p_kg);
    world.site_flows.add(SiteFlow::SpreadSolids, heap.solids_kg);
    put_again(world, site.events[event].on, day, Happening::HeapSpread { plot, event });
}

/// Droppings and their worm eggs go from the yard to the heap, where the eggs count no more.
fn yard_cleaned(world: &mut World, day: usize) {
    let yard = core::mem::take(&mut world.yard);
    world.heap.n_kg += yard.n_kg;
    world.heap.p_kg += yard.p_kg;
    world.heap.solids_kg += yard.solids_kg;
    world.yard.water = yard.water;
    world.yard.mud = yard.mud;
    // Scraping does not find every egg.
    world.yard.worms = yard.worms * EGGS_LEFT_AFTER_CLEANING;
    if let Some(every) = world.site.yard.cleaned_every_days {
        world.agenda.put(day + every as usize, Happening::YardCleaned);
    }
}

/// Share of worm eggs left in a yard that was cleaned out (common practice, no source).
const EGGS_LEFT_AFTER_CLEANING: f64 = 0.2;

fn set_guard(world: &mut World, day: usize, plot: usize, guard: usize, up: bool) {
    let site = world.site;
    world.guards_up[plot][guard] = up;
    let standing = site.plots[plot].guards.iter().zip(&world.guards_up[plot]).filter(|(_, up)| **up);
    world.plots[plot].guarded = standing.map(|(g, _)| g.share).sum::<f64>().min(1.0);
    let g = site.plots[plot].guards[guard];
    let (when, happening): (When, Happening) =
        if up { (g.from, Happening::GuardUp { plot, guard }) } else { (g.to, Happening::GuardDown { plot, guard }) };
    put_again(world, when, day, happening);
}

fn gate_set(world: &mut World, day: usize, plot: usize, event: usize) {
    let site = world.site;
    let e = &site.events[event];
    if let SiteEventKind::GateByHand { open, .. } = e.what {
        world.by_hand[plot] = Some(open);
    }
    let today = world.drivers.days[day].date;
    match e.until {
        Some(until) => {
            if let Some(last) = crate::drivers::next_on_or_after(until, today) {
                let days = crate::drivers::days_between(today, last) as usize;
                world.agenda.put(day + days + 1, Happening::GateFree { plot });
            }
        }
        None => world.agenda.put(day + 1, Happening::GateFree { plot }),
    }
    let tomorrow = date_after(world, day);
    if let When::Yearly { .. } = e.on {
        put_when(world, e.on, tomorrow, Happening::GateSet { plot, event });
    }
}
