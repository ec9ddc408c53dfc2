//! A warning, and the threshold from which on a value is one.

use crate::short_number::short_number;
use std::fmt;

/// A warning: the place it is about, what is unusual, why, what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Warning {
    /// Path of the value in the file, for example `plot.orchard.area`.
    pub about: String,
    /// What is unusual, and after "because" why.
    pub message: String,
    /// What to do; "Did you mean …?" where that can be told.
    pub remedy: String,
}

/// A warning about the value of a path: what is unusual, why, what to do.
pub(super) fn warning(
    about: impl Into<String>,
    what: impl fmt::Display,
    because: impl fmt::Display,
    remedy: impl Into<String>,
) -> Option<Warning> {
    Some(Warning { about: about.into(), message: format!("{what}, because {because}"), remedy: remedy.into() })
}

/// From where on a value is unusual, and who says so.
#[derive(Clone, Copy, Debug)]
pub(super) struct Threshold {
    pub value: f64,
    pub unit: &'static str,
    pub source: &'static str,
}

impl Threshold {
    pub const fn new(value: f64, unit: &'static str, source: &'static str) -> Self {
        Self { value, unit, source }
    }

    /// The value, if it is above the threshold.
    pub fn over(self, value: f64) -> Option<f64> {
        (value > self.value).then_some(value)
    }

    /// The value, if it is below the threshold.
    pub fn under(self, value: f64) -> Option<f64> {
        (value < self.value).then_some(value)
    }
}

impl fmt::Display for Threshold {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gap = if self.unit.is_empty() { "" } else { " " };
        write!(out, "{}{gap}{} ({})", tidy(self.value), self.unit, self.source)
    }
}

/// A number as a warning says it: two decimals are enough to be recognised by.
pub(super) fn tidy(value: f64) -> String {
    short_number(value, 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_threshold_says_its_source() {
        let threshold = Threshold::new(300.0, "per m2", "from memory");
        assert_eq!(threshold.to_string(), "300 per m2 (from memory)");
        assert_eq!([tidy(0.127), tidy(12.0), tidy(-0.001)], ["0.13", "12", "0"]);
    }
}
