//! Puts the site's dates on the agenda, and puts each again when it has happened.
//!
//! Yearly dates come again a year on, dates with a year once; days after the winter solstice (leaves, pests) are counted in
//! the site's own hemisphere. What is going on when the run starts (a guard, a net, an order) is put on the first day; a
//! crop that stands then is grown on (`run/grown_on.rs`).
//! Care comes every so many days within its season. A pest whose counting began up to 60 days before the run starts
//! counting with it; later in its season it waits in the soil for next year: a rule of ours, no source.

use crate::agenda::Event;
use crate::dates::{days_between, days_since_solstice, going_on, last_before, next_on_or_after};
use crate::drivers::LATE_START_D;
use crate::plot::pests::rest_on;
use crate::run::world::World;
use crate::run::zone_editor::ZoneEditor;
use crate::site::{SiteEventKind, When};
use jiff::ToSpan;
use jiff::civil::Date;

/// Fills the agenda for a run that starts on the site's first day.
pub(crate) fn fill(world: &mut World, ground: &mut ZoneEditor, birds: bool) {
    if birds {
        groups(world);
    }
    site_events(world);
    if let Some(every) = world.site.yard.cleaned_every_days {
        world.agenda.put(every as usize, Event::YardCleaned);
    }
    for plot in 0..world.site.plots.len() {
        crops(world, plot);
        canopies(world, plot);
        guards(world, plot);
        nets(world, plot);
        if world.care {
            care(world, plot);
        }
    }
    pests(world, ground);
    // Every event that happens puts in at most two others.
    let room = 2 * world.agenda.len() + 64;
    world.agenda.reserve(room);
}

/// The day of the run on which `date` falls; `None` after its end.
fn day_of(world: &World, date: Date) -> Option<usize> {
    let day = usize::try_from(days_between(world.site.start, date)).ok()?;
    (day < world.site.days).then_some(day)
}

/// Puts `event` on the first day from `from` on which `when` falls.
pub fn put_when(world: &mut World, when: When, from: Date, event: Event) {
    if let Some(day) = next_on_or_after(when, from).and_then(|date| day_of(world, date)) {
        world.agenda.put(day, event);
    }
}

/// Puts a yearly `event` again, a year on; dates with a year come once.
pub fn put_again(world: &mut World, when: When, day: usize, event: Event) {
    if let When::Yearly { .. } = when {
        let tomorrow = date_after(world, day);
        put_when(world, when, tomorrow, event);
    }
}

/// Puts `event` the given number of days after the next winter solstice it can follow.
pub fn put_after_solstice(world: &mut World, days: f64, from: Date, event: Event) {
    let latitude = world.site.place.latitude_deg;
    let since = days_since_solstice(from, latitude);
    let days = days as i32;
    let mut ahead = days - since;
    if ahead < 0 {
        let solstice = from.saturating_sub(i64::from(since).days());
        let next_year = solstice.saturating_add(1.year());
        ahead = days_between(from, next_year) + days;
    }
    let date = from.saturating_add(i64::from(ahead).days());
    if let Some(day) = day_of(world, date) {
        world.agenda.put(day, event);
    }
}

/// The date after day `day` of the run.
#[must_use]
pub fn date_after(world: &World, day: usize) -> Date {
    world.drivers.days[day].date.saturating_add(1.day())
}

fn groups(world: &mut World) {
    let site = world.site;
    for (group, g) in site.groups.iter().enumerate() {
        let arrive = g.arrive.unwrap_or(site.start).max(site.start);
        if let Some(day) = day_of(world, arrive) {
            world.agenda.put(day, Event::Arrives { group });
            if let Some(isolation) = g.isolate {
                world.agenda.put(day + isolation.days as usize, Event::IsolationEnds { group });
            }
        }
        if let Some(day) = g.leave.and_then(|date| day_of(world, date)) {
            world.agenda.put(day, Event::Leaves { group });
        }
    }
}

fn site_events(world: &mut World) {
    let site = world.site;
    for (event, e) in site.events.iter().enumerate() {
        let event = match e.what {
            SiteEventKind::HousingOrder => Event::OrderBegins { event },
            SiteEventKind::SpreadHeap { ref plots } => {
                for &(plot, _) in plots {
                    put_when(world, e.on, site.start, Event::HeapSpread { plot, event });
                }
                continue;
            }
            SiteEventKind::GateByHand { plot, .. } => Event::GateSet { plot, event },
            SiteEventKind::KeepOut { plot, days, .. } => {
                let event = Event::KeepOut { plot, event };
                let last = last_before(e.on, site.start);
                if last.is_some_and(|last| days_between(last, site.start) < days as i32) {
                    // Begun before the run; it puts itself on the agenda again.
                    world.agenda.put(0, event);
                } else {
                    put_when(world, e.on, site.start, event);
                }
                continue;
            }
        };
        put_when(world, e.on, site.start, event);
        if e.until.is_some_and(|until| going_on(e.on, until, site.start)) {
            world.agenda.put(0, event);
        }
    }
}

fn crops(world: &mut World, plot: usize) {
    let site = world.site;
    for (ground, g) in site.plots[plot].grounds.iter().enumerate() {
        for (crop, c) in g.crops.iter().enumerate() {
            let planting = Event::CropIn { plot, ground, crop };
            put_when(world, c.from, site.start, planting);
            put_when(world, c.to, site.start, Event::CropOut { plot, ground, crop });
            if let Some(window) = c.harvest {
                put_when(world, window.from, site.start, Event::HarvestBegins { plot });
                put_when(world, window.to, site.start, Event::HarvestEnds { plot, ground, crop });
            }
        }
    }
}

fn canopies(world: &mut World, plot: usize) {
    let site = world.site;
    for (canopy, c) in site.plots[plot].canopies.iter().enumerate() {
        let kind = &site.canopies[c.canopy];
        if !kind.evergreen {
            put_after_solstice(world, kind.params.leaf_out, site.start, Event::LeafOut { plot, canopy });
        }
        put_after_solstice(world, kind.params.leaf_fall, site.start, Event::LeafFall { plot, canopy });
        put_after_solstice(world, kind.params.fruit_to, site.start, Event::FruitPicked { plot, canopy });
    }
}

fn guards(world: &mut World, plot: usize) {
    for (guard, g) in world.site.plots[plot].guards.iter().enumerate() {
        put_up_and_down(world, (g.from, g.to), [Event::GuardUp { plot, guard }, Event::GuardDown { plot, guard }]);
    }
}

fn nets(world: &mut World, plot: usize) {
    for (net, n) in world.site.plots[plot].nets.iter().enumerate() {
        put_up_and_down(world, (n.from, n.to), [Event::NetUp { plot, net }, Event::NetDown { plot, net }]);
    }
}

/// What stands for a time: it goes up on the first day where the run begins within it.
fn put_up_and_down(world: &mut World, (from, to): (When, When), [up, down]: [Event; 2]) {
    let start = world.site.start;
    put_when(world, from, start, up);
    if going_on(from, to, start) {
        world.agenda.put(0, up);
    }
    put_when(world, to, start, down);
}

fn care(world: &mut World, plot: usize) {
    let site = world.site;
    for (care, c) in site.plots[plot].care.iter().enumerate() {
        let due = Event::CareDue { plot, care };
        put_when(world, c.from, site.start, due);
        if going_on(c.from, c.to, site.start) {
            world.agenda.put(0, due);
        }
    }
}

/// The next time a task is due after it was done on `day`.
pub fn put_care_again(world: &mut World, plot: usize, care: usize, day: usize) {
    let site = world.site;
    let c = &site.plots[plot].care[care];
    let today = world.drivers.days[day].date;
    let next = today.saturating_add(i64::from(c.every_days).days());
    let due = Event::CareDue { plot, care };
    if next_on_or_after(c.to, today).is_some_and(|last| next <= last) {
        if let Some(day) = day_of(world, next) {
            world.agenda.put(day, due);
        }
    } else {
        put_when(world, c.from, today.saturating_add(1.day()), due);
    }
}

/// Seasons of the pests. A run that begins soon after counting should have starts counting
/// with it; one that begins later in the season keeps its pests in the soil for next year.
fn pests(world: &mut World, ground: &mut ZoneEditor) {
    let site = world.site;
    let since = f64::from(days_since_solstice(site.start, site.place.latitude_deg));
    for (pest, p) in site.pests.iter().enumerate() {
        let params = &p.params;
        put_after_solstice(world, params.counting_from, site.start, Event::CountingStarts { pest });
        put_after_solstice(world, params.season_end, site.start, Event::SeasonEnds { pest });
        let late = since - params.counting_from;
        if late > 0.0 && late <= LATE_START_D {
            world.agenda.put(0, Event::CountingStarts { pest });
        } else if late > 0.0 && since <= params.season_end {
            ground.edit_pest(&world.constants, pest, |state, _| rest_on(state));
        }
    }
}
