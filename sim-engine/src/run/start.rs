//! A site on the evening before the first day: its ground as the site file has it, its dates on the
//! agenda.

use crate::agenda::Agenda;
use crate::drivers::{Drivers, OpenAir};
use crate::flock::infection::follow;
use crate::flock::party::{GroupState, Party};
use crate::gates::PlotObservation;
use crate::ledger::flows::{FlowSet, Flows, SiteFlows};
use crate::load::Loads;
use crate::plot::bites::Intake;
use crate::plot::constants::{SiteConstants, ZoneConstants};
use crate::plot::harvest::Harvest;
use crate::plot::labour::WorkHours;
use crate::plot::seen::PlotCondition;
use crate::run::ground::LaneGround;
use crate::run::grown_on::grow_on;
use crate::run::options::RunOptions;
use crate::run::world::{AirToday, LONG_AGO, PlotBirds, RunError, World};
use crate::run::zone_editor::ZoneEditor;
use crate::schedule;
use crate::site::Site;
use crate::state::{
    BOXES, Creeper, GroundState, HeapState, PestHere, PlotMemory, SlugsHere, Weed, WormEggs, YardState, Zone, ZoneState,
};
use std::slice;

/// Mineral nitrogen in the root zone at the start, kg/ha (from memory: a winter's rest).
const MINERAL_N_START: f64 = 20.0;

/// The site and its ground on the evening before the first day, with books of the flows in `keep`.
///
/// # Errors
/// If the weather is too short.
pub fn start<'a>(
    site: &'a Site,
    drivers: &'a Drivers,
    options: RunOptions,
    keep: FlowSet,
) -> Result<(World<'a>, GroundState), RunError> {
    check(site, drivers)?;
    let constants = SiteConstants::new(site);
    let ground = start_ground(site, &constants, keep);
    let mut world = World {
        site,
        drivers,
        standing: vec![None; constants.zones.len()],
        plots: vec![start_memory(); site.plots.len()],
        yard: YardState {
            worms: WormEggs::lying(mean_worms(site), site.process.worm_hardy_share),
            ..YardState::default()
        },
        heap: HeapState::default(),
        groups: site.groups.iter().map(GroupState::before).collect(),
        parties: vec![Party::empty(site); 1 + site.groups.len()],
        agenda: Agenda::default(),
        site_flows: SiteFlows::default(),
        loads: Loads::new(site),
        birds_on: vec![PlotBirds::default(); site.plots.len()],
        observed: vec![PlotObservation::default(); site.plots.len()],
        by_hand: vec![None; site.plots.len()],
        housed: false,
        counting: vec![false; site.pests.len()],
        guards_up: site.plots.iter().map(|p| vec![false; p.guards.len()]).collect(),
        around_plants: vec![0.0; constants.zones.len()],
        nets_up: site.plots.iter().map(|p| vec![false; p.nets.len()]).collect(),
        harvests: vec![vec![Harvest::default(); site.crops.len() + site.canopies.len()]; site.plots.len()],
        fruit_bird_days: site.plots.iter().map(|p| vec![0.0; p.canopies.len()]).collect(),
        work: vec![WorkHours::default(); site.plots.len()],
        care: options.care,
        yard_shed: 0.0,
        found: vec![Intake::none(0.0); 1 + site.groups.len()],
        eggs_taken: vec![0.0; 1 + site.groups.len()],
        conditions: vec![PlotCondition::nothing(0.0); site.plots.len()],
        noted: vec![false; constants.watched.len()],
        today: AirToday {
            date: drivers.days[0].date,
            air: OpenAir::of(&drivers.days[0]),
            yesterday_tmax_c: drivers.days[0].tmax_c,
        },
        infection_follow: follow(&site.process),
        recounts: 0,
        visited: Vec::with_capacity(site.plots.len()),
        house_at: None,
        gates: Vec::with_capacity(site.plots.len()),
        cuts: Vec::with_capacity(2 + 2 * site.plots.len()),
        constants,
    };
    let mut scratch = ZoneState::for_any_zone(&world.constants, &ground);
    let mut lane = LaneGround::new(0.0, slice::from_ref(&world), slice::from_ref(&ground));
    let mut of_run = lane.of_run(0);
    let mut editor = ZoneEditor::new(&mut of_run, &mut scratch);
    schedule::fill(&mut world, &mut editor, options.birds);
    grow_on(&mut world, &mut editor);
    for zone in 0..world.constants.zones.len() {
        editor.edit(&world.constants, zone, |state| world.see_zone(zone, state));
    }
    (0..site.plots.len()).for_each(|plot| world.see_plot(plot, &mut editor));
    Ok((world, lane.state))
}

fn check(site: &Site, drivers: &Drivers) -> Result<(), RunError> {
    if drivers.days.len() < site.days.max(1) {
        return Err(RunError::TooLittleWeather { asked: site.days, given: drivers.days.len() });
    }
    Ok(())
}

fn mean_worms(site: &Site) -> f64 {
    site.plots.iter().map(|p| p.worm_eggs).sum::<f64>() / site.plots.len().max(1) as f64
}

fn start_memory() -> PlotMemory {
    PlotMemory { days_at_rest: LONG_AGO, days_since_crop: LONG_AGO, ..PlotMemory::default() }
}

/// The ground of the start: cover, weeds, creepers, pests and slugs as the site has them.
fn start_ground(site: &Site, constants: &SiteConstants, keep: FlowSet) -> GroundState {
    let mut ground = GroundState::default();
    for here in &constants.zones {
        let plot = &site.plots[here.plot];
        ground.zones.push(start_zone(site, here, keep));
        for &(kind, seeds) in &plot.weeds {
            let surface = seeds * site.weeds[kind].params.surface_share;
            ground.weeds.push(Weed { deep: seeds - surface, surface, ..Weed::default() });
        }
        ground.creepers.extend(plot.creepers.iter().map(|&(_, reserve)| Creeper { reserve, ..Creeper::default() }));
        for (pest, &lives) in plot.pests.iter().zip(&constants.pest_lives[here.pests.clone()]) {
            let overwintered = if lives { pest.start_per_m2 } else { 0.0 };
            let overwintered_near = overwintered * constants.pest_reach[pest.pest][usize::from(here.bed)].resting;
            ground.pests.push(PestHere { overwintered, overwintered_near, ..PestHere::default() });
        }
        ground.slugs.extend(plot.slugs.iter().map(|&(_, number)| SlugsHere::of_all_sizes(number)));
    }
    ground
}

fn start_zone(site: &Site, here: &ZoneConstants, keep: FlowSet) -> Zone {
    let plot = &site.plots[here.plot];
    let soil = &site.soils[plot.soil].params;
    let cover = &site.covers[plot.cover].params;
    // The mass whose leaves make the stated cover, at most nine tenths of what can stand.
    let covered = plot.cover_start.clamp(0.0, 0.999);
    let mass = (-libm::log(1.0 - covered) / cover.cover_per_mass).min(0.9 * cover.capacity);
    Zone {
        cover_mass: if here.bed { 0.0 } else { mass },
        bitten: [0.0; BOXES],
        rested: 1.0,
        crowns: if here.bed { 0.0 } else { covered },
        crop: 0.0,
        crop_gaps: 0.0,
        crop_age: 0.0,
        crop_weed_days: 0.0,
        crop_days: 0.0,
        harvested: 0.0,
        crop_lost: 0.0,
        residue: 0.0,
        residue_n: 0.0,
        residue_p: 0.0,
        dead: 0.0,
        dead_n: 0.0,
        dead_p: 0.0,
        fruit: 0.0,
        fruit_n: 0.0,
        fruit_p: 0.0,
        canopy_n: 0.0,
        canopy_p: 0.0,
        water: here.available_water,
        firm: 0.0,
        fresh_n: 0.0,
        mineral_n: MINERAL_N_START,
        slow_n: soil.organic_nitrogen,
        fresh_p: 0.0,
        soil_p: soil.phosphorus,
        disturbed: 0.0,
        thrown: 0.0,
        insects: site.process.insect_room * 0.5,
        worms: WormEggs::lying(plot.worm_eggs, site.process.worm_hardy_share),
        seen_cover: 0.0,
        seen_weed_mass: 0.0,
        seen_shoot_mass: 0.0,
        flows: Flows::keeping(keep),
    }
}
