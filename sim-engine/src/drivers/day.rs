//! What a day is to those who read it: birds and keeper, the ground, each plant.

use super::growers::Plant;
use crate::simd::soa::soa;
use jiff::civil::Date;

/// One day as plants, soil, pests and birds feel it. Keeps and shares are per step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayDriver {
    /// The date.
    pub date: Date,
    /// Days since the last winter solstice of this hemisphere.
    pub since_solstice: i32,
    /// What the processes of the ground read.
    pub ground: GroundDay,
    /// Lowest air temperature, C.
    pub tmin_c: f64,
    /// Highest air temperature, C.
    pub tmax_c: f64,
    /// What fell, mm (rain and snow).
    pub rain_mm: f64,
    /// Water lying as snow at the end of the day, mm.
    pub snow_mm: f64,
    /// Snow covers the ground.
    pub snow_cover: bool,
    /// The ground is frozen.
    pub frozen: bool,
    /// Day length, h.
    pub day_length_h: f64,
    /// Share of a 12-hour day birds spend out, after daylight, rain, heat and cold.
    pub ranging: f64,
    /// Soil temperature under cover at 5 cm, C.
    pub soil_c: f64,
    /// Degrees below the killing frost.
    pub frost_degrees: f64,
    /// Soil life against 20 C.
    pub q10_20: f64,
    /// Nitrogen kept in the heap a day.
    pub heap_n_keep: f64,
    /// Dry matter kept in the heap a day.
    pub heap_dm_keep: f64,
    /// Hours of heat without shade.
    pub heat_hours: f64,
}

/// The part of a day that birds, gates, yard, heap and keeper read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OpenAir {
    /// Lowest air temperature, C.
    pub tmin_c: f64,
    /// Highest air temperature, C.
    pub tmax_c: f64,
    /// What fell, mm (rain and snow).
    pub rain_mm: f64,
    /// What reached the ground: rain and snow melt, mm.
    pub liquid_mm: f64,
    /// Reference evaporation, bias included, mm.
    pub et0_mm: f64,
    /// Day length, h.
    pub day_length_h: f64,
    /// Share of a 12-hour day birds spend out, after daylight, rain, heat and cold.
    pub ranging: f64,
    /// Hours of heat without shade.
    pub heat_hours: f64,
    /// Warmth of insect life, 0 to 1.
    pub insect_warmth: f64,
    /// Ripening rate of worm eggs per step and box.
    pub worm_rate: f64,
    /// Share of frail worm eggs kept a step.
    pub worm_keep: f64,
    /// Share of hardy worm eggs kept a step.
    pub worm_keep_hardy: f64,
    /// Nitrogen kept in the heap a day.
    pub heap_n_keep: f64,
    /// Dry matter kept in the heap a day.
    pub heap_dm_keep: f64,
    /// 1 where the ground is frozen, else 0.
    pub frozen: f64,
    /// 1 where snow covers the ground, else 0.
    pub snow: f64,
}

impl OpenAir {
    /// That of a day.
    #[must_use]
    pub fn of(day: &DayDriver) -> Self {
        let ground = &day.ground;
        Self {
            tmin_c: day.tmin_c,
            tmax_c: day.tmax_c,
            rain_mm: day.rain_mm,
            liquid_mm: ground.liquid_mm,
            et0_mm: ground.et0_mm,
            day_length_h: day.day_length_h,
            ranging: day.ranging,
            heat_hours: day.heat_hours,
            insect_warmth: ground.insect_warmth,
            worm_rate: ground.worm_rate,
            worm_keep: ground.worm_keep,
            worm_keep_hardy: ground.worm_keep_hardy,
            heap_n_keep: day.heap_n_keep,
            heap_dm_keep: day.heap_dm_keep,
            frozen: ground.frozen,
            snow: f64::from(u8::from(day.snow_cover)),
        }
    }
}

/// The part of a day that the processes of the ground read. Keeps and shares are per step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GroundDay<F = f64> {
    /// Days since the last winter solstice of this hemisphere.
    pub since_solstice: f64,
    /// 1 where the ground is frozen, else 0.
    pub frozen: F,
    /// Share of the ground that snow leaves birds.
    pub bare_of_snow: F,
    /// Share of the ground that snow and frost let birds scratch.
    pub diggable: F,
    /// What reached the ground: rain and snow melt, mm.
    pub liquid_mm: F,
    /// Reference evaporation, bias included, mm.
    pub et0_mm: F,
    /// Warmth of insect life, 0 to 1.
    pub insect_warmth: F,
    /// Soil temperature at 5 cm under cover, C.
    pub soil_c: F,
    /// Soil life against 15 C.
    pub q10_15: F,
    /// Share of dead cover kept a step.
    pub dead_keep: F,
    /// Share of fallen fruit kept a step.
    pub fruit_keep: F,
    /// Share of fresh organic matter kept a step.
    pub fresh_keep: F,
    /// Share of insects that go a step where nothing eats them.
    pub insect_going: F,
    /// Share of mineral nitrogen lost from saturated soil a step.
    pub denitrified: F,
    /// Ripening rate of worm eggs per step and box.
    pub worm_rate: F,
    /// Share of frail worm eggs kept a step.
    pub worm_keep: F,
    /// Share of hardy worm eggs kept a step.
    pub worm_keep_hardy: F,
}

soa! {
    GroundDay {
        frozen, bare_of_snow, diggable, liquid_mm, et0_mm, insect_warmth, soil_c, q10_15, dead_keep, fruit_keep, fresh_keep,
        insect_going, denitrified, worm_rate, worm_keep, worm_keep_hardy,
    }
    plain { since_solstice }
}

/// A day of the canopies of a plot, each by its share of the ground.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CanopyDay {
    /// Share of light they hold back, mean over the plot.
    pub shade: f64,
    /// Water they use, against reference evaporation.
    pub water: f64,
}

/// A day as one plant of a plot feels it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlantDay<F = f64> {
    /// Temperature × light factor of growth.
    pub growth: F,
    /// Thermal time, C d.
    pub thermal: F,
    /// Share that dies in a step, whatever the ground: age of cover, age and frost of
    /// creeping weeds, frost of annual weeds.
    pub dies: F,
    /// Share of its reserve a creeping weed burns in a step.
    pub upkeep: F,
}

soa! { PlantDay { growth, thermal, dies, upkeep } }

impl<F> PlantDay<F> {
    /// The numbers a plant of this kind has a use for; the others stay 0.
    #[inline(always)]
    pub(crate) fn used(&mut self, plant: Plant) -> impl Iterator<Item = &mut F> {
        let Self { growth, thermal, dies, upkeep } = self;
        let besides_growth = match plant {
            Plant::Cover(_) => [Some(dies), None],
            Plant::Weed(_) => [Some(thermal), Some(dies)],
            Plant::Creeper(_) => [Some(dies), Some(upkeep)],
            Plant::Crop(_) => [Some(thermal), None],
        };
        core::iter::once(growth).chain(besides_growth.into_iter().flatten())
    }
}
