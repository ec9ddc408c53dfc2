//! The keeper's work as it comes due: the same rule in every run, only what is found differs.

use crate::ledger::flows::SiteFlow;
use crate::load::Load;
use crate::plot::labour::{self, WeedsFound};
use crate::plot::manual_care::{self, Carried};
use crate::plot::seen::weed_cover;
use crate::run::world::{World, zone_context};
use crate::run::zone_editor::ZoneEditor;
use crate::schedule::put_care_again;
use crate::site::{Care, Task};
use crate::state::{Weed, ZoneState};
use crate::units::{HA_PER_M2, KG_PER_G};
use std::ops::Range;

/// Ground of a plot that a keeper judges and works as one: a bed, or the sward.
#[derive(Clone, Copy, Debug)]
struct Patch {
    plot: usize,
    ground: usize,
}

impl Patch {
    fn zones(self, world: &World) -> impl Iterator<Item = usize> + use<> {
        let first = world.constants.plots[self.plot].zones.start;
        let site = &world.site.plots[self.plot];
        let (grounds, rings, ground) = (site.grounds.len(), site.rings, self.ground);
        (0..rings).map(move |ring| first + ring * grounds + ground)
    }

    fn area_m2(self, world: &World) -> f64 {
        self.zones(world).map(|zone| world.constants.zones[zone].area_m2).sum()
    }
}

/// A task is due on a plot; `false` if nothing was found to do.
pub(super) fn care_due(world: &mut World, ground: &mut ZoneEditor, day: usize, plot: usize, care: usize) -> bool {
    let site = world.site;
    let due = site.plots[plot].care[care];
    let mut worked = false;
    for patch in grounds_of(site.plots[plot].grounds.len(), due).map(|ground| Patch { plot, ground }) {
        if works_on(due.task, world, patch) {
            worked |= work(world, ground, day, due.task, patch);
        }
    }
    put_care_again(world, plot, care, day);
    worked
}

fn grounds_of(grounds: usize, care: Care) -> Range<usize> {
    care.ground.map_or(0..grounds, |ground| ground..ground + 1)
}

/// Grass is mown, all else is work on beds where a plot has beds.
fn works_on(task: Task, world: &World, patch: Patch) -> bool {
    let grounds = &world.site.plots[patch.plot].grounds;
    match task {
        Task::Mow { .. } => !grounds[patch.ground].bed,
        _ => grounds[patch.ground].bed || !grounds.iter().any(|ground| ground.bed),
    }
}

fn work(world: &mut World, ground: &mut ZoneEditor, day: usize, task: Task, patch: Patch) -> bool {
    let (site, area_m2) = (world.site, patch.area_m2(world));
    let process = &site.process;
    let mut hours = world.work[patch.plot];
    match task {
        Task::Weed { above } => {
            let found = weeds_found(world, ground, patch);
            if found.cover < above.unwrap_or(process.weeds_borne) {
                return false;
            }
            hours.weeding += labour::weeding(process, area_m2, found);
        }
        Task::Mow { above_g_m2, leave_g_m2, effort_h_m2 } => {
            let borne = above_g_m2.unwrap_or(process.grass_borne).max(leave_g_m2);
            if mean(world, ground, patch, |state| state.zone.live_mass()) <= borne {
                return false;
            }
            hours.mowing += area_m2 * effort_h_m2.unwrap_or(process.mowing_time);
        }
        Task::Clear => {
            let residue_g_m2 = mean(world, ground, patch, |state| state.zone.residue);
            hours.clearing += labour::clearing(process, area_m2, residue_g_m2);
        }
        Task::Mulch { effort_h_m2, .. } => hours.other += area_m2 * effort_h_m2,
        Task::Compost { nitrogen_kg_ha: n, phosphorus_kg_ha: p, effort_h_m2, .. } => {
            hours.other += area_m2 * effort_h_m2;
            world.loads.brought(patch.plot, patch.ground, Load { n, p }, 1.0);
        }
    }
    world.work[patch.plot] = hours;
    for zone in patch.zones(world) {
        let context = zone_context(site, world.drivers, &world.constants, zone, day, world.standing[zone]);
        let carried = ground.edit(&world.constants, zone, |state| {
            manual_care::work(task, &mut state.zone, &mut state.weeds, &mut state.creepers, &context)
        });
        to_heap(world, carried, world.constants.zones[zone].area_m2);
    }
    true
}

/// What a crop left is cleared off a bed before the next one goes in.
pub(super) fn clear_bed(world: &mut World, ground: &mut ZoneEditor, plot: usize, bed: usize) {
    let patch = Patch { plot, ground: bed };
    let residue_g_m2 = mean(world, ground, patch, |state| state.zone.residue);
    if residue_g_m2 <= 0.0 {
        return;
    }
    world.work[plot].clearing += labour::clearing(&world.site.process, patch.area_m2(world), residue_g_m2);
    for zone in patch.zones(world) {
        let carried = ground.edit(&world.constants, zone, |state| manual_care::clear(&mut state.zone));
        to_heap(world, carried, world.constants.zones[zone].area_m2);
    }
}

/// What was carried off a zone comes to the heap.
pub(super) fn to_heap(world: &mut World, carried: Carried, area_m2: f64) {
    let (n_kg, p_kg) = (carried.n_kg_ha * area_m2 * HA_PER_M2, carried.p_kg_ha * area_m2 * HA_PER_M2);
    let solids_kg = carried.mass_g_m2 * area_m2 * KG_PER_G;
    world.heap.n_kg += n_kg;
    world.heap.p_kg += p_kg;
    world.heap.solids_kg += solids_kg;
    world.site_flows.add(SiteFlow::ClearedN, n_kg);
    world.site_flows.add(SiteFlow::ClearedP, p_kg);
    world.site_flows.add(SiteFlow::ClearedSolids, solids_kg);
}

/// Weeds of a ground: means by area.
fn weeds_found(world: &World, ground: &mut ZoneEditor, patch: Patch) -> WeedsFound {
    let visible = world.site.process.weed_visible;
    let cover = mean(world, ground, patch, |state| weed_cover(&state.zone, visible));
    let mass = mean(world, ground, patch, |state| state.weeds.iter().map(Weed::mass).sum());
    let in_seed = mean(world, ground, patch, |state| state.weeds.iter().map(|weed| weed.ages[2]).sum());
    WeedsFound { cover, in_seed: if mass > 0.0 { in_seed / mass } else { 0.0 } }
}

fn mean(world: &World, ground: &mut ZoneEditor, patch: Patch, of: impl Fn(&ZoneState) -> f64) -> f64 {
    let area = |zone: usize| world.constants.zones[zone].area_m2;
    let sum: f64 = patch.zones(world).map(|zone| of(ground.look(&world.constants, zone)) * area(zone)).sum();
    sum / patch.area_m2(world)
}
