//! The one place where printed figures change from metric to US customary units.
//!
//! Files and JSON stay metric, so that scripts never have to ask. Factors are exact by
//! definition (NIST SP 811, appendix B): foot 0.3048 m, pound 0.45359237 kg, acre 43,560 ft2.

mod words;

use scenarios::short_number::short_number;

const FOOT_M: f64 = 0.3048;
const FOOT2_M2: f64 = FOOT_M * FOOT_M;
const POUND_KG: f64 = 0.453_592_37;
const ACRE_M2: f64 = 43_560.0 * FOOT2_M2;
const HECTARE_M2: f64 = 10_000.0;
const OUNCE_G: f64 = 1_000.0 * POUND_KG / 16.0;
const INCH_MM: f64 = 25.4;
/// Degrees Fahrenheit in a degree Celsius, and where its scale begins.
const FAHRENHEIT_PER_C: f64 = 1.8;
const FAHRENHEIT_AT_0_C: f64 = 32.0;

/// Units of what is printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Square metres and kilograms.
    #[default]
    Metric,
    /// Square feet and pounds.
    Us,
}

/// A metric unit within a unit, the US one, and US units in a metric one.
const CHANGES: &[(&str, &str, f64)] = &[
    ("kg/ha", "lb/acre", ACRE_M2 / HECTARE_M2 / POUND_KG),
    ("1/m2", "1/ft2", FOOT2_M2),
    ("m2 per bird", "ft2 per bird", 1.0 / FOOT2_M2),
    ("g/m2", "oz/ft2", FOOT2_M2 / OUNCE_G),
    ("per m2", "per ft2", FOOT2_M2),
    ("seeds per m2", "seeds per ft2", FOOT2_M2),
    ("kg", "lb", 1.0 / POUND_KG),
    ("m2", "ft2", 1.0 / FOOT2_M2),
    ("mm", "in", 1.0 / INCH_MM),
];

impl Units {
    /// US customary units or metric ones.
    #[must_use]
    pub const fn of(us_units: bool) -> Self {
        if us_units { Self::Us } else { Self::Metric }
    }

    /// A value in a unit of the catalogue of measures (`kg/ha/yr`, `1/m2/yr`, …) as printed.
    #[must_use]
    pub fn measure(self, value: f64, unit: &str) -> (f64, String) {
        if self == Units::Us {
            for (metric, us, factor) in CHANGES {
                if let Some(rest) = unit.strip_prefix(metric) {
                    return (value * factor, format!("{us}{rest}"));
                }
            }
        }
        (value, unit.to_owned())
    }

    /// A value in a metric unit as printed, without the unit.
    #[must_use]
    pub fn value(self, value: f64, unit: &str) -> f64 {
        self.measure(value, unit).0
    }

    /// What a metric unit is printed as.
    #[must_use]
    pub fn unit(self, unit: &str) -> String {
        self.measure(0.0, unit).1
    }

    /// Decimals worth printing where the metric figure is worth so many: a figure that becomes
    /// ten times smaller (per square foot) needs one more.
    #[must_use]
    pub fn decimals(self, metric: usize, unit: &str) -> usize {
        /// Where a factor takes a digit away.
        const A_DIGIT: f64 = 0.2;
        metric + usize::from(self.value(1.0, unit) < A_DIGIT)
    }

    /// A temperature, whole degrees.
    #[must_use]
    pub fn temperature(self, c: f64) -> String {
        match self {
            Units::Metric => format!("{c:.0} °C"),
            Units::Us => format!("{:.0} °F", c * FAHRENHEIT_PER_C + FAHRENHEIT_AT_0_C),
        }
    }

    /// Degree-days, a whole number without its words.
    #[must_use]
    pub fn degree_days(self, c_d: f64) -> String {
        match self {
            Units::Metric => format!("{c_d:.0}"),
            Units::Us => format!("{:.0}", c_d * FAHRENHEIT_PER_C),
        }
    }

    /// What degree-days are called.
    #[must_use]
    pub fn degree_days_name(self) -> &'static str {
        match self {
            Units::Metric => "degree-days",
            Units::Us => "°F degree-days",
        }
    }

    /// The rule on manure nitrogen, as it is written and, where that helps, as it is printed.
    #[must_use]
    pub fn nitrogen_rule(self, kg_ha: f64) -> String {
        match self {
            Units::Metric => format!("{kg_ha:.0} kg N per hectare"),
            Units::Us => {
                let here = self.value(kg_ha, "kg/ha");
                format!("{kg_ha:.0} kg N per hectare ({here:.0} lb per acre)")
            }
        }
    }

    /// An area.
    #[must_use]
    pub fn area(self, m2: f64) -> String {
        self.plain(m2, "m2")
    }

    /// A value with its unit, in as many digits as it needs.
    #[must_use]
    pub fn plain(self, value: f64, unit: &str) -> String {
        let (value, unit) = self.measure(value, unit);
        format!("{} {unit}", short(value))
    }

    /// A value as a site file writes it ("5 m", "4 m2 per bird"), as it would be written in the
    /// reader's units; what is no number with a unit stays.
    #[must_use]
    pub fn written(self, text: &str) -> String {
        let bare = text.trim_matches('"');
        let parted = bare.split_once(' ').and_then(|(number, unit)| Some((number.parse::<f64>().ok()?, unit)));
        match (self, parted) {
            (Units::Us, Some((number, "m"))) => self.length(number),
            (Units::Us, Some((number, unit))) if self.unit(unit) != unit => self.plain(number, unit),
            _ => text.to_owned(),
        }
    }

    /// A length, m.
    #[must_use]
    pub fn length(self, m: f64) -> String {
        match self {
            Units::Metric => format!("{} m", short(m)),
            Units::Us => format!("{:.0} ft", m / FOOT_M),
        }
    }
}

/// A number in as many digits as it needs: four decimals below a tenth, where rates and shares lie.
#[must_use]
pub fn short(value: f64) -> String {
    short_number(value, 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn us_units_are_those_of_the_tables() {
        // 1 kg/ha = 0.892179 lb/acre (NIST SP 811 through its factors).
        let (load, unit) = Units::Us.measure(1.0, "kg/ha/yr");
        assert!((load - 0.892_179).abs() < 1e-6 && unit == "lb/acre/yr");
        assert_eq!(Units::Us.area(70.0), "753 ft2");
        assert_eq!(Units::Us.measure(5.0, "moves/yr"), (5.0, "moves/yr".to_owned()));
        assert_eq!(Units::Us.measure(5.0, "points"), (5.0, "points".to_owned()));
    }

    #[test]
    fn what_a_file_says_is_said_again() {
        assert_eq!(Units::Us.written("\"5 m\""), "16 ft");
        assert_eq!(Units::Us.written("4 m2 per bird"), "43.1 ft2 per bird");
        assert_eq!(Units::Us.written("14 days"), "14 days");
        assert_eq!(Units::Metric.written("\"5 m\""), "\"5 m\"");
    }

    #[test]
    fn heat_and_rules_are_said_both_ways() {
        // 30 C = 86 F; a span of 10 C is one of 18 F.
        assert_eq!(Units::Us.temperature(30.0), "86 °F");
        assert_eq!(Units::Us.degree_days(10.0), "18");
        assert_eq!(Units::Metric.nitrogen_rule(170.0), "170 kg N per hectare");
        assert_eq!(Units::Us.nitrogen_rule(170.0), "170 kg N per hectare (152 lb per acre)");
        assert_eq!(Units::Us.decimals(2, "1/m2/yr"), 3);
        assert_eq!(Units::Us.decimals(0, "kg/ha/yr"), 0);
    }
}
