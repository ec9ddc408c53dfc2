//! What is gathered of each plot.

use super::BARE_BELOW;
use crate::flows::Flow;
use crate::plot::plan::PlotPlan;
use crate::plot::seen::Seen;
use crate::state::PlotMemory;
use crate::world::World;

/// Days in which residue of a crop should be gone (common practice, no source).
const CLEAN_UP_DAYS: usize = 21;

/// What is reported of one plot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlotSummary {
    /// Least cover outside beds on any day.
    pub least_cover: f64,
    /// Mean cover outside beds.
    pub mean_cover: f64,
    /// Days per year under the cover limit that the no-birds run held.
    pub days_under: f64,
    /// Longest run of bare days that the no-birds run did not have.
    pub bare_days: f64,
    /// Mean weed cover.
    pub weed_cover: f64,
    /// Days open per year.
    pub days_open: f64,
    /// Bird-days per m² and year.
    pub bird_days: f64,
    /// Manure nitrogen, kg/ha a year.
    pub nitrogen: f64,
    /// Manure phosphorus, kg/ha a year.
    pub phosphorus: f64,
    /// Nitrogen leached, kg/ha a year.
    pub leached: f64,
    /// Infective worm eggs at the end, relative.
    pub worm_eggs: f64,
}

/// A plot today, and as the no-birds run had it on this day.
pub(super) struct Today {
    pub cover: f64,
    pub weeds: f64,
    pub cover_without: f64,
    pub weeds_without: f64,
    pub bird_days: f64,
}

/// Sums over the days and plots of a site.
#[derive(Clone, Debug, Default)]
pub(super) struct SiteSums {
    /// Cover that the no-birds run has more, m² d.
    pub loss: f64,
    /// Cover, m² d.
    pub cover: f64,
    /// Cover of weeds, m² d.
    pub weed: f64,
    /// Weed cover saved, m² d.
    pub weed_saved: f64,
    /// Residue that crops left, kg.
    pub left_kg: f64,
    /// What of it was gone in time, kg.
    pub cleaned_kg: f64,
}

/// Sums over the days of a plot.
#[derive(Clone, Debug)]
pub(super) struct PlotDays {
    least_cover: f64,
    cover: f64,
    weed: f64,
    under: f64,
    /// Bare days in a row now, and the most there were.
    bare: f64,
    most_bare: f64,
    pub(super) open: f64,
    /// Per m².
    bird_days: f64,
    /// Residue still to be looked at again: the day its crop ended, and kg left that evening.
    pub(super) residue: Option<(usize, Option<f64>)>,
}

impl PlotDays {
    pub(super) fn new() -> Self {
        Self {
            least_cover: 1.0,
            cover: 0.0,
            weed: 0.0,
            under: 0.0,
            bare: 0.0,
            most_bare: 0.0,
            open: 0.0,
            bird_days: 0.0,
            residue: None,
        }
    }

    #[inline]
    pub(super) fn day(&mut self, today: &Today, plot: &PlotPlan, cover_limit: f64, site: &mut SiteSums) {
        let &Today { cover, weeds, cover_without, weeds_without, bird_days } = today;
        site.loss += plot.seen_area_m2 * (cover_without - cover).max(0.0);
        site.cover += plot.seen_area_m2 * cover;
        site.weed += plot.area_m2 * weeds;
        site.weed_saved += (weeds_without - weeds) * plot.area_m2;
        self.least_cover = self.least_cover.min(cover);
        self.cover += cover;
        self.weed += weeds;
        // Ground that would lie bare without birds is not their doing.
        self.under += f64::from(u8::from(cover < cover_limit && cover_without >= cover_limit));
        let bare = cover < BARE_BELOW && cover_without >= BARE_BELOW;
        self.bare = if bare { self.bare + 1.0 } else { 0.0 };
        self.most_bare = self.most_bare.max(self.bare);
        if bird_days > 0.0 {
            self.open += 1.0;
            self.bird_days += bird_days / plot.area_m2;
        }
    }

    /// Residue of a crop that ended is looked at again after three weeks, unless the next stands.
    pub(super) fn clean_up(&mut self, day: usize, seen: &Seen, memory: &PlotMemory, site: &mut SiteSums) {
        let Some((ended, left_kg)) = self.residue else { return };
        let Some(left_kg) = left_kg else {
            let lies = seen.residue_kg > 0.0;
            self.residue = lies.then_some((ended, Some(seen.residue_kg)));
            return;
        };
        let looked_at = day >= ended + CLEAN_UP_DAYS;
        if !memory.crop_standing && looked_at {
            site.cleaned_kg += (left_kg - seen.residue_kg).max(0.0);
            site.left_kg += left_kg;
        }
        if memory.crop_standing || looked_at {
            self.residue = None;
        }
    }

    pub(super) fn finish(&self, world: &World, plot: usize, days: f64, years: f64) -> PlotSummary {
        let plan = &world.plan.plots[plot];
        let mut summary = PlotSummary {
            least_cover: self.least_cover,
            mean_cover: self.cover / days,
            days_under: self.under / years,
            bare_days: self.most_bare,
            weed_cover: self.weed / days,
            days_open: self.open / years,
            bird_days: self.bird_days / years,
            ..PlotSummary::default()
        };
        for zone in plan.zones.clone() {
            let share = world.plan.zones[zone].area_m2 / plan.area_m2;
            let z = &world.zones[zone];
            summary.nitrogen += z.flows.get(Flow::ManureN) * share / years;
            summary.phosphorus += z.flows.get(Flow::ManureP) * share / years;
            summary.leached += z.flows.get(Flow::LeachedN) * share / years;
            summary.worm_eggs += z.worms * share;
        }
        summary
    }
}
