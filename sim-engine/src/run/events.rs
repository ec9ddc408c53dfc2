//! What each event does to the world.
//!
//! Work on the ground is in `plot/manual_care.rs`, crops are in `plot/crops.rs`, seasons of pests in `plot/pests/`; here
//! stands who and what an event touches, and when it comes again. Figures of its own: pests of a crop's family spoil it together,
//! damage = 1 − Π (1 − damage of each) (independent of each other: ours, no source); a plot's share of a heap of kg is spread evenly over
//! the m² of its beds, or of all of it where it has none (common practice, no source).

use crate::agenda::Event;
use crate::dates::{days_between, last_before, next_on_or_after};
use crate::ledger::flows::{Flow, SiteFlow};
use crate::load::Load;
use crate::plot::{crops, harvest, manual_care, pests};
use crate::run::care;
use crate::run::guards;
use crate::run::world::{World, zone_context};
use crate::run::zone_editor::ZoneEditor;
use crate::schedule::{date_after, put_after_solstice, put_again, put_when};
use crate::site::{Quarters, Site, SiteEventKind, When};
use crate::species::Host;
use crate::state::PestHere;
use crate::units::{KG_HA_PER_G_M2, KG_PER_G};

/// Takes all events due on `day` off the agenda, in their order; `each` hears of every one
/// that took effect.
pub(crate) fn run_due(world: &mut World, ground: &mut ZoneEditor, day: usize, mut each: impl FnMut(Event)) {
    while let Some(event) = world.agenda.take_due(day) {
        if !apply(world, ground, day, event) {
            continue;
        }
        each(event);
        if let Some(plot) = works_on_plot(event) {
            world.see_plot(plot, ground);
        }
    }
}

/// The plot whose zones `event` works on, to be looked at anew.
fn works_on_plot(event: Event) -> Option<usize> {
    match event {
        Event::LeafFall { plot, .. }
        | Event::CropIn { plot, .. }
        | Event::HarvestEnds { plot, .. }
        | Event::CropOut { plot, .. }
        | Event::CareDue { plot, .. }
        | Event::HeapSpread { plot, .. } => Some(plot),
        Event::OrderBegins { .. }
        | Event::OrderEnds
        | Event::Arrives { .. }
        | Event::IsolationEnds { .. }
        | Event::Leaves { .. }
        | Event::LeafOut { .. }
        | Event::FruitPicked { .. }
        | Event::CountingStarts { .. }
        | Event::SeasonEnds { .. }
        | Event::HarvestBegins { .. }
        | Event::YardCleaned
        | Event::GuardUp { .. }
        | Event::GuardDown { .. }
        | Event::NetUp { .. }
        | Event::NetDown { .. }
        | Event::GateSet { .. }
        | Event::KeepOut { .. }
        | Event::GateFree { .. }
        | Event::EmergenceBegins { .. } => None,
    }
}

/// Applies one event; `false` if it found nothing to do.
fn apply(world: &mut World, ground: &mut ZoneEditor, day: usize, event: Event) -> bool {
    match event {
        Event::OrderBegins { event } => order_begins(world, day, event),
        Event::OrderEnds => world.housed = false,
        Event::Arrives { group } => arrives(world, group),
        Event::IsolationEnds { group } => isolation_ends(world, group),
        Event::Leaves { group } => leaves(world, group),
        Event::LeafOut { plot, canopy } => leaf_out(world, plot, canopy, day),
        Event::LeafFall { plot, canopy } => leaf_fall(world, ground, day, [plot, canopy]),
        Event::FruitPicked { plot, canopy } => fruit_picked(world, ground, day, [plot, canopy]),
        Event::CountingStarts { pest } => counting_starts(world, ground, pest, day),
        Event::SeasonEnds { pest } => season_ends(world, ground, pest, day),
        Event::CropIn { plot, ground: bed, crop } => return crop_in(world, ground, day, [plot, bed, crop]),
        Event::HarvestBegins { plot } => harvest_begins(world, day, plot),
        Event::HarvestEnds { plot, ground: bed, crop } => {
            return harvest_ends(world, ground, day, [plot, bed, crop]);
        }
        Event::CropOut { plot, ground: bed, crop } => return crop_out(world, ground, day, [plot, bed, crop]),
        Event::CareDue { plot, care } => return care::care_due(world, ground, day, plot, care),
        Event::HeapSpread { plot, event } => heap_spread(world, ground, day, plot, event),
        Event::YardCleaned => yard_cleaned(world, day),
        Event::GuardUp { plot, guard } => set_guard(world, day, plot, guard, true),
        Event::GuardDown { plot, guard } => set_guard(world, day, plot, guard, false),
        Event::NetUp { plot, net } => set_net(world, day, plot, net, true),
        Event::NetDown { plot, net } => set_net(world, day, plot, net, false),
        Event::GateSet { plot, event } => gate_set(world, day, plot, event),
        Event::KeepOut { plot, event } => keep_out(world, day, plot, event),
        Event::GateFree { plot } => world.by_hand[plot] = None,
        Event::EmergenceBegins { .. } => {}
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
        if let Some(last) = next_on_or_after(until, today) {
            let days = days_between(today, last) as usize;
            world.agenda.put(day + days + 1, Event::OrderEnds);
        }
    }
    put_again(world, e.on, day, Event::OrderBegins { event });
}

fn arrives(world: &mut World, group: usize) {
    let g = &world.site.groups[group];
    world.groups[group].present = true;
    let quarters = g.isolate.map(|isolation| isolation.quarters);
    world.groups[group].isolated_in = quarters;
    match quarters {
        Some(Quarters::Plot(plot)) => world.plots[plot].isolation = true,
        Some(Quarters::Indoors) => {}
        None => joins(world, group),
    }
    world.site_flows.add(SiteFlow::Arrived, g.number);
    world.recount_parties();
}

fn isolation_ends(world: &mut World, group: usize) {
    if let Some(Quarters::Plot(plot)) = world.groups[group].isolated_in.take() {
        world.plots[plot].isolation = world.groups.iter().any(|g| g.isolated_in == Some(Quarters::Plot(plot)));
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
    if !world.groups[group].present {
        return;
    }
    isolation_ends(world, group);
    world.groups[group].present = false;
    // What they ate on their last day goes with them.
    let taken_along = core::mem::take(&mut world.groups[group].droppings);
    world.site_flows.add(SiteFlow::LeftN, taken_along.n * KG_PER_G);
    world.site_flows.add(SiteFlow::LeftP, taken_along.p * KG_PER_G);
    world.site_flows.add(SiteFlow::Left, world.site.groups[group].number);
    world.recount_parties();
}

fn leaf_out(world: &mut World, plot: usize, canopy: usize, day: usize) {
    let kind = world.site.plots[plot].canopies[canopy].canopy;
    let days = world.site.canopies[kind].params.leaf_out;
    let tomorrow = date_after(world, day);
    put_after_solstice(world, days, tomorrow, Event::LeafOut { plot, canopy });
}

fn leaf_fall(world: &mut World, ground: &mut ZoneEditor, day: usize, [plot, canopy]: [usize; 2]) {
    let here = &world.site.plots[plot].canopies[canopy];
    let params = &world.site.canopies[here.canopy].params;
    for zone in world.constants.plots[plot].zones.clone() {
        ground.edit(&world.constants, zone, |state| {
            manual_care::leaf_fall(&mut state.zone, params, here.share);
            world.see_zone(zone, state);
        });
    }
    let tomorrow = date_after(world, day);
    put_after_solstice(world, params.leaf_fall, tomorrow, Event::LeafFall { plot, canopy });
}

/// The year's fruit of a canopy is picked, and its count of birds begins anew.
fn fruit_picked(world: &mut World, ground: &mut ZoneEditor, day: usize, [plot, canopy]: [usize; 2]) {
    let site = world.site;
    let here = &site.plots[plot].canopies[canopy];
    let params = &site.canopies[here.canopy].params;
    let bird_days_m2 = core::mem::take(&mut world.fruit_bird_days[plot][canopy]);
    for zone in world.constants.plots[plot].zones.clone() {
        let states = &ground.look(&world.constants, zone).pests;
        let damage = pest_damage(site, plot, states, |_, hosts| hosts.contains(&canopy));
        let area_m2 = world.constants.zones[zone].area_m2 * here.share;
        let harvest = harvest::of_fruit(params, area_m2, damage, bird_days_m2, site.process.fruit_taking);
        world.harvests[plot][site.crops.len() + here.canopy].add(&harvest);
    }
    let tomorrow = date_after(world, day);
    put_after_solstice(world, params.fruit_to, tomorrow, Event::FruitPicked { plot, canopy });
}

fn counting_starts(world: &mut World, ground: &mut ZoneEditor, pest: usize, day: usize) {
    world.counting[pest] = true;
    for (watched, noted) in world.constants.watched.iter().zip(&mut world.noted) {
        *noted &= watched.pest != pest;
    }
    ground.edit_pest(&world.constants, pest, |state, _| pests::start_season(state));
    ground.note_seasons();
    let tomorrow = date_after(world, day);
    let counting_from = world.site.pests[pest].params.counting_from;
    put_after_solstice(world, counting_from, tomorrow, Event::CountingStarts { pest });
}

fn season_ends(world: &mut World, ground: &mut ZoneEditor, pest: usize, day: usize) {
    let params = &world.site.pests[pest].params;
    if core::mem::take(&mut world.counting[pest]) {
        ground.edit_pest(&world.constants, pest, |state, host_share| pests::end_season(state, params, host_share));
        ground.note_seasons();
    }
    let tomorrow = date_after(world, day);
    put_after_solstice(world, params.season_end, tomorrow, Event::SeasonEnds { pest });
}

/// Zones of one ground of a plot.
pub(crate) fn zones_of(world: &World, plot: usize, bed: usize) -> impl Iterator<Item = usize> + use<> {
    let first = world.constants.plots[plot].zones.start;
    let grounds = world.site.plots[plot].grounds.len();
    let rings = world.site.plots[plot].rings;
    (0..rings).map(move |ring| first + ring * grounds + bed)
}

fn crop_in(world: &mut World, ground: &mut ZoneEditor, day: usize, [plot, bed, crop]: [usize; 3]) -> bool {
    let (site, drivers) = (world.site, world.drivers);
    let plan = &site.plots[plot].grounds[bed].crops[crop];
    put_again(world, plan.from, day, Event::CropIn { plot, ground: bed, crop });
    if world.care {
        care::clear_bed(world, ground, plot, bed);
    }
    for zone in zones_of(world, plot, bed) {
        let old = world.standing[zone].replace(crop);
        ground.edit(&world.constants, zone, |state| {
            if let Some(old) = old {
                let kind = &site.crops[site.plots[plot].grounds[bed].crops[old].crop];
                crops::end(&mut state.zone, kind);
            }
            let context = zone_context(site, drivers, &world.constants, zone, day, None);
            manual_care::dig(&mut state.zone, &mut state.weeds, &mut state.creepers, &context);
            crops::plant(&mut state.zone, &site.crops[plan.crop]);
            world.see_zone(zone, state);
        });
    }
    recount_crops(world, ground, plot);
    true
}

/// Harvest windows only show in the diary when they open; the rules know them from the drivers.
fn harvest_begins(world: &mut World, day: usize, plot: usize) {
    let site = world.site;
    let today = world.drivers.days[day].date;
    let starts_today = site.plots[plot].grounds.iter().flat_map(|g| &g.crops).filter_map(|c| c.harvest);
    for window in starts_today {
        let today_is = next_on_or_after(window.from, today) == Some(today);
        if today_is {
            put_again(world, window.from, day, Event::HarvestBegins { plot });
        }
    }
}

fn harvest_ends(world: &mut World, ground: &mut ZoneEditor, day: usize, [plot, bed, crop]: [usize; 3]) -> bool {
    let site = world.site;
    let plan = &site.plots[plot].grounds[bed].crops[crop];
    let today = world.drivers.days[day].date;
    if let Some(window) = plan.harvest
        && next_on_or_after(window.to, today) == Some(today)
    {
        put_again(world, window.to, day, Event::HarvestEnds { plot, ground: bed, crop });
    }
    take_yield(world, ground, [plot, bed, crop])
}

/// Takes the yield of a crop where it stands; `false` where it does not.
fn take_yield(world: &mut World, ground: &mut ZoneEditor, [plot, bed, crop]: [usize; 3]) -> bool {
    let site = world.site;
    let index = site.plots[plot].grounds[bed].crops[crop].crop;
    let kind = &site.crops[index];
    let mut taken = false;
    for zone in zones_of(world, plot, bed) {
        if world.standing[zone] != Some(crop) {
            continue;
        }
        let area_m2 = world.constants.zones[zone].area_m2;
        let harvest = ground.edit(&world.constants, zone, |state| {
            let damage = pest_damage(site, plot, &state.pests, |host, _| host.is_crop_of(&kind.family));
            let harvest = crops::harvest(&mut state.zone, kind, damage, area_m2);
            world.see_zone(zone, state);
            harvest
        });
        world.harvests[plot][index].add(&harvest);
        taken = true;
    }
    taken
}

/// Share of a harvest that this season's pests of these hosts have spoilt.
fn pest_damage(site: &Site, plot: usize, states: &[PestHere], spoils: impl Fn(&Host, &[usize]) -> bool) -> f64 {
    let mut sound = 1.0;
    for (state, p) in states.iter().zip(&site.plots[plot].pests) {
        let pest = &site.pests[p.pest];
        if spoils(&pest.host, &p.hosts) {
            sound *= 1.0 - pests::damage(state, &pest.params, site.plots[plot].host_share(p));
        }
    }
    1.0 - sound
}

fn crop_out(world: &mut World, ground: &mut ZoneEditor, day: usize, [plot, bed, crop]: [usize; 3]) -> bool {
    let site = world.site;
    let plan = &site.plots[plot].grounds[bed].crops[crop];
    let today = world.drivers.days[day].date;
    if next_on_or_after(plan.to, today) == Some(today) {
        put_again(world, plan.to, day, Event::CropOut { plot, ground: bed, crop });
    }
    if plan.harvest.is_none() {
        take_yield(world, ground, [plot, bed, crop]);
    }
    let mut ended = false;
    for zone in zones_of(world, plot, bed) {
        if world.standing[zone] != Some(crop) {
            continue;
        }
        world.standing[zone] = None;
        ground.edit(&world.constants, zone, |state| {
            crops::end(&mut state.zone, &site.crops[plan.crop]);
            world.see_zone(zone, state);
        });
        ended = true;
    }
    if ended {
        world.plots[plot].days_since_crop = 0.0;
        if plan.cleared && world.care {
            care::clear_bed(world, ground, plot, bed);
        }
    }
    recount_crops(world, ground, plot);
    ended
}

/// A crop came or went on a plot.
pub(crate) fn recount_crops(world: &mut World, ground: &mut ZoneEditor, plot: usize) {
    let zones = world.constants.plots[plot].zones.clone();
    world.plots[plot].crop_standing = world.standing[zones].iter().any(Option::is_some);
    guards::recount_crops(world, plot);
    ground.note_crops(plot);
}

/// Spreads a plot's share of the heap on its beds, or on all of it where it has none. The plots of an event follow
/// each other on its day: each takes its share of what is left, the last all of it.
fn heap_spread(world: &mut World, ground: &mut ZoneEditor, day: usize, plot: usize, event: usize) {
    let site = world.site;
    let has_beds = site.plots[plot].grounds.iter().any(|g| g.bed);
    let takes = |zone: usize, world: &World| world.constants.zones[zone].bed || !has_beds;
    let zones = world.constants.plots[plot].zones.clone();
    let area: f64 = zones.clone().filter(|&z| takes(z, world)).map(|z| world.constants.zones[z].area_m2).sum();
    let SiteEventKind::SpreadHeap { plots } = &site.events[event].what else { return };
    let mut still_to_come = plots.iter().skip_while(|(to, _)| *to != plot).map(|(_, share)| share);
    let own = still_to_come.next().copied().unwrap_or(0.0);
    let rest: f64 = still_to_come.sum();
    let heap = world.heap.take(if rest > 0.0 { own / (own + rest) } else { 1.0 });
    for zone in zones {
        if takes(zone, world) {
            // kg on m² to kg/ha.
            let per_ha = 1000.0 * KG_HA_PER_G_M2 / area;
            let (n, p) = (heap.n_kg * per_ha, heap.p_kg * per_ha);
            let here = &world.constants.zones[zone];
            let share = here.share / site.plots[plot].grounds[here.ground].share;
            world.loads.brought(plot, here.ground, Load { n, p }, share);
            ground.edit(&world.constants, zone, |state| {
                manual_care::fertilise(&mut state.zone, n, p, Flow::HeapN, Flow::HeapP);
            });
        }
    }
    world.site_flows.add(SiteFlow::SpreadN, heap.n_kg);
    world.site_flows.add(SiteFlow::SpreadP, heap.p_kg);
    world.site_flows.add(SiteFlow::SpreadSolids, heap.solids_kg);
    put_again(world, site.events[event].on, day, Event::HeapSpread { plot, event });
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
    world.yard.worms.frail.infective = yard.worms.frail.infective * EGGS_LEFT_AFTER_CLEANING;
    world.yard.worms.hardy.infective = yard.worms.hardy.infective * EGGS_LEFT_AFTER_CLEANING;
    if let Some(every) = world.site.yard.cleaned_every_days {
        world.agenda.put(day + every as usize, Event::YardCleaned);
    }
}

/// Share of worm eggs left in a yard that was cleaned out (common practice, no source).
const EGGS_LEFT_AFTER_CLEANING: f64 = 0.2;

fn set_guard(world: &mut World, day: usize, plot: usize, guard: usize, up: bool) {
    let site = world.site;
    world.guards_up[plot][guard] = up;
    guards::recount(world, plot);
    let g = site.plots[plot].guards[guard];
    if world.care {
        world.work[plot].guards += site.plots[plot].area_m2 * g.share * site.process.guard_time;
    }
    let (when, event): (When, Event) =
        if up { (g.from, Event::GuardUp { plot, guard }) } else { (g.to, Event::GuardDown { plot, guard }) };
    put_again(world, when, day, event);
}

fn set_net(world: &mut World, day: usize, plot: usize, net: usize, up: bool) {
    let spec = &world.site.plots[plot];
    world.nets_up[plot][net] = up;
    let standing = spec.nets.iter().zip(&world.nets_up[plot]).filter(|(_, up)| **up);
    world.plots[plot].netted = standing.map(|(net, _)| net.share).sum::<f64>().min(1.0);
    let n = spec.nets[net];
    if world.care {
        world.work[plot].guards += spec.area_m2 * n.share * world.site.process.net_time;
    }
    let (when, event) = if up { (n.from, Event::NetUp { plot, net }) } else { (n.to, Event::NetDown { plot, net }) };
    put_again(world, when, day, event);
}

/// Of two things that keep birds out the one that lasts longer counts.
fn keep_out(world: &mut World, day: usize, plot: usize, event: usize) {
    let e = &world.site.events[event];
    let (today, tomorrow) = (world.drivers.days[day].date, date_after(world, day));
    if let SiteEventKind::KeepOut { treatment, days, .. } = e.what {
        // Begun before the run: some of its days are over.
        let over = last_before(e.on, tomorrow).map_or(0, |last| days_between(last, today).max(0) as usize);
        let until = day + (days as usize).saturating_sub(over);
        let memory = &mut world.plots[plot];
        if memory.keep_out.is_none_or(|(_, known)| known < until) {
            memory.keep_out = Some((treatment, until));
        }
    }
    put_again(world, e.on, day, Event::KeepOut { plot, event });
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
            if let Some(last) = next_on_or_after(until, today) {
                let days = days_between(today, last) as usize;
                world.agenda.put(day + days + 1, Event::GateFree { plot });
            }
        }
        None => world.agenda.put(day + 1, Event::GateFree { plot }),
    }
    let tomorrow = date_after(world, day);
    if let When::Yearly { .. } = e.on {
        put_when(world, e.on, tomorrow, Event::GateSet { plot, event });
    }
}
