//! What guards cover: a share of the plot, beds first, or plants of one kind wherever they stand in it.
//!
//! A guard around a crop covers the beds in which that crop stands at some time; one around a canopy the canopy's share of
//! every zone, as its shade is spread. What is behind guards birds neither eat nor scratch; droppings still fall there.

use super::world::World;
use crate::site::{Guard, Plant};

/// Guards of a plot that stand.
fn up<'g>(guards: &'g [Guard], are_up: &'g [bool]) -> impl Iterator<Item = &'g Guard> {
    guards.iter().zip(are_up).filter(|(_, up)| **up).map(|(guard, _)| guard)
}

fn standing<'w>(world: &'w World, plot: usize) -> impl Iterator<Item = &'w Guard> {
    up(&world.site.plots[plot].guards, &world.guards_up[plot])
}

/// Whether plants of this kind stand behind guards of their own, of which these are up.
pub(super) fn around(guards: &[Guard], are_up: &[bool], plants: Plant) -> bool {
    up(guards, are_up).any(|guard| guard.plants == Some(plants))
}

/// A guard went up or came down.
pub(super) fn recount(world: &mut World, plot: usize) {
    let around_none = standing(world, plot).filter(|guard| guard.plants.is_none());
    world.plots[plot].guarded = around_none.map(|guard| guard.share).sum::<f64>().min(1.0);
    let grounds = world.site.plots[plot].grounds.iter().enumerate();
    let beds = grounds.filter(|(at, ground)| ground.bed && share_behind(world, plot, *at) >= 1.0);
    world.plots[plot].guarded_beds = beds.map(|(_, ground)| ground.share).sum();
    for zone in world.constants.plots[plot].zones.clone() {
        world.around_plants[zone] = share_behind(world, plot, world.constants.zones[zone].ground);
    }
    recount_crops(world, plot);
}

/// Share of a ground that guards around plants cover.
fn share_behind(world: &World, plot: usize, ground: usize) -> f64 {
    let here = &world.site.plots[plot].grounds[ground];
    let share = |guard: &Guard| match guard.plants {
        Some(Plant::Crop(crop)) => f64::from(u8::from(here.grows(crop))),
        Some(Plant::Canopy(_)) => guard.share,
        None => 0.0,
    };
    standing(world, plot).map(share).sum::<f64>().min(1.0)
}

/// A crop came or went, or a guard did.
pub(super) fn recount_crops(world: &mut World, plot: usize) {
    let zones = world.constants.plots[plot].zones.clone();
    let open = |zone: usize| world.standing[zone].is_some() && world.around_plants[zone] < 1.0;
    world.plots[plot].crop_open = zones.into_iter().any(open);
}
