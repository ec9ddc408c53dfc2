//! Invertebrate food at the surface: renewed by warmth, gone again if nothing eats it.

use crate::flows::Flow;
use crate::lanes::Real;
use crate::plot::look::Surroundings;
use crate::state::Zone;

/// Renewal and loss of a step; settles at `insect_room` where nothing eats.
#[inline(always)]
pub fn advance<F: Real>(zone: &mut Zone<F>, around: &Surroundings<F>) {
    let up = around.process.insect_renewal * around.day.insect_warmth * around.step();
    let gone = zone.insects * around.day.insect_going;
    zone.insects += up - gone;
    zone.flows.add(Flow::InsectsUp, up);
    zone.flows.add(Flow::InsectsGone, gone);
}
