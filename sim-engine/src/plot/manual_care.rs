//! Manual care of a zone: digging in, weeding, mowing, clearing, mulch, compost, the heap.
//!
//! # Formulas
//!
//! ```text
//! dig      all that lives or lies goes into the soil, of a creeping weed's reserve half; disturbed = 1, firm = 0
//! weed     annual weeds · (1 − kill of their age), shoots · (1 − weeding_kill_shoots); dead young weeds lie on the ground,
//!          older ones and shoots go to the heap; disturbed += (1 − disturbed) · 0.5 on beds, 0.05 on a sward
//! mow      masses of cover, weeds and shoots · leave / their sum, where more than `leave` stands; cuttings stay
//! clear    standing residue goes to the heap
//! mulch    dead cover += mass, with the contents of the plot's own cover
//! compost, heap   fresh organic nitrogen and phosphorus += what is brought, kg/ha
//! leaf fall       dead cover += leaf_litter · share, with the contents of the canopy
//! ```
//!
//! # Source
//!
//! Common practice, no source: what each task does, and the two shares digging and weeding take.
//!
//! # Limits
//!
//! A task is done in a moment, to a whole zone, and as well by everyone. Mown grass does not count as bitten: it recovers
//! no slower.
//!
//! # Parameters
//!
//! ```text
//! ProcessParams                          weeding_kill_young [-], weeding_kill_leafy [-], weeding_kill_mature [-],
//!                                        weeding_kill_shoots [-]
//! CanopyParams                           leaf_litter [g/m2], nitrogen_content [g/g], phosphorus_content [g/g]
//! CoverParams, WeedParams, CreeperParams nitrogen_content [g/g], phosphorus_content [g/g]
//! ```

use crate::ledger::flows::Flow;
use crate::plot::context::{ZoneContext, see};
use crate::plot::{canopy_uptake, cover, dead_cover, weeds as annual};
use crate::site::Task;
use crate::state::{Creeper, Weed, Zone};
use crate::units::KG_HA_PER_G_M2;

/// Share of a creeping weed's reserve that digging takes out (common practice, no source).
const DIGGING_TAKES_RESERVE: f64 = 0.5;
/// Share of a bed's surface that weeding disturbs (common practice, no source).
const WEEDING_DISTURBS_BED: f64 = 0.5;
/// Share of a sward's surface that pulling weeds disturbs (common practice, no source).
const WEEDING_DISTURBS_SWARD: f64 = 0.05;

/// What is carried off a zone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Carried {
    /// Dry matter, g/m².
    pub mass_g_m2: f64,
    /// Nitrogen, kg/ha.
    pub n_kg_ha: f64,
    /// Phosphorus, kg/ha.
    pub p_kg_ha: f64,
}

impl Carried {
    /// Plants of these contents are carried off, and booked as cleared.
    fn take(&mut self, zone: &mut Zone, mass: f64, n_content: f64, p_content: f64) {
        self.carry(zone, mass, mass * n_content * KG_HA_PER_G_M2, mass * p_content * KG_HA_PER_G_M2);
    }

    fn carry(&mut self, zone: &mut Zone, mass: f64, n: f64, p: f64) {
        self.mass_g_m2 += mass;
        self.n_kg_ha += n;
        self.p_kg_ha += p;
        zone.flows.add(Flow::Cleared, mass);
        zone.flows.add(Flow::ClearedN, n);
        zone.flows.add(Flow::ClearedP, p);
    }
}

/// Prepares ground for a crop: all that lives or lies is dug in, crowns die, weeds die.
pub fn dig(zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], context: &ZoneContext) {
    cover::dig_in(zone, context.cover);
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        annual::kill(weed, zone, &context.weeds[kind], [1.0; 3], true);
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&context.plot.creepers) {
        let params = &context.creepers[kind];
        let dug = creeper.shoots + creeper.reserve * DIGGING_TAKES_RESERVE;
        creeper.shoots = 0.0;
        creeper.reserve *= 1.0 - DIGGING_TAKES_RESERVE;
        zone.fresh_n += dug * params.nitrogen_content * KG_HA_PER_G_M2;
        zone.fresh_p += dug * params.phosphorus_content * KG_HA_PER_G_M2;
        zone.flows.add(Flow::MixedIn, dug);
    }
    dead_cover::lay_down_residue(zone, 1.0);
    dead_cover::mix_in(zone, 1.0);
    zone.disturbed = 1.0;
    zone.firm = 0.0;
    see(zone, weeds, creepers, context);
}

/// One task on one zone; gives what is carried off it.
pub fn work(
    task: Task,
    zone: &mut Zone,
    weeds: &mut [Weed],
    creepers: &mut [Creeper],
    context: &ZoneContext,
) -> Carried {
    let mut carried = Carried::default();
    match task {
        Task::Weed { .. } => carried = weed(zone, weeds, creepers, context),
        Task::Mow { leave_g_m2, .. } => mow(leave_g_m2, zone, weeds, creepers, context),
        Task::Clear => carried = clear(zone),
        Task::Mulch { mass_g_m2, .. } => bring(zone, mass_g_m2, context),
        Task::Compost { nitrogen_kg_ha, phosphorus_kg_ha, mass_g_m2, .. } => {
            fertilise(zone, nitrogen_kg_ha, phosphorus_kg_ha, Flow::BroughtN, Flow::BroughtP);
            zone.dead += mass_g_m2;
            zone.flows.add(Flow::Brought, mass_g_m2);
        }
    }
    see(zone, weeds, creepers, context);
    carried
}

/// Weeds are hoed off young and pulled when older; what is pulled would root or seed where it lay.
fn weed(zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], context: &ZoneContext) -> Carried {
    let process = context.process;
    let mut carried = Carried::default();
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        let params = &context.weeds[kind];
        annual::kill(weed, zone, params, [process.weeding_kill_young, 0.0, 0.0], false);
        for (age, kill) in [(1, process.weeding_kill_leafy), (2, process.weeding_kill_mature)] {
            let pulled = weed.ages[age] * kill;
            weed.ages[age] -= pulled;
            carried.take(zone, pulled, params.nitrogen_content, params.phosphorus_content);
        }
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&context.plot.creepers) {
        let params = &context.creepers[kind];
        let pulled = creeper.shoots * process.weeding_kill_shoots;
        creeper.shoots -= pulled;
        carried.take(zone, pulled, params.nitrogen_content, params.phosphorus_content);
    }
    let disturbs = if context.here.bed { WEEDING_DISTURBS_BED } else { WEEDING_DISTURBS_SWARD };
    zone.disturbed += (1.0 - zone.disturbed) * disturbs;
    carried
}

/// Cuts all plants of the sward in proportion, down to `leave` g/m² in all; cuttings stay.
fn mow(leave: f64, zone: &mut Zone, weeds: &mut [Weed], creepers: &mut [Creeper], context: &ZoneContext) {
    let live = zone.live_mass();
    if live <= leave {
        return;
    }
    let cut = 1.0 - leave / live;
    dead_cover::add(zone, zone.cover_mass * cut, context.cover.nitrogen_content, context.cover.phosphorus_content);
    zone.cover_mass *= 1.0 - cut;
    for (weed, &(kind, _)) in weeds.iter_mut().zip(&context.plot.weeds) {
        annual::kill(weed, zone, &context.weeds[kind], [cut; 3], false);
    }
    for (creeper, &(kind, _)) in creepers.iter_mut().zip(&context.plot.creepers) {
        let params = &context.creepers[kind];
        dead_cover::add(zone, creeper.shoots * cut, params.nitrogen_content, params.phosphorus_content);
        creeper.shoots *= 1.0 - cut;
    }
}

/// Standing residue is carried off.
pub fn clear(zone: &mut Zone) -> Carried {
    let mut carried = Carried::default();
    carried.carry(zone, zone.residue, zone.residue_n, zone.residue_p);
    zone.residue = 0.0;
    zone.residue_n = 0.0;
    zone.residue_p = 0.0;
    carried
}

/// Mulch: counted with the contents of the plot's own cover, which it mostly is.
fn bring(zone: &mut Zone, mass: f64, context: &ZoneContext) {
    let params = context.cover;
    dead_cover::add(zone, mass, params.nitrogen_content, params.phosphorus_content);
    zone.flows.add(Flow::Brought, mass);
    zone.flows.add(Flow::BroughtN, mass * params.nitrogen_content * KG_HA_PER_G_M2);
    zone.flows.add(Flow::BroughtP, mass * params.phosphorus_content * KG_HA_PER_G_M2);
}

/// Compost or the heap, spread: fresh organic nitrogen and phosphorus, kg/ha.
pub fn fertilise(zone: &mut Zone, n_kg_ha: f64, p_kg_ha: f64, n_flow: Flow, p_flow: Flow) {
    zone.fresh_n += n_kg_ha;
    zone.fresh_p += p_kg_ha;
    zone.flows.add(n_flow, n_kg_ha);
    zone.flows.add(p_flow, p_kg_ha);
}

/// Leaves of a canopy over this share of the ground fall at leaf-fall.
pub fn leaf_fall(zone: &mut Zone, canopy: &crate::species::CanopyParams, share: f64) {
    let mass = canopy.leaf_litter * share;
    dead_cover::add(zone, mass, canopy.nitrogen_content, canopy.phosphorus_content);
    canopy_uptake::drop(zone, mass, canopy.nitrogen_content, canopy.phosphorus_content);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ledger::flows::Currency;
    use crate::testing::{Garden, SWARD, hazard_to_prob, net, same};

    /// A weedy sward of 100 g/m² cover, 60 of weeds and 40 of shoots, with residue and dead cover.
    struct Ground {
        garden: Garden,
        zone: Zone,
        weeds: [Weed; 1],
        creepers: [Creeper; 1],
        carried: Carried,
    }

    impl Ground {
        fn weedy() -> Self {
            let garden = Garden::new();
            let mut zone = Zone {
                cover_mass: 100.0,
                rested: 1.0,
                crowns: 1.0,
                residue: 30.0,
                residue_n: 6.0,
                residue_p: 0.9,
                dead: 80.0,
                dead_n: 16.0,
                dead_p: 2.0,
                fresh_n: 3.0,
                fresh_p: 0.4,
                disturbed: 0.2,
                firm: 0.6,
                ..Zone::default()
            };
            let weeds = [Weed { ages: [10.0, 20.0, 30.0], ..Weed::default() }];
            let creepers = [Creeper { shoots: 40.0, reserve: 70.0, ..Creeper::default() }];
            see(&mut zone, &weeds, &creepers, &garden.zone_context(SWARD));
            Self { garden, zone, weeds, creepers, carried: Carried::default() }
        }

        fn worked(mut self, task: Task) -> Self {
            self.carried =
                work(task, &mut self.zone, &mut self.weeds, &mut self.creepers, &self.garden.zone_context(SWARD));
            self
        }

        /// Dry matter, nitrogen (kg/ha) and phosphorus of all that lives, lies and is fresh in the soil.
        fn stocks(&self) -> [f64; 3] {
            let zone = &self.zone;
            let reserve = self.creepers[0].reserve + self.creepers[0].shoots;
            let live = [(zone.cover_mass, 0.25, 0.032), (self.weeds[0].mass(), 0.3, 0.04), (reserve, 0.22, 0.03)];
            let mass = live.iter().map(|plant| plant.0).sum::<f64>() + zone.residue + zone.dead;
            let n =
                live.iter().map(|plant| plant.0 * plant.1).sum::<f64>() + zone.residue_n + zone.dead_n + zone.fresh_n;
            let p =
                live.iter().map(|plant| plant.0 * plant.2).sum::<f64>() + zone.residue_p + zone.dead_p + zone.fresh_p;
            [mass, n, p]
        }

        /// All that changed is booked, and what is seen is what stands.
        #[track_caller]
        fn is_in_order(&self) {
            let before = Self::weedy().stocks();
            let currencies = [Currency::DryMatter, Currency::N, Currency::P];
            for (currency, (before, after)) in currencies.into_iter().zip(before.iter().zip(self.stocks())) {
                same(after - before, net(&self.zone.flows, currency));
            }
            let (weeds, shoots) = (self.weeds[0].mass(), self.creepers[0].shoots);
            same(self.zone.seen_weed_mass, weeds);
            same(self.zone.seen_shoot_mass, shoots);
            let dead = 0.004 * (self.zone.dead + self.zone.residue);
            same(
                self.zone.seen_cover,
                hazard_to_prob(0.011 * self.zone.cover_mass + 0.018 * weeds + 0.012 * shoots + dead),
            );
        }
    }

    fn mow_to(leave_g_m2: f64) -> Task {
        Task::Mow { above_g_m2: None, leave_g_m2, effort_h_m2: None }
    }

    /// The bed is bare: everything is in the soil but half of the creeping weed's roots.
    #[test]
    fn digging_turns_everything_in_but_half_the_roots() {
        let mut ground = Ground::weedy();
        dig(&mut ground.zone, &mut ground.weeds, &mut ground.creepers, &ground.garden.zone_context(SWARD));
        ground.is_in_order();
        let Ground { zone, weeds, creepers, .. } = ground;
        assert_eq!((zone.cover_mass, zone.crowns, zone.dead, zone.residue, zone.seen_cover), (0.0, 0.0, 0.0, 0.0, 0.0));
        assert_eq!((weeds[0].mass(), creepers[0].shoots, creepers[0].reserve), (0.0, 0.0, 35.0));
        assert_eq!((zone.disturbed, zone.firm), (1.0, 0.0));
        same(zone.flows.get(Flow::MixedIn), 100.0 + 60.0 + 40.0 + 35.0 + 30.0 + 80.0);
    }

    #[test]
    fn weeding_kills_by_age_and_takes_all_but_the_young_to_the_heap() {
        let ground = Ground::weedy().worked(Task::Weed { above: None });
        ground.is_in_order();
        let process = ground.garden.constants.species.process.clone();
        let [young, leafy, mature] = ground.weeds[0].ages;
        same(young, 10.0 * (1.0 - process.weeding_kill_young));
        same(leafy, 20.0 * (1.0 - process.weeding_kill_leafy));
        same(mature, 30.0 * (1.0 - process.weeding_kill_mature));
        assert!(young / 10.0 < leafy / 20.0 && leafy / 20.0 < mature / 30.0);
        same(ground.creepers[0].shoots, 40.0 * (1.0 - process.weeding_kill_shoots));
        assert_eq!((ground.zone.cover_mass, ground.creepers[0].reserve), (100.0, 70.0));
        same(ground.zone.dead, 80.0 + 10.0 - young);
        same(ground.zone.disturbed, 0.2 + 0.8 * 0.05);
        let pulled = (20.0 - leafy) + (30.0 - mature);
        let shoots = 40.0 - ground.creepers[0].shoots;
        same(ground.carried.mass_g_m2, pulled + shoots);
        same(ground.carried.n_kg_ha, pulled * 0.3 + shoots * 0.22);
        same(ground.carried.p_kg_ha, pulled * 0.04 + shoots * 0.03);
        same(ground.zone.flows.get(Flow::ClearedN), ground.carried.n_kg_ha);
    }

    #[test]
    fn mowing_leaves_the_height_asked_of_every_plant_alike() {
        let ground = Ground::weedy().worked(mow_to(50.0));
        ground.is_in_order();
        same(ground.zone.cover_mass, 25.0);
        same(ground.weeds[0].ages[2], 7.5);
        same(ground.weeds[0].mass(), 15.0);
        same(ground.creepers[0].shoots, 10.0);
        same(ground.zone.dead, 80.0 + 150.0);
        // A sward no higher than that is left alone.
        for leave_g_m2 in [200.0, 250.0] {
            let low = Ground::weedy().worked(mow_to(leave_g_m2));
            assert_eq!((low.zone.cover_mass, low.zone.dead), (100.0, 80.0));
        }
    }

    #[test]
    fn clearing_carries_the_residue_away() {
        let ground = Ground::weedy().worked(Task::Clear);
        ground.is_in_order();
        assert_eq!((ground.zone.residue, ground.zone.residue_n, ground.zone.residue_p), (0.0, 0.0, 0.0));
        let booked = [Flow::Cleared, Flow::ClearedN, Flow::ClearedP].map(|flow| ground.zone.flows.get(flow));
        assert_eq!(booked, [30.0, 6.0, 0.9]);
        assert_eq!(ground.carried, Carried { mass_g_m2: 30.0, n_kg_ha: 6.0, p_kg_ha: 0.9 });
    }

    #[test]
    fn mulch_and_compost_bring_what_they_hold() {
        let mulched = Ground::weedy().worked(Task::Mulch { mass_g_m2: 200.0, effort_h_m2: 0.0 });
        mulched.is_in_order();
        same(mulched.zone.dead, 280.0);
        same(mulched.zone.dead_n, 16.0 + 50.0);
        same(mulched.zone.flows.get(Flow::BroughtN), 50.0);
        let compost =
            Task::Compost { nitrogen_kg_ha: 90.0, phosphorus_kg_ha: 20.0, mass_g_m2: 500.0, effort_h_m2: 0.0 };
        let fed = Ground::weedy().worked(compost);
        fed.is_in_order();
        same(fed.zone.dead, 580.0);
        same(fed.zone.fresh_n, 93.0);
        same(fed.zone.fresh_p, 20.4);
        // The heap is booked as the heap.
        let mut zone = Zone::default();
        fertilise(&mut zone, 12.0, 4.0, Flow::HeapN, Flow::HeapP);
        assert_eq!((zone.flows.get(Flow::HeapN), zone.flows.get(Flow::HeapP)), (12.0, 4.0));
        assert_eq!((zone.fresh_n, zone.fresh_p), (12.0, 4.0));
    }

    #[test]
    fn leaves_fall_with_what_they_hold() {
        let garden = Garden::new();
        let mut zone = Zone::default();
        leaf_fall(&mut zone, &garden.site.canopies[0].params, 1.0);
        same(zone.dead, 180.0);
        same(zone.dead_n, 180.0 * 0.12);
        same(zone.dead_p, 180.0 * 0.015);
        same(zone.flows.get(Flow::CanopyFall), 180.0);
        same(zone.flows.get(Flow::CanopyN), 180.0 * 0.12);
    }
}
