//! Constants of a canopy in a plot: what its trees, bushes, canes or vines ask of the soil and drop, and when.
//!
//! # Formulas
//!
//! ```text
//! built   = (leaf_litter + fruit_fall) · nitrogen_content · 10       kg/ha a year, dropped again
//! asked   = (built + wood_nitrogen) · share / leafy days             kg/ha a day, from leaf_out until before leaf_fall
//! wood    = wood_nitrogen / (built + wood_nitrogen)                  share of it that stays in wood and roots
//! falls   = fruit_fall · share / (fruit_to − fruit_from)             g/m² a day, from fruit_from until before fruit_to
//! ```
//!
//! share is that of the plot's ground under it. Phosphorus alike. Evergreens take up all year. A season whose end comes before its begin
//! runs over the winter solstice, from which its days count: fruit from day 330 to day 150 hangs 185 days.
//!
//! # Source
//!
//! Apple from budbreak to harvest gains 55 kg N and 9.2 kg P a hectare of orchard at full crop, 10 and 1.7 g a m² of
//! canopy, over nine tenths of it in fruit, shoots and leaves: Cheng & Raba 2009, J. Am. Soc. Hort. Sci. 134:3-13.
//! Garden trees bear about half of that crop (from memory). Spread evenly over the leafy season: form ours.
//!
//! # Limits
//!
//! A canopy asks the same every year, whatever its age, weather and crop, and spreads evenly over its plot. On the 366th
//! day of a leap year no fruit falls.
//!
//! # Parameters
//!
//! ```text
//! CanopyParams   leaf_out [d], leaf_fall [d], leaf_litter [g/m2], fruit_from [d], fruit_to [d], fruit_fall [g/m2],
//!                nitrogen_content [g/g], phosphorus_content [g/g], wood_nitrogen [kg/ha/yr], wood_phosphorus [kg/ha/yr]
//! ```

use crate::simd::Real;
use crate::simd::soa::soa;
use crate::site::{PlotCanopy, Site};
use crate::units::{DAYS_PER_YEAR, KG_HA_PER_G_M2};

/// Days from one winter solstice to the next but for leap years.
pub const SOLSTICE_YEAR_D: f64 = 365.0;

/// A season of every year, in days after the winter solstice; it runs over the solstice where its end comes before its
/// begin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Season<F = f64> {
    /// First day.
    pub from: F,
    /// The day after the last.
    pub until: F,
}

soa! { Season { from, until } }

impl<F: Real> Season<F> {
    /// Whether it is on.
    #[inline(always)]
    #[must_use]
    pub fn on(&self, day: F) -> F::Mask {
        let (begun, not_over) = (day.ge(self.from), self.until.gt(day));
        (begun & not_over) | (self.from.gt(self.until) & (begun | not_over))
    }
}

impl Season {
    /// Its days.
    #[must_use]
    pub fn days(&self) -> f64 {
        let days = self.until - self.from;
        if days < 0.0 { days + SOLSTICE_YEAR_D } else { days }
    }
}

/// What a canopy of a plot asks and drops, by its share of the ground, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanopyStep<F = f64> {
    /// In leaf.
    pub leafy: Season<F>,
    /// Nitrogen asked of the soil, kg/ha.
    pub n: F,
    /// Phosphorus, kg/ha.
    pub p: F,
    /// What of the nitrogen goes into wood, kg/ha.
    pub wood_n: F,
    /// Of the phosphorus.
    pub wood_p: F,
    /// Fruit falls.
    pub fruiting: Season<F>,
    /// Fruit that falls, g/m².
    pub fruit_falls: F,
    /// Nitrogen per dry mass of what falls.
    pub nitrogen_content: F,
    /// Phosphorus.
    pub phosphorus_content: F,
}

soa! {
    CanopyStep { leafy, n, p, wood_n, wood_p, fruiting, fruit_falls, nitrogen_content, phosphorus_content }
}

impl CanopyStep {
    /// Of a canopy of a plot.
    pub(super) fn new(site: &Site, here: &PlotCanopy, step: f64) -> Self {
        let canopy = &site.canopies[here.canopy];
        let params = &canopy.params;
        // Days past the year's end: in leaf on every day.
        let leafy = if canopy.evergreen {
            Season { from: 0.0, until: 367.0 }
        } else {
            Season { from: params.leaf_out, until: params.leaf_fall }
        };
        let fruiting = Season { from: params.fruit_from, until: params.fruit_to };
        let of_step = here.share / (leafy.days().clamp(1.0, DAYS_PER_YEAR) / step);
        let dropped = (params.leaf_litter + params.fruit_fall) * KG_HA_PER_G_M2;
        let built = |content: f64, wood: f64| (dropped * content + wood) * of_step;
        let falls = params.fruit_fall / fruiting.days() * step * here.share;
        Self {
            leafy,
            n: built(params.nitrogen_content, params.wood_nitrogen),
            p: built(params.phosphorus_content, params.wood_phosphorus),
            wood_n: params.wood_nitrogen * of_step,
            wood_p: params.wood_phosphorus * of_step,
            fruiting,
            fruit_falls: if fruiting.days() > 0.0 { falls } else { 0.0 },
            nitrogen_content: params.nitrogen_content,
            phosphorus_content: params.phosphorus_content,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{garden_site, near, same};

    fn of(site: &Site, step: f64) -> CanopyStep {
        CanopyStep::new(site, &site.plots[0].canopies[0], step)
    }

    /// Half the crop of Cheng & Raba 2009, 10 g N and 1.7 g P a m² of canopy, is 50 to 70 kg N: leaf, windfalls and wood are below it.
    #[test]
    fn uptake_is_of_the_size_measured_in_apple() {
        let need = of(&garden_site(), 1.0);
        let (n, p) = (need.n * need.leafy.days(), need.p * need.leafy.days());
        assert!((30.0..70.0).contains(&n) && (4.0..9.0).contains(&p), "{n} {p}");
    }

    #[test]
    fn an_evergreen_takes_up_every_day() {
        let mut site = garden_site();
        site.canopies[0].evergreen = true;
        let need = of(&site, 0.5);
        near(need.n * 365.25 / 0.5, 220.0 * 0.12 + 15.0, 1e-9);
        assert!(need.leafy.from <= 0.0 && need.leafy.until > 366.0);
    }

    #[test]
    fn a_season_may_run_over_the_years_end() {
        let winter = Season { from: 330.0, until: 150.0 };
        assert_eq!(
            [329.0, 330.0, 364.0, 0.0, 149.0, 150.0].map(|day| winter.on(day)),
            [false, true, true, true, true, false]
        );
        assert_eq!(winter.days(), 185.0);
        let summer = Season { from: 215.0, until: 270.0 };
        assert_eq!([214.0, 215.0, 269.0, 270.0].map(|day| summer.on(day)), [false, true, true, false]);
        assert_eq!(summer.days(), 55.0);
        let all_year = Season { from: 0.0, until: 365.0 };
        assert!((0..365).all(|day| all_year.on(f64::from(day))) && all_year.days() == 365.0);
    }

    #[test]
    fn a_canopy_asks_and_drops_by_its_share() {
        let mut site = garden_site();
        let whole = of(&site, 1.0);
        site.plots[0].canopies[0].share = 0.25;
        let quarter = of(&site, 1.0);
        same(quarter.n, 0.25 * whole.n);
        same(quarter.wood_p, 0.25 * whole.wood_p);
        same(quarter.fruit_falls, 0.25 * 40.0 / 55.0);
    }
}
