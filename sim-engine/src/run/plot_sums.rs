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

    /// Cover outside beds of all plots on a day.
    #[inline]
    pub(crate) fn day(&self, day: usize) -> &[f64] {
        &self.cover[day * self.plots..(day + 1) * self.plots]
    }
}

/// A plot today, and as it was with the birds shut in.
pub(crate) struct PlotDay<F> {
    pub cover: F,
    pub weeds: F,
    pub cover_shut_in: F,
    pub bird_days: F,
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
    /// Cover that the run of birds shut in has more, m² d.
    pub loss: F,
    /// Cover, m² d.
    pub cover: F,
    /// Cover of weeds, m² d.
    pub weed: F,
}

soa! { SiteTotals { loss, cover, weed } }

/// Sums over the days of a plot.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PlotTotals<F = f64> {
    area_m2: F,
    seen_area_m2: F,
    pub least_cover: F,
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
    PlotTotals { area_m2, seen_area_m2, least_cover, cover, weed, under, bare, most_bare, open, bird_days }
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
            seen_area_m2: plot.seen_area_m2,
            least_cover: 1.0,
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
        let &PlotDay { cover, weeds, cover_shut_in, bird_days } = today;
        let (site, here) = (&mut self.site, &mut self.plots[plot]);
        site.loss += here.seen_area_m2 * (cover_shut_in - cover).clamp_min_zero();
        site.cover += here.seen_area_m2 * cover;
        site.weed += here.area_m2 * weeds;
        here.least_cover = here.least_cover.min(cover);
        here.cover += cover;
        here.weed += weeds;
        // Ground that would lie bare with every gate shut is not the doing of a gate.
        let one = cover.splat(1.0);
        here.under += one.select_or_zero(self.cover_limit.gt(cover) & cover_shut_in.ge(self.cover_limit));
        let bare = cover.below(BARE_BELOW) & cover_shut_in.ge(cover.splat(BARE_BELOW));
        here.bare = (here.bare + one).select_or_zero(bare);
        here.most_bare = here.most_bare.max(here.bare);
        let open = bird_days.above(0.0);
        if open.any() {
            here.open += one.select_or_zero(open);
            here.bird_days += bird_days / here.area_m2;
        }
    }
}
