//! A number's figures and unit as they are printed.

use crate::units::Units;
use scenarios::library::Listed;

const FOOT2_M2: f64 = 0.3048 * 0.3048;
const POUND_G: f64 = 453.592_37;
const OUNCE_G: f64 = POUND_G / 16.0;
const ACRE_HA: f64 = 0.404_685_642_24;
/// Degrees Fahrenheit in one degree Celsius.
const F_PER_C: f64 = 1.8;

/// Metric unit, US unit, US units in one metric one (NIST SP 811, appendix B).
const CHANGES: &[(&str, &str, f64)] = &[
    ("C", "F", F_PER_C),
    ("C d", "F d", F_PER_C),
    ("1/C", "1/F", 1.0 / F_PER_C),
    ("1/(C d)", "1/(F d)", 1.0 / F_PER_C),
    ("C/(MJ/m2/d)", "F/(MJ/m2/d)", F_PER_C),
    ("mm", "in", 1.0 / 25.4),
    ("cm", "in", 1.0 / 2.54),
    ("mm/C/d", "in/F/d", 1.0 / (25.4 * F_PER_C)),
    ("m", "ft", 1.0 / 0.3048),
    ("m2", "ft2", 1.0 / FOOT2_M2),
    ("m2/g", "ft2/oz", OUNCE_G / FOOT2_M2),
    ("m2/bird-day", "ft2/bird-day", 1.0 / FOOT2_M2),
    ("g/m2", "oz/ft2", FOOT2_M2 / OUNCE_G),
    ("g/m2/d", "oz/ft2/d", FOOT2_M2 / OUNCE_G),
    ("kg/m2", "lb/ft2", FOOT2_M2 * 1000.0 / POUND_G),
    ("kg/ha", "lb/acre", ACRE_HA * 1000.0 / POUND_G),
    ("kg/ha/yr", "lb/acre/yr", ACRE_HA * 1000.0 / POUND_G),
    ("kg/ha/d", "lb/acre/d", ACRE_HA * 1000.0 / POUND_G),
    ("1/m/d", "1/ft/d", 0.3048),
    ("1/m2", "1/ft2", FOOT2_M2),
    ("1/m2/yr", "1/ft2/yr", FOOT2_M2),
    ("h/m2", "h/ft2", FOOT2_M2),
    ("h/m3", "h/yd3", 0.9144 * 0.9144 * 0.9144),
    ("C/km", "F/1000 ft", F_PER_C * 0.3048),
    ("1/g/d", "1/oz/d", OUNCE_G),
    ("g", "oz", 1.0 / OUNCE_G),
    ("g/d", "oz/d", 1.0 / OUNCE_G),
    ("kg", "lb", 1000.0 / POUND_G),
    ("kcal/g", "kcal/oz", OUNCE_G),
];

/// Value, least and most as text, and the unit.
#[must_use]
pub fn printed(number: &Listed<'_>, units: Units) -> ([String; 3], &'static str) {
    let figures = [number.value, number.low, number.high];
    let change = CHANGES.iter().find(|(metric, ..)| units == Units::Us && *metric == number.unit);
    let Some((_, unit, factor)) = change else { return (figures.map(|value| value.to_string()), number.unit) };
    let offset = if *unit == "F" && !number.is_difference() { 32.0 } else { 0.0 };
    (figures.map(|value| digits(value * factor + offset)), unit)
}

/// Three significant digits, no needless zeros.
fn digits(value: f64) -> String {
    let text = format!("{value:.2e}");
    text.parse::<f64>().map_or(text, |rounded| rounded.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use scenarios::Library;
    use scenarios::library::listed;

    /// Units that are the same on both sides of the Atlantic.
    const SAME: &[&str] = &[
        "-",
        "1",
        "d",
        "1/d",
        "1/yr",
        "g/g",
        "m3/m3",
        "bird-day",
        "1/bird-day",
        "MJ/m2/d",
        "h",
        "h/d",
        "d/yr",
        "birds",
    ];

    #[test]
    fn every_unit_of_the_library_is_known_here() {
        for number in listed(&Library::shipped().unwrap()) {
            let known = SAME.contains(&number.unit) || CHANGES.iter().any(|(metric, ..)| *metric == number.unit);
            assert!(known, "{} is in {}", number.name, number.unit);
        }
    }

    /// 10 C is 50 F, a degree-day is 1.8 of Fahrenheit, a difference has no 32, a pound is 16 ounces.
    #[test]
    fn figures_change_with_their_unit() {
        let library = Library::shipped().unwrap();
        let all = listed(&library);
        let us = |name: &str| {
            let ([value, ..], unit) = printed(all.iter().find(|number| number.name == name).unwrap(), Units::Us);
            format!("{value} {unit}")
        };
        assert_eq!(us("pest.codling moth.base_temperature"), "50 F");
        assert_eq!(us("pest.onion fly.emergence"), "713 F d");
        assert_eq!(us("process.dew_offset"), "1.8 F");
        assert_eq!(us("bird.layer.space_rule"), "43.1 ft2");
        assert_eq!(us("soil.sand.field_capacity"), "0.12 m3/m3");
    }
}
