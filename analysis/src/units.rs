//! The one place where printed figures change from metric to US customary units.
//!
//! Files and JSON stay metric, so that scripts never have to ask. Factors are exact by
//! definition (NIST SP 811, appendix B): foot 0.3048 m, pound 0.45359237 kg, acre 43,560 ft2.

mod words;

use crate::compare::Comparison;
use crate::runs::Outcome;
use crate::table::compare_table;
use scenarios::SiteModel;
use sim_engine::measures::Measure;

const FOOT_M: f64 = 0.3048;
const FOOT2_M2: f64 = FOOT_M * FOOT_M;
const POUND_KG: f64 = 0.453_592_37;
const ACRE_M2: f64 = 43_560.0 * FOOT2_M2;
const HECTARE_M2: f64 = 10_000.0;
const OUNCE_G: f64 = 1_000.0 * POUND_KG / 16.0;
const INCH_MM: f64 = 25.4;

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

    /// The table of a comparison; its only figure with a unit to change is the feed saved.
    #[must_use]
    pub fn compare_table(self, model: &SiteModel, comparison: &Comparison) -> String {
        if self == Units::Metric {
            return compare_table(model, comparison);
        }
        let mut changed = comparison.clone();
        for outcome in &mut changed.outcomes {
            let runs = outcome.strategies.iter_mut().chain([&mut outcome.no_birds, &mut outcome.nothing]);
            runs.for_each(|run| self.change_feed(run));
        }
        compare_table(model, &changed).replace("kg/yr", "lb/yr")
    }

    fn change_feed(self, run: &mut Outcome) {
        let feed = Measure::FeedSaved;
        let (value, _) = self.measure(run.measures.get(feed), feed.unit());
        run.measures.set(feed, value);
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

    /// A length, m.
    #[must_use]
    pub fn length(self, m: f64) -> String {
        match self {
            Units::Metric => format!("{} m", short(m)),
            Units::Us => format!("{:.0} ft", m / FOOT_M),
        }
    }
}

/// Three significant digits below 100, whole numbers above; no needless zeros, no "-0".
#[must_use]
pub fn short(value: f64) -> String {
    let decimals = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        size if size >= 0.1 || size == 0.0 => 2,
        _ => 4,
    };
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
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
    fn short_numbers_have_no_needless_zeros() {
        for (value, want) in [(70.0, "70"), (0.15, "0.15"), (2.5, "2.5"), (1234.5, "1234"), (-0.0, "0"), (0.0, "0")] {
            assert_eq!(short(value), want);
        }
    }
}
