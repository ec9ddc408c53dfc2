//! What hands do to a zone: digging in, hoeing, mowing, clearing, mulch, compost, the heap.

use crate::flows::Flow;
use crate::plot::look::{Surroundings, see};
use crate::plot::{cover, dead_cover, weeds as annual};
use crate::site::Task;
use crate::state::{Creeper, KG_HA, Weed, Zone};

/// Share of a creeping weed's reserve that digging takes out (common practice, no source).
const DIGGING_TAKES_RESERVE: f64 = 0.5;
/// Share of the surface a hoe disturbs (common practice, no source).
const HOE_DISTURBS: f64 = 0.5;

/// Prepares ground for a crop: all that lives or lies is dug in, crowns die, weeds die.
pub fn dig(zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], around: &Surroundings) {
    cover::dig_in(zone, around.cover);
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&around.plot.weeds) {
        annual::kill(weed, zone, &around.weeds[kind], [1.0; 3], true);
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&around.plot.creepers) {
        let n = &around.creepers[kind];
        let dug = creeper.shoots + creeper.reserve * DIGGING_TAKES_RESERVE;
        creeper.shoots = 0.0;
        creeper.reserve *= 1.0 - DIGGING_TAKES_RESERVE;
        zone.fresh_n += dug * n.nitrogen_content * KG_HA;
        zone.fresh_p += dug * n.phosphorus_content * KG_HA;
        zone.flows.add(Flow::MixedIn, dug);
    }
    dead_cover::lay_down_residue(zone, 1.0);
    dead_cover::mix_in(zone, 1.0);
    zone.disturbed = 1.0;
    zone.firm = 0.0;
    see(zone, weeds, creepers, around);
}

/// One task on one zone.
pub fn work(task: Task, zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], around: &Surroundings) {
    match task {
        Task::Hoe { kill } => hoe(kill, zone, weeds, creepers, around),
        Task::Mow { leave_g_m2 } => mow(leave_g_m2, zone, weeds, creepers, around),
        Task::Clear => clear(zone),
        Task::Mulch { mass_g_m2 } => bring(zone, mass_g_m2, around),
        Task::Compost { nitrogen_kg_ha, phosphorus_kg_ha, mass_g_m2 } => {
            fertilise(zone, nitrogen_kg_ha, phosphorus_kg_ha, Flow::BroughtN, Flow::BroughtP);
            zone.dead += mass_g_m2;
            zone.flows.add(Flow::Brought, mass_g_m2);
        }
    }
    see(zone, weeds, creepers, around);
}

fn hoe(kill: f64, zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], around: &Surroundings) {
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&around.plot.weeds) {
        annual::kill(weed, zone, &around.weeds[kind], [kill; 3], false);
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&around.plot.creepers) {
        let n = &around.creepers[kind];
        dead_cover::add(zone, creeper.shoots * kill, n.nitrogen_content, n.phosphorus_content);
        creeper.shoots *= 1.0 - kill;
    }
    zone.disturbed += (1.0 - zone.disturbed) * HOE_DISTURBS;
}

/// Cuts all plants of the sward in proportion, down to `leave` g/m² in all; cuttings stay.
fn mow(leave: f64, zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], around: &Surroundings) {
    let live = zone.cover + zone.seen_weeds + zone.seen_shoots;
    if live <= leave {
        return;
    }
    let cut = 1.0 - leave / live;
    dead_cover::add(zone, zone.cover * cut, around.cover.nitrogen_content, around.cover.phosphorus_content);
    zone.cover *= 1.0 - cut;
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&around.plot.weeds) {
        annual::kill(weed, zone, &around.weeds[kind], [cut; 3], false);
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&around.plot.creepers) {
        let n = &around.creepers[kind];
        dead_cover::add(zone, creeper.shoots * cut, n.nitrogen_content, n.phosphorus_content);
        creeper.shoots *= 1.0 - cut;
    }
}

fn clear(zone: &mut Zone) {
    zone.flows.add(Flow::Cleared, zone.residue);
    zone.flows.add(Flow::ClearedN, zone.residue_n);
    zone.flows.add(Flow::ClearedP, zone.residue_p);
    zone.residue = 0.0;
    zone.residue_n = 0.0;
    zone.residue_p = 0.0;
}

/// Mulch: counted with the contents of the plot's own cover, which it mostly is.
fn bring(zone: &mut Zone, mass: f64, around: &Surroundings) {
    let n = around.cover;
    dead_cover::add(zone, mass, n.nitrogen_content, n.phosphorus_content);
    zone.flows.add(Flow::Brought, mass);
    zone.flows.add(Flow::BroughtN, mass * n.nitrogen_content * KG_HA);
    zone.flows.add(Flow::BroughtP, mass * n.phosphorus_content * KG_HA);
}

/// Compost or the heap, spread: fresh organic nitrogen and phosphorus, kg/ha.
pub fn fertilise(zone: &mut Zone, n_kg_ha: f64, p_kg_ha: f64, n_flow: Flow, p_flow: Flow) {
    zone.fresh_n += n_kg_ha;
    zone.fresh_p += p_kg_ha;
    zone.flows.add(n_flow, n_kg_ha);
    zone.flows.add(p_flow, p_kg_ha);
}

/// Leaves of a canopy fall at leaf-fall.
pub fn leaf_fall(zone: &mut Zone, canopy: &crate::kinds::CanopyNumbers) {
    dead_cover::add(zone, canopy.leaf_litter, canopy.nitrogen_content, canopy.phosphorus_content);
    dead_cover::book_canopy_fall(zone, canopy.leaf_litter, canopy);
}
