//! The birds' day: where they are, what the ground gives them, what they leave behind.
//!
//! # Formulas
//!
//! ```text
//! pull of a gate = pull of the plot · min(1, hours/day length) · min(1, birds let through/birds)   flock/foraging.rs
//! on a plot, per m² = bird-days there / area · what a bird-day of the party does                   flock/party.rs
//! droppings there, or in the yard = (1 − night_share) · bird-days there / birds, of the party's day; the rest in the house
//! washed off the yard = min(1, yard_runoff · rain / 20 mm)                                         share a day
//! top of the yard  W = max(0, (W + rain and melt) · (1 − 0.3) − crop_coefficient_bare · ET0)       mm; mud above 5
//! heap             · exp(−heap_loss · Q10) of nitrogen, · exp(−heap_decay · Q10) of dry matter     a day, kept
//! feed saved = min(need, green · green_energy + insects · insect_energy + other · fruit_energy) / feed_energy      g
//! heat       = hours of heat · (1 − share of the time outdoors spent in shade)                     h
//! uptake     = worm eggs taken up on plots and in the yard / bird-days outdoors                    per bird-day
//! ```
//!
//! Under a roof no rain falls. Need: `flock/energy.rs`; what the heap keeps comes with the day (`drivers.rs`).
//!
//! # Source
//!
//! Droppings by time spent: common practice, no source. Mud, washing off and the heap: forms ours, numbers from memory. Energy
//! of grass: Antell & Ciszuk 2006; of the rest from memory (library).
//!
//! # Limits
//!
//! Droppings fall as time is spent, not more by the gate or under a tree. What is washed off the yard is gone. All birds of
//! a party share what it found.
//!
//! # Parameters
//!
//! ```text
//! ProcessNumbers  yard_pull [-], home_pull [m], worm_shed [1/bird-day], worm_uptake [m2/bird-day], yard_runoff [1/d],
//!                 crop_coefficient_bare [-], green_energy [kcal/g], insect_energy [kcal/g], fruit_energy [kcal/g],
//!                 feed_energy [kcal/g]
//! ```

use crate::flock::energy::need_of_metabolic_mass;
use crate::flock::foraging::{pull, share_out};
use crate::flock::infection;
use crate::flock::party::Party;
use crate::gates::Opening;
use crate::ledger::flows::SiteFlow;
use crate::plot::bites::{Intake, Pressure};
use crate::plot::plan::PlotPlan;
use crate::plot::worm_eggs;
use crate::run::world::{PlotBirds, World};
use crate::site::Site;
use crate::state::KG_HA;

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
    /// Infective worm eggs where the birds are, mean over their time, per m².
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
    world.yard_shed = 0.0;
    for party in 0..world.parties.len() {
        if world.parties[party].birds > 0.0 {
            send_party(world, party, openings, report);
        }
    }
    world.visited.sort_unstable();
}

fn send_party(world: &mut World, party: usize, openings: &[Opening], report: &mut BirdsDay) {
    let site = world.site;
    let air = &world.today.air;
    let p = &site.process;
    world.pulls.clear();
    let mut yard_pull = p.yard_pull * site.yard.area_m2.sqrt();
    if world.housed {
        yard_pull *= f64::from(u8::from(site.yard.open_under_order()));
    } else if let Some(plot) = world.parties[party].confined_to {
        yard_pull = 0.0;
        world.pulls.push((plot, pull_of(world, plot)));
    } else {
        for opening in openings {
            let hours = opening.hours.map_or(1.0, |h| (h / air.day_length_h).min(1.0));
            let birds = opening.birds.map_or(1.0, |b| (b / world.parties[party].birds).min(1.0));
            let pull = pull_of(world, opening.plot) * hours * birds;
            // Of two openings of a gate the later counts.
            match world.pulls.iter_mut().find(|(plot, _)| *plot == opening.plot) {
                Some((_, known)) => *known = pull,
                None => world.pulls.push((opening.plot, pull)),
            }
        }
        world.pulls.sort_unstable_by_key(|&(plot, _)| plot);
    }
    let ranging = world.parties[party].ranging;
    let (in_yard, out) = share_out(&mut world.pulls, yard_pull, p.home_pull, ranging, air);
    for &(plot, bird_days) in world.pulls.iter().filter(|(_, bird_days)| *bird_days > 0.0) {
        let here = on_plot(site, &world.plan.plots[plot], party, &world.parties[party], bird_days);
        if world.visited.contains(&plot) {
            world.birds_on[plot].join(here);
        } else {
            world.birds_on[plot] = here;
            world.visited.push(plot);
        }
    }
    report.yard_bird_days += in_yard;
    droppings_at_home(world, party, in_yard, out);
}

fn pull_of(world: &World, plot: usize) -> f64 {
    let here = &world.plan.plots[plot];
    let warmth = world.today.air.insect_warmth;
    pull(&world.site.process, here.root_m, here.nearness, world.seen_of(plot).green, warmth)
}

/// Means per m² and day of `bird_days` of a party on a plot.
fn on_plot(site: &Site, plot: &PlotPlan, index: usize, party: &Party, bird_days: f64) -> PlotBirds {
    let p = &site.process;
    let per_m2 = bird_days / plot.area_m2;
    // Share of the day's droppings of the whole party that falls here, per m².
    let of_day = (1.0 - site.house.night_share) * per_m2 / party.birds;
    PlotBirds {
        party: index,
        bird_days,
        pressure: Pressure {
            bird_days: per_m2,
            green: per_m2 * party.green,
            scratched: per_m2 * party.scratched,
            insects: per_m2 * party.insects,
            seeds: per_m2 * party.seeds,
            trodden: per_m2 * party.trodden,
            n: of_day * party.n_g * KG_HA,
            p: of_day * party.p_g * KG_HA,
            shed: of_day * party.birds * party.infection * p.worm_shed,
            uptake: per_m2 * p.worm_uptake,
        },
    }
}

/// What does not fall on plots falls in the yard, by time there, or in the house; bird-days of a
/// party in the yard and out on plots.
fn droppings_at_home(world: &mut World, party: usize, in_yard: f64, out: f64) {
    let day_share = 1.0 - world.site.house.night_share;
    let party = &world.parties[party];
    let yard = day_share * in_yard / party.birds;
    let home = 1.0 - yard - day_share * out / party.birds;
    let kg = |grams: f64| grams * 1e-3;
    world.yard.n_kg += kg(party.n_g) * yard;
    world.yard.p_kg += kg(party.p_g) * yard;
    world.yard.solids_kg += kg(party.solids_g) * yard;
    world.heap.n_kg += kg(party.n_g) * home;
    world.heap.p_kg += kg(party.p_g) * home;
    world.heap.solids_kg += kg(party.solids_g) * home;
    world.yard_shed += yard * party.birds * party.infection * world.site.process.worm_shed / world.site.yard.area_m2;
    let books = &mut world.site_flows;
    books.add(SiteFlow::YardN, kg(party.n_g) * yard);
    books.add(SiteFlow::YardP, kg(party.p_g) * yard);
    books.add(SiteFlow::YardSolids, kg(party.solids_g) * yard);
    books.add(SiteFlow::HouseN, kg(party.n_g) * home);
    books.add(SiteFlow::HouseP, kg(party.p_g) * home);
    books.add(SiteFlow::HouseSolids, kg(party.solids_g) * home);
}

/// The evening: yard and heap, what was eaten, infection, heat.
pub fn evening(world: &mut World, day: usize, eaten: Intake, report: &mut BirdsDay) {
    yard(world);
    heap(world);
    report.mud = world.yard.mud;
    report.green_kg = eaten.green;
    report.other_kg = eaten.other;
    report.insects_kg = eaten.insects;
    (report.feed_saved_kg, report.feed_bought_kg) = feed(world, &eaten);
    report.eggs_kg = world.parties.iter().map(|party| party.egg_g).sum::<f64>() * 1e-3;
    report.heat_hours = unshaded_heat(world, day, report);
    carry_infection(world, report);
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
            &mut yard.worms_ripening,
            &mut yard.worms,
            world.yard_shed * per_step,
            air.worm_rate,
            air.worm_keep,
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

/// Energy from the ground, as feed not bought, never more than the need; and the feed bought for the rest.
fn feed(world: &World, eaten: &Intake) -> (f64, f64) {
    let p = &world.site.process;
    let air = &world.today.air;
    let mean_c = 0.5 * (air.tmin_c + air.tmax_c);
    let need: f64 =
        world.parties.iter().map(|b| need_of_metabolic_mass(b.metabolic_mass, mean_c, b.gain_g, b.egg_g)).sum();
    let found =
        1000.0 * (eaten.green * p.green_energy + eaten.insects * p.insect_energy + eaten.other * p.fruit_energy);
    let saved = found.min(need) * 1e-3 / p.feed_energy;
    (saved, need * 1e-3 / p.feed_energy - saved)
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
    world.plan.plots[plot].shades[usize::from(world.drivers.in_leaf(day)[plot])]
}

/// Eggs taken up in plots (booked in `eggs_taken`) and in the yard drive infection.
fn carry_infection(world: &mut World, report: &mut BirdsDay) {
    let p = &world.site.process;
    let area = world.site.yard.area_m2;
    let yard_search = report.yard_bird_days * p.worm_uptake / area;
    let standing = world.yard.worms;
    let taken_in_yard = worm_eggs::uptake(&mut world.yard.worms, yard_search) * area;
    let mut flock_out = 0.0;
    let mut met = standing * report.yard_bird_days;
    let mut time = report.yard_bird_days;
    for &plot in &world.visited {
        let on = &world.birds_on[plot];
        met += world.plot_seen[plot].worms * on.bird_days;
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
            let on = world.parties[party].confined_to.map(|plot| world.birds_on[plot]).unwrap_or_default();
            (world.eggs_taken[on.party], on.bird_days)
        };
        let uptake = if bird_days > 0.0 { eggs / bird_days } else { 0.0 };
        world.parties[party].infection =
            infection::next(world.parties[party].infection, uptake, world.infection_follow, p);
        world.remember_infection(party);
    }
    world.eggs_taken.fill(0.0);
}
