//! The one table of units, with exact conversions (international foot, pound and
//! acre: NIST Handbook 44, appendix C).

use sim_engine::units::DAYS_PER_YEAR;

/// Powers of the base dimensions a quantity has: what it measures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Dimension {
    /// Length.
    pub length: i8,
    /// Mass.
    pub mass: i8,
    /// Days of the calendar.
    pub time: i8,
    /// Hours of the clock and of work: who writes hours for days, or days for hours, means something else.
    pub hour: i8,
    /// Temperature.
    pub temperature: i8,
    /// Angle.
    pub angle: i8,
    /// Birds.
    pub bird: i8,
    /// Gate moves.
    pub gate_move: i8,
    /// Points in a hundred.
    pub point: i8,
}

impl Dimension {
    /// This and `other` multiplied, `other` to the power `sign` (1 or -1).
    #[must_use]
    pub fn with(self, other: Self, sign: i8) -> Self {
        Self {
            length: self.length + sign * other.length,
            mass: self.mass + sign * other.mass,
            time: self.time + sign * other.time,
            hour: self.hour + sign * other.hour,
            temperature: self.temperature + sign * other.temperature,
            angle: self.angle + sign * other.angle,
            bird: self.bird + sign * other.bird,
            gate_move: self.gate_move + sign * other.gate_move,
            point: self.point + sign * other.point,
        }
    }
}

/// A unit: what it measures and how many base units (m, g, day, C, deg) it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub dimension: Dimension,
    /// Base units in one.
    pub factor: f64,
    /// Its zero, in base units (temperatures read from a thermometer).
    pub zero: f64,
}

const NONE: Dimension =
    Dimension { length: 0, mass: 0, time: 0, hour: 0, temperature: 0, angle: 0, bird: 0, gate_move: 0, point: 0 };
const LENGTH: Dimension = Dimension { length: 1, ..NONE };
const AREA: Dimension = Dimension { length: 2, ..NONE };
const MASS: Dimension = Dimension { mass: 1, ..NONE };
const TIME: Dimension = Dimension { time: 1, ..NONE };
const HOUR: Dimension = Dimension { hour: 1, ..NONE };
const TEMPERATURE: Dimension = Dimension { temperature: 1, ..NONE };
const DEGREE_DAY: Dimension = Dimension { temperature: 1, time: 1, ..NONE };
const ANGLE: Dimension = Dimension { angle: 1, ..NONE };
const BIRD: Dimension = Dimension { bird: 1, ..NONE };
const MOVE: Dimension = Dimension { gate_move: 1, ..NONE };
const POINT: Dimension = Dimension { point: 1, ..NONE };

const FOOT_M: f64 = 0.3048;
const FOOT2_M2: f64 = FOOT_M * FOOT_M;
const INCH_M: f64 = 0.0254;
const POUND_G: f64 = 453.592_37;
const ACRE_M2: f64 = 4_046.856_422_4;
const HOUR_D: f64 = 1.0 / 24.0;
const FAHRENHEIT_C: f64 = 5.0 / 9.0;

/// A Fahrenheit thermometer.
const FAHRENHEIT: &[&str] = &["F", "°F", "degF", "deg F", "degrees F"];

/// Every name a unit may be written by. "ton" is the short ton of 2000 lb, "t" and "tonne" are metric.
const TABLE: &[(&[&str], Dimension, f64)] = &[
    (&["m", "metre", "metres", "meter", "meters"], LENGTH, 1.0),
    (&["cm"], LENGTH, 0.01),
    (&["mm"], LENGTH, 0.001),
    (&["km"], LENGTH, 1_000.0),
    (&["ft", "foot", "feet", "'"], LENGTH, FOOT_M),
    (&["yd", "yard", "yards"], LENGTH, 3.0 * FOOT_M),
    (&["in", "inch", "inches"], LENGTH, INCH_M),
    (&["m2", "m²", "sq m", "square metres", "square meters"], AREA, 1.0),
    (&["ft2", "ft²", "sq ft", "sqft", "sq. ft.", "square feet", "square foot"], AREA, FOOT2_M2),
    (&["1000 sq ft", "1000 ft2"], AREA, 1_000.0 * FOOT2_M2),
    (&["yd2", "yd²", "sq yd", "square yards", "square yard"], AREA, 9.0 * FOOT2_M2),
    (&["ac", "acre", "acres"], AREA, ACRE_M2),
    (&["ha", "hectare", "hectares"], AREA, 10_000.0),
    (&["g", "gram", "grams"], MASS, 1.0),
    (&["kg"], MASS, 1_000.0),
    (&["t", "tonne", "tonnes"], MASS, 1_000_000.0),
    (&["lb", "lbs", "pound", "pounds"], MASS, POUND_G),
    (&["oz", "ounce", "ounces"], MASS, POUND_G / 16.0),
    (&["ton", "tons", "short tons"], MASS, 2_000.0 * POUND_G),
    (&["h", "hr", "hour", "hours"], HOUR, HOUR_D),
    (&["min", "minute", "minutes"], HOUR, HOUR_D / 60.0),
    (&["day", "days", "d"], TIME, 1.0),
    (&["week", "weeks", "w", "wk", "wks"], TIME, 7.0),
    (&["year", "years", "yr"], TIME, DAYS_PER_YEAR),
    (&["C", "°C", "degC", "deg C", "degrees C"], TEMPERATURE, 1.0),
    (FAHRENHEIT, TEMPERATURE, FAHRENHEIT_C),
    (&["degree-day", "degree-days", "C d"], DEGREE_DAY, 1.0),
    (&["F degree-day", "F degree-days", "°F degree-days", "degree-days F", "F d"], DEGREE_DAY, FAHRENHEIT_C),
    (&["deg", "°", "degree", "degrees"], ANGLE, 1.0),
    (&["N", "E", "deg N", "deg E", "°N", "°E", "° N", "° E"], ANGLE, 1.0),
    (&["S", "W", "deg S", "deg W", "°S", "°W", "° S", "° W"], ANGLE, -1.0),
    (&["bird", "birds", "hen", "hens"], BIRD, 1.0),
    (&["move", "moves"], MOVE, 1.0),
    (&["point", "points", "%"], POINT, 1.0),
];

/// The zero of a Fahrenheit thermometer in C.
const FAHRENHEIT_ZERO_C: f64 = -32.0 * FAHRENHEIT_C;

/// The unit of this name alone, for example `ft2`.
fn single(name: &str) -> Option<Unit> {
    let (_, dimension, factor) = TABLE.iter().find(|(names, ..)| names.contains(&name))?;
    let zero = if FAHRENHEIT.contains(&name) { FAHRENHEIT_ZERO_C } else { 0.0 };
    Some(Unit { dimension: *dimension, factor: *factor, zero })
}

/// The unit a phrase stands for: names joined by `per` or `/`, for example
/// `kg/ha per year`, `per m2`, `per kg/ha` (what stands between two `per` belongs together).
///
/// # Errors
/// The part of the phrase that is no unit's name.
pub fn phrase(text: &str) -> Result<Unit, String> {
    let text = text.trim().strip_prefix('/').map_or(text.to_owned(), |below| format!("per {below}"));
    let spaced = format!(" {} ", text.split_whitespace().collect::<Vec<_>>().join(" "));
    let mut unit = Unit { dimension: NONE, factor: 1.0, zero: 0.0 };
    for (position, part) in spaced.split(" per ").enumerate() {
        let part = part.trim();
        if position == 0 {
            unit = if part.is_empty() { unit } else { quotient(part)? };
        } else {
            unit = divided(unit, quotient(part)?);
        }
    }
    Ok(unit)
}

/// Names joined by `/`: the first divided by the others.
fn quotient(text: &str) -> Result<Unit, String> {
    let mut parts = text.split('/').map(str::trim);
    let first = parts.next().unwrap_or_default();
    let mut unit = single(first).ok_or(first)?;
    for name in parts {
        unit = divided(unit, single(name).ok_or(name)?);
    }
    Ok(unit)
}

fn divided(above: Unit, below: Unit) -> Unit {
    Unit { dimension: above.dimension.with(below.dimension, -1), factor: above.factor / below.factor, zero: 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn phrases_are_taken_apart() {
        assert_eq!(phrase("kg/ha per year").unwrap().dimension, Dimension { mass: 1, length: -2, time: -1, ..NONE });
        assert_eq!(phrase("per m2").unwrap().dimension, Dimension { length: -2, ..NONE });
        assert_eq!(phrase("m2 per bird").unwrap().dimension, Dimension { length: 2, bird: -1, ..NONE });
        assert_eq!(phrase("sq yd").unwrap().factor, 9.0 * FOOT2_M2);
        assert_eq!(phrase("lb per 1000 sq ft").unwrap().dimension, Dimension { mass: 1, length: -2, ..NONE });
        assert_eq!(phrase("furlong per day").unwrap_err(), "furlong");
    }

    #[test]
    fn freezing_is_thirty_two_fahrenheit() {
        let unit = phrase("F").unwrap();
        assert!((32.0 * unit.factor + unit.zero).abs() < 1e-12);
        assert!((212.0 * unit.factor + unit.zero - 100.0).abs() < 1e-12);
    }
}
