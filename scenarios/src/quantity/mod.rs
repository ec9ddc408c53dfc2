//! Numbers with their unit, as people write them: "64 m2", "every 6 weeks",
//! "2500 per m2", "-60 degree-days", "170 kg/ha per year".

pub mod kinds;
pub mod units;

use kinds::Measured;

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
    let (number, unit) = split(phrase);
    let value = number_of(number, text, what)?;
    if unit.is_empty() {
        return Err(QuantityError::new(format!("{text:?} has no unit"), what.would_do()));
    }
    let found =
        units::phrase(unit).map_err(|name| QuantityError::new(format!("{name:?} is not a unit"), what.would_do()))?;
    let wanted = units::phrase(what.unit)
        .map_err(|name| QuantityError::new(format!("{name:?} is not a unit"), what.would_do()))?;
    if found.dimension != wanted.dimension {
        return Err(QuantityError::new(format!("{unit:?} does not measure {}", what.plain), what.would_do()));
    }
    Ok(value * (found.factor / wanted.factor) + found.zero / wanted.factor)
}

/// Number and unit of a phrase; "week" alone counts as one week.
fn split(phrase: &str) -> (&str, &str) {
    let head = phrase.split_whitespace().next().unwrap_or("");
    let starts_unit = phrase.starts_with("per ") || (!head.is_empty() && units::phrase(phrase).is_ok());
    if starts_unit {
        return ("1", phrase);
    }
    let end = phrase.find(|c: char| c.is_whitespace()).unwrap_or_else(|| stuck(phrase));
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
    if number.contains(',') {
        let remedy = "Write numbers with a point and without separators: 2500.5".to_owned();
        return Err(QuantityError::new(format!("{number:?} has a comma"), remedy));
    }
    let cleaned = number.replace('_', "");
    let value: f64 = cleaned
        .parse()
        .map_err(|_| QuantityError::new(format!("{text:?} does not begin with a number"), what.would_do()))?;
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
        good("52.6 deg", &ANGLE_DEG, 52.6);
        good("0.02 h per m2", &HOURS_M2, 0.02);
        good("4 m2 per bird", &M2_BIRD, 4.0);
        good("27 C", &TEMPERATURE_C, 27.0);
        good("-60 degree-days", &DEGREE_DAYS, -60.0);
        good("170 kg/ha per year", &LOAD, 170.0);
        good("6 h", &HOURS, 6.0);
        good("0 h", &HOURS, 0.0);
        good("64m2", &AREA_M2, 64.0);
    }

    #[test]
    fn american_units_convert() {
        let near = |text: &str, what: &Measured, want: f64| {
            let got = parse(text, what).unwrap();
            assert!((got - want).abs() < 1e-9 * want.abs().max(1.0), "{text}: {got}");
        };
        near("100 sq ft", &AREA_M2, 9.290304);
        near("0.02 ac", &AREA_M2, 80.937128448);
        near("80.6 F", &TEMPERATURE_C, 27.0);
        near("10 ft", &LENGTH_M, 3.048);
        near("1 lb/ac per year", &LOAD, 1.120_851_156_194_456);
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
            "\"2,500\" has a comma. Write numbers with a point and without separators: 2500.5",
        );
    }
}
