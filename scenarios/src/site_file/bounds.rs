//! What each number of a site file may be, with the sentence a keeper reads.

use crate::quantity::Bound;

const fn bound(low: f64, high: f64, wording: &'static str) -> Bound {
    Bound { low, high, wording }
}

pub(super) const SHARE: Bound = bound(0.0, 1.0, "A share is 0 to 1.");
pub(super) const CANOPY_SHARE: Bound =
    bound(0.001, 1.0, "The share of a canopy is 0.001 to 1; leave out what has none.");
pub(super) const LATITUDE: Bound = bound(-65.0, 65.0, "A latitude is -65 to 65 deg, south negative.");
pub(super) const LONGITUDE: Bound = bound(-180.0, 180.0, "A longitude is -180 to 180 deg, west negative.");
pub(super) const UTC_OFFSET_H: Bound = bound(-12.0, 14.0, "An offset from UTC is -12 to 14 h.");
pub(super) const ELEVATION_M: Bound = bound(-400.0, 4_500.0, "An elevation is -400 to 4500 m.");
pub(super) const YEARS: Bound = bound(1.0, 30.0, "A run is 1 to 30 years.");
pub(super) const DRAWS: Bound = bound(1.0, 100_000.0, "Draws are 1 to 100000.");
pub(super) const PLOT_M2: Bound = bound(4.0, 10_000.0, "A plot is 4 m2 to 1 ha.");
pub(super) const YARD_M2: Bound = bound(1.0, 10_000.0, "A yard is 1 m2 to 1 ha.");
pub(super) const INTERVAL_D: Bound = bound(1.0, 3_660.0, "A time between is 1 day to 10 years.");
pub(super) const STAY_D: Bound = bound(1.0, 3_660.0, "A stay is 1 day to 10 years.");
pub(super) const MOST_D: Bound = bound(1.0, 366.0, "Days a year are 1 to 366.");
pub(super) const REST_D: Bound = bound(0.0, 3_660.0, "A rest is 0 days to 10 years.");
pub(super) const ISOLATION_D: Bound = bound(1.0, 365.0, "An isolation is 1 to 365 days.");
pub(super) const WAITING_D: Bound = bound(0.0, 730.0, "A waiting period is 0 to 730 days.");
pub(super) const BIRDS: Bound = bound(0.0, 2_000.0, "A flock is 0 to 2000 birds.");
pub(super) const LET_THROUGH: Bound =
    bound(1.0, 2_000.0, "Birds let through are a whole number, 1 to 2000; left out it is the whole flock.");
pub(super) const RELATIVE: Bound = bound(0.0, 100.0, "It is 0 to 100, an ordinary value being 1.");
pub(super) const WORM_EGGS: Bound = bound(0.0, 1e6, "Worm eggs are 0 to 1000000.");
pub(super) const SEEDS_M2: Bound = bound(0.0, 1_000_000.0, "A seed bank is 0 to 1000000 per m2.");
pub(super) const PESTS_M2: Bound = bound(0.0, 10_000.0, "A pest is 0 to 10000 per m2.");
pub(super) const SLUGS_M2: Bound = bound(0.0, 1_000.0, "Slugs or snails are 0 to 1000 per m2.");
pub(super) const RESERVE_G_M2: Bound = bound(0.0, 2_000.0, "A root reserve is 0 to 2000 g/m2.");
pub(super) const DISTANCE_M: Bound = bound(0.0, 1_000.0, "A gate is 0 to 1000 m from the yard.");
pub(super) const RINGS: Bound = bound(1.0, 4.0, "A plot has 1 to 4 rings.");
pub(super) const EFFORT_H_M2: Bound = bound(0.0, 5.0, "Effort is 0 to 5 h per m2.");
pub(super) const MASS_G_M2: Bound = bound(0.0, 50_000.0, "It is 0 to 50 kg/m2.");
pub(super) const LEFT_G_M2: Bound = bound(1.0, 1_000.0, "Mowing leaves 1 to 1000 g/m2 standing.");
pub(super) const NUTRIENT_KG_HA: Bound = bound(0.0, 2_000.0, "It is 0 to 2000 kg/ha.");
pub(super) const KEEP_OUT_D: Bound = bound(1.0, 366.0, "Birds are kept out for 1 to 366 days.");
pub(super) const WARM_C: Bound = bound(0.0, 50.0, "It is 0 to 50 C.");
pub(super) const DEGREE_DAYS: Bound = bound(-5_000.0, 5_000.0, "It is -5000 to 5000 degree-days.");
pub(super) const BARE_DAYS: Bound = bound(0.0, 3_660.0, "Bare days are 0 to 3660.");
pub(super) const SPACE_M2: Bound = bound(0.0, 10_000.0, "It is 0 to 10000 m2 per bird.");
pub(super) const WORTH: Bound = bound(-1e6, 1e6, "Worth is -1000000 to 1000000 per unit.");
pub(super) const WEIGHT: Bound = bound(0.0, 1_000.0, "A weight is 0 to 1000.");
