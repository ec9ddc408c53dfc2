//! What is summed up of the plots day by day: of one run, or of several, one a lane.

use crate::run::world::World;
use crate::simd::soa::soa;
use crate::simd::{Mask, Real};
use std::sync::Arc;

/// Cover below which ground counts as bare (the least cover asked against wind erosion
/// on rangeland: Western Local Land Services, grazing principle 3).
pub const BARE_BELOW: f64 = 0.5;

/// What the run of birds shut in leaves for the others to be measured against.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Baseline {
    pub(crate) plots: usize,
    pub(crate) cover: Vec<f64>,
    /// Hours of the keeper's work in the whole run, by plot.
    pub(crate) work_h: Vec<f64>,
    /// Cover of the barest ring.
    pub(crate) barest: Vec<f64>,
    /// Adults risen from the site's own soil, by pest, number.
    pub(crate) risen: Vec<f64>,
}

impl Baseline {
    /// Cover outside beds of a plot on a day with the birds shut in.
    #[inline]
    #[must_use]
    pub fn cover(&self, day: usize, plot: usize) -> f64 {
        self.cover[day * self.plots + plot]
    }

    /// All plots on a day.
    #[inline]
    pub(crate) fn day(&self, day: usize) -> BaselineDay<'_> {
        let of_day = day * self.plots..(day + 1) * self.plots;
        BaselineDay { cover: &self.cover[of_day.clone()], barest: &self.barest[of_day.clone()] }
    }
}

/// A day with the birds shut in, by plot: cover outside beds, and that of the barest ring.
#[derive(Clone, Copy)]
pub(crate) struct BaselineDay<'a> {
    pub cover: &'a [f64],
    pub barest: &'a [f64],
}

/// A plot today, and as it was with the birds shut in.
pub(crate) struct PlotDay<F> {
    pub cover: F,
    pub weeds: F,
    pub barest: F,
    pub cover_shut_in: F,
    pub barest_shut_in: F,
    pub bird_days: F,
}

/// Cover missing where less than the `wanted` is there; nothing for a surplus.
#[inline(always)]
pub(crate) fn cover_missing<F: Real>(cover: F, wanted: F) -> F {
    (wanted - cover).clamp_min_zero()
}

/// Sums up the days of a site's plots, against the run of birds shut in where there is one.
#[derive(Clone, Debug)]
pub struct PlotAccumulator {
    pub(crate) baseline: Option<Arc<Baseline>>,
    pub(crate) sums: PlotSums,
}

/// Sums over the days of a site's plots.
#[derive(Clone, Debug)]
pub(crate) struct PlotSums<F = f64> {
    cover_limit: F,
    pub(crate) site: SiteTotals<F>,
    pub(crate) plots: Vec<PlotTotals<F>>,
}

soa! { PlotSums { cover_limit, site, plots } }

/// Sums over the days of all plots.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct SiteTotals<F = f64> {
    /// Cover, m² d.
    pub cover: F,
    /// Cover of weeds, m² d.
    pub weed: F,
}

soa! { SiteTotals { cover, weed } }

/// Sums over the days of a plot.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PlotTotals<F = f64> {
    area_m2: F,
    sward_area_m2: F,
    pub least_cover: F,
    /// Cover missing of what is wanted, d.
    pub loss: F,
    pub cover: F,
    pub weed: F,
    /// Days under the cover limit that birds shut in held.
    pub under: F,
    /// Bare days in a row now.
    bare: F,
    /// The most there were.
    pub most_bare: F,
    /// Days open.
    pub open: F,
    /// Per m².
    pub bird_days: F,
}

soa! {
    PlotTotals { area_m2, sward_area_m2, least_cover, loss, cover, weed, under, bare, most_bare, open, bird_days }
}

impl PlotAccumulator {
    /// Nothing summed up yet, for a keeper who asks for this cover.
    pub(crate) fn new(baseline: Option<Arc<Baseline>>, cover_limit: f64) -> Self {
        Self { baseline, sums: PlotSums { cover_limit, site: SiteTotals::default(), plots: Vec::new() } }
    }

    /// Begins anew on a site.
    pub(crate) fn start(&mut self, world: &World) {
        self.sums.site = SiteTotals::default();
        let plot = |plot: &crate::plot::constants::PlotConstants| PlotTotals {
            area_m2: plot.area_m2,
            sward_area_m2: plot.sward_area_m2,
            least_cover: 1.0,
            loss: 0.0,
            cover: 0.0,
            weed: 0.0,
            under: 0.0,
            bare: 0.0,
            most_bare: 0.0,
            open: 0.0,
            bird_days: 0.0,
        };
        self.sums.plots = world.constants.plots.iter().map(plot).collect();
    }
}

impl<F: Real> PlotSums<F> {
    /// A day of a plot is over.
    #[inline(always)]
    pub(crate) fn day(&mut self, plot: usize, today: &PlotDay<F>) {
        let &PlotDay { cover, weeds, barest, cover_shut_in, barest_shut_in, bird_days } = today;
        let (site, here) = (&mut self.site, &mut self.plots[plot]);
        here.loss += cover_missing(cover, cover_shut_in.min(self.cover_limit));
        site.cover += here.sward_area_m2 * cover;
        site.weed += here.area_m2 * weeds;
        // A keeper judges a plot by its barest ring; what is barer than asked without them is not the birds' doing.
        let theirs = F::select(barest_shut_in.ge(self.cover_limit), barest, here.least_cover);
        here.least_cover = here.least_cover.min(theirs);
        here.cover += cover;
        here.weed += weeds;
        // Ground that would lie bare with every gate shut is not the doing of a gate.
        let one = cover.splat(1.0);
        here.under += one.select_or_zero(self.cover_limit.gt(barest) & barest_shut_in.ge(self.cover_limit));
        let bare = barest.below(BARE_BELOW) & barest_shut_in.ge(cover.splat(BARE_BELOW));
        here.bare = (here.bare + one).select_or_zero(bare);
        here.most_bare = here.most_bare.max(here.bare);
        let open = bird_days.above(0.0);
        if open.any() {
            here.open += one.select_or_zero(open);
            here.bird_days += bird_days / here.area_m2;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::same;

    #[test]
    fn no_more_cover_than_wanted_counts() {
        for (cover, wanted, missing) in [(0.0, 0.7, 0.7), (0.35, 0.7, 0.35), (0.7, 0.7, 0.0), (0.95, 0.7, 0.0)] {
            same(cover_missing(cover, wanted), missing);
        }
    }
}
