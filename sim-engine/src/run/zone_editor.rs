//! How events reach the ground: a zone of one run is taken out of its lane, worked on, and put back.

use crate::plot::constants::{SiteConstants, ZoneConstants};
use crate::state::{GroundState, PestHere, ZoneState};

/// The ground of one run, however many lanes lie beside it.
pub(crate) trait RunGround {
    /// Copies a zone out.
    fn copy_out(&self, zone: usize, here: &ZoneConstants, state: &mut ZoneState);
    /// Copies a zone back.
    fn copy_back(&mut self, zone: usize, here: &ZoneConstants, state: &ZoneState);
    /// A crop came or went on this plot.
    fn note_crops(&mut self, plot: usize);
    /// The season of a pest began or ended.
    fn note_seasons(&mut self);
}

/// Edits the ground of one run zone by zone.
pub(crate) struct ZoneEditor<'e> {
    ground: &'e mut dyn RunGround,
    scratch: &'e mut ZoneState,
}

impl<'e> ZoneEditor<'e> {
    /// `scratch` has room for any zone: see [`ZoneState::for_any_zone`].
    pub fn new(ground: &'e mut dyn RunGround, scratch: &'e mut ZoneState) -> Self {
        Self { ground, scratch }
    }

    /// Works on a zone.
    pub fn edit<T>(&mut self, constants: &SiteConstants, zone: usize, work: impl FnOnce(&mut ZoneState) -> T) -> T {
        let here = &constants.zones[zone];
        self.ground.copy_out(zone, here, self.scratch);
        let done = work(self.scratch);
        self.ground.copy_back(zone, here, self.scratch);
        done
    }

    /// Works on a pest of the site wherever it may live, told the share of the ground its hosts have there.
    pub fn edit_pest(&mut self, constants: &SiteConstants, pest: usize, mut work: impl FnMut(&mut PestHere, f64)) {
        for (zone, here) in constants.zones.iter().enumerate() {
            let kinds = &constants.pest_kinds[here.pests.clone()];
            if kinds.contains(&pest) {
                self.edit(constants, zone, |state| {
                    let shares = &constants.host_shares[here.pests.clone()];
                    let of_kind = state.pests.iter_mut().zip(kinds).zip(shares).filter(|((_, kind), _)| **kind == pest);
                    of_kind.for_each(|((state, _), share)| work(state, *share));
                });
            }
        }
    }

    /// Looks at a zone.
    pub fn look(&mut self, constants: &SiteConstants, zone: usize) -> &ZoneState {
        self.ground.copy_out(zone, &constants.zones[zone], self.scratch);
        self.scratch
    }

    /// A crop came or went on this plot.
    pub fn note_crops(&mut self, plot: usize) {
        self.ground.note_crops(plot);
    }

    /// The season of a pest began or ended.
    pub fn note_seasons(&mut self) {
        self.ground.note_seasons();
    }
}

impl ZoneState {
    /// Room for any zone of this ground, so that nothing is allocated later.
    pub(crate) fn for_any_zone(constants: &SiteConstants, ground: &GroundState) -> Self {
        let most = |of: fn(&ZoneConstants) -> usize| constants.zones.iter().map(of).max().unwrap_or(0);
        Self {
            zone: ground.zones[0].clone(),
            weeds: Vec::with_capacity(most(|here| here.weeds.len())),
            creepers: Vec::with_capacity(most(|here| here.creepers.len())),
            pests: Vec::with_capacity(most(|here| here.pests.len())),
            slugs: Vec::with_capacity(most(|here| here.slugs.len())),
        }
    }
}
