//! What follows from the weather and the calendar alone, computed once per draw
//! and shared by every strategy.

mod day;
mod growers;

pub use day::{CanopyDay, DayDriver, GroundDay, OpenAir, PlantDay};
pub use growers::{Grower, Plant, PlotSlots};

use crate::dates::days_since_solstice;
use crate::math::{beta_response, exp, hazard_to_prob, pow};
use crate::plot::constants::Season;
use crate::plot::slugs::{SlugDay, SlugWeather};
use crate::site::{Plot, Site};
use crate::species::{Canopy, ProcessParams, Thermometer};
use crate::waiting::waiting;
use crate::weather::degree_days::{CutOff, single_sine};
use crate::weather::et0::reference_et0_mm;
use crate::weather::snow::{SnowPack, SnowParams};
use crate::weather::soil_temperature::{SoilDay, SoilTemperature, SurfaceParams, damping_depth_m};
use crate::weather::{DayWeather, humidity, radiation};

/// Thermal diffusivity of moist garden soil, m²/s (Campbell & Norman 1998, from memory).
const DIFFUSIVITY: f64 = 0.5e-6;
/// Snow on the ground that counts as snow cover, mm of water (common practice, no source).
const SNOW_COVER_MM: f64 = 2.0;
/// Rain that keeps birds in for their full `wet_loss`, mm (common practice, no source).
const HEAVY_RAIN_MM: f64 = 15.0;
/// Day's highest temperature from which birds stop ranging, C (from memory: lay and feed fall above 28-30 C).
const HOT_C: f64 = 28.0;
/// Least temperature below which annual plants are damaged, C (from memory).
const KILLING_FROST_C: f64 = -4.0;
/// Ranging time follows day length within these bounds (from memory).
const DAYLIGHT_BOUNDS: (f64, f64) = (0.5, 1.25);

/// A pest's counting may have begun this many days before the run and still start with it (common practice, no source).
pub const LATE_START_D: f64 = 60.0;

/// All of a draw that no strategy can change.
#[derive(Clone, Debug)]
pub struct Drivers {
    /// Length of a step, days.
    pub step: f64,
    /// Day by day.
    pub days: Vec<DayDriver>,
    /// Slots of each plot.
    pub slots: Vec<PlotSlots>,
    growers: Vec<Grower>,
    /// Day-major by grower.
    plants: Vec<PlantDay>,
    pest_count: usize,
    /// Degree-days of each pest on bare and on covered ground, day-major.
    pest_degree_days: Vec<[f64; 2]>,
    /// Of each pest what a keeper has counted by the morning, less what he counts to half emergence; day-major.
    keepers_counts: Vec<Option<f64>>,
    slug_count: usize,
    /// Day-major by kind of slug.
    slugs: Vec<SlugDay>,
    plot_count: usize,
    /// Days to the harvest that keeps birds out; 0 where none does; day-major by plot.
    waiting: Vec<u16>,
    /// Mixes of canopies of the plots: canopies of the site and their shares of the ground.
    mixes: Vec<Vec<(usize, f64)>>,
    /// Which each plot has.
    mix_of_plot: Vec<usize>,
    /// Day-major by mix.
    canopies: Vec<CanopyDay>,
}

impl Drivers {
    /// Computes the draw; `weather` must cover the site's days from its start.
    #[must_use]
    pub fn new(site: &Site, weather: &[DayWeather]) -> Self {
        let (above_m, lapse_rate) = (site.place.above_weather_m, site.process.lapse_rate);
        if above_m != 0.0 {
            let here: Vec<DayWeather> = weather.iter().map(|day| day.higher_up(above_m, lapse_rate)).collect();
            return Self::of_weather_here(site, &here);
        }
        Self::of_weather_here(site, weather)
    }

    /// As [`Self::new`] from weather of the site's own height.
    fn of_weather_here(site: &Site, weather: &[DayWeather]) -> Self {
        let mut drivers = Self::empty(site);
        let mut air = AirToGround::new(site, weather);
        for day in weather.iter().take(site.days) {
            air.push_day(site, day, &mut drivers);
        }
        drivers
    }

    fn empty(site: &Site) -> Self {
        let mut growers = Vec::new();
        let (mixes, mix_of_plot) = mixes(site);
        let plots = site.plots.iter().zip(&mix_of_plot);
        let slots = plots.map(|(plot, &mix)| PlotSlots::new(plot, mix, &mut growers)).collect();
        Self {
            step: 1.0 / f64::from(site.steps_per_day),
            days: Vec::with_capacity(site.days),
            slots,
            plants: Vec::with_capacity(site.days * growers.len()),
            growers,
            pest_count: site.pests.len(),
            pest_degree_days: Vec::with_capacity(site.days * site.pests.len()),
            keepers_counts: Vec::with_capacity(site.days * site.pests.len()),
            slug_count: site.slugs.len(),
            slugs: Vec::with_capacity(site.days * site.slugs.len()),
            plot_count: site.plots.len(),
            waiting: waiting(site),
            canopies: Vec::with_capacity(site.days * mixes.len()),
            mixes,
            mix_of_plot,
        }
    }

    /// What the slots of [`Drivers::plants`] are.
    #[must_use]
    pub fn growers(&self) -> &[Grower] {
        &self.growers
    }

    /// A day of every plant under every canopy it grows under, by slot.
    #[inline]
    #[must_use]
    pub fn plants(&self, day: usize) -> &[PlantDay] {
        &self.plants[day * self.growers.len()..(day + 1) * self.growers.len()]
    }

    /// Degree-days of every pest on bare and on covered ground; 0 outside its season.
    #[inline]
    #[must_use]
    pub fn pest_degree_days(&self, day: usize) -> &[[f64; 2]] {
        &self.pest_degree_days[day * self.pest_count..(day + 1) * self.pest_count]
    }

    /// A day as every kind of slug and snail feels it.
    #[inline]
    #[must_use]
    pub fn slugs(&self, day: usize) -> &[SlugDay] {
        &self.slugs[day * self.slug_count..(day + 1) * self.slug_count]
    }

    /// Degree-days a keeper has counted of every pest by the morning, under cover and by the likely numbers, less those to half
    /// emergence; `None` before counting starts and after the season.
    #[inline]
    #[must_use]
    pub fn keepers_counts(&self, day: usize) -> &[Option<f64>] {
        &self.keepers_counts[day * self.pest_count..(day + 1) * self.pest_count]
    }

    /// Days to the harvest for whose sake birds must stay out of each plot; 0: none.
    #[inline]
    #[must_use]
    pub fn days_to_harvest(&self, day: usize) -> &[u16] {
        &self.waiting[day * self.plot_count..(day + 1) * self.plot_count]
    }

    /// A day of a plot's canopies.
    #[inline]
    #[must_use]
    pub fn canopy(&self, day: usize, plot: usize) -> CanopyDay {
        self.canopies[day * self.mixes.len() + self.mix_of_plot[plot]]
    }
}

/// The mixes of canopies of the plots, each once, and which of them each plot has.
fn mixes(site: &Site) -> (Vec<Vec<(usize, f64)>>, Vec<usize>) {
    let mut mixes: Vec<Vec<(usize, f64)>> = Vec::new();
    let mut mix_of = |plot: &Plot| {
        let mix: Vec<_> = plot.canopies.iter().map(|canopy| (canopy.canopy, canopy.share)).collect();
        mixes.iter().position(|known| *known == mix).unwrap_or_else(|| {
            mixes.push(mix);
            mixes.len() - 1
        })
    };
    let mix_of_plot = site.plots.iter().map(&mut mix_of).collect();
    (mixes, mix_of_plot)
}

/// Carries snow and soil warmth from day to day while the drivers are made.
struct AirToGround {
    snow: SnowPack,
    snow_params: SnowParams,
    bare: SoilTemperature,
    covered: SoilTemperature,
    /// Of each pest what a keeper has counted so far this season.
    counts: Vec<Option<f64>>,
}

impl AirToGround {
    fn new(site: &Site, weather: &[DayWeather]) -> Self {
        let p = &site.process;
        // The soil starts at the mean of the first month.
        let first: Vec<f64> = weather.iter().take(30).map(DayWeather::tmean_c).collect();
        let start_c = first.iter().sum::<f64>() / first.len().max(1) as f64;
        let surface = |swing_share, sun_warming_c_per_mj_m2| SurfaceParams {
            lag_d: p.soil_lag,
            swing_share,
            depth_m: 0.05,
            damping_depth_m: damping_depth_m(DIFFUSIVITY),
            sun_warming_c_per_mj_m2,
            under_snow_c: 0.0,
        };
        Self {
            snow: SnowPack::default(),
            snow_params: SnowParams {
                snow_below_c: 0.0,
                melt_base_c: 0.0,
                melt_mm_per_c_d: p.snow_melt,
                frozen_below_c: p.frozen_below,
            },
            bare: SoilTemperature::new(&surface(1.0, p.bare_warming), start_c),
            covered: SoilTemperature::new(&surface(p.soil_swing, 0.0), start_c),
            counts: vec![None; site.pests.len()],
        }
    }

    fn push_day(&mut self, site: &Site, day: &DayWeather, drivers: &mut Drivers) {
        let sun_mj_m2 = radiation::of_day_mj_m2(site.place, day);
        let snow = self.snow.step(&self.snow_params, day.tmean_c(), day.rain_mm);
        let snow_lies = snow.pack_mm > SNOW_COVER_MM;
        let bare = self.bare.step(day.tmin_c, day.tmax_c, sun_mj_m2, snow_lies);
        let covered = self.covered.step(day.tmin_c, day.tmax_c, sun_mj_m2, snow_lies);
        let mut driver = soil_and_birds(site, day, covered, drivers.step);
        driver.ground.liquid_mm = snow.to_ground_mm();
        driver.snow_mm = snow.pack_mm;
        driver.snow_cover = snow_lies;
        driver.frozen = self.snow_params.frozen(covered.tmean_c);
        driver.ground.frozen = f64::from(u8::from(driver.frozen));
        driver.ground.bare_of_snow = (1.0 - snow.pack_mm / site.process.snow_hides).max(0.0);
        driver.ground.diggable = driver.ground.bare_of_snow * (1.0 - driver.ground.frozen);
        push_plots(site, day, &driver, sun_mj_m2, drivers);
        push_pests(site, day, &driver, [bare, covered], drivers);
        push_slugs(site, day, &driver, covered, drivers);
        self.count(site, day, &driver, covered, drivers);
        drivers.days.push(driver);
    }
}

impl AirToGround {
    /// A keeper counts every pest's degree-days by the likely numbers.
    fn count(&mut self, site: &Site, day: &DayWeather, driver: &DayDriver, covered: SoilDay, drivers: &mut Drivers) {
        let since = driver.since_solstice;
        for (so_far, pest) in self.counts.iter_mut().zip(&site.pests) {
            let by = &pest.count;
            let late = f64::from(since) - by.counting_from;
            let begins_late = drivers.days.is_empty() && late > 0.0 && late <= LATE_START_D;
            if since == by.season_end as i32 {
                *so_far = None;
            }
            if since == by.counting_from as i32 || begins_late {
                *so_far = Some(0.0);
            }
            drivers.keepers_counts.push(so_far.map(|so_far| so_far - by.emergence));
            let (tmin_c, tmax_c) = match pest.thermometer {
                Thermometer::Air => (day.tmin_c, day.tmax_c),
                Thermometer::Soil => (covered.tmin_c, covered.tmax_c),
            };
            if let Some(so_far) = so_far {
                *so_far += single_sine(tmin_c, tmax_c, by.base_temperature, CutOff::Horizontal(by.upper_temperature));
            }
        }
    }
}

/// The part of a day that all zones share.
fn soil_and_birds(site: &Site, day: &DayWeather, covered: SoilDay, step: f64) -> DayDriver {
    let p = &site.process;
    let day_length_h = radiation::day_length_h(site.place.latitude_deg, day.day_of_year());
    let q10 = |reference_c: f64| exp(libm::log(p.q10) * 0.1 * (covered.tmean_c - reference_c));
    let (q10_20, q10_15) = (q10(20.0), q10(15.0));
    let ripening_d = exp(p.worm_ripen_intercept - p.worm_ripen_slope * covered.tmean_c);
    let worm_rate = if covered.tmean_c < p.worm_ripen_above { 0.0 } else { (BOXES_F / ripening_d * step).min(1.0) };
    let worm_hazard = p.worm_decay * pow(p.worm_q10, 0.1 * (covered.tmean_c - 15.0));
    let insect_warmth = if covered.tmean_c <= 0.0 { 0.0 } else { q10_20.min(1.0) };
    let since_solstice = days_since_solstice(day.date, site.place.latitude_deg);
    let ground = GroundDay {
        since_solstice: f64::from(since_solstice),
        et0_mm: reference_et0_mm(site.place, day) * p.evaporation_bias,
        insect_warmth,
        soil_c: covered.tmean_c,
        q10_15,
        dead_keep: exp(-p.dead_decay * q10_20 * step),
        fruit_keep: exp(-p.fruit_decay * q10_20 * step),
        fresh_keep: exp(-p.organic_decay * q10_20 * step),
        insect_going: hazard_to_prob(p.insect_renewal / p.insect_room * insect_warmth * step),
        denitrified: hazard_to_prob(p.denitrification * q10_20 * step),
        worm_rate,
        worm_keep: exp(-worm_hazard * step),
        worm_keep_hardy: exp(-p.worm_hardy_decay * step),
        ..GroundDay::default()
    };
    DayDriver {
        date: day.date,
        since_solstice,
        ground,
        tmin_c: day.tmin_c,
        tmax_c: day.tmax_c,
        rain_mm: day.rain_mm,
        snow_mm: 0.0,
        snow_cover: false,
        frozen: false,
        day_length_h,
        ranging: ranging(p, day, day_length_h),
        soil_c: covered.tmean_c,
        frost_degrees: (KILLING_FROST_C - day.tmin_c).max(0.0),
        q10_20,
        heap_n_keep: exp(-p.heap_loss * q10_20),
        heap_dm_keep: exp(-p.heap_decay * q10_20),
        heat_hours: humidity::hours_of_heat(day, p.heat_threshold, p.dew_offset),
    }
}

const BOXES_F: f64 = crate::state::BOXES as f64;

fn ranging(p: &ProcessParams, day: &DayWeather, day_length_h: f64) -> f64 {
    let daylight = (day_length_h / 12.0).clamp(DAYLIGHT_BOUNDS.0, DAYLIGHT_BOUNDS.1);
    let wet = 1.0 - p.wet_loss * (day.rain_mm / HEAVY_RAIN_MM).min(1.0);
    let hot = 1.0 - p.hot_loss * f64::from(u8::from(day.tmax_c > HOT_C));
    let cold = 1.0 - p.cold_loss * f64::from(u8::from(day.tmax_c < 0.0));
    daylight * wet * hot * cold
}

fn push_plots(site: &Site, day: &DayWeather, driver: &DayDriver, sun_mj_m2: f64, drivers: &mut Drivers) {
    let first = drivers.canopies.len();
    drivers.canopies.extend(drivers.mixes.iter().map(|mix| canopy_day(site, mix, driver.since_solstice)));
    for &grower in &drivers.growers {
        let shade = drivers.canopies[first + grower.mix].shade;
        drivers.plants.push(plant_day(
            site,
            day,
            driver,
            sun_mj_m2 * (1.0 - shade),
            sun_mj_m2,
            drivers.step,
            grower.plant,
        ));
    }
}

/// Shade and water use of canopies, each by its share of the ground.
fn canopy_day(site: &Site, mix: &[(usize, f64)], since_solstice: i32) -> CanopyDay {
    let mut today = CanopyDay::default();
    for &(canopy, share) in mix {
        let canopy = &site.canopies[canopy];
        if canopy_in_leaf(canopy, since_solstice) {
            today.shade += share * canopy.params.shade_in_leaf;
            today.water += share * canopy.params.water_use;
        } else {
            today.shade += share * canopy.params.shade_bare;
        }
    }
    today
}

/// A plant's day in the sun that the canopies leave, of the sun above them.
fn plant_day(
    site: &Site,
    day: &DayWeather,
    driver: &DayDriver,
    left_mj_m2: f64,
    sun_mj_m2: f64,
    step: f64,
    plant: Plant,
) -> PlantDay {
    let p = &site.process;
    let shaded = light_factor(p, left_mj_m2);
    let grows = |light: f64, base: f64, best: f64, ceiling: f64| PlantDay {
        growth: light * beta_response(day.tmean_c(), base, best, ceiling),
        thermal: single_sine(day.tmin_c, day.tmax_c, base, CutOff::None),
        ..PlantDay::default()
    };
    match plant {
        Plant::Cover(cover) => {
            let params = &site.covers[cover].params;
            let sun = light_factor(p, sun_mj_m2);
            let light = params.shade_tolerance * sun + (1.0 - params.shade_tolerance) * shaded;
            let cover = grows(light, params.base_temperature, params.best_temperature, params.ceiling_temperature);
            let dies = hazard_to_prob((params.ageing_rate * cover.growth + params.ageing_rate_base) * step);
            PlantDay { dies, ..cover }
        }
        Plant::Weed(weed) => {
            let params = &site.weeds[weed].params;
            let weed = grows(shaded, params.base_temperature, params.best_temperature, params.ceiling_temperature);
            PlantDay { dies: hazard_to_prob(params.frost_kill * driver.frost_degrees * step), ..weed }
        }
        Plant::Creeper(creeper) => {
            let params = &site.creepers[creeper].params;
            let creeper = grows(shaded, params.base_temperature, params.best_temperature, params.ceiling_temperature);
            let dies =
                hazard_to_prob((params.ageing_rate * creeper.growth + params.frost_kill * driver.frost_degrees) * step);
            let upkeep = hazard_to_prob(params.reserve_upkeep * driver.q10_20 * step);
            PlantDay { dies, upkeep, ..creeper }
        }
        Plant::Crop(crop) => {
            let params = &site.crops[crop].params;
            grows(shaded, params.base_temperature, params.best_temperature, params.ceiling_temperature)
        }
    }
}

fn push_slugs(site: &Site, day: &DayWeather, driver: &DayDriver, covered: SoilDay, drivers: &mut Drivers) {
    let weather = SlugWeather {
        tmin_c: day.tmin_c,
        tmax_c: day.tmax_c,
        soil_c: covered.tmean_c,
        frost_degrees: driver.frost_degrees,
        snow: driver.snow_cover,
        frozen: driver.frozen,
    };
    let step = drivers.step;
    drivers.slugs.extend(site.slugs.iter().map(|slug| SlugDay::of(&slug.params, &weather, step)));
}

fn push_pests(site: &Site, day: &DayWeather, driver: &DayDriver, soils: [SoilDay; 2], drivers: &mut Drivers) {
    for pest in &site.pests {
        let params = &pest.params;
        let since = f64::from(driver.since_solstice);
        let in_season = since >= params.counting_from && since <= params.season_end;
        let degree_days = |tmin_c: f64, tmax_c: f64| {
            if !in_season {
                return 0.0;
            }
            single_sine(tmin_c, tmax_c, params.base_temperature, CutOff::Horizontal(params.upper_temperature))
        };
        drivers.pest_degree_days.push(match pest.thermometer {
            Thermometer::Air => [degree_days(day.tmin_c, day.tmax_c); 2],
            Thermometer::Soil => soils.map(|s| degree_days(s.tmin_c, s.tmax_c)),
        });
    }
}

/// Light response: half at `light_half`, scaled to reach 1 at `light_full`.
fn light_factor(p: &ProcessParams, sun_mj_m2: f64) -> f64 {
    (sun_mj_m2 / (sun_mj_m2 + p.light_half) * (1.0 + p.light_half / p.light_full)).min(1.0)
}

/// Whether a canopy is in leaf this many days after the winter solstice.
fn canopy_in_leaf(canopy: &Canopy, since_solstice: i32) -> bool {
    let leafy = Season { from: canopy.params.leaf_out, until: canopy.params.leaf_fall };
    canopy.evergreen || leafy.on(f64::from(since_solstice))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{near, two_plots};

    /// A keeper knows the likely numbers: whatever base, start and sum are drawn, he counts the same days.
    #[test]
    fn a_keepers_count_does_not_move_with_what_is_drawn() {
        let mut site = two_plots(1);
        site.start = jiff::civil::date(2027, 1, 1);
        site.days = 300;
        let weather: Vec<DayWeather> =
            (0..site.days).map(|day| DayWeather::new(crate::dates::date_of(site.start, day), 6.0, 16.0, 0.0)).collect();
        let counts = |site: &Site| {
            let drivers = Drivers::new(site, &weather);
            (0..site.days).map(|day| drivers.keepers_counts(day)[0]).collect::<Vec<_>>()
        };
        let likely = counts(&site);
        let begins = likely.iter().position(Option::is_some).unwrap();
        let by = site.pests[0].count;
        assert_eq!(days_since_solstice(crate::dates::date_of(site.start, begins), 50.0), by.counting_from as i32);
        near(likely[begins].unwrap(), -by.emergence, 1e-12);
        // Under cover soil is the same every day in the end: 11 C less the base.
        near(likely[begins + 41].unwrap() - likely[begins + 40].unwrap(), 11.0 - by.base_temperature, 1e-3);
        assert_eq!(likely[280], None);
        let params = &mut site.pests[0].params;
        (params.base_temperature, params.emergence, params.counting_from) = (8.0, 90.0, 60.0);
        params.season_end = 300.0;
        assert_eq!(counts(&site), likely);
    }

    /// 600 m above its weather at 6.5 C a km a site is 3.9 C colder; at the height of its weather it has it as it is.
    #[test]
    fn a_site_above_its_weather_is_colder() {
        let mut site = two_plots(1);
        site.process.lapse_rate = 6.5;
        let weather: Vec<DayWeather> =
            (0..site.days).map(|day| DayWeather::new(crate::dates::date_of(site.start, day), 4.0, 15.0, 0.0)).collect();
        let extremes = |site: &Site| {
            let days = Drivers::new(site, &weather).days;
            (days[0].tmin_c, days[0].tmax_c, days[0].soil_c)
        };
        let at_weather = extremes(&site);
        assert_eq!((at_weather.0, at_weather.1), (4.0, 15.0));
        site.place.above_weather_m = 600.0;
        let higher = extremes(&site);
        near(higher.0, 0.1, 1e-12);
        near(higher.1, 11.1, 1e-12);
        near(at_weather.2 - higher.2, 3.9, 0.2);
    }
}
