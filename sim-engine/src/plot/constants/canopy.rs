//! Constants of a canopy: what trees, bushes and canes ask of the soil, and when.
//!
//! # Formulas
//!
//! ```text
//! built   = (leaf_litter + fruit_fall) · nitrogen_content · 10       kg/ha a year, dropped again
//! asked   = (built + wood_nitrogen) / leafy days                     kg/ha a day, from leaf_out until before leaf_fall
//! wood    = wood_nitrogen / (built + wood_nitrogen)                  share of it that stays in wood and roots
//! ```
//!
//! Phosphorus alike. Evergreens take up all year.
//!
//! # Source
//!
//! Apple from budbreak to harvest gains 55 kg N and 9.2 kg P a hectare of orchard at full crop, 10 and 1.7 g a m² of
//! canopy, over nine tenths of it in fruit, shoots and leaves: Cheng & Raba 2009, J. Am. Soc. Hort. Sci. 134:3-13.
//! Garden trees bear about half of that crop (from memory). Spread evenly over the leafy season: form ours.
//!
//! # Limits
//!
//! A canopy asks the same every year, whatever its age, weather and crop.
//!
//! # Parameters
//!
//! ```text
//! CanopyParams   leaf_out [d], leaf_fall [d], leaf_litter [g/m2], fruit_fall [g/m2], nitrogen_content [g/g],
//!                phosphorus_content [g/g], wood_nitrogen [kg/ha/yr], wood_phosphorus [kg/ha/yr]
//! ```

use crate::simd::soa::soa;
use crate::site::Site;
use crate::species::Canopy;
use crate::units::{DAYS_PER_YEAR, KG_HA_PER_G_M2};

/// What a canopy asks of the soil, resolved for a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanopyNeed<F = f64> {
    /// First leafy day, days after the winter solstice.
    pub from: F,
    /// The day after the last.
    pub until: F,
    /// Nitrogen, kg/ha a step.
    pub n: F,
    /// Phosphorus, kg/ha a step.
    pub p: F,
    /// Shares of these that go into wood.
    pub wood_n: F,
    /// Of phosphorus.
    pub wood_p: F,
}

soa! { CanopyNeed { from, until, n, p, wood_n, wood_p } }

impl CanopyNeed {
    /// Of every canopy of the site.
    pub(super) fn of_site(site: &Site, step: f64) -> Vec<Self> {
        site.canopies.iter().map(|canopy| Self::new(canopy, step)).collect()
    }

    fn new(canopy: &Canopy, step: f64) -> Self {
        let params = &canopy.params;
        // Days past the year's end: in leaf on every day.
        let (from, until) = if canopy.evergreen { (0.0, 367.0) } else { (params.leaf_out, params.leaf_fall) };
        let steps = (until - from).clamp(1.0, DAYS_PER_YEAR) / step;
        let dropped = (params.leaf_litter + params.fruit_fall) * KG_HA_PER_G_M2;
        let (n, p) = (dropped * params.nitrogen_content, dropped * params.phosphorus_content);
        let share = |wood: f64, dropped: f64| if wood > 0.0 { wood / (wood + dropped) } else { 0.0 };
        Self {
            from,
            until,
            n: (n + params.wood_nitrogen) / steps,
            p: (p + params.wood_phosphorus) / steps,
            wood_n: share(params.wood_nitrogen, n),
            wood_p: share(params.wood_phosphorus, p),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{garden_site, near};

    /// Half the crop of Cheng & Raba 2009, 10 g N and 1.7 g P a m² of canopy, is 50 to 70 kg N: leaf, windfalls and wood are below it.
    #[test]
    fn uptake_is_of_the_size_measured_in_apple() {
        let need = &CanopyNeed::of_site(&garden_site(), 1.0)[0];
        let (n, p) = (need.n * (need.until - need.from), need.p * (need.until - need.from));
        assert!((30.0..70.0).contains(&n) && (4.0..9.0).contains(&p), "{n} {p}");
    }

    #[test]
    fn an_evergreen_takes_up_every_day() {
        let mut site = garden_site();
        site.canopies[0].evergreen = true;
        let need = &CanopyNeed::of_site(&site, 0.5)[0];
        near(need.n * 365.25 / 0.5, 220.0 * 0.12 + 15.0, 1e-9);
        assert!(need.from <= 0.0 && need.until > 366.0);
    }
}
