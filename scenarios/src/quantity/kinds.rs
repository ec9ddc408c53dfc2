//! What the quantities of a site file measure, and the unit the engine takes each in.

/// A kind of quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measured {
    /// In a keeper's words, with its article.
    pub plain: &'static str,
    /// The unit its numbers are kept in.
    pub unit: &'static str,
    /// Units people may write, in words.
    pub units: &'static str,
    /// An example.
    pub example: &'static str,
    /// "every" may stand before it.
    pub every: bool,
}

impl Measured {
    /// The remedy: which units would do.
    #[must_use]
    pub fn would_do(&self) -> String {
        format!("Use {}, for example \"{}\".", self.units, self.example)
    }
}

const fn kind(plain: &'static str, unit: &'static str, units: &'static str, example: &'static str) -> Measured {
    Measured { plain, unit, units, example, every: false }
}

/// Area, m².
pub const AREA_M2: Measured = kind("an area", "m2", "m2, ha, ft2, sq yd or ac", "64 m2");
/// Number per area, 1/m².
pub const PER_M2: Measured = kind("a number per area", "per m2", "per m2, per sq ft or per sq yd", "2500 per m2");
/// Length, m.
pub const LENGTH_M: Measured = kind("a length", "m", "m, ft or yd", "3 m");
/// Time, days.
pub const DAYS: Measured = kind("a time in days", "days", "days or weeks", "21 days");
/// Time between, days; "every" may stand before it.
pub const INTERVAL_D: Measured =
    Measured { every: true, ..kind("a time between", "days", "days or weeks", "every 6 weeks") };
/// Time, hours.
pub const HOURS: Measured = kind("a time in hours", "h", "h or min", "6 h");
/// Work per area, h/m².
pub const HOURS_M2: Measured =
    kind("work per area", "h per m2", "h per m2, min per m2 or min per sq ft", "0.02 h per m2");
/// Angle, degrees.
pub const ANGLE_DEG: Measured = kind("an angle", "deg", "deg, N, S, E or W", "52.6 deg");
/// Temperature, C.
pub const TEMPERATURE_C: Measured = kind("a temperature", "C", "C or F", "27 C");
/// Degree-days, C d.
pub const DEGREE_DAYS: Measured = kind("degree-days", "degree-days", "degree-days or F degree-days", "-60 degree-days");
/// Area per bird, m².
pub const M2_BIRD: Measured = kind("an area per bird", "m2 per bird", "m2 per bird or sq ft per bird", "4 m2 per bird");
/// Nutrient load, kg/ha in a year.
pub const LOAD: Measured = kind("a load", "kg/ha per year", "kg/ha per year or lb/acre per year", "170 kg/ha per year");
/// Nutrients brought at once, kg/ha.
pub const KG_HA: Measured = kind("an amount per area", "kg/ha", "kg/ha, lb/acre or lb per 1000 sq ft", "100 kg/ha");
/// Dry mass on the ground, g/m².
pub const G_M2: Measured =
    kind("a mass per area", "g/m2", "g/m2, kg/m2, t/ha, oz/sq yd, oz/sq ft or lb/sq ft", "500 g/m2");

/// Points per hour.
pub const PER_HOUR: Measured = kind("points per hour", "per h", "per h", "1 per h");
/// Points per kilogram.
pub const PER_KG: Measured = kind("points per mass", "per kg", "per kg or per lb", "0.4 per kg");
/// Points per point.
pub const PER_POINT: Measured = kind("points per point in a hundred", "per point", "per point", "-2 per point");
/// Points per gate move.
pub const PER_MOVE: Measured = kind("points per gate move", "per move", "per move", "-0.1 per move");
/// Points per day.
pub const PER_DAY: Measured = kind("points per day", "per day", "per day or per week", "-0.5 per day");
/// Points per kg/ha of load.
pub const PER_LOAD: Measured = kind("points per load", "per kg/ha", "per kg/ha or per lb/acre", "-0.05 per kg/ha");
/// Points per m² per bird.
pub const PER_SPACE: Measured =
    kind("points per area per bird", "per m2/bird", "per m2/bird or per sq ft/bird", "0.5 per m2/bird");
