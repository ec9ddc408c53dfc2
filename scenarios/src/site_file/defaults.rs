//! What is taken where a site file says nothing; each is listed in the reference of the format.

/// Name of a site without one.
pub(super) const NAME: &str = "unnamed site";
/// Elevation, m: low ground.
pub(super) const ELEVATION_M: f64 = 50.0;
/// Years of a run: what the verdict is built for.
pub(super) const YEARS: u32 = 3;
/// Draws.
pub(super) const DRAWS: u32 = 200;
/// Share of droppings that fall in the house; from memory (0.35 to 0.6).
pub(super) const NIGHT_SHARE: f64 = 0.45;
/// Least of the night share's range over its value.
pub(super) const NIGHT_SHARE_LOW: f64 = 0.35 / NIGHT_SHARE;
/// Most of the night share's range over its value.
pub(super) const NIGHT_SHARE_HIGH: f64 = 0.6 / NIGHT_SHARE;
/// Distance of a gate from the yard, m; from memory.
pub(super) const DISTANCE_M: f64 = 5.0;
/// Ground cover at the start, 0 to 1; from memory.
pub(super) const COVER_START: f64 = 0.85;
/// Drainage against the soil's own where it is "slow"; from memory.
pub(super) const SLOW_DRAINAGE: f64 = 0.4;
/// Drainage where it is "fast"; from memory.
pub(super) const FAST_DRAINAGE: f64 = 2.0;
/// Adults flying in, against "few" = 1; from memory.
pub(super) const NEIGHBOURS: &[(&str, f64)] = &[("none", 0.0), ("few", 1.0), ("some", 3.0), ("many", 10.0)];
/// Range of the adults round about: value ÷ and × this; from memory (nobody counts next door).
pub(super) const NEIGHBOURS_RANGE: f64 = 3.0;
/// Range of a pest's start: value ÷ and × this; from memory (a keeper's count of cocoons is that rough).
pub(super) const PEST_START_RANGE: f64 = 4.0;
/// Range of the slugs' start: value ÷ and × this; from memory (counted by lamp or under boards, which find a part).
pub(super) const SLUG_START_RANGE: f64 = 3.0;
/// Range of a seed bank's start: value ÷ and × this; from memory.
pub(super) const SEED_START_RANGE: f64 = 3.0;
/// Range of a root reserve's start: value ÷ and × this; from memory.
pub(super) const RESERVE_START_RANGE: f64 = 2.0;
/// Days between a keeper's looks at weeds and grass; common practice, no source.
pub(super) const LOOKS_EVERY_D: u32 = 7;
/// A bed is weeded from so many days before its first crop on; common practice, no source.
pub(super) const WEEDED_BEFORE_CROP_D: i64 = 14;
/// Live mass a mowing leaves, g/m2: grass some 4 to 6 cm high; from memory.
pub(super) const MOW_LEAVES_G_M2: f64 = 120.0;
/// Dry matter of a mulch, g/m2: about 5 cm of straw; from memory.
pub(super) const MULCH_G_M2: f64 = 800.0;
/// Dry matter of a compost dressing, g/m2: about a 1 cm layer; from memory.
pub(super) const COMPOST_G_M2: f64 = 1_500.0;
/// Nitrogen of that dressing, kg/ha; from memory.
pub(super) const COMPOST_N_KG_HA: f64 = 150.0;
/// Phosphorus of that dressing, kg/ha; from memory.
pub(super) const COMPOST_P_KG_HA: f64 = 40.0;
/// Hours per m2 to spread mulch or compost; from memory.
pub(super) const SPREADING_H_M2: f64 = 0.01;
/// Rings a plot is counted in: worn near the gate and fresh behind, which one would not show.
pub(super) const RINGS: u32 = 2;
/// Longest stay by eye, days; common practice, no source.
pub(super) const LONGEST_STAY_D: f64 = 14.0;
/// Shortest rest by eye, days; common practice (three to five weeks), no source.
pub(super) const SHORTEST_REST_D: f64 = 28.0;
/// Waiting periods, days: USDA NOP, 7 CFR 205.203(c).
pub(crate) const WAITING_TOUCHING_D: u32 = 120;
/// The same where the edible part does not touch the soil.
pub(crate) const WAITING_OTHER_D: u32 = 90;
/// Least ground cover, 0 to 1; common practice, no source.
pub(super) const LEAST_COVER: f64 = 0.70;
/// Longest a plot may lie bare, days; common practice, no source.
pub(super) const BARE_DAYS: f64 = 30.0;
/// Outdoor area per layer: Regulation (EU) 2020/464, annex I.
pub(super) const SPACE_M2: f64 = 4.0;
/// Chance with which limits must hold.
pub(super) const REQUIRED_RELIABILITY: f64 = 0.90;
/// Difference worth telling apart, share of the best's gain.
pub(super) const INDIFFERENCE_SHARE: f64 = 0.05;
/// Stay of the turn a site without strategies gets, days; common practice, no source.
pub(super) const TURN_STAY_D: f64 = 14.0;
