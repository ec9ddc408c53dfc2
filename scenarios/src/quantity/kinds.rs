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
    /// Letters of the compass that its unit cannot have.
    pub other_way: &'static [char],
}

impl Measured {
    /// The remedy: which units would do.
    #[must_use]
    pub fn would_do(&self) -> String {
        format!("Use {}, for example \"{}\".", self.units, self.example)
    }
}

const fn kind(plain: &'static str, unit: &'static str, units: &'static str, example: &'static str) -> Measured {
    Measured { plain, unit, units, example, every: false, other_way: &[] }
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
/// Latitude, degrees.
pub const LATITUDE_DEG: Measured =
    Measured { other_way: &['E', 'W'], ..kind("a latitude", "deg", "deg, N or S", "52.6 deg") };
/// Longitude, degrees.
pub const LONGITUDE_DEG: Measured =
    Measured { other_way: &['N', 'S'], ..kind("a longitude", "deg", "deg, E or W", "-0.5 deg") };
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

/// Hours of the keeper's work that an hour is worth.
pub const PER_HOUR: Measured = kind("hours per hour", "h per h", "h per h", "1 h per h");
/// Hours of work that a kilogram is worth.
pub const PER_KG: Measured = kind("hours per mass", "h per kg", "h per kg or h per lb", "0.3 h per kg");
/// Hours of work that a point is worth.
pub const PER_POINT: Measured = kind("hours per point in a hundred", "h per point", "h per point", "-0.4 h per point");
/// Hours of work that a gate move is worth.
pub const PER_MOVE: Measured = kind("hours per gate move", "h per move", "h per move", "-0.1 h per move");
/// Hours of work that a day is worth.
pub const PER_DAY: Measured = kind("hours per day", "h per day", "h per day or h per week", "-0.5 h per day");
/// Hours of work that a kg/ha of load is worth.
pub const PER_LOAD: Measured =
    kind("hours per load", "h per kg/ha", "h per kg/ha or h per lb/acre", "-0.05 h per kg/ha");
/// Hours of work that a m² per bird is worth.
pub const PER_SPACE: Measured =
    kind("hours per area per bird", "h per m2/bird", "h per m2/bird or h per sq ft/bird", "0.5 h per m2/bird");
