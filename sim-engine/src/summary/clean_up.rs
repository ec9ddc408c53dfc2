//! How much of the residue that crops leave is gone in time.
//!
//! This is the share gone within three weeks of a crop's end, not the days until residue is gone: those are
//! `residue_gone_d` of the analysis, which has them of single runs.

use crate::run::world::World;

/// Days in which residue of a crop should be gone (common practice, no source).
const CLEAN_UP_DAYS: usize = 21;

/// Residue of crops, followed from the day each crop ended.
#[derive(Clone, Debug, Default)]
pub(super) struct CleanUp {
    left_kg: f64,
    gone_kg: f64,
    looked_for: Vec<Residue>,
}

#[derive(Clone, Debug)]
struct Residue {
    plot: usize,
    ended: usize,
    /// Left on the evening of that day, once that is known.
    left_kg: Option<f64>,
}

impl CleanUp {
    /// A crop ended.
    pub fn crop_ended(&mut self, plot: usize, day: usize) {
        self.looked_for.retain(|residue| residue.plot != plot);
        self.looked_for.push(Residue { plot, ended: day, left_kg: None });
    }

    /// The evening of a day: what is left is weighed on the first, and again after three weeks
    /// unless the next crop stands by then.
    pub fn evening(&mut self, world: &World, day: usize) {
        let (all_left, all_gone) = (&mut self.left_kg, &mut self.gone_kg);
        self.looked_for.retain_mut(|residue| {
            let lies_kg = world.condition_of(residue.plot).residue_kg;
            let Some(left_kg) = residue.left_kg else {
                residue.left_kg = Some(lies_kg);
                return lies_kg > 0.0;
            };
            if world.plots[residue.plot].crop_standing {
                return false;
            }
            if day < residue.ended + CLEAN_UP_DAYS {
                return true;
            }
            *all_gone += (left_kg - lies_kg).max(0.0);
            *all_left += left_kg;
            false
        });
    }

    /// How much of it was gone in time, %; `None` where no crop left any.
    pub fn percent_gone(&self) -> Option<f64> {
        (self.left_kg > 0.0).then(|| 100.0 * self.gone_kg / self.left_kg)
    }
}
