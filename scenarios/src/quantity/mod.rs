//! Numbers with their unit, as people write them: "64 m2", "every 6 weeks",
//! "2500 per m2", "-60 degree-days", "170 kg/ha per year".

mod beds;
pub mod kinds;
mod meant;
pub mod units;

pub use beds::{BEDS_EXAMPLE, beds_area};
pub use meant::{number_meant, text_meant};

use kinds::Measured;
use sim_engine::domain::Domain;

/// The least and the most a number may be, and the sentence that says so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
    /// The sentence, for example "A plot is 4 m2 to 1 ha.".
    pub wording: &'static str,
}

impl Bound {
    /// The same without the sentence.
    #[must_use]
    pub const fn domain(&self) -> Domain {
        if self.low == 0.0 && self.high == 1.0 { Domain::Share } else { Domain::Between(self.low, self.high) }
    }
}

/// What is wrong with a quantity: the fault and the remedy.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}. {remedy}")]
pub struct QuantityError {
    /// The fault.
    pub message: String,
    /// The remedy.
    pub remedy: String,
}

impl QuantityError {
    fn new(message: String, remedy: String) -> Self {
        Self { message, remedy }
    }
}

/// The number of `text` in the unit of `what`, for example 64.0 for "64 m2" as an area.
///
/// ```
/// use scenarios::quantity::{kinds, parse};
/// assert_eq!(parse("64 m2", &kinds::AREA_M2)?, 64.0);
/// assert_eq!(parse("every 6 weeks", &kinds::INTERVAL_D)?, 42.0);
/// assert!(parse("64 kg", &kinds::AREA_M2).is_err());
/// # Ok::<(), scenarios::quantity::QuantityError>(())
/// ```
///
/// # Errors
/// No number, not finite, no unit, an unknown unit, or a unit of something else.
pub fn parse(text: &str, what: &Measured) -> Result<f64, QuantityError> {
    let phrase = text.trim();
    let phrase = phrase.strip_prefix("every ").filter(|_| what.every).unwrap_or(phrase);
    if let Some(area) = sides(phrase, what) {
        return area;
    }
    // "every week" is every one week.
    let alone = what.every && !phrase.is_empty() && units::phrase(phrase).is_ok();
    let (number, unit) = if alone { ("1", phrase) } else { split(phrase) };
    let value = number_of(number, text, what)?;
    if unit.is_empty() {
        return Err(QuantityError::new(format!("{text:?} has no unit"), what.would_do()));
    }
    let found =
        units::phrase(unit).map_err(|name| QuantityError::new(format!("{name:?} is not a unit"), what.would_do()))?;
    let wanted = units::phrase(what.unit)
        .map_err(|name| QuantityError::new(format!("{name:?} is not a unit"), what.would_do()))?;
    if found.dimension != wanted.dimension || unit.ends_with(what.other_way) {
        return Err(QuantityError::new(format!("{unit:?} does not measure {}", what.plain), what.would_do()));
    }
    if found.factor < 0.0 && value < 0.0 {
        let remedy = "Keep one of the two: \"33 S\" and \"-33 deg\" are the same place.".to_owned();
        return Err(QuantityError::new(format!("{text:?} has a minus and a letter"), remedy));
    }
    Ok(value * (found.factor / wanted.factor) + found.zero / wanted.factor)
}

/// An area written as its two sides: "12 x 20 ft" or "4 m x 6 m".
fn sides(phrase: &str, what: &Measured) -> Option<Result<f64, QuantityError>> {
    // "six" has an x and no sides.
    let area = *what == kinds::AREA_M2 && !phrase.to_lowercase().starts_with("six");
    let (one, other) = phrase.split_once(['x', 'X', '×']).filter(|_| area)?;
    let (one, other) = (one.trim(), other.trim());
    let refused = |message: String| {
        QuantityError::new(message, "Write both sides and their unit, for example \"4 x 6 m\".".to_owned())
    };
    if [one, other].iter().any(|side| side.is_empty() || units::phrase(side).is_ok()) {
        return Some(Err(refused(format!("{phrase:?} lacks a side"))));
    }
    let bare = one.parse::<f64>().is_ok();
    // The unit after the second side is the first's too.
    let unit = if bare { split(other).1 } else { "" };
    if bare && unit.is_empty() {
        return Some(Err(refused(format!("{phrase:?} has no unit"))));
    }
    let side = |text: &str| match parse(text.trim(), &kinds::LENGTH_M) {
        Ok(length) if length > 0.0 => Ok(length),
        Ok(_) => Err(refused(format!("a side of {phrase:?} is not above 0"))),
        Err(error) => Err(refused(error.message)),
    };
    let (one, other) = (side(&format!("{one} {unit}")), side(other));
    Some(one.and_then(|one| Ok(one * other?)))
}

/// A number of one unit in another, where both measure the same thing.
#[must_use]
pub fn convert(value: f64, from: &str, to: &str) -> Option<f64> {
    let (from, to) = (units::phrase(from).ok()?, units::phrase(to).ok()?);
    (from.dimension == to.dimension).then(|| value * (from.factor / to.factor) + (from.zero - to.zero) / to.factor)
}

/// Number and unit of a phrase.
fn split(phrase: &str) -> (&str, &str) {
    let end = phrase.find(|c: char| c.is_whitespace()).unwrap_or(phrase.len());
    // "64m2", "51.5° N": the unit begins before the blank.
    let end = if phrase[..end].parse::<f64>().is_ok() { end } else { stuck(phrase).min(end) };
    let (number, unit) = phrase.split_at(end);
    (number, unit.trim())
}

/// Where the number ends in "64m2", written without a space.
fn stuck(phrase: &str) -> usize {
    let inside = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | '_' | ',');
    match phrase.find(|c| !inside(c)) {
        Some(at) if at > 0 && phrase.starts_with(inside) => at,
        _ => phrase.len(),
    }
}

fn number_of(number: &str, text: &str, what: &Measured) -> Result<f64, QuantityError> {
    let meant = text_meant(text).filter(|meant| parse(meant, what).is_ok());
    let meant = meant.map_or(String::new(), |meant| format!("Did you mean {meant:?}? "));
    if number.contains(',') {
        let remedy = format!("{meant}Write numbers with a point and without separators: 2500.5");
        return Err(QuantityError::new(format!("{number:?} has a comma"), remedy));
    }
    let cleaned = number.replace('_', "");
    let value: f64 = cleaned
        .parse()
        .map_err(|_| QuantityError::new(format!("{text:?} does not begin with a number"), meant + &what.would_do()))?;
    if !value.is_finite() {
        return Err(QuantityError::new(format!("{number:?} is not a finite number"), what.would_do()));
    }
    Ok(value)
}

#[cfg(test)]
mod tests {
    use super::kinds::*;
    use super::*;

    fn good(text: &str, what: &Measured, want: f64) {
        assert_eq!(parse(text, what), Ok(want), "{text}");
    }

    fn bad(text: &str, what: &Measured, want: &str) {
        assert_eq!(parse(text, what).unwrap_err().to_string(), want);
    }

    #[test]
    fn what_the_example_site_writes() {
        good("64 m2", &AREA_M2, 64.0);
        good("2500 per m2", &PER_M2, 2500.0);
        good("21 days", &DAYS, 21.0);
        good("every 6 weeks", &INTERVAL_D, 42.0);
        good("3 weeks", &INTERVAL_D, 21.0);
        good("every week", &INTERVAL_D, 7.0);
        good("52.6 deg", &LATITUDE_DEG, 52.6);
        good("0.02 h per m2", &HOURS_M2, 0.02);
        good("4 m2 per bird", &M2_BIRD, 4.0);
        good("27 C", &TEMPERATURE_C, 27.0);
        good("-60 degree-days", &DEGREE_DAYS, -60.0);
        good("170 kg/ha per year", &LOAD, 170.0);
        good("6 h", &HOURS, 6.0);
        good("0 h", &HOURS, 0.0);
        good("64m2", &AREA_M2, 64.0);
    }

    /// Every kind in US customary units; factors of NIST SP 811 (2008), appendix B.8, in its digits.
    #[test]
    fn every_kind_takes_us_units() {
        let near = |text: &str, what: &Measured, want: f64| {
            let got = parse(text, what).unwrap();
            assert!((got - want).abs() < 1e-6 * want.abs().max(1e-3), "{text}: {got}, not {want}");
        };
        // ft2 9.290304 E-02 m2, yd2 8.361274 E-01 m2; acre of the international foot 43560 ft2.
        for text in ["100 sq ft", "100 ft2", "100 square feet", "100sqft"] {
            near(text, &AREA_M2, 9.290_304);
        }
        near("10 sq yd", &AREA_M2, 8.361_274);
        near("10 x 10 ft", &AREA_M2, 9.290_304);
        near("30' x 40'", &AREA_M2, 111.483_648);
        near("4x6 m", &AREA_M2, 24.0);
        near("4 m x 20 ft", &AREA_M2, 24.384);
        near("5 / sq ft", &PER_M2, 5.0 / 0.092_903_04);
        bad("4 x 6", &AREA_M2, "\"4 x 6\" has no unit. Write both sides and their unit, for example \"4 x 6 m\".");
        near("0.02 acre", &AREA_M2, 80.937_128_448);
        near("150 per sq ft", &PER_M2, 150.0 / 0.092_903_04);
        near("10 ft", &LENGTH_M, 3.048);
        near("10 yd", &LENGTH_M, 9.144);
        near("12 in", &LENGTH_M, 0.3048);
        near("2 weeks", &DAYS, 14.0);
        near("every 6 weeks", &INTERVAL_D, 42.0);
        near("3 hours", &HOURS, 3.0);
        near("1 min per sq ft", &HOURS_M2, 1.0 / 60.0 / 0.092_903_04);
        near("42 degrees", &LATITUDE_DEG, 42.0);
        near("33.9 S", &LATITUDE_DEG, -33.9);
        near("51.5° N", &LATITUDE_DEG, 51.5);
        near("52 deg N", &LATITUDE_DEG, 52.0);
        near("118 W", &LONGITUDE_DEG, -118.0);
        bad(
            "-33.9 S",
            &LATITUDE_DEG,
            "\"-33.9 S\" has a minus and a letter. Keep one of the two: \"33 S\" and \"-33 deg\" are the same place.",
        );
        // t/C = (t/F - 32)/1.8, and 1.8 F d are 1 C d.
        for text in ["80.6 F", "80.6 °F", "80.6 deg F", "80.6F"] {
            near(text, &TEMPERATURE_C, 27.0);
        }
        near("-108 F degree-days", &DEGREE_DAYS, -60.0);
        near("43 sq ft per bird", &M2_BIRD, 43.0 * 0.092_903_04);
        // lb 4.535924 E-01 kg, oz 2.834952 E-02 kg; lb/acre as their quotient.
        near("100 lb/acre per year", &LOAD, 112.085_115_6);
        near("100 lb per acre", &KG_HA, 112.085_115_6);
        near("1 lb per 1000 sq ft", &KG_HA, 48.824_28);
        near("1 oz/sq yd", &G_M2, 33.905_75);
        near("1 oz per sq ft", &G_M2, 305.151_7);
        near("1 lb/ft2", &G_M2, 4_882.428);
        near("1 ton per acre", &G_M2, 224.170_2);
        near("1 h per h", &PER_HOUR, 1.0);
        near("1 h per lb", &PER_KG, 1.0 / 0.453_592_4);
        near("-2 h per %", &PER_POINT, -2.0);
        near("1 h per move", &PER_MOVE, 1.0);
        near("7 h per week", &PER_DAY, 1.0);
        near("1 h per lb/acre", &PER_LOAD, 1.0 / 1.120_851_156);
        near("1 h per sq ft/bird", &PER_SPACE, 10.763_91);
    }

    #[test]
    fn one_unit_in_another() {
        assert_eq!(convert(1.0, "ft", "m"), Some(0.3048));
        assert!((convert(86.0, "F", "C").unwrap() - 30.0).abs() < 1e-12);
        assert!((convert(30.0, "C", "F").unwrap() - 86.0).abs() < 1e-12);
        assert_eq!(convert(1.0, "ft", "kg"), None);
    }

    #[test]
    fn a_unit_of_another_kind_is_refused_though_it_could_be_converted() {
        bad("3 h", &DAYS, "\"h\" does not measure a time in days. Use days or weeks, for example \"21 days\".");
        bad(
            "90 min",
            &INTERVAL_D,
            "\"min\" does not measure a time between. Use days or weeks, for example \"every 6 weeks\".",
        );
        bad("1 day", &HOURS, "\"day\" does not measure a time in hours. Use h or min, for example \"6 h\".");
        for (text, what) in [
            ("1 day per m2", &HOURS_M2),
            ("1 h per day", &PER_HOUR),
            ("1 h per h", &PER_DAY),
            ("-10 C h", &DEGREE_DAYS),
            ("52 E", &LATITUDE_DEG),
            ("52 deg W", &LATITUDE_DEG),
            ("5 N", &LONGITUDE_DEG),
            ("days", &DAYS),
            ("ha", &AREA_M2),
            ("per m2", &PER_M2),
        ] {
            let error = parse(text, what).unwrap_err();
            assert!(error.remedy.starts_with("Use "), "{text}: {error}");
        }
    }

    #[test]
    fn both_sides_of_an_area_are_lengths() {
        let would_do = "Write both sides and their unit, for example \"4 x 6 m\".";
        for (text, fault) in [
            ("34 x ft", "\"34 x ft\" lacks a side"),
            ("x 4 m", "\"x 4 m\" lacks a side"),
            ("4 m x", "\"4 m x\" lacks a side"),
            ("-3 x -4 m", "a side of \"-3 x -4 m\" is not above 0"),
            ("0 x 4 m", "a side of \"0 x 4 m\" is not above 0"),
            ("nan x 4 m", "\"nan\" is not a finite number"),
            ("3 x 4 x 5 m", "\"x 5 m\" is not a unit"),
            ("3 m x 4 kg", "\"kg\" does not measure a length"),
        ] {
            bad(text, &AREA_M2, &format!("{fault}. {would_do}"));
        }
    }

    #[test]
    fn each_slip_is_named_with_what_would_do() {
        bad("64 kg", &AREA_M2, "\"kg\" does not measure an area. Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".");
        bad("64", &AREA_M2, "\"64\" has no unit. Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".");
        bad("64 mm2", &AREA_M2, "\"mm2\" is not a unit. Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".");
        bad("nan m2", &AREA_M2, "\"nan\" is not a finite number. Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".");
        bad("inf m2", &AREA_M2, "\"inf\" is not a finite number. Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".");
        bad("big", &DAYS, "\"big\" does not begin with a number. Use days or weeks, for example \"21 days\".");
        bad(
            "2,500 per m2",
            &PER_M2,
            "\"2,500\" has a comma. Did you mean \"2500 per m2\"? Write numbers with a point and without separators: 2500.5",
        );
    }
}
