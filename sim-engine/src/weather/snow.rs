//! Snow cover by degree-days, and whether the ground is frozen.
//!
//! What falls on a day whose mean temperature is below a threshold is snow; the pack melts
//! by a fixed depth per degree and day above a base (the degree-day method, e.g.
//! USDA-NRCS National Engineering Handbook 630, chapter 11; from memory). Water
//! that thaws reaches the ground as if it had rained; nothing is lost on the way.

/// Values of the snow cover and of frozen ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SnowParams {
    /// Days with a mean air temperature below this bring snow, °C.
    pub snow_below_c: f64,
    /// The pack melts on days with a mean air temperature above this, °C.
    pub melt_base_c: f64,
    /// Melt in mm of water per °C and day.
    pub melt_mm_per_c_d: f64,
    /// The ground counts as frozen when its mean temperature at 5 cm is below this, °C.
    pub frozen_below_c: f64,
}

impl SnowParams {
    /// Whether ground of this mean temperature at 5 cm (°C) is frozen.
    #[must_use]
    pub fn frozen(&self, soil_tmean_c: f64) -> bool {
        soil_tmean_c < self.frozen_below_c
    }
}

/// Water lying as snow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SnowPack {
    /// Water in the pack, mm.
    pub water_mm: f64,
}

/// What snow did in a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SnowDay {
    /// What fell as rain, mm.
    pub rain_mm: f64,
    /// What fell as snow, mm of water.
    pub snowfall_mm: f64,
    /// What melted, mm of water.
    pub melt_mm: f64,
    /// What lies at the end of the day, mm of water.
    pub pack_mm: f64,
}

impl SnowDay {
    /// Water that reached the ground, mm.
    #[must_use]
    pub fn to_ground_mm(&self) -> f64 {
        self.rain_mm + self.melt_mm
    }
}

impl SnowPack {
    /// One day: what falls (mm) at a mean air temperature (°C).
    pub fn step(&mut self, params: &SnowParams, tmean_c: f64, falls_mm: f64) -> SnowDay {
        let snows = tmean_c < params.snow_below_c;
        let (rain_mm, snowfall_mm) = if snows { (0.0, falls_mm) } else { (falls_mm, 0.0) };
        let can_melt_mm = params.melt_mm_per_c_d * (tmean_c - params.melt_base_c).max(0.0);
        let melt_mm = can_melt_mm.min(self.water_mm + snowfall_mm);
        self.water_mm += snowfall_mm - melt_mm;
        SnowDay { rain_mm, snowfall_mm, melt_mm, pack_mm: self.water_mm }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Round figures for the tests only; real ones come with the library.
    const PARAMS: SnowParams =
        SnowParams { snow_below_c: 0.0, melt_base_c: 0.0, melt_mm_per_c_d: 3.0, frozen_below_c: -0.5 };

    #[test]
    fn snows_lies_and_melts() {
        let mut pack = SnowPack::default();
        let cold = pack.step(&PARAMS, -2.0, 10.0);
        assert_eq!((cold.rain_mm, cold.snowfall_mm, cold.pack_mm), (0.0, 10.0, 10.0));
        let thaw = pack.step(&PARAMS, 2.0, 1.0);
        assert_eq!((thaw.rain_mm, thaw.melt_mm, thaw.pack_mm), (1.0, 6.0, 4.0));
        assert_eq!(thaw.to_ground_mm(), 7.0);
        assert_eq!(pack.step(&PARAMS, 5.0, 0.0).melt_mm, 4.0);
        assert_eq!(pack.water_mm, 0.0);
    }

    #[test]
    fn frozen_below_its_threshold() {
        assert!(PARAMS.frozen(-0.6));
        assert!(!PARAMS.frozen(-0.5));
    }

    proptest! {
        #[test]
        fn water_is_neither_made_nor_lost(days in prop::collection::vec((-15.0..15.0_f64, 0.0..40.0_f64), 1..200)) {
            let mut pack = SnowPack::default();
            let (mut fell, mut reached) = (0.0, 0.0);
            for (tmean, falls) in days {
                let day = pack.step(&PARAMS, tmean, falls);
                prop_assert!(day.pack_mm >= 0.0 && day.melt_mm >= 0.0);
                fell += falls;
                reached += day.to_ground_mm();
            }
            prop_assert!((fell - reached - pack.water_mm).abs() < 1e-9 * (1.0 + fell));
        }
    }

    /// Snow below its threshold, rain at it; melt by each degree above its base, as much as lies.
    #[test]
    fn thresholds_are_where_they_are_set() {
        let params = SnowParams { snow_below_c: 1.0, melt_base_c: 0.5, melt_mm_per_c_d: 4.0, frozen_below_c: -0.5 };
        let day = |tmean, falls| SnowPack { water_mm: 20.0 }.step(&params, tmean, falls);
        assert_eq!(day(0.99, 5.0).snowfall_mm, 5.0);
        assert_eq!((day(1.0, 5.0).rain_mm, day(1.0, 5.0).melt_mm), (5.0, 2.0));
        assert_eq!(day(0.5, 0.0).melt_mm, 0.0);
        assert_eq!((day(3.5, 0.0).melt_mm, day(3.5, 0.0).pack_mm), (12.0, 8.0));
        assert_eq!((day(9.0, 0.0).melt_mm, day(9.0, 0.0).pack_mm), (20.0, 0.0));
        // What falls and melts on one day goes through the pack.
        assert_eq!((day(0.9, 2.0).melt_mm, day(0.9, 2.0).pack_mm), (4.0 * (0.9 - 0.5), 22.0 - 4.0 * (0.9 - 0.5)));
    }
}
