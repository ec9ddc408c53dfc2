//! Emergence: adults leave the soil by degree-days.
//!
//! # Formulas
//!
//! ```text
//! F(age) = Φ((age − emergence) / emergence_spread)            share of spring emergence due, 0 before −5 spreads
//! hazard = (1 − c) · (F₁ − F₀) / (1 − (1 − c) · F₀)           of the overwintered pool in a step; c: two_winter_share
//! ```
//!
//! Age is degree-days since counting started, C d, 0 out of season; Φ the normal distribution; `emergence` the median.
//!
//! # Source
//!
//! Degree-days to emergence: per species in the library, among others Collier & Finch 1985, Jones et al. 1989 and 1991,
//! Zijp & Blommers 1997. Normal emergence and the hazard on survivors: forms ours.
//!
//! # Limits
//!
//! Moisture and depth delay no emergence.
//!
//! # Parameters
//!
//! ```text
//! PestParams  emergence [C d], two_winter_share [-]
//!              by the step (plot/constants/species.rs): emergence_spread [C d]
//! ```

use super::day::PestDay;
use crate::math::normal_cdf;
use crate::simd::{Mask, Real};
use crate::state::PestHere;

/// Spread beyond which emergence counts as over or not begun, standard deviations.
const TAILS: f64 = 5.0;

/// Share of spring emergence due at a physiological age.
#[inline(always)]
fn due<F: Real>(day: &PestDay<F>, age: F) -> F {
    let z = (age - day.params.emergence) * day.of_step.per_spread;
    let early = z.below(-TAILS);
    if (!early).any() { F::select(early, z.zero(), normal_cdf(z)) } else { z.zero() }
}

/// Share of spring emergence that is over at `age`, and the hazard at which the pool rises until then.
#[inline(always)]
pub(super) fn rising<F: Real>(pest: &PestHere<F>, day: &PestDay<F>, age: F) -> (F, F) {
    let before = pest.emerged_share;
    let counting = day.degree_days.above(0.0);
    let (mut now, mut hazard) = (before, before.zero());
    if counting.any() {
        now = F::select(counting, due(day, age).max(before), before);
        let more = now.gt(before);
        if more.any() {
            let staying = day.params.two_winter_share.one_minus();
            hazard = (staying * (now - before) / (staying * before).one_minus()).select_or_zero(more);
        }
    }
    (now, hazard)
}

#[cfg(test)]
mod tests {
    use super::super::tests::{day, followed, in_soil, undying};
    use super::super::{Search, advance};
    use super::*;
    use crate::ledger::flows::Flows;
    use crate::plot::constants::PestStep;
    use crate::testing::{near, same};

    /// Closed form of the hazard on survivors: of 1000, c = 0.1 is left exactly, however fine the tail is followed.
    #[test]
    fn exactly_the_second_winters_share_stays() {
        for degree_days in [1.0, 7.0, 60.0] {
            let mut pest = in_soil(1000.0);
            followed(&mut pest, &undying(), degree_days, 900.0, Search::default());
            near(pest.overwintered, 100.0, 1e-9);
            near(pest.risen, 900.0, 1e-9);
            same(pest.emerged_share, 1.0);
        }
    }

    /// Normal in degree-days: 0.158655, half and 0.841345 of it at one spread before, at, and after `emergence`.
    #[test]
    fn emergence_follows_the_normal_curve_of_degree_days() {
        for (age, want) in [(130.0, 0.158_655), (160.0, 0.5), (190.0, 0.841_345)] {
            let mut pest = in_soil(1000.0);
            followed(&mut pest, &undying(), 10.0, age, Search::default());
            near(pest.risen / 900.0, want, 1e-6);
            near(pest.emerged_share, want, 1e-6);
        }
        // Five spreads before, none is due.
        let params = undying();
        let of_step = PestStep::new(&params, 1.0);
        assert_eq!(due(&day(&params, &of_step), 9.9), 0.0);
        assert!(due(&day(&params, &of_step), 10.1) > 0.0);
    }

    /// The hazard asks who is left: half a pool taken at half emergence leaves half of c.
    #[test]
    fn emergence_works_on_survivors() {
        let mut pest = in_soil(1000.0);
        followed(&mut pest, &undying(), 10.0, 160.0, Search::default());
        pest.overwintered *= 0.5;
        followed(&mut pest, &undying(), 10.0, 900.0, Search::default());
        near(pest.overwintered, 50.0, 1e-9);
    }

    /// No degree-days (too cold, or no season): none rises, whatever was due.
    #[test]
    fn without_degree_days_nothing_rises() {
        let (params, mut flows) = (undying(), Flows::default());
        let mut pest = PestHere { age: 155.0, emerged_share: 0.3, ..in_soil(1000.0) };
        let before = pest;
        advance(&mut pest, &day(&params, &PestStep::new(&params, 1.0)), &mut flows);
        assert_eq!(pest, before);
        // Emergence never goes back, should the pool be ahead of its curve.
        pest.emerged_share = 0.9;
        advance(&mut pest, &PestDay { degree_days: 1.0, ..day(&params, &PestStep::new(&params, 1.0)) }, &mut flows);
        assert_eq!((pest.emerged_share, pest.overwintered), (0.9, 1000.0));
    }
}
