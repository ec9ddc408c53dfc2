//! What is gathered of the plots day by day: of one possible year, or of several, one a lane.

use super::BARE_BELOW;
use crate::lanes::laned::laned;
use crate::lanes::{Mask, Real};
use crate::world::World;

/// A plot today, and as the no-birds run had it on this day.
pub(crate) struct Today<F> {
    pub cover: F,
    pub weeds: F,
    pub cover_without: F,
    pub weeds_without: F,
    pub bird_days: F,
}

/// What a summary gathers of a site's plots.
#[derive(Clone, Debug)]
pub struct Gathering<F = f64> {
    cover_limit: F,
    pub(super) site: SiteSums<F>,
    pub(super) plots: Vec<PlotSums<F>>,
}

laned! { Gathering { cover_limit, site, plots } }

/// Sums over the days of all plots.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct SiteSums<F = f64> {
    /// Cover that the no-birds run has more, m² d.
    pub loss: F,
    /// Cover, m² d.
    pub cover: F,
    /// Cover of weeds, m² d.
    pub weed: F,
    /// Weed cover saved, m² d.
    pub weed_saved: F,
}

laned! { SiteSums { loss, cover, weed, weed_saved } }

/// Sums over the days of a plot.
#[derive(Clone, Copy, Debug)]
pub(super) struct PlotSums<F = f64> {
    area_m2: F,
    seen_area_m2: F,
    pub least_cover: F,
    pub cover: F,
    pub weed: F,
    /// Days under the cover limit that the no-birds run held.
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

laned! {
    PlotSums { area_m2, seen_area_m2, least_cover, cover, weed, under, bare, most_bare, open, bird_days }
}

impl Gathering {
    /// Nothing gathered yet, for a keeper who asks for this cover.
    pub(super) fn new(cover_limit: f64) -> Self {
        Self { cover_limit, site: SiteSums::default(), plots: Vec::new() }
    }

    /// Begins anew on a site.
    pub(super) fn start(&mut self, world: &World) {
        self.site = SiteSums::default();
        let plot = |plot: &crate::plot::plan::PlotPlan| PlotSums {
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
        self.plots = world.plan.plots.iter().map(plot).collect();
    }
}

impl<F: Real> Gathering<F> {
    /// A day of a plot is over.
    #[inline(always)]
    pub(crate) fn day(&mut self, plot: usize, today: &Today<F>) {
        let &Today { cover, weeds, cover_without, weeds_without, bird_days } = today;
        let (site, here) = (&mut self.site, &mut self.plots[plot]);
        site.loss += here.seen_area_m2 * (cover_without - cover).or_zero();
        site.cover += here.seen_area_m2 * cover;
        site.weed += here.area_m2 * weeds;
        site.weed_saved += (weeds_without - weeds) * here.area_m2;
        here.least_cover = here.least_cover.min(cover);
        here.cover += cover;
        here.weed += weeds;
        // Ground that would lie bare without birds is not their doing.
        let one = cover.of(1.0);
        here.under += one.where_(self.cover_limit.gt(cover) & cover_without.ge(self.cover_limit));
        let bare = cover.below(BARE_BELOW) & cover_without.ge(cover.of(BARE_BELOW));
        here.bare = (here.bare + one).where_(bare);
        here.most_bare = here.most_bare.max(here.bare);
        let open = bird_days.above(0.0);
        if open.any() {
            here.open += one.where_(open);
            here.bird_days += bird_days / here.area_m2;
        }
    }
}
