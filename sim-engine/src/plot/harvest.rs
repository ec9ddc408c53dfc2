//! Harvest kept, as it is carried home: fresh, net of what weeds, pests and birds cost.
//!
//! # Formulas
//!
//! ```text
//! crop kept     = V · harvest_share · (1 − weed loss) · (1 − d) / dry_matter            at the last picking
//! fruit kept    = fruit_yield · (1 − d) · (1 − taken)                                   at the end of its fall, a year
//! d             = 1 − Π (1 − damage of each pest of this crop or canopy)                 share
//! taken         = fruit_reach · (1 − exp(−fruit_taking · bird-days per m² while it hangs))   share
//! lost to pests = what would be kept without them, less what is kept
//! ```
//!
//! V is the stand, weed loss and V are of `crops.rs`; nitrogen, water and what birds ate of the stand are in V already. Fruit
//! hangs from three weeks before the first falls until the last has fallen, over the year's end where it does
//! (`constants/canopy.rs`), or until the last picking where one is named; where the first ripens before the last has fallen,
//! some hangs on every day. A bird-day counts for the share of the plot that is not under nets.
//!
//! # Source
//!
//! Forms ours. Pests spoil independently of each other (no source). Dry matter of vegetables: USDA FoodData Central, from
//! memory. Yields of fruit: garden handbooks, from memory. What birds take within their reach: common practice, no source.
//!
//! # Limits
//!
//! Birds take from a plot partly netted as if every fruit hung under a net for that share of its time. Fruit bears alike every year, whatever water, frost and nitrogen do. Fruit that fell is not picked up. After a picking nothing hangs until fruit ripens anew, but where some hangs all year.
//!
//! # Parameters
//!
//! ```text
//! CropParams     harvest_share [-], dry_matter [-]
//! CanopyParams   fruit_yield [kg/m2], fruit_reach [-], fruit_from [d], fruit_to [d]
//! ProcessParams  fruit_taking [m2/bird-day]
//! ```

use crate::plot::constants::{SOLSTICE_YEAR_D, Season};
use crate::species::CanopyParams;

/// Days that fruit ripens before the first falls (from memory).
pub const RIPENING_D: f64 = 21.0;

/// Harvests of a crop or fruit, fresh, kg.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Harvest {
    /// Carried home.
    pub kept_kg: f64,
    /// Lost to pests.
    pub lost_to_pests_kg: f64,
    /// Lost to weeds.
    pub lost_to_weeds_kg: f64,
    /// Fruit that birds picked.
    pub taken_by_birds_kg: f64,
}

impl Harvest {
    /// Adds another harvest.
    pub fn add(&mut self, more: &Self) {
        self.kept_kg += more.kept_kg;
        self.lost_to_pests_kg += more.lost_to_pests_kg;
        self.lost_to_weeds_kg += more.lost_to_weeds_kg;
        self.taken_by_birds_kg += more.taken_by_birds_kg;
    }

    /// So many times as much.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self {
            kept_kg: self.kept_kg * factor,
            lost_to_pests_kg: self.lost_to_pests_kg * factor,
            lost_to_weeds_kg: self.lost_to_weeds_kg * factor,
            taken_by_birds_kg: self.taken_by_birds_kg * factor,
        }
    }
}

/// A crop's stand of which `ripe_g` g DM could be carried off on the whole bed, of this dry matter.
#[must_use]
pub fn of_crop(ripe_g: f64, weed_loss: f64, damage: f64, dry_matter: f64) -> Harvest {
    let fresh_kg = 1e-3 * ripe_g / dry_matter;
    let without_pests = fresh_kg * (1.0 - weed_loss);
    Harvest {
        kept_kg: without_pests * (1.0 - damage),
        lost_to_pests_kg: without_pests * damage,
        lost_to_weeds_kg: fresh_kg * weed_loss,
        taken_by_birds_kg: 0.0,
    }
}

/// The fruit of a year on so many m², after so many bird-days per m² while it ripened.
#[must_use]
pub fn of_fruit(canopy: &CanopyParams, area_m2: f64, damage: f64, bird_days_m2: f64, taking: f64) -> Harvest {
    let borne = canopy.fruit_yield * area_m2;
    let taken = canopy.fruit_reach * -libm::expm1(-taking * bird_days_m2);
    let left = borne * (1.0 - taken);
    Harvest {
        kept_kg: left * (1.0 - damage),
        lost_to_pests_kg: left * damage,
        lost_to_weeds_kg: 0.0,
        taken_by_birds_kg: borne * taken,
    }
}

/// Whether fruit of this canopy hangs ripe or ripening on a day so long after the winter solstice; `picked_d` is the
/// days since its last picking, if it was ever picked.
#[must_use]
pub fn hangs(canopy: &CanopyParams, since_solstice: i32, picked_d: Option<i32>) -> bool {
    let falls = Season { from: canopy.fruit_from, until: canopy.fruit_to };
    if falls.days() + RIPENING_D >= SOLSTICE_YEAR_D {
        return true;
    }
    let from = falls.from - RIPENING_D;
    let from = if from < 0.0 { from + SOLSTICE_YEAR_D } else { from };
    let day = f64::from(since_solstice);
    let ripe_d = (day - from).rem_euclid(SOLSTICE_YEAR_D);
    Season { from, ..falls }.on(day) && picked_d.is_none_or(|picked| f64::from(picked) > ripe_d)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Garden, same};

    fn canopy() -> CanopyParams {
        CanopyParams {
            fruit_yield: 1.5,
            fruit_reach: 0.4,
            fruit_from: 215.0,
            fruit_to: 270.0,
            ..Garden::new().site.canopies[0].params.clone()
        }
    }

    /// 1.2 kg dry of lettuce at 5 % dry matter are 24 kg; a tenth to weeds, a fifth of the rest to pests.
    #[test]
    fn a_crop_is_carried_home_fresh_and_nothing_goes_missing() {
        let harvest = of_crop(1200.0, 0.1, 0.2, 0.05);
        same(harvest.kept_kg, 24.0 * 0.9 * 0.8);
        same(harvest.kept_kg + harvest.lost_to_pests_kg + harvest.lost_to_weeds_kg, 24.0);
    }

    /// No birds take nothing; many take all that is within reach and no more.
    #[test]
    fn birds_take_what_they_can_reach() {
        same(of_fruit(&canopy(), 50.0, 0.0, 0.0, 2.0).kept_kg, 75.0);
        same(of_fruit(&canopy(), 50.0, 0.0, 1e3, 2.0).taken_by_birds_kg, 30.0);
        let some = of_fruit(&canopy(), 50.0, 0.1, 0.5, 2.0);
        same(some.taken_by_birds_kg, 30.0 * (1.0 - (-1.0_f64).exp()));
        same(some.kept_kg + some.lost_to_pests_kg + some.taken_by_birds_kg, 75.0);
    }

    #[test]
    fn fruit_ripens_for_three_weeks_before_it_falls() {
        let days = [193, 194, 269, 270].map(|day| hangs(&canopy(), day, None));
        assert_eq!(days, [false, true, true, false]);
    }

    /// Picked to the last on day 220, it hangs until then and not after; last year's picking leaves this year's to hang.
    #[test]
    fn nothing_hangs_once_it_is_picked() {
        assert!(hangs(&canopy(), 219, Some(364)));
        assert!(!hangs(&canopy(), 221, Some(1)) && !hangs(&canopy(), 269, Some(49)));
    }

    fn falling(fruit_from: f64, fruit_to: f64) -> CanopyParams {
        CanopyParams { fruit_from, fruit_to, ..canopy() }
    }

    /// Citrus: one season from day 330 to day 150. Picked to the last on day 51, none hangs until it ripens anew.
    #[test]
    fn fruit_hangs_over_the_years_end() {
        let citrus = falling(330.0, 150.0);
        let days = [308, 309, 360, 365, 10, 149, 150].map(|day| hangs(&citrus, day, None));
        assert_eq!(days, [false, true, true, true, true, true, false]);
        assert!(hangs(&citrus, 50, Some(364)) && !hangs(&citrus, 60, Some(9)) && hangs(&citrus, 320, Some(269)));
        // What falls early in the year ripens before its end.
        let early = [355, 360, 40, 90].map(|day| hangs(&falling(15.0, 80.0), day, None));
        assert_eq!(early, [false, true, true, false]);
    }

    /// Bananas, or trees whose next crop ripens before the last is down.
    #[test]
    fn what_bears_all_year_hangs_every_day() {
        for canopy in [falling(0.0, 365.0), falling(330.0, 320.0), falling(15.0, 365.0)] {
            assert!((0..=365).all(|day| hangs(&canopy, day, None) && hangs(&canopy, day, Some(1))));
        }
    }
}
