//! New years of weather in the manner of a station's: rain, lowest and highest temperature.
//!
//! Richardson 1981 (Water Resour. Res. 17:182; Richardson & Wright 1984, ARS-8): whether a
//! day is wet depends on the day before (two-state chain, by month); the amount on
//! a wet day is a gamma variate (by month); temperatures are the seasonal mean of wet or
//! dry days plus a residual χ that carries over, χ(today) = A χ(yesterday) + B ε. Means and
//! spreads run through the year without steps ([`super::season_curve`]). Radiation, humidity and
//! wind are left out. Known weakness of the method: years differ less from each other than real ones do.
//!
//! Rain days, amounts and temperature have a stream each: one does not shift another.

use super::DayWeather;
use super::climate::Climate;
use super::season_curve::{Position, month_index};
use super::seasons::Seasons;
use crate::streams::{gamma, standard_normal, stream, uniform};
use jiff::civil::Date;

/// Days the temperature residual runs before the first day, so that it starts with its usual spread.
const RUN_IN_D: u32 = 30;

impl Climate {
    /// `days` days of weather from `start` on, for one draw of one seed.
    ///
    /// Dates end at the last day of the year 9999, should anyone get there.
    #[must_use]
    pub fn draw(&self, seed: u64, draw: u64, start: Date, days: usize) -> Vec<DayWeather> {
        let mut rain = RainDraw::new(self, seed, draw, start);
        let mut temperature = TemperatureDraw::new(self, seed, draw);
        let mut date = start;
        let mut out = Vec::with_capacity(days);
        for _ in 0..days {
            let rain_mm = rain.next(date);
            let (tmin_c, tmax_c) = temperature.next(date, rain_mm > 0.0);
            out.push(DayWeather::new(date, tmin_c, tmax_c, rain_mm));
            date = date.tomorrow().unwrap_or(date);
        }
        out
    }
}

struct RainDraw<'a> {
    climate: &'a Climate,
    days: rand::rngs::ChaCha8Rng,
    amounts: rand::rngs::ChaCha8Rng,
    wet: bool,
}

impl<'a> RainDraw<'a> {
    fn new(climate: &'a Climate, seed: u64, draw: u64, start: Date) -> Self {
        let mut days = stream(seed, draw, "weather.rain-days");
        // The day before the first is wet as often as the month has wet days.
        let wet = uniform(&mut days) < climate.months[month_index(start)].wet_share();
        Self { climate, days, amounts: stream(seed, draw, "weather.rain-amounts"), wet }
    }

    fn next(&mut self, date: Date) -> f64 {
        let month = &self.climate.months[month_index(date)];
        let p_wet = if self.wet { month.p_wet_after_wet } else { month.p_wet_after_dry };
        self.wet = uniform(&mut self.days) < p_wet;
        if !self.wet {
            return 0.0;
        }
        gamma(&mut self.amounts, month.amount_shape, month.amount_scale_mm).max(self.climate.wet_threshold_mm)
    }
}

struct TemperatureDraw<'a> {
    climate: &'a Climate,
    seasons: Seasons,
    chance: rand::rngs::ChaCha8Rng,
    residual: [f64; 2],
}

impl<'a> TemperatureDraw<'a> {
    fn new(climate: &'a Climate, seed: u64, draw: u64) -> Self {
        let chance = stream(seed, draw, "weather.temperature");
        let seasons = Seasons::of(&climate.months);
        let mut temperature = Self { climate, seasons, chance, residual: [0.0; 2] };
        (0..RUN_IN_D).for_each(|_| temperature.carry_over());
        temperature
    }

    fn carry_over(&mut self) {
        let Climate { a, b, .. } = self.climate;
        let e = [standard_normal(&mut self.chance), standard_normal(&mut self.chance)];
        let r = self.residual;
        self.residual = core::array::from_fn(|i| a[i][0] * r[0] + a[i][1] * r[1] + b[i][0] * e[0] + b[i][1] * e[1]);
    }

    fn next(&mut self, date: Date, wet: bool) -> (f64, f64) {
        self.carry_over();
        let [low, high] = self.seasons.at(Position::of(date), wet);
        let tmin = low.mean_c + low.sd_c * self.residual[0];
        let tmax = high.mean_c + high.sd_c * self.residual[1];
        let short = (self.climate.least_swing_c - (tmax - tmin)).max(0.0);
        (tmin - 0.5 * short, tmax + 0.5 * short)
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::weather::climate::{MonthClimate, TemperatureStats};
    use crate::weather::testing::near;
    use jiff::civil::date;

    /// An invented climate, the same in every month: p 0.6 and 0.2, gamma 0.75 × 10 mm.
    pub fn even_climate() -> Climate {
        let stats =
            |tmin_mean_c, tmax_mean_c| TemperatureStats { tmin_mean_c, tmin_sd_c: 3.0, tmax_mean_c, tmax_sd_c: 3.0 };
        let month = MonthClimate {
            p_wet_after_wet: 0.6,
            p_wet_after_dry: 0.2,
            amount_shape: 0.75,
            amount_scale_mm: 10.0,
            wet: stats(6.0, 18.0),
            dry: stats(4.0, 20.0),
        };
        Climate {
            months: [month; 12],
            a: [[0.5, 0.25], [0.12, 0.5]],
            b: [[0.73, 0.0], [0.34, 0.74]],
            wet_threshold_mm: 0.1,
            least_swing_c: 0.5,
        }
    }

    fn long_draw() -> Vec<DayWeather> {
        even_climate().draw(11, 0, date(2001, 1, 1), 200_000)
    }

    /// Lengths of the runs of wet (or dry) days.
    fn spells(days: &[DayWeather], wet: bool) -> Vec<f64> {
        days.chunk_by(|a, b| (a.rain_mm > 0.0) == (b.rain_mm > 0.0))
            .filter(|run| (run[0].rain_mm > 0.0) == wet)
            .map(|run| run.len() as f64)
            .collect()
    }

    fn mean(x: &[f64]) -> f64 {
        x.iter().sum::<f64>() / x.len() as f64
    }

    fn variance(x: &[f64]) -> f64 {
        let m = mean(x);
        mean(&x.iter().map(|v| (v - m) * (v - m)).collect::<Vec<_>>())
    }

    /// Two-state chain, p 0.6 and 0.2 (Richardson 1981): wet share 1/3, lag-1 correlation 0.4, spells 2.5
    /// and 5 days, variance of wet days in 30 about 15.556. Bounds are four standard errors.
    #[test]
    fn rain_days_follow_the_theory_of_the_chain() {
        let days = long_draw();
        let wet: Vec<f64> = days.iter().map(|d| f64::from(u8::from(d.rain_mm > 0.0))).collect();
        near(even_climate().months[0].wet_share(), 1.0 / 3.0, 1e-12);
        near(mean(&wet), 1.0 / 3.0, 0.0065);
        let m = mean(&wet);
        let lag: Vec<f64> = wet.windows(2).map(|w| (w[0] - m) * (w[1] - m)).collect();
        near(mean(&lag) / variance(&wet), 0.4, 0.01);
        near(mean(&spells(&days, true)), 2.5, 0.05);
        near(mean(&spells(&days, false)), 5.0, 0.12);
        let in_30: Vec<f64> = wet.chunks_exact(30).map(|c| c.iter().sum()).collect();
        // The printed formula is for n large; the exact sum for n = 30 is 2 % lower.
        near(variance(&in_30), 15.556 - 0.37, 1.2);
    }

    /// The day before the first is wet as often as any, so the first is too: 1/3 in the long run of
    /// the chain. Bound: four standard errors.
    #[test]
    fn the_first_day_is_wet_as_often_as_any() {
        let (climate, start) = (even_climate(), date(2021, 3, 1));
        let wet = (0..4_000).filter(|&draw| climate.draw(4, draw, start, 1)[0].rain_mm > 0.0).count();
        near(wet as f64 / 4_000.0, 1.0 / 3.0, 4.0 * (1.0 / 3.0 * 2.0 / 3.0 / 4_000.0_f64).sqrt());
    }

    /// Gamma 0.75 × 10 mm: mean 7.5, variance 75, median 4.5417, 4.947 % above 25 mm.
    #[test]
    fn amounts_are_gamma() {
        let amounts: Vec<f64> = long_draw().iter().map(|d| d.rain_mm).filter(|r| *r > 0.0).collect();
        let n = amounts.len() as f64;
        let share = |test: fn(&f64) -> bool| amounts.iter().filter(|a| test(a)).count() as f64 / n;
        near(mean(&amounts), 7.5, 4.0 * (75.0 / n).sqrt());
        near(variance(&amounts), 75.0, 75.0 * 4.0 * (10.0 / n).sqrt());
        near(share(|a| *a < 4.5417), 0.5, 2.0 / n.sqrt());
        near(share(|a| *a > 25.0), 0.04947, 4.0 * (0.047 / n).sqrt());
        assert!(amounts.iter().all(|a| *a >= 0.1));
    }

    /// The residual has the covariance X that solves X = A X Aᵀ + B Bᵀ, and X Aᵀ one day on.
    #[test]
    fn temperatures_have_the_spread_and_carry_over_asked_for() {
        let climate = even_climate();
        let mut x = [[1.0, 0.0], [0.0, 1.0]];
        for _ in 0..200 {
            x = core::array::from_fn(|i| core::array::from_fn(|j| covariance_step(&climate, &x, i, j)));
        }
        let days = long_draw();
        let stats = |d: &DayWeather| {
            if d.rain_mm > 0.0 { climate.months[0].wet } else { climate.months[0].dry }
        };
        let low: Vec<f64> = days.iter().map(|d| (d.tmin_c - stats(d).tmin_mean_c) / 3.0).collect();
        let high: Vec<f64> = days.iter().map(|d| (d.tmax_c - stats(d).tmax_mean_c) / 3.0).collect();
        near(mean(&low), 0.0, 0.03);
        near(mean(&high), 0.0, 0.03);
        near(variance(&low), x[0][0], 0.03);
        near(variance(&high), x[1][1], 0.03);
        let lag = mean(&low.windows(2).map(|w| w[0] * w[1]).collect::<Vec<_>>());
        near(lag, climate.a[0][0] * x[0][0] + climate.a[0][1] * x[1][0], 0.03);
        let lag = mean(&high.windows(2).map(|w| w[0] * w[1]).collect::<Vec<_>>());
        near(lag, climate.a[1][0] * x[0][1] + climate.a[1][1] * x[1][1], 0.03);
        let together = mean(&low.iter().zip(&high).map(|(l, h)| l * h).collect::<Vec<_>>());
        near(together, x[0][1], 0.03);
    }

    /// A chain that never leaves either state has no long run: half and half.
    #[test]
    fn a_chain_that_stays_has_no_share_of_its_own() {
        let month = MonthClimate { p_wet_after_wet: 1.0, p_wet_after_dry: 0.0, ..even_climate().months[0] };
        assert_eq!(month.wet_share(), 0.5);
    }

    fn covariance_step(climate: &Climate, x: &[[f64; 2]; 2], i: usize, j: usize) -> f64 {
        let chance: f64 = (0..2).map(|k| climate.b[i][k] * climate.b[j][k]).sum();
        let carried = |k: usize| (0..2).map(move |l| climate.a[i][k] * x[k][l] * climate.a[j][l]);
        chance + (0..2).flat_map(carried).sum::<f64>()
    }

    #[test]
    fn one_process_does_not_shift_another() {
        let (one, mut changed) = (even_climate(), even_climate());
        for month in &mut changed.months {
            month.amount_shape = 0.4;
        }
        let (a, b) = (one.draw(1, 2, date(2021, 3, 1), 800), changed.draw(1, 2, date(2021, 3, 1), 800));
        for (x, y) in a.iter().zip(&b) {
            assert_eq!((x.tmin_c, x.tmax_c, x.rain_mm > 0.0), (y.tmin_c, y.tmax_c, y.rain_mm > 0.0));
        }
    }

    #[test]
    fn draws_differ_and_repeat() {
        let climate = even_climate();
        let start = date(2021, 3, 1);
        assert_eq!(climate.draw(1, 2, start, 50), climate.draw(1, 2, start, 50));
        assert_ne!(climate.draw(1, 2, start, 50), climate.draw(1, 3, start, 50));
        assert_eq!(climate.draw(1, 2, start, 50)[..20], climate.draw(1, 2, start, 20)[..]);
    }

    #[test]
    fn days_never_swing_less_than_the_least() {
        let mut climate = even_climate();
        for month in &mut climate.months {
            month.wet.tmax_mean_c = 6.5;
        }
        let days = climate.draw(5, 0, date(2021, 1, 1), 2000);
        assert!(days.iter().all(|d| d.swing_c() >= 0.5 - 1e-9));
    }

    /// Closer extremes are moved apart evenly: the day's mean stays, and days that swing enough are left.
    #[test]
    fn a_wider_least_swing_moves_the_extremes_apart_evenly() {
        let (plain, mut climate) = (even_climate(), even_climate());
        climate.least_swing_c = 12.0;
        let start = date(2021, 1, 1);
        for (was, is) in plain.draw(5, 0, start, 2_000).iter().zip(climate.draw(5, 0, start, 2_000)) {
            near(is.tmean_c(), was.tmean_c(), 1e-9);
            near(is.swing_c(), was.swing_c().max(12.0), 1e-9);
        }
    }

    /// Pinned on the first build: a change here changes every result a user has.
    #[test]
    fn values_are_stable() {
        let digest = |days: &[DayWeather]| {
            days.iter()
                .flat_map(|d| [d.tmin_c, d.tmax_c, d.rain_mm])
                .fold(0_u64, |hash, value| (hash ^ value.to_bits()).wrapping_mul(0x0000_0100_0000_01b3).rotate_left(17))
        };
        let days = even_climate().draw(42, 7, date(2021, 3, 1), 1096);
        assert_eq!(digest(&days), 14_611_761_312_754_448_488);
    }
}
