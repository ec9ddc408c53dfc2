//! Sentences with figures in them, as printed: "is 64 m2" becomes "is 689 ft2".
//!
//! What stands in quotes is what a file says or should say, and stays as it is. A figure is a
//! number, a space and a unit of the table; so may be "4 to 9 m" and "4 and 9 m".

use super::{FOOT_M, FOOT2_M2, HECTARE_M2, INCH_MM, OUNCE_G, POUND_KG, Units, short};
use crate::units::ACRE_M2;
use scenarios::Fault;

/// Degrees Fahrenheit in a degree Celsius, and the reading of freezing water (NIST SP 811, B.8).
const FAHRENHEIT_C: f64 = 1.8;
const FREEZING_F: f64 = 32.0;

/// A metric unit as sentences write it, the US one, US units in one, and where its scale begins.
/// What begins like another stands before it.
const FIGURES: &[(&str, &str, f64, f64)] = &[
    ("kg/ha", "lb/acre", ACRE_M2 / HECTARE_M2 / POUND_KG, 0.0),
    ("kg/m2", "lb/ft2", FOOT2_M2 / POUND_KG, 0.0),
    ("kg", "lb", 1.0 / POUND_KG, 0.0),
    ("g/m2", "oz/ft2", FOOT2_M2 / OUNCE_G, 0.0),
    ("h per m2", "h per ft2", FOOT2_M2, 0.0),
    ("seeds per m2", "seeds per ft2", FOOT2_M2, 0.0),
    ("per m2", "per ft2", FOOT2_M2, 0.0),
    ("per kg", "per lb", POUND_KG, 0.0),
    ("m2", "ft2", 1.0 / FOOT2_M2, 0.0),
    ("mm", "in", 1.0 / INCH_MM, 0.0),
    ("cm", "in", 10.0 / INCH_MM, 0.0),
    ("m", "ft", 1.0 / FOOT_M, 0.0),
    ("ha", "acres", HECTARE_M2 / ACRE_M2, 0.0),
    ("degree-days", "F degree-days", FAHRENHEIT_C, 0.0),
    ("C warmer", "F warmer", FAHRENHEIT_C, 0.0),
    ("C", "F", FAHRENHEIT_C, FREEZING_F),
    ("°C", "°F", FAHRENHEIT_C, FREEZING_F),
];
/// Words between two numbers of one unit.
const BETWEEN: &[&str] = &[" to ", " and ", " or "];

impl Units {
    /// A sentence as printed.
    #[must_use]
    pub fn words(self, text: &str) -> String {
        if self == Units::Metric {
            return text.to_owned();
        }
        let parts = text.split('"').enumerate();
        let parts: Vec<String> =
            parts.map(|(at, part)| if at % 2 == 0 { sentence(part) } else { part.to_owned() }).collect();
        parts.join("\"")
    }

    /// A fault as printed: the file's own line stays as it is.
    #[must_use]
    pub fn fault(self, fault: &Fault) -> Fault {
        Fault { message: self.words(&fault.message), remedy: self.words(&fault.remedy), ..fault.clone() }
    }
}

fn sentence(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(character) = rest.chars().next() {
        let fresh = !out.ends_with(|c: char| c.is_alphanumeric() || matches!(c, '.' | '-'));
        match figure(rest).filter(|_| fresh) {
            Some((printed, length)) => {
                out.push_str(&printed);
                rest = &rest[length..];
            }
            None => {
                out.push(character);
                rest = &rest[character.len_utf8()..];
            }
        }
    }
    out
}

/// The figure a text begins with, as printed, and how many bytes it takes.
fn figure(text: &str) -> Option<(String, usize)> {
    let (first, mut end) = number(text)?;
    let mut numbers = vec![(first, "")];
    for word in BETWEEN {
        if let Some((second, length)) = text[end..].strip_prefix(word).and_then(number) {
            numbers.push((second, word));
            end += word.len() + length;
            break;
        }
    }
    let unit = text[end..].strip_prefix(' ')?;
    let (metric, us, factor, zero) = FIGURES.iter().find(|(metric, ..)| begins(unit, metric))?;
    let value = |(value, word): &(f64, &str)| format!("{word}{}", short(value * factor + zero));
    let printed: String = numbers.iter().map(value).collect();
    Some((format!("{printed} {us}"), end + 1 + metric.len()))
}

/// Whether a text begins with this unit and no longer word; a rate ("kg/yr") may follow.
fn begins(text: &str, unit: &str) -> bool {
    let after = text.strip_prefix(unit).and_then(|rest| rest.chars().next());
    text.starts_with(unit) && !after.is_some_and(|next| next.is_alphanumeric() || next == '²')
}

/// The number a text begins with, and its bytes.
fn number(text: &str) -> Option<(f64, usize)> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let sign = text.len() - digits.len();
    let mut length = digits.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(digits.len());
    if digits[..length].ends_with('.') {
        length -= 1;
    }
    let value = text[..sign + length].parse().ok().filter(|_| digits.starts_with(|c: char| c.is_ascii_digit()))?;
    Some((value, sign + length))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn us(text: &str) -> String {
        Units::Us.words(text)
    }

    /// Factors of NIST SP 811, appendix B.8, one for each kind.
    #[test]
    fn every_kind_of_figure_changes() {
        for (metric, want) in [
            ("an area of 70 m2.", "an area of 753 ft2."),
            ("4 m2 to 1 ha", "43.1 ft2 to 2.47 acres"),
            ("at 430 m above the sea", "at 1411 ft above the sea"),
            ("25.4 mm of rain", "1 in of rain"),
            ("170 kg/ha per year", "152 lb/acre per year"),
            ("800 g/m2 of straw", "2.62 oz/ft2 of straw"),
            ("over 40 m2 per bird", "over 431 ft2 per bird"),
            ("more than 300 per m2 (from memory)", "more than 27.9 per ft2 (from memory)"),
            ("0.02 h per m2", "0.0019 h per ft2"),
            ("0.4 per kg/yr", "0.18 per lb/yr"),
            ("above 28 C", "above 82.4 F"),
            ("5 C warmer", "9 F warmer"),
            ("-60 to 120 degree-days", "-108 to 216 F degree-days"),
            ("-400 to 4500 m", "-1312 to 14764 ft"),
            ("0 to 50 kg/m2", "0 to 10.2 lb/ft2"),
        ] {
            assert_eq!(us(metric), want);
        }
    }

    #[test]
    fn what_is_quoted_dated_or_no_unit_stays() {
        for text in [
            "write \"64 m2\" there",
            "7 CFR 205.203(c)",
            "from 2027-03-01 to 2027-06-30",
            "12 moves of 14 days",
            "3 more",
            "plot-7 m2",
            "1. Open it",
        ] {
            assert_eq!(us(text), text);
        }
        assert_eq!(Units::Metric.words("70 m2"), "70 m2");
    }
}
