//! Soil temperature at 5 cm: damped and lagged air temperature, by surface.
//!
//! The day's mean follows the mean of the air with an exponential lag (first-order
//! heat store), plus what sunshine adds on open ground. The swing of the day is that
//! of the air, passed through the cover and damped on the way down by exp(-depth / damping
//! depth) (Campbell & Norman 1998, An Introduction to Environmental Biophysics, ch. 2;
//! the air's wave as driver after Parton & Logan 1981; both from memory). Warming by
//! sunshine comes by day, so it widens the swing too, damped like the rest of it. Under snow the ground is drawn to a fixed temperature near 0 °C
//! and has no swing. One surface is one value of the type: bare ground and ground under full
//! cover are stepped side by side, once per draw, and a zone takes its place [`between`] them.

/// Soil temperature of a day at 5 cm, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoilDay {
    /// Lowest of the day, °C.
    pub tmin_c: f64,
    /// Highest of the day, °C.
    pub tmax_c: f64,
    /// Mean of the day, °C.
    pub tmean_c: f64,
}

/// Values of one surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceParams {
    /// E-folding lag of the daily mean behind the air, days; 0 for none.
    pub lag_d: f64,
    /// Share of the air's daily swing that reaches the top of the soil, 0 to 1 (bare ground
    /// may exceed 1).
    pub swing_share: f64,
    /// Depth in m; 0.05 throughout the model.
    pub depth_m: f64,
    /// Depth at which a daily wave has fallen to 1/e, m; see [`damping_depth_m`].
    pub damping_depth_m: f64,
    /// Warming of the daily mean over the air by sunshine, °C per MJ/m² per day; 0 under cover.
    pub sun_warming_c_per_mj_m2: f64,
    /// Temperature the ground is drawn to under snow, °C.
    pub under_snow_c: f64,
}

/// Depth at which a daily temperature wave has fallen to 1/e, m, from the soil's
/// thermal diffusivity in m²/s: √(2κ/ω) (Campbell & Norman 1998; from memory).
#[must_use]
pub fn damping_depth_m(diffusivity_m2_s: f64) -> f64 {
    const DAY_S: f64 = 86_400.0;
    (diffusivity_m2_s * DAY_S / core::f64::consts::PI).sqrt()
}

/// The soil under one surface, stepped a day at a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoilTemperature {
    /// Lagged daily mean, °C.
    mean_c: f64,
    /// Share of the gap to the air closed in a day.
    follow: f64,
    /// Swing at depth per swing of the air.
    swing: f64,
    sun_warming_c_per_mj_m2: f64,
    under_snow_c: f64,
}

impl SoilTemperature {
    /// Starts with a daily mean of `start_c`, °C (the mean of the air over the days before, say).
    #[must_use]
    pub fn new(params: &SurfaceParams, start_c: f64) -> Self {
        let follow = if params.lag_d > 0.0 { 1.0 - libm::exp(-1.0 / params.lag_d) } else { 1.0 };
        Self {
            mean_c: start_c,
            follow,
            swing: params.swing_share * libm::exp(-params.depth_m / params.damping_depth_m),
            sun_warming_c_per_mj_m2: params.sun_warming_c_per_mj_m2,
            under_snow_c: params.under_snow_c,
        }
    }

    /// One day: extremes of the air (°C), radiation (MJ/m²) and whether snow lies.
    pub fn step(&mut self, tmin_c: f64, tmax_c: f64, radiation_mj_m2: f64, snow_lies: bool) -> SoilDay {
        let warming = self.sun_warming_c_per_mj_m2 * radiation_mj_m2;
        let (drawn_to, half_swing, by_day) = if snow_lies {
            (self.under_snow_c, 0.0, 0.0)
        } else {
            (0.5 * (tmin_c + tmax_c) + warming, 0.5 * self.swing * (tmax_c - tmin_c), warming)
        };
        self.mean_c += self.follow * (drawn_to - self.mean_c);
        let by_day = self.swing * by_day;
        SoilDay {
            tmin_c: self.mean_c - half_swing - by_day,
            tmax_c: self.mean_c + half_swing + by_day,
            tmean_c: self.mean_c,
        }
    }
}

/// Soil temperature of a zone with a ground cover of `cover` (0 to 1).
#[must_use]
pub fn between(bare: SoilDay, covered: SoilDay, cover: f64) -> SoilDay {
    let mix = |open: f64, shaded: f64| open + cover.clamp(0.0, 1.0) * (shaded - open);
    SoilDay {
        tmin_c: mix(bare.tmin_c, covered.tmin_c),
        tmax_c: mix(bare.tmax_c, covered.tmax_c),
        tmean_c: mix(bare.tmean_c, covered.tmean_c),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::testing::{near, seattle};

    /// Round figures for the tests only; real ones come with the library.
    const COVERED: SurfaceParams = SurfaceParams {
        lag_d: 4.0,
        swing_share: 0.5,
        depth_m: 0.05,
        damping_depth_m: 0.117,
        sun_warming_c_per_mj_m2: 0.0,
        under_snow_c: 0.0,
    };
    const BARE: SurfaceParams = SurfaceParams { lag_d: 2.0, swing_share: 1.0, sun_warming_c_per_mj_m2: 0.1, ..COVERED };

    fn settled(params: &SurfaceParams, tmin: f64, tmax: f64, sun: f64, snow: bool) -> SoilDay {
        let mut soil = SoilTemperature::new(params, -7.0);
        (0..200).fold(SoilDay { tmin_c: 0.0, tmax_c: 0.0, tmean_c: 0.0 }, |_, _| soil.step(tmin, tmax, sun, snow))
    }

    /// Diffusivity 0.5e-6 m²/s, a moist loam, gives 0.117 m (from memory).
    #[test]
    fn damping_depth_of_a_loam() {
        near(damping_depth_m(0.5e-6), 0.117, 0.001);
    }

    #[test]
    fn constant_air_gives_the_same_in_covered_soil() {
        let day = settled(&COVERED, 12.0, 12.0, 15.0, false);
        for value in [day.tmin_c, day.tmax_c, day.tmean_c] {
            near(value, 12.0, 1e-9);
        }
        near(settled(&COVERED, 8.0, 16.0, 15.0, false).tmean_c, 12.0, 1e-9);
    }

    #[test]
    fn bare_soil_is_warmer_in_sun_and_swings_more() {
        let (bare, covered) = (settled(&BARE, 8.0, 16.0, 15.0, false), settled(&COVERED, 8.0, 16.0, 15.0, false));
        near(bare.tmean_c, 13.5, 1e-9);
        assert!(bare.tmax_c - bare.tmin_c > 2.0 * (covered.tmax_c - covered.tmin_c));
    }

    /// Half the swing is that of the air and the warming of the day, damped by exp(-depth / damping
    /// depth) (Campbell & Norman 1998, ch. 2; from memory), as far up as down.
    #[test]
    fn sunshine_widens_the_swing_both_ways() {
        let day = settled(&BARE, 8.0, 16.0, 15.0, false);
        let half_swing = libm::exp(-0.05 / 0.117) * (0.5 * (16.0 - 8.0) + 0.1 * 15.0);
        near(day.tmax_c - day.tmean_c, half_swing, 1e-12);
        near(day.tmean_c - day.tmin_c, half_swing, 1e-12);
    }

    #[test]
    fn without_lag_the_mean_is_that_of_the_day() {
        let mut soil = SoilTemperature::new(&SurfaceParams { lag_d: 0.0, ..COVERED }, -7.0);
        near(soil.step(8.0, 16.0, 15.0, false).tmean_c, 12.0, 1e-12);
    }

    #[test]
    fn lag_is_the_e_folding_time() {
        let mut soil = SoilTemperature::new(&COVERED, 0.0);
        let fourth = (0..4).map(|_| soil.step(10.0, 10.0, 0.0, false).tmean_c).last().unwrap();
        near(fourth, 10.0 * (1.0 - libm::exp(-1.0)), 1e-12);
    }

    #[test]
    fn snow_holds_it_near_zero() {
        let day = settled(&BARE, -25.0, -10.0, 10.0, true);
        near(day.tmin_c, 0.0, 1e-9);
        near(day.tmax_c, 0.0, 1e-9);
    }

    /// Turned about 0 °C, weather gives soil temperatures turned about 0 °C (no sun).
    #[test]
    fn mirrored_air_gives_mirrored_soil() {
        let (mut soil, mut mirror) = (SoilTemperature::new(&BARE, 3.0), SoilTemperature::new(&BARE, -3.0));
        for day in seattle().iter().take(400) {
            let a = soil.step(day.tmin_c, day.tmax_c, 0.0, false);
            let b = mirror.step(-day.tmax_c, -day.tmin_c, 0.0, false);
            near(a.tmin_c, -b.tmax_c, 1e-12);
            near(a.tmean_c, -b.tmean_c, 1e-12);
        }
    }

    /// Damped: the daily mean at 5 cm varies less from day to day than the air; same mean over the years.
    #[test]
    fn damped_but_not_shifted() {
        let days = seattle();
        let mut soil = SoilTemperature::new(&COVERED, days[0].tmean_c());
        let air: Vec<f64> = days.iter().map(super::super::DayWeather::tmean_c).collect();
        let ground: Vec<f64> = days.iter().map(|d| soil.step(d.tmin_c, d.tmax_c, 0.0, false).tmean_c).collect();
        let mean = |x: &[f64]| x.iter().sum::<f64>() / x.len() as f64;
        let jumps = |x: &[f64]| x.windows(2).map(|w| (w[1] - w[0]).abs()).sum::<f64>();
        near(mean(&ground), mean(&air), 0.1);
        assert!(jumps(&ground) < 0.5 * jumps(&air));
    }

    #[test]
    fn a_zone_lies_between() {
        let (bare, covered) = (settled(&BARE, 8.0, 16.0, 15.0, false), settled(&COVERED, 8.0, 16.0, 15.0, false));
        assert_eq!(between(bare, covered, 0.0), bare);
        near(between(bare, covered, 0.5).tmax_c, 0.5 * (bare.tmax_c + covered.tmax_c), 1e-12);
    }
}
