//! What recorders of years that run abreast gather of the plots, in lanes.

use super::ground::Ground;
use crate::lanes::Real;
use crate::lanes::laned::Laned;
use crate::recorder::FromTheGate;
use crate::summary::{Gathering, Today};
use crate::world::World;

/// The most lanes there are.
const MOST_LANES: usize = 8;

/// The gatherings of all years.
pub(super) struct Gathered<F> {
    lanes: Gathering<F>,
    /// They are held against a run without birds.
    against: bool,
}

impl<F: Real> Gathered<F> {
    /// Takes over what the recorders have begun to gather; `None` where they do not all do so, and
    /// in the same way.
    pub fn begin(zero: F, recorders: &mut [&mut dyn FromTheGate]) -> Option<Self> {
        let against = recorders[0].held_against().is_some();
        if recorders.iter().any(|recorder| recorder.held_against().is_some() != against) {
            return None;
        }
        let begun = recorders.iter_mut().map(|recorder| recorder.gathering().cloned());
        let begun: Vec<Gathering> = begun.collect::<Option<_>>()?;
        Some(Self { lanes: Laned::gather(zero, |lane| &begun[lane.min(begun.len() - 1)]), against })
    }

    /// Gathers a day of all years.
    #[inline(always)]
    pub fn day(&mut self, ground: &Ground<F>, worlds: &[World], recorders: &[&mut dyn FromTheGate], day: usize) {
        let (zero, last) = (ground.zero, worlds.len() - 1);
        let mut without: [(&[f64], &[f64]); MOST_LANES] = [(&[], &[]); MOST_LANES];
        if self.against {
            for (of_year, recorder) in without.iter_mut().zip(recorders) {
                *of_year = recorder.held_against().map(|reference| reference.day(day)).unwrap_or_default();
            }
        }
        for (plot, seen) in ground.today.plot_seen.iter().enumerate() {
            let mut today = Today {
                cover: seen.cover,
                weeds: seen.weeds,
                cover_without: seen.cover,
                weeds_without: seen.weeds,
                bird_days: zero,
            };
            if self.against {
                today.cover_without = zero.by_lane(|lane| without[lane.min(last)].0[plot]);
                today.weeds_without = zero.by_lane(|lane| without[lane.min(last)].1[plot]);
            }
            if ground.today.visited[plot] {
                today.bird_days = zero.by_lane(|lane| worlds[lane.min(last)].birds_on[plot].bird_days);
            }
            self.lanes.day(plot, &today);
        }
    }

    /// Hands every recorder its own.
    pub fn hand_back(self, recorders: &mut [&mut dyn FromTheGate]) {
        for (lane, recorder) in recorders.iter_mut().enumerate() {
            if let Some(gathering) = recorder.gathering() {
                self.lanes.lane_into(lane, gathering);
            }
        }
    }
}
