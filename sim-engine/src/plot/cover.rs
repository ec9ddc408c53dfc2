//! Ground cover: growth, recovery from bites, ageing, crowns.
//!
//! dC = μ · temperature × light · water · nitrogen · [g₀ + (1 − g₀) v] · C · (1 − ΣB/K)
//! plus regrowth from crowns. v counts how much of the surface has recovered: every bite
//! and scratch sends a share of the *whole* surface, rested and recovering alike, back
//! to "just bitten". A mean reserve cannot tell two bites on one tiller from one
//! bite on two, and leaves a rotation and open gates alike; these shares do not.

use crate::flows::Flow;
use crate::kinds::CoverNumbers;
use crate::lanes::Real;
use crate::plot::dead_cover;
use crate::plot::look::{Look, Surroundings};
use crate::state::{BOXES, Zone};

/// Growth (against the best) at which bitten sward recovers in `recovery_days` (calibrated).
const GOOD_GROWTH: f64 = 0.6;
/// Fastest recovery against that (calibrated).
const FASTEST_RECOVERY: f64 = 1.3;
/// Cover mass at which regrowth from crowns ends, g/m² (calibrated).
const CROWN_GROWTH_ENDS: f64 = 100.0;

/// Growth proposed for a step, g/m², before nitrogen is shared out.
#[inline(always)]
#[must_use]
pub fn growth<F: Real>(zone: &Zone<F>, look: &Look<F>, around: &Surroundings<F>) -> F {
    let n = around.cover;
    let nitrogen = look.nitrogen_factor.max(n.fixed_share);
    let conditions = around.cover_day().growth * look.water_factor * nitrogen * zone.crowns * around.step();
    let vigour = n.bitten_growth + n.bitten_growth.rest() * look.rested;
    let room = (look.live * around.here.per_capacity).rest().or_zero();
    let from_leaves = n.growth_rate * vigour * zone.cover * room;
    let low = (zone.cover * (1.0 / CROWN_GROWTH_ENDS)).rest().or_zero();
    conditions * (from_leaves + n.crown_regrowth * look.rested * low)
}

/// Surface bitten and scratched in this step falls back, whatever its state:
/// `lost_share` of the cover was taken, `scratched` is searched area per area.
#[inline(always)]
pub fn set_back<F: Real>(zone: &mut Zone<F>, lost_share: F, scratched: F, n: &CoverNumbers<F>) {
    let just_bitten = zone.bitten[0];
    let falls = (n.bite_spread * lost_share + n.touch_setback * scratched).lost();
    for share in &mut zone.bitten {
        *share *= falls.rest();
    }
    zone.rested *= falls.rest();
    zone.bitten[0] += falls;
    zone.crowns *= (n.crown_scratch_loss * scratched * just_bitten).lost().rest();
}

/// Recovery, ageing and crowns of a step.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, look: &Look<F>, around: &Surroundings<F>) {
    let n = around.cover;
    let step = around.step();
    recover(zone, look, around);
    let dying = n.crown_death * look.rested.rest() * step;
    let regained = n.crown_recovery * around.cover_day().growth * look.water_factor * zone.seen_cover * step;
    zone.crowns += zone.crowns * (zone.crowns.rest() * regained.up_to_one() - dying.up_to_one());
    let above_stubble = (zone.cover - n.out_of_reach * 0.5).or_zero();
    let aged = above_stubble * around.cover_day().dies;
    zone.cover -= aged;
    dead_cover::add(zone, aged, n.nitrogen_content, n.phosphorus_content);
}

/// Share of a box that moves on in a day, per growth factor, for sward that recovers in this
/// many days of good growth.
#[must_use]
pub fn recovery_per_growth(recovery_days: f64) -> f64 {
    BOXES as f64 / recovery_days / GOOD_GROWTH
}

/// Boxes advance with good growth.
#[inline(always)]
fn recover<F: Real>(zone: &mut Zone<F>, look: &Look<F>, around: &Surroundings<F>) {
    let growth = around.cover_day().growth * look.water_factor;
    let growth = growth.min(growth.of(FASTEST_RECOVERY * GOOD_GROWTH));
    let moving = (around.here.recovery * growth).up_to_one();
    let mut arriving = around.zero();
    for share in &mut zone.bitten {
        let leaving = *share * moving;
        *share += arriving - leaving;
        arriving = leaving;
    }
    zone.rested += arriving;
}

/// Digging and clearing: everything live becomes dead matter in the soil, crowns die.
/// Returns the mass dug in, g/m².
pub fn dig_in(zone: &mut Zone, n: &CoverNumbers) -> f64 {
    let mass = zone.cover;
    zone.fresh_n += mass * n.nitrogen_content * crate::state::KG_HA;
    zone.fresh_p += mass * n.phosphorus_content * crate::state::KG_HA;
    zone.flows.add(Flow::MixedIn, mass);
    zone.cover = 0.0;
    zone.crowns = 0.0;
    zone.bitten = [1.0, 0.0, 0.0, 0.0];
    zone.rested = 0.0;
    mass
}
