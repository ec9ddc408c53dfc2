//! What the recorders of a batch sum up of the plots day by day, in lanes.

use crate::run::ground::LaneGround;
use crate::run::plot_sums::{Baseline, BaselineDay, PlotAccumulator, PlotDay, PlotSums};
use crate::run::recorder::Recorder;
use crate::run::world::World;
use crate::simd::soa::StructOfArrays;
use crate::simd::{MOST_LANES, Real};
use std::sync::Arc;

/// The accumulators of all runs: those that are shown first by every recorder, then the second, and so on.
pub(super) struct BatchAccumulators<F>(Vec<BatchAccumulator<F>>);

struct BatchAccumulator<F> {
    sums: PlotSums<F>,
    /// The baseline of each run, if it has one.
    baselines: [Option<Arc<Baseline>>; MOST_LANES],
}

impl<F: Real> BatchAccumulators<F> {
    /// Takes over what the recorders have summed up so far.
    pub fn take(zero: F, recorders: &mut [&mut dyn Recorder]) -> Self {
        let mut by_run: Vec<Vec<PlotAccumulator>> = Vec::with_capacity(recorders.len());
        for recorder in recorders {
            let mut shown = Vec::new();
            recorder.accumulators(&mut |accumulator| shown.push(accumulator.clone()));
            by_run.push(shown);
        }
        let most = by_run.iter().map(Vec::len).max().unwrap_or(0);
        Self((0..most).map(|place| BatchAccumulator::gather(zero, &by_run, place)).collect())
    }

    /// Sums up a day of all runs.
    #[inline(always)]
    pub fn day(&mut self, ground: &LaneGround<F>, worlds: &[World], day: usize) {
        for accumulator in &mut self.0 {
            accumulator.day(ground, worlds, day);
        }
    }

    /// Hands every recorder its own.
    pub fn hand_back(self, recorders: &mut [&mut dyn Recorder]) {
        for (lane, recorder) in recorders.iter_mut().enumerate() {
            let mut accumulators = self.0.iter();
            recorder.accumulators(&mut |own| {
                if let Some(of_batch) = accumulators.next() {
                    of_batch.sums.lane_into(lane, &mut own.sums);
                }
            });
        }
    }
}

impl<F: Real> BatchAccumulator<F> {
    /// Of the accumulators at one place; a run that has none there lends its lane to another.
    fn gather(zero: F, by_run: &[Vec<PlotAccumulator>], place: usize) -> Self {
        let some = by_run.iter().find_map(|shown| shown.get(place));
        let all: Vec<&PlotAccumulator> = by_run.iter().filter_map(|shown| shown.get(place).or(some)).collect();
        let of = |lane: usize| all[lane.min(all.len() - 1)];
        Self {
            sums: StructOfArrays::gather(zero, |lane| &of(lane).sums),
            baselines: core::array::from_fn(|lane| of(lane).baseline.clone()),
        }
    }

    #[inline(always)]
    fn day(&mut self, ground: &LaneGround<F>, worlds: &[World], day: usize) {
        let (zero, last) = (ground.zero, worlds.len() - 1);
        let against = self.baselines.iter().any(Option::is_some);
        let mut without: [Option<BaselineDay>; MOST_LANES] = [None; MOST_LANES];
        if against {
            for (of_run, baseline) in without.iter_mut().zip(&self.baselines) {
                *of_run = baseline.as_ref().map(|baseline| baseline.day(day));
            }
        }
        for (plot, condition) in ground.today.conditions.iter().enumerate() {
            let mut today = PlotDay {
                cover: condition.cover,
                weeds: condition.weeds,
                barest: condition.barest,
                cover_shut_in: condition.cover,
                barest_shut_in: condition.barest,
                bird_days: zero,
            };
            if against {
                let of_run = |lane: usize| without[lane.min(last)];
                today.cover_shut_in =
                    zero.by_lane(|lane| of_run(lane).map_or_else(|| condition.cover.lane(lane), |day| day.cover[plot]));
                today.barest_shut_in = zero
                    .by_lane(|lane| of_run(lane).map_or_else(|| condition.barest.lane(lane), |day| day.barest[plot]));
            }
            if ground.today.visited[plot] {
                today.bird_days = zero.by_lane(|lane| worlds[lane.min(last)].birds_on[plot].bird_days);
            }
            self.sums.day(plot, &today);
        }
    }
}
