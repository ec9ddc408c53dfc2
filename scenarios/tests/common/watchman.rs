//! A recorder that looks at every state every evening, and keeps the books.

use sim_engine::ledger::balance::Audit;
use sim_engine::ledger::flows::{Flow, FlowSet};
use sim_engine::run::recorder::{DayView, Recorder, RunView};

/// Looks at every state every evening, and keeps the books.
#[derive(Default)]
pub struct Watchman {
    audit: Option<Audit>,
}

impl Watchman {
    /// The largest share of anything that was unaccounted for on any day.
    pub fn worst(self) -> f64 {
        self.audit.unwrap().worst_of_all()
    }
}

impl Recorder for Watchman {
    fn flows(&self) -> FlowSet {
        FlowSet::ALL
    }
    fn reads_ground(&self, _: usize) -> bool {
        true
    }
    fn start(&mut self, run: &RunView) {
        self.audit = Some(Audit::start(run));
    }
    fn day(&mut self, view: &DayView) {
        let audit = self.audit.as_mut().unwrap();
        audit.check(&view.run(), view.day);
        look(view);
    }
}

/// Nothing negative, nothing without a value, shares within 0 to 1.
fn look(view: &DayView) {
    let (world, ground) = (view.world, view.ground());
    let sound = |x: f64| x.is_finite() && x >= 0.0;
    for (zone, z) in ground.zones.iter().enumerate() {
        let amounts = [
            z.cover_mass,
            z.crop,
            z.residue,
            z.residue_n,
            z.residue_p,
            z.dead,
            z.dead_n,
            z.dead_p,
            z.fruit,
            z.water,
            z.fresh_n,
            z.mineral_n,
            z.slow_n,
            z.fresh_p,
            z.soil_p,
            z.insects,
            z.worms.infective(),
            z.harvested,
            z.crop_lost,
            z.thrown,
        ];
        assert!(
            amounts.iter().chain(&z.worms.frail.ripening).chain(&z.worms.hardy.ripening).all(|&x| sound(x)),
            "day {}: {z:?}",
            view.day
        );
        let shares = [z.rested, z.crowns, z.firm, z.disturbed, z.seen_cover];
        assert!(shares.iter().chain(&z.bitten).all(|&x| sound(x) && x <= 1.0 + 1e-12), "day {}: {z:?}", view.day);
        assert!((z.rested + z.bitten.iter().sum::<f64>() - 1.0).abs() < 1e-9);
        assert!(Flow::ALL.iter().all(|&f| sound(view.run().flow(zone, f))));
    }
    assert!(ground.weeds.iter().all(|w| w.ages.iter().chain([&w.deep, &w.surface]).all(|&x| sound(x))));
    assert!(ground.creepers.iter().all(|c| sound(c.shoots) && sound(c.reserve)));
    for p in &ground.pests {
        let amounts = [
            p.overwintered_near,
            p.dropped_near,
            p.in_fruit,
            p.overwintered,
            p.dropped,
            p.adults,
            p.risen,
            p.flown_in,
            p.damage_sum,
        ];
        assert!(
            amounts.iter().chain(&p.summer).chain(&p.above).chain(&p.waiting).all(|&x| sound(x)),
            "day {}: {p:?}",
            view.day
        );
    }
    assert!(
        [world.yard.n_kg, world.yard.p_kg, world.heap.n_kg, world.heap.p_kg, world.yard.worms.infective()]
            .iter()
            .all(|&x| sound(x))
    );
}
