//! Crops that stand when the run starts: they are grown on, not planted anew.
//!
//! A crop whose time in the ground covers the evening before the first day has by then the thermal time of the days since
//! it went in, and the stand a logistic growth of these days gives, V = K / (1 + (K/V₀ − 1) · exp(−rate · N · Σ growth)),
//! with the nitrogen of the start, without weeds, drought or birds. One that would be ripe by then, and ends when ripe,
//! is over and stands no more. Of the weather before the start nothing is known: a day is taken as the same date of the
//! run's later years, and where the run does not reach so far, as the mean of its first thirty days (ours, no source).

use crate::dates::{days_between, going_on, last_before};
use crate::drivers::Drivers;
use crate::math::exp;
use crate::plot::crops;
use crate::run::events::{recount_crops, zones_of};
use crate::run::world::World;
use crate::run::zone_editor::ZoneEditor;
use crate::site::{CropPlan, Site};
use jiff::ToSpan;
use jiff::civil::Date;

/// Days at the beginning of the run whose mean stands for days it has not.
const STAND_IN_DAYS: usize = 30;

/// Lets every crop stand that went in before the run and is not out yet.
pub(crate) fn grow_on(world: &mut World, ground: &mut ZoneEditor) {
    let site = world.site;
    for (plot, here) in site.plots.iter().enumerate() {
        for (bed, g) in here.grounds.iter().enumerate() {
            for (crop, plan) in g.crops.iter().enumerate() {
                if going_on(plan.from, plan.to, site.start) {
                    stand(world, ground, plan, [plot, bed, crop]);
                }
            }
        }
        recount_crops(world, ground, plot);
    }
}

fn stand(world: &mut World, ground: &mut ZoneEditor, plan: &CropPlan, [plot, bed, crop]: [usize; 3]) {
    let site = world.site;
    let Some(sown) = last_before(plan.from, site.start) else { return };
    let kind = &site.crops[plan.crop];
    let slot = world.drivers.slots[plot].crop(plan.crop);
    let so_far = SoFar::since(sown, site, world.drivers, slot);
    if plan.ends_when_ripe && so_far.thermal >= kind.params.days_to_ripe {
        return;
    }
    for zone in zones_of(world, plot, bed) {
        world.standing[zone] = Some(crop);
        ground.edit(&world.constants, zone, |state| {
            let nitrogen = state.zone.mineral_n / (state.zone.mineral_n + site.process.nitrogen_half);
            let (p, grown) = (&kind.params, kind.params.growth_rate * nitrogen * so_far.growth);
            let mass = p.capacity / (1.0 + (p.capacity / p.planted_mass - 1.0) * exp(-grown));
            crops::grown_on(&mut state.zone, mass, so_far.thermal, so_far.days);
        });
    }
}

/// What a plant has met since it went in.
#[derive(Debug, PartialEq)]
struct SoFar {
    days: f64,
    /// Σ of temperature × light factor, d.
    growth: f64,
    /// Thermal time, C d.
    thermal: f64,
}

impl SoFar {
    /// From the day the plant went in to the run's start, by its slot.
    fn since(sown: Date, site: &Site, drivers: &Drivers, slot: usize) -> Self {
        let known = drivers.days.len().min(site.days);
        let first = &(0..known.min(STAND_IN_DAYS)).map(|day| drivers.plants(day)[slot]).collect::<Vec<_>>();
        let mean = |of: fn(&crate::drivers::PlantDay) -> f64| first.iter().map(of).sum::<f64>() / first.len() as f64;
        let (mean_growth, mean_thermal) = (mean(|day| day.growth), mean(|day| day.thermal));
        let days = days_between(sown, site.start).max(0);
        let mut so_far = Self { days: f64::from(days), growth: 0.0, thermal: 0.0 };
        for before in 0..days {
            let like = same_date_in_run(sown.saturating_add(i64::from(before).days()), site.start);
            let day = (like < known).then(|| drivers.plants(like)[slot]);
            so_far.growth += day.map_or(mean_growth, |day| day.growth);
            so_far.thermal += day.map_or(mean_thermal, |day| day.thermal);
        }
        so_far
    }
}

/// The first day of a run on the month and day of a date before it; whether the run reaches so far is not asked.
fn same_date_in_run(date: Date, start: Date) -> usize {
    let mut later = date;
    while later < start {
        later = later.saturating_add(1.year());
    }
    days_between(start, later).unsigned_abs() as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::{Flow, FlowSet};
    use crate::run::RunOptions;
    use crate::run::start::start;
    use crate::site::When;
    use crate::testing::{best_days, near, two_plots};
    use jiff::civil::date;

    /// A year and a half from 1 May 2027 with a lettuce of the second plot in the ground from these dates.
    fn site(from: When, to: When, ends_when_ripe: bool) -> Site {
        let mut site = two_plots(1);
        site.days = 500;
        site.process.nitrogen_half = 5.0;
        site.plots[0].grounds.iter_mut().for_each(|ground| ground.crops.clear());
        let plan = &mut site.plots[1].grounds[0].crops[0];
        (plan.from, plan.to, plan.ends_when_ripe) = (from, to, ends_when_ripe);
        site
    }

    #[test]
    fn a_crop_in_the_ground_at_the_start_is_grown_on() {
        let on = |month, day| When::Yearly { month, day };
        let site = site(on(4, 1), on(7, 10), false);
        let drivers = best_days(&site);
        let (world, ground) = start(&site, &drivers, RunOptions::default(), FlowSet::ALL).unwrap();
        let zone = world.constants.plots[1].zones.start;
        let state = &ground.zones[zone];
        // Thirty days of 15 C d: April of the next year stands for that of this one.
        near(state.crop_age, 30.0 * 15.0, 1e-9);
        assert_eq!((state.crop_days, world.standing[zone], world.plots[1].crop_standing), (30.0, Some(0), true));
        // Stepped by hand, from 3 g/m² of 350 at 0.15 a day, with 20/(20 + 5) of the nitrogen.
        let slot = drivers.slots[1].crop(0);
        let mut mass = 3.0;
        for day in 335..365 {
            for _ in 0..100 {
                mass += 0.01 * 0.15 * 0.8 * drivers.plants(day)[slot].growth * mass * (1.0 - mass / 350.0);
            }
        }
        near(state.crop, mass, 0.01 * mass);
        assert!(state.crop > 10.0 * 3.0);
        // It was there before the books were opened.
        assert_eq!(state.flows.get(Flow::Planted), 0.0);
    }

    #[test]
    fn what_is_ripe_or_out_by_then_does_not_stand() {
        let on = |month, day| When::Yearly { month, day };
        for (from, ends_when_ripe, stands) in
            [(on(3, 1), true, false), (on(3, 1), false, true), (on(4, 15), true, true), (on(5, 1), true, false)]
        {
            let site = site(from, on(7, 10), ends_when_ripe);
            let drivers = best_days(&site);
            let (world, ground) = start(&site, &drivers, RunOptions::default(), FlowSet::ALL).unwrap();
            let zone = world.constants.plots[1].zones.start;
            assert_eq!((world.standing[zone].is_some(), ground.zones[zone].crop > 0.0), (stands, stands), "{from:?}");
        }
    }

    /// Of a run of 40 days the first thirty stand for what it does not reach.
    #[test]
    fn a_short_run_takes_its_first_days_for_those_before_it() {
        let mut site = site(When::On(date(2027, 4, 11)), When::On(date(2027, 7, 10)), false);
        site.days = 40;
        let drivers = best_days(&site);
        let slot = drivers.slots[1].crop(0);
        let so_far = SoFar::since(date(2027, 4, 11), &site, &drivers, slot);
        assert_eq!(so_far.days, 20.0);
        near(so_far.thermal, 300.0, 1e-9);
        assert_eq!(same_date_in_run(date(2025, 6, 10), site.start), 40);
        assert_eq!(same_date_in_run(date(2027, 4, 30), site.start), 365);
    }
}
