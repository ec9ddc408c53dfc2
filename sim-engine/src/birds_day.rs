//! The birds' day: where they are, what the ground gives them, what they leave behind.
//!
//! # Formulas
//!
//! ```text
//! pull of a gate = pull of the plot · min(1, birds let through/birds)                              flock/foraging.rs
//! distance of a gate = its own to the yard; from a house that moves 0 to the plot it stands on, that of both plots to another
//! on a plot, per m² = bird-days there / area · what a bird-day of the party does                   flock/party.rs
//! droppings there, or in the yard = (1 − night_share) · bird-days there / max(birds, bird-days outdoors)   of the party's day
//! droppings in the house          = night_share + (1 − night_share) · (1 − the same for all bird-days outdoors)
//! washed off the yard = min(1, yard_runoff · rain / 20 mm)                                         share a day
//! top of the yard  W = max(0, (W + rain and melt) · (1 − 0.3) − crop_coefficient_bare · ET0)       mm; mud above 5
//! heap             · exp(−heap_loss · Q10) of nitrogen, · exp(−heap_decay · Q10) of dry matter     a day, kept
//! feed saved = min(need, green · green_energy + insects · insect_energy + other · fruit_energy) / feed_energy      g
//! heat       = hours of heat · (1 − share of the time outdoors spent in shade)                     h
//! uptake     = worm eggs taken up on plots and in the yard / bird-days outdoors                    per bird-day
//! ```
//!
//! Under a roof no rain falls. A house that moves with the flock stands where a gate is open, else in the yard; what falls in it
//! lies on that plot, alike in all its rings, with its worm eggs. Need: `flock/energy.rs`; the party's droppings: `flock/excretion.rs`; what the heap keeps comes with the day (`drivers.rs`).
//!
//! # Source
//!
//! Droppings by time spent: common practice, no source. Mud, washing off and the heap: forms ours, numbers from memory. Energy
//! of grass: Antell & Ciszuk 2006; of the rest from memory (library).
//!
//! # Limits
//!
//! Droppings fall as time is spent, not more by the gate or under a tree. On long days birds are out for more than one
//! bird-day of 12 hours; they drop no more than the day's droppings there. What is washed off the yard is gone. All birds of
//! a party share what it found. On a day without an open gate a house that moves goes back to the yard, and its work is
//! counted; a group kept apart sleeps in a house of its own whose droppings go to the heap.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams  yard_pull [-], home_pull [m], worm_shed [1/bird-day], worm_uptake [m2/bird-day], worm_hardy_share [-],
//!                yard_runoff [1/d],
//!                crop_coefficient_bare [-], green_energy [kcal/g], insect_energy [kcal/g], fruit_energy [kcal/g],
//!                feed_energy [kcal/g]
//! ```

use crate::flock::activity::share_before;
use crate::flock::excretion::Balance;
use crate::flock::foraging::{OpenGate, pull, reach_m, share_out};
use crate::flock::infection;
use crate::flock::party::Party;
use crate::gates::Opening;
use crate::ledger::flows::{SiteFlow, SiteFlows};
use crate::load::Load;
use crate::plot::bites::{Intake, Pressure};
use crate::plot::constants::PlotConstants;
use crate::plot::worm_eggs;
use crate::run::world::{PlotBirds, World};
use crate::site::{Quarters, Site};
use crate::units::{KG_HA_PER_G_M2, KG_PER_G};

/// Water the top of a yard holds before it turns to mud, mm, and the share of it that
/// drains in a day (from memory).
const YARD_MUD_MM: f64 = 5.0;
const YARD_DRAINS: f64 = 0.3;
/// Rain for which `yard_runoff` is stated, mm.
const YARD_RUNOFF_RAIN_MM: f64 = 20.0;

/// What a day was for the birds, whole site.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BirdsDay {
    /// Birds on the site.
    pub birds: f64,
    /// Bird-days in the yard.
    pub yard_bird_days: f64,
    /// Green eaten, kg DM.
    pub green_kg: f64,
    /// Residue, fruit and seed eaten, kg DM.
    pub other_kg: f64,
    /// Insects and worms eaten, kg DM.
    pub insects_kg: f64,
    /// Feed saved, kg as fed.
    pub feed_saved_kg: f64,
    /// Feed bought, kg as fed: what the birds need less what they found.
    pub feed_bought_kg: f64,
    /// Eggs laid, kg.
    pub eggs_kg: f64,
    /// Hours of heat the birds spent without shade.
    pub heat_hours: f64,
    /// Kept in by order.
    pub housed: bool,
    /// No plot open to the flock.
    pub yard_day: bool,
    /// Mud in the yard.
    pub mud: bool,
    /// The house was moved.
    pub house_moved: bool,
    /// Infective worm eggs where the birds are, mean over their time, per m², relative to `worm_shed`.
    pub worm_eggs: f64,
}

/// Sends every party out; fills `birds_on` and books droppings in yard and house.
pub fn send_out(world: &mut World, openings: &[Opening], report: &mut BirdsDay) {
    for plot in world.visited.drain(..) {
        world.birds_on[plot] = PlotBirds::default();
    }
    report.birds = world.birds();
    // Under an order a covered or netted yard is still open to them.
    report.housed = world.housed && !world.site.yard.open_under_order() && report.birds > 0.0;
    report.yard_day = !report.housed && openings.is_empty() && world.parties[0].birds > 0.0;
    report.house_moved = place_house(world, openings);
    world.yard_shed = 0.0;
    for party in 0..world.parties.len() {
        if world.parties[party].birds > 0.0 {
            send_party(world, party, openings, report);
        }
    }
    world.visited.sort_unstable();
}

/// A house that moves with the flock goes where a gate is open, and stays there as long as it is; returns whether it
/// was moved today.
fn place_house(world: &mut World, openings: &[Opening]) -> bool {
    if !world.site.house.mobile || world.parties[0].birds <= 0.0 {
        return false;
    }
    let stays = openings.iter().any(|opening| Some(opening.plot) == world.house_at);
    let before = world.house_at;
    if !stays {
        world.house_at = openings.first().map(|opening| opening.plot);
    }
    world.house_at != before
}

fn send_party(world: &mut World, party: usize, openings: &[Opening], report: &mut BirdsDay) {
    let site = world.site;
    let p = &site.process;
    let mut gates = core::mem::take(&mut world.gates);
    gates.clear();
    let to_yard_m = world.house_at.map_or(0.0, |plot| site.plots[plot].distance_m);
    let mut yard_pull = p.yard_pull * reach_m(p, to_yard_m, site.yard.area_m2.sqrt());
    if world.housed {
        yard_pull *= f64::from(u8::from(site.yard.open_under_order()));
    } else if let Some(quarters) = world.parties[party].confined_to {
        yard_pull = 0.0;
        gates.extend(quarters.plot().map(|plot| {
            let reach = world.constants.plots[plot].reach_m;
            OpenGate { plot, pull: pull_of(world, plot, reach), from: 0.0, to: 1.0, bird_days: 0.0 }
        }));
    } else {
        for opening in openings {
            let gate = open_gate(world, party, opening);
            // Of two openings of a gate the later counts.
            match gates.iter_mut().find(|known| known.plot == gate.plot) {
                Some(known) => *known = gate,
                None => gates.push(gate),
            }
        }
        gates.sort_unstable_by_key(|gate| gate.plot);
    }
    let ranging = world.parties[party].ranging * world.today.air.ranging;
    let (in_yard, out) = share_out(&mut gates, &mut world.cuts, yard_pull, p.home_pull, ranging);
    let dropped = DroppedByDay::new(site.house.night_share, world.parties[party].birds, in_yard + out);
    for gate in gates.iter().filter(|gate| gate.bird_days > 0.0) {
        let plot = gate.plot;
        let here = on_plot(site, &world.constants.plots[plot], party, &world.parties[party], gate.bird_days, &dropped);
        visit(world, plot, here);
    }
    world.gates = gates;
    report.yard_bird_days += in_yard;
    droppings_at_home(world, party, in_yard, &dropped);
}

/// A gate as it draws a party today.
fn open_gate(world: &World, party: usize, opening: &Opening) -> OpenGate {
    let (site, plot) = (world.site, opening.plot);
    let day_length_h = world.today.air.day_length_h;
    let ranged = |hours: f64| share_before(&site.process, hours, day_length_h);
    let (from, to) = match &opening.hours {
        None => (0.0, 1.0),
        Some(hours) => hours.within(day_length_h).map_or((0.0, 0.0), |(from, to)| (ranged(from), ranged(to))),
    };
    let birds = opening.birds.map_or(1.0, |b| (b / world.parties[party].birds).min(1.0));
    let here = &world.constants.plots[plot];
    let from_house = |distance_m: f64| reach_m(&site.process, distance_m, here.into_m);
    let reach = match world.house_at {
        None => here.reach_m,
        Some(at) if at == plot => from_house(0.0),
        // By way of the yard.
        Some(at) => from_house(site.plots[at].distance_m + site.plots[plot].distance_m),
    };
    OpenGate { plot, pull: pull_of(world, plot, reach) * birds, from, to, bird_days: 0.0 }
}

/// Birds come to a plot today, or their droppings do.
fn visit(world: &mut World, plot: usize, birds: PlotBirds) {
    if world.visited.contains(&plot) {
        world.birds_on[plot].join(birds);
    } else {
        world.birds_on[plot] = birds;
        world.visited.push(plot);
    }
}

/// How the droppings of a party's day are shared between outdoors and the house.
struct DroppedByDay {
    /// Share of the day's droppings that falls in a bird-day outdoors.
    per_bird_day: f64,
    /// Share that falls in the house, by night and by day.
    in_house: f64,
}

impl DroppedByDay {
    /// By the share of the night, the birds and their bird-days outdoors. On a long day a bird may be out
    /// for more than a bird-day, yet it drops no more than a day's droppings: the house never gets less than the night's.
    fn new(night_share: f64, birds: f64, outdoors: f64) -> Self {
        let per_bird_day = (1.0 - night_share) / birds.max(outdoors);
        let at_home_by_day = (1.0 - outdoors / birds.max(outdoors)).max(0.0);
        Self { per_bird_day, in_house: night_share + (1.0 - night_share) * at_home_by_day }
    }
}

fn pull_of(world: &World, plot: usize, reach_m: f64) -> f64 {
    let warmth = world.today.air.insect_warmth;
    pull(&world.site.process, reach_m, world.condition_of(plot).green, warmth)
}

/// Means per m² and day of `bird_days` of a party on a plot.
fn on_plot(
    site: &Site,
    plot: &PlotConstants,
    index: usize,
    party: &Party,
    bird_days: f64,
    dropped: &DroppedByDay,
) -> PlotBirds {
    let p = &site.process;
    let per_m2 = bird_days / plot.area_m2;
    // Share of the day's droppings of the whole party that falls here, per m².
    let of_day = dropped.per_bird_day * per_m2;
    PlotBirds {
        party: index,
        bird_days,
        pressure: Pressure {
            bird_days: per_m2,
            green: per_m2 * party.green,
            wants: party.wants.times(per_m2),
            scratched: per_m2 * party.scratched,
            insects: per_m2 * party.insects,
            seeds: per_m2 * party.seeds,
            slugs: per_m2 * party.slugs,
            trodden: per_m2 * party.trodden,
            n: of_day * party.droppings.n * KG_HA_PER_G_M2,
            p: of_day * party.droppings.p * KG_HA_PER_G_M2,
            shed: of_day * party.birds * party.infection * p.worm_shed,
            uptake: per_m2 * p.worm_uptake,
            ..Pressure::default()
        },
    }
}

/// What does not fall on plots falls in the yard, by the bird-days of a party there, or in the house: to the heap, or on the
/// plot where a house that moves with the flock stands.
fn droppings_at_home(world: &mut World, party: usize, in_yard: f64, dropped: &DroppedByDay) {
    let yard = dropped.per_bird_day * in_yard;
    let mut home = dropped.in_house;
    if let (0, Some(plot)) = (party, world.house_at) {
        let here = under_house(world, plot, home);
        visit(world, plot, here);
        home = 0.0;
    }
    let party = &world.parties[party];
    let dropped = party.droppings.times(KG_PER_G);
    world.yard.n_kg += dropped.n * yard;
    world.yard.p_kg += dropped.p * yard;
    world.yard.solids_kg += dropped.solids * yard;
    world.heap.n_kg += dropped.n * home;
    world.heap.p_kg += dropped.p * home;
    world.heap.solids_kg += dropped.solids * home;
    world.yard_shed += yard * party.birds * party.infection * world.site.process.worm_shed / world.site.yard.area_m2;
    let books = &mut world.site_flows;
    books.add(SiteFlow::DroppedN, dropped.n);
    books.add(SiteFlow::DroppedP, dropped.p);
    books.add(SiteFlow::YardN, dropped.n * yard);
    books.add(SiteFlow::YardP, dropped.p * yard);
    books.add(SiteFlow::YardSolids, dropped.solids * yard);
    books.add(SiteFlow::HouseN, dropped.n * home);
    books.add(SiteFlow::HouseP, dropped.p * home);
    books.add(SiteFlow::HouseSolids, dropped.solids * home);
}

/// What the flock drops in a house that stands on a plot, a share of its day's.
fn under_house(world: &World, plot: usize, share: f64) -> PlotBirds {
    let (flock, site) = (&world.parties[0], world.site);
    let per_m2 = share / site.plots[plot].area_m2;
    let pressure = Pressure {
        house_n: per_m2 * flock.droppings.n * KG_HA_PER_G_M2,
        house_p: per_m2 * flock.droppings.p * KG_HA_PER_G_M2,
        house_shed: per_m2 * flock.birds * flock.infection * site.process.worm_shed,
        ..Pressure::default()
    };
    PlotBirds { party: 0, bird_days: 0.0, pressure }
}

/// The evening: yard and heap, what was eaten and what of it will be dropped, infection, heat.
pub fn evening(world: &mut World, day: usize, report: &mut BirdsDay) {
    yard(world);
    heap(world);
    load_ground(world, day);
    report.mud = world.yard.mud;
    for party in 0..world.parties.len() {
        if world.parties[party].birds > 0.0 {
            feed(world, party, report);
        }
    }
    report.heat_hours = unshaded_heat(world, day, report);
    carry_infection(world, report);
}

/// The day's droppings join the load of the ground they fell on.
fn load_ground(world: &mut World, day: usize) {
    for &plot in &world.visited {
        let Pressure { n, p, house_n, house_p, .. } = world.birds_on[plot].pressure;
        world.loads.dropped(plot, Load { n: n + house_n, p: p + house_p });
    }
    world.loads.evening(day);
}

fn yard(world: &mut World) {
    let air = &world.today.air;
    let p = &world.site.process;
    // Under a roof no rain falls.
    let open_sky = f64::from(u8::from(!world.site.yard.covered));
    let washed = (p.yard_runoff * air.rain_mm * open_sky / YARD_RUNOFF_RAIN_MM).min(1.0);
    let yard = &mut world.yard;
    world.site_flows.add(SiteFlow::YardWashN, yard.n_kg * washed);
    world.site_flows.add(SiteFlow::YardWashP, yard.p_kg * washed);
    world.site_flows.add(SiteFlow::YardWashSolids, yard.solids_kg * washed);
    yard.n_kg *= 1.0 - washed;
    yard.p_kg *= 1.0 - washed;
    yard.solids_kg *= 1.0 - washed;
    let per_step = world.drivers.step;
    for _ in 0..world.site.steps_per_day {
        worm_eggs::advance(
            &mut yard.worms,
            world.yard_shed * per_step,
            p.worm_hardy_share,
            air.worm_rate,
            [air.worm_keep, air.worm_keep_hardy],
        );
    }
    yard.water =
        ((yard.water + air.liquid_mm * open_sky) * (1.0 - YARD_DRAINS) - p.crop_coefficient_bare * air.et0_mm).max(0.0);
    yard.mud = !world.site.yard.drained && yard.water > YARD_MUD_MM;
}

fn heap(world: &mut World) {
    let air = &world.today.air;
    let heap = &mut world.heap;
    world.site_flows.add(SiteFlow::HeapAirN, heap.n_kg * (1.0 - air.heap_n_keep));
    world.site_flows.add(SiteFlow::HeapDecay, heap.solids_kg * (1.0 - air.heap_dm_keep));
    heap.n_kg *= air.heap_n_keep;
    heap.solids_kg *= air.heap_dm_keep;
}

/// Energy from the ground, as feed not bought, never more than the need; the feed bought for the rest, and what of
/// all that tomorrow's droppings will be.
fn feed(world: &mut World, index: usize, report: &mut BirdsDay) {
    let p = &world.site.process;
    let air = &world.today.air;
    let mean_c = 0.5 * (air.tmin_c + air.tmax_c);
    let party = &world.parties[index];
    let found = core::mem::replace(&mut world.found[index], Intake::none(0.0));
    let need = party.need_kcal(mean_c);
    let energy =
        1000.0 * (found.green * p.green_energy + found.insects * p.insect_energy + found.other * p.fruit_energy);
    let saved = energy.min(need) * KG_PER_G / p.feed_energy;
    let bought = need * KG_PER_G / p.feed_energy - saved;
    report.green_kg += found.green;
    report.other_kg += found.other;
    report.insects_kg += found.insects;
    report.feed_saved_kg += saved;
    report.feed_bought_kg += bought;
    report.eggs_kg += party.egg_g * KG_PER_G;
    let balance = Balance::new(1000.0 * bought, party.feed_protein(mean_c), &found, party.egg_g, party.gain_g, p);
    book(&mut world.site_flows, &balance);
    world.remember_droppings(index, &balance.droppings());
}

/// What birds ate and keep; the rest stays in them until it is dropped.
fn book(books: &mut SiteFlows, balance: &Balance) {
    use SiteFlow::{EggsN, EggsP, FeedN, FeedP, FoundN, FoundP, GainN, GainP};
    let of_n = [FeedN, FoundN, EggsN, GainN];
    let of_p = [FeedP, FoundP, EggsP, GainP];
    for (flows, nutrient) in [(of_n, balance.n), (of_p, balance.p)] {
        let amounts = [nutrient.feed, nutrient.found, nutrient.eggs, nutrient.gained];
        flows.iter().zip(amounts).for_each(|(&flow, grams)| books.add(flow, grams * KG_PER_G));
    }
}

/// Heat hours less the shade of where the flock's time went.
fn unshaded_heat(world: &World, day: usize, report: &BirdsDay) -> f64 {
    let hours = world.today.air.heat_hours;
    if hours <= 0.0 || report.birds <= 0.0 || report.housed {
        return 0.0;
    }
    let site = world.site;
    let mut time = report.yard_bird_days;
    let mut shaded = report.yard_bird_days * site.yard.shade;
    for (plot, on) in world.birds_on.iter().enumerate() {
        time += on.bird_days;
        shaded += on.bird_days * shade_of(world, plot, day);
    }
    if time > 0.0 { hours * (1.0 - shaded / time) } else { 0.0 }
}

/// Share of light the plot's canopy holds back on `day`.
fn shade_of(world: &World, plot: usize, day: usize) -> f64 {
    world.drivers.canopy(day, plot).shade
}

/// Eggs taken up in plots (booked in `eggs_taken`) and in the yard drive infection.
fn carry_infection(world: &mut World, report: &mut BirdsDay) {
    let p = &world.site.process;
    let area = world.site.yard.area_m2;
    let yard_search = report.yard_bird_days * p.worm_uptake / area;
    let standing = world.yard.worms.infective();
    let taken_in_yard = worm_eggs::uptake(&mut world.yard.worms, yard_search) * area;
    let mut flock_out = 0.0;
    let mut met = standing * report.yard_bird_days;
    let mut time = report.yard_bird_days;
    for &plot in &world.visited {
        let on = &world.birds_on[plot];
        met += world.conditions[plot].worms * on.bird_days;
        time += on.bird_days;
        if on.party == 0 {
            flock_out += on.bird_days;
        }
    }
    report.worm_eggs = if time > 0.0 { met / time } else { f64::NAN };
    for party in 0..world.parties.len() {
        let birds = world.parties[party].birds;
        if birds <= 0.0 {
            continue;
        }
        let (eggs, bird_days) = if party == 0 {
            (world.eggs_taken[0] + taken_in_yard, flock_out + report.yard_bird_days)
        } else {
            // All that are isolated together take up alike.
            let plot = world.parties[party].confined_to.and_then(Quarters::plot);
            let on = plot.map(|plot| world.birds_on[plot]).unwrap_or_default();
            (world.eggs_taken[on.party], on.bird_days)
        };
        let uptake = if bird_days > 0.0 { eggs / bird_days } else { 0.0 };
        world.parties[party].infection =
            infection::next(world.parties[party].infection, uptake, world.infection_follow, p);
        world.remember_infection(party);
    }
    world.eggs_taken.fill(0.0);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drivers::Drivers;
    use crate::flock::excretion::Droppings;
    use crate::gates::OpenHours;
    use crate::ledger::flows::FlowSet;
    use crate::run::RunOptions;
    use crate::run::start::start;
    use crate::site::Group;
    use crate::state::WormEggs;
    use crate::testing::{best_days, layer, near, same, two_plots};
    use crate::units::HA_PER_M2;

    /// Ten layers of the flock, and four that are kept apart on the plot of beds behind.
    fn two_parties() -> Site {
        let mut site = two_plots(2);
        site.birds = vec![layer()];
        let group = |name: &str, number: f64, infection: f64| Group {
            name: name.into(),
            class: 0,
            number,
            arrive: None,
            leave: None,
            isolate: None,
            joins: None,
            infection,
        };
        site.groups = vec![group("flock", 10.0, 1.0), group("sick", 4.0, 0.5)];
        let p = &mut site.process;
        (p.yard_pull, p.worm_shed, p.worm_uptake, p.yard_runoff) = (1.0, 3.0, 0.2, 0.1);
        (p.crop_coefficient_bare, p.insect_energy, p.fruit_energy) = (0.3, 4.0, 2.5);
        (p.morning_peak, p.evening_peak, p.midday_ranging) = (2.0, 3.0, 0.5);
        site
    }

    /// The site with all birds there, the second group isolated on the second plot.
    fn kept<'a>(site: &'a Site, drivers: &'a Drivers) -> World<'a> {
        let (mut world, _) = start(site, drivers, RunOptions::default(), FlowSet::ALL).unwrap();
        world.groups.iter_mut().for_each(|group| group.present = true);
        world.groups[1].isolated_in = Some(Quarters::Plot(1));
        for (group, number) in world.groups.iter_mut().zip([10.0, 4.0]) {
            group.droppings = A_DAYS.times(number);
        }
        world.recount_parties();
        world
    }

    /// Droppings of a bird on a day.
    const A_DAYS: Droppings = Droppings { n: 1.6, p: 0.48, solids: 22.0 };
    const OPEN: Opening = Opening { plot: 0, hours: None, birds: None };

    fn sent(world: &mut World, openings: &[Opening]) -> BirdsDay {
        let mut report = BirdsDay::default();
        send_out(world, openings, &mut report);
        report
    }

    /// What both parties drop in a day lies in the house, in the yard or on a plot: nothing is lost or made.
    #[test]
    fn every_gram_dropped_lies_somewhere() {
        let site = two_parties();
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        let report = sent(&mut world, &[OPEN]);
        assert_eq!((report.birds, report.yard_day, report.housed), (14.0, false, false));
        let plots = |of: fn(&Pressure) -> f64| -> f64 {
            let on = world.birds_on.iter().zip(&site.plots);
            on.map(|(on, plot)| of(&on.pressure) * plot.area_m2 * HA_PER_M2).sum()
        };
        same(plots(|on| on.n) + world.yard.n_kg + world.heap.n_kg, 14.0 * 1.6e-3);
        same(plots(|on| on.p) + world.yard.p_kg + world.heap.p_kg, 14.0 * 0.48e-3);
        // All that falls is of one mix, solids too: 22 g with 1.6 g of nitrogen.
        same(world.yard.solids_kg * 1.6, world.yard.n_kg * 22.0);
        same(world.heap.solids_kg * 1.6, world.heap.n_kg * 22.0);
        // The yard has the day's share, 0.55, of the flock's bird-days there; the house the night of all at least.
        same(world.yard.n_kg, 0.55 * report.yard_bird_days * 1.6e-3);
        assert!(world.heap.n_kg > 0.45 * 14.0 * 1.6e-3);
        let books = |flow| world.site_flows.get(flow);
        let flows = [SiteFlow::YardN, SiteFlow::YardP, SiteFlow::YardSolids];
        assert_eq!(flows.map(books), [world.yard.n_kg, world.yard.p_kg, world.yard.solids_kg]);
        let flows = [SiteFlow::HouseN, SiteFlow::HouseP, SiteFlow::HouseSolids];
        assert_eq!(flows.map(books), [world.heap.n_kg, world.heap.p_kg, world.heap.solids_kg]);
    }

    /// Geese that never sleep indoors, on a long day: 12 bird-days of 8 birds are a day's droppings of 8, all outdoors,
    /// and the house gets none and owes none. What is not dropped outdoors falls in the house, half of it by night.
    #[test]
    fn a_bird_out_for_more_than_a_bird_day_drops_one_days_droppings() {
        let long = DroppedByDay::new(0.0, 8.0, 12.0);
        same(long.per_bird_day * 12.0, 1.0);
        assert_eq!(long.in_house, 0.0);
        for outdoors in [0.0, 2.0, 7.9, 8.0, 8.1, 10.0, 12.0] {
            for night_share in [0.0, 0.03, 0.1, 0.5, 1.0] {
                let day = DroppedByDay::new(night_share, 8.0, outdoors);
                assert!(day.in_house >= night_share && day.per_bird_day >= 0.0);
                same(day.per_bird_day * outdoors + day.in_house, 1.0);
            }
        }
        same(DroppedByDay::new(0.5, 8.0, 6.0).in_house, 0.5 + 0.5 * 0.25);
        // The same through the gate, with an air that doubles the time outdoors.
        let mut site = two_parties();
        site.house.night_share = 0.0;
        (site.process.home_pull, site.birds[0].params.ranging_share) = (0.0, 1.0);
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        world.today.air.ranging = 1.25;
        sent(&mut world, &[OPEN]);
        near(world.heap.n_kg, 0.0, 1e-15);
        assert!(world.heap.n_kg >= 0.0 && world.heap.p_kg >= 0.0 && world.heap.solids_kg >= 0.0);
    }

    /// A bird-day does on a plot what it does anywhere; those kept apart stay on their plot and out of the yard.
    #[test]
    fn birds_on_a_plot_do_what_so_many_bird_days_do() {
        let site = two_parties();
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        sent(&mut world, &[OPEN]);
        assert_eq!(world.visited, [0, 1]);
        for (plot, party, infection) in [(0, 0, 1.0), (1, 2, 0.5)] {
            let (on, area_m2) = (world.birds_on[plot], site.plots[plot].area_m2);
            assert!(on.party == party && on.bird_days > 0.0);
            let per_m2 = on.bird_days / area_m2;
            same(on.pressure.bird_days, per_m2);
            same(on.pressure.green, 28.0 * per_m2);
            same(on.pressure.scratched, 1.8 * per_m2);
            same(on.pressure.insects, 8.0 * per_m2);
            same(on.pressure.seeds, 0.5 * per_m2);
            same(on.pressure.trodden, 0.5 * per_m2);
            same(on.pressure.n, 0.55 * 1.6 * 10.0 * per_m2);
            same(on.pressure.shed, 0.55 * infection * 3.0 * per_m2);
            same(on.pressure.uptake, 0.2 * per_m2);
        }
        // Eggs shed in the yard are those of the flock, per m² of the yard.
        same(world.yard_shed * 45.0 * 1.6e-3, 3.0 * world.yard.n_kg);
    }

    /// A gate open for half of the birds draws half; of two openings the later counts.
    #[test]
    fn a_gate_for_half_the_birds_draws_half() {
        let site = two_parties();
        let drivers = best_days(&site);
        let against_yard = |openings: &[Opening]| {
            let mut world = kept(&site, &drivers);
            let report = sent(&mut world, openings);
            world.birds_on[0].bird_days / report.yard_bird_days
        };
        let whole = against_yard(&[OPEN]);
        let half_flock = Opening { birds: Some(5.0), ..OPEN };
        same(against_yard(&[half_flock]), 0.5 * whole);
        same(against_yard(&[half_flock, OPEN]), whole);
        same(against_yard(&[Opening { hours: Some(OpenHours::last(24.0)), birds: Some(99.0), ..OPEN }]), whole);
    }

    /// A gate open for the last hours has those hours' share of what it has all day, and the yard all the rest of its own.
    #[test]
    fn a_gate_open_for_the_evening_draws_in_the_evening() {
        let site = two_parties();
        let drivers = best_days(&site);
        let bird_days = |openings: &[Opening]| {
            let mut world = kept(&site, &drivers);
            let report = sent(&mut world, openings);
            (world.birds_on[0].bird_days, report.yard_bird_days)
        };
        let evening = OpenHours::last(3.0);
        let day_length_h = kept(&site, &drivers).today.air.day_length_h;
        let share = 3.0 / (5.0 + 0.5 * (day_length_h - 5.0));
        let ((all_day, yard), (some, yard_then)) =
            (bird_days(&[OPEN]), bird_days(&[Opening { hours: Some(evening), ..OPEN }]));
        let (_, yard_alone) = bird_days(&[]);
        same(some, share * all_day);
        same(yard_then, share * yard + (1.0 - share) * yard_alone);
    }

    /// A house that moves stands where the flock is; what falls in it lies there, and nothing comes to the heap.
    #[test]
    fn a_house_that_moves_leaves_its_droppings_where_it_stands() {
        let mut site = two_parties();
        site.house.mobile = true;
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        // The four that are kept apart are away.
        world.groups[1].present = false;
        world.recount_parties();
        assert!(sent(&mut world, &[OPEN]).house_moved);
        assert_eq!((world.house_at, world.heap.n_kg), (Some(0), 0.0));
        let on = world.birds_on[0].pressure;
        let area = site.plots[0].area_m2 * HA_PER_M2;
        same((on.n + on.house_n) * area + world.yard.n_kg, 10.0 * 1.6e-3);
        same((on.p + on.house_p) * area + world.yard.p_kg, 10.0 * 0.48e-3);
        // Worm eggs go with the droppings.
        same(on.house_shed / on.house_n, on.shed / on.n);
        // Alike in both rings, whatever the birds' own use of them.
        let ring = |use_factor| on.in_ring(use_factor, 0.5).n;
        same(ring(1.5) - ring(0.5), 0.5 * on.n);
        same(ring(0.0), 0.5 * on.house_n);
        // It stays as long as its gate is open, and is back in the yard when none is.
        let second = Opening { plot: 1, ..OPEN };
        assert!(!sent(&mut world, &[second, OPEN]).house_moved);
        assert_eq!(world.house_at, Some(0));
        assert!(sent(&mut world, &[second]).house_moved);
        assert_eq!((world.house_at, world.heap.n_kg), (Some(1), 0.0));
        assert!(sent(&mut world, &[]).house_moved);
        assert!(world.house_at.is_none() && world.heap.n_kg > 0.0);
    }

    /// Under an order birds keep to the house; a netted yard stays open to them.
    #[test]
    fn an_order_keeps_birds_in() {
        for netted in [false, true] {
            let mut site = two_parties();
            site.yard.netted = netted;
            let drivers = best_days(&site);
            let mut world = kept(&site, &drivers);
            world.housed = true;
            let report = sent(&mut world, &[]);
            assert_eq!((report.housed, report.yard_bird_days > 0.0, world.visited.len()), (!netted, netted, 0));
            same(world.yard.n_kg + world.heap.n_kg, 14.0 * 1.6e-3);
        }
    }

    /// 10 of 20 mm of rain wash a twentieth off at 0.1; 7 of 10 mm stay at the top, less 0.3 of evaporation: mud.
    #[test]
    fn rain_washes_the_yard_and_makes_mud() {
        for (covered, drained) in [(false, false), (false, true), (true, false)] {
            let mut site = two_parties();
            (site.yard.covered, site.yard.drained) = (covered, drained);
            let drivers = best_days(&site);
            let mut world = kept(&site, &drivers);
            (world.today.air.rain_mm, world.today.air.liquid_mm, world.today.air.et0_mm) = (10.0, 10.0, 2.0);
            (world.yard.n_kg, world.yard.p_kg, world.yard.solids_kg) = (1.0, 0.5, 20.0);
            yard(&mut world);
            let washed = if covered { 0.0 } else { 0.05 };
            same(world.yard.n_kg, 1.0 - washed);
            same(world.yard.p_kg, 0.5 - 0.5 * washed);
            same(world.yard.solids_kg, 20.0 - 20.0 * washed);
            same(world.site_flows.get(SiteFlow::YardWashN), washed);
            same(world.site_flows.get(SiteFlow::YardWashP), 0.5 * washed);
            same(world.site_flows.get(SiteFlow::YardWashSolids), 20.0 * washed);
            same(world.yard.water, if covered { 0.0 } else { 6.4 });
            assert_eq!(world.yard.mud, !covered && !drained);
        }
    }

    /// The heap loses nitrogen to the air and dry matter by rotting; phosphorus stays.
    #[test]
    fn a_heap_wastes_away() {
        let site = two_parties();
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        (world.today.air.heap_n_keep, world.today.air.heap_dm_keep) = (0.9, 0.75);
        (world.heap.n_kg, world.heap.p_kg, world.heap.solids_kg) = (2.0, 1.0, 40.0);
        heap(&mut world);
        same(world.heap.n_kg, 1.8);
        same(world.heap.p_kg, 1.0);
        same(world.heap.solids_kg, 30.0);
        same(world.site_flows.get(SiteFlow::HeapAirN), 0.2);
        same(world.site_flows.get(SiteFlow::HeapDecay), 10.0);
    }

    /// Feed saved is the energy found, at 2.8 kcal/g; never more than what all birds need, those kept apart too.
    #[test]
    fn found_food_saves_feed_up_to_the_need() {
        let site = two_parties();
        let drivers = best_days(&site);
        let ate = |green: f64, insects: f64, other: f64| {
            let mut world = kept(&site, &drivers);
            world.found[0] = Intake { green, other, insects, ..Intake::none(0.0) };
            let mut report = BirdsDay::default();
            evening(&mut world, 0, &mut report);
            report
        };
        same(ate(0.1, 0.0, 0.0).feed_saved_kg, 0.1 * 1.53 / 2.8);
        same(ate(0.0, 0.1, 0.0).feed_saved_kg, 0.1 * 4.0 / 2.8);
        same(ate(0.0, 0.0, 0.1).feed_saved_kg, 0.1 * 2.5 / 2.8);
        // However much the ten of the flock find, the four that are kept apart are fed.
        let (fed, filled) = (ate(0.0, 0.0, 0.0), ate(1e3, 1e3, 1e3));
        same(fed.feed_bought_kg, filled.feed_bought_kg + filled.feed_saved_kg);
        near(filled.feed_bought_kg / fed.feed_bought_kg, 4.0 / 14.0, 1e-9);
        // A layer eats something like 100 to 150 g a day.
        assert!((0.08..0.18).contains(&(fed.feed_bought_kg / 14.0)), "{fed:?}");
    }

    /// Nitrogen in feed and in what was found leaves in eggs, or in tomorrow's droppings: each party's its own.
    #[test]
    fn what_birds_eat_today_they_drop_tomorrow() {
        let site = two_parties();
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        world.found[0] = Intake { green: 0.2, plant_n: 5e-3, plant_p: 6e-4, ..Intake::none(0.0) };
        evening(&mut world, 0, &mut BirdsDay::default());
        let books = |world: &World, flows: [SiteFlow; 4]| flows.map(|flow| world.site_flows.get(flow));
        let n = books(&world, [SiteFlow::FeedN, SiteFlow::FoundN, SiteFlow::EggsN, SiteFlow::GainN]);
        same(n[1], 5e-3);
        same(n[2], 14.0 * 50.0 * site.process.egg_nitrogen * KG_PER_G);
        same(world.in_birds().n * KG_PER_G, n[0] + n[1] - n[2] - n[3]);
        let p = books(&world, [SiteFlow::FeedP, SiteFlow::FoundP, SiteFlow::EggsP, SiteFlow::GainP]);
        same(p[1], 6e-4);
        same(world.in_birds().p * KG_PER_G, p[0] + p[1] - p[2] - p[3]);
        // 10 fed layers and what they found against 4 that found nothing.
        let saved_n = 0.2 * 1.53 / 2.8 * 1000.0 * 0.16 / 6.25;
        same(world.parties[0].droppings.n, 2.5 * world.parties[2].droppings.n + 5.0 - saved_n);
        let held = world.in_birds().n * KG_PER_G;
        sent(&mut world, &[OPEN]);
        same(world.site_flows.get(SiteFlow::DroppedN), held);
    }

    /// Heat is felt where no shade is: half of the time in a yard without, half under leaves that hold back 0.55.
    #[test]
    fn shade_spares_heat() {
        let mut site = two_parties();
        site.canopies[0].params.shade_bare = 0.55;
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        world.today.air.heat_hours = 6.0;
        world.birds_on[0].bird_days = 3.0;
        let report = BirdsDay { birds: 14.0, yard_bird_days: 3.0, ..BirdsDay::default() };
        same(unshaded_heat(&world, 0, &report), 6.0 * (1.0 - 0.5 * 0.55));
        same(unshaded_heat(&world, 0, &BirdsDay { housed: true, ..report }), 0.0);
    }

    /// Each party's worms follow the eggs it took up a bird-day; the yard's are the flock's, and are gone from there.
    #[test]
    fn each_party_is_infected_by_what_it_took_up() {
        let site = two_parties();
        let drivers = best_days(&site);
        let mut world = kept(&site, &drivers);
        let mut report = BirdsDay { yard_bird_days: 4.0, ..BirdsDay::default() };
        world.visited = vec![0, 1];
        world.birds_on[0] = PlotBirds { party: 0, bird_days: 2.0, ..PlotBirds::default() };
        world.birds_on[1] = PlotBirds { party: 2, bird_days: 3.0, ..PlotBirds::default() };
        world.eggs_taken = vec![12.0, 0.0, 6.0];
        world.yard.worms = WormEggs::lying(9.0, 0.1);
        (world.conditions[0].worms, world.conditions[1].worms) = (18.0, 3.0);
        carry_infection(&mut world, &mut report);
        // 4 bird-days search 0.8 of 45 m².
        let in_yard = (9.0 - world.yard.worms.infective()) * 45.0;
        near(in_yard, 9.0 * 0.8, 0.1);
        let after = |before: f64, uptake: f64| infection::next(before, uptake, world.infection_follow, &site.process);
        same(world.parties[0].infection, after(1.0, (12.0 + in_yard) / 6.0));
        same(world.parties[2].infection, after(0.5, 6.0 / 3.0));
        assert_eq!([world.groups[0].infection, world.groups[1].infection], [0, 2].map(|p| world.parties[p].infection));
        same(report.worm_eggs, (9.0 * 4.0 + 18.0 * 2.0 + 3.0 * 3.0) / 9.0);
        assert_eq!(world.eggs_taken, [0.0; 3]);
    }
}
