//! What a number may be, whoever states it: the ends of its domain, in the number's own unit.
//!
//! A domain is wider than any range of the library: within it the model has a meaning, beyond it a
//! share is over 1, a day is not of the year, or nothing that lives or lies on ground is so. Ends
//! that no law gives are round numbers well past what is measured, from memory.

/// The least and the most a number may be. Both are finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Domain {
    /// 0 to 1.
    Share,
    /// 0 to 366, from the winter solstice.
    DayOfYear,
    /// 0 to this.
    UpTo(f64),
    /// The least to the most.
    Between(f64, f64),
}

impl Domain {
    /// The least.
    #[must_use]
    pub const fn low(self) -> f64 {
        match self {
            Self::Share | Self::DayOfYear | Self::UpTo(_) => 0.0,
            Self::Between(low, _) => low,
        }
    }

    /// The most.
    #[must_use]
    pub const fn high(self) -> f64 {
        match self {
            Self::Share => 1.0,
            Self::DayOfYear => 366.0,
            Self::UpTo(high) | Self::Between(_, high) => high,
        }
    }

    /// Whether a number may be this.
    #[must_use]
    pub fn contains(self, value: f64) -> bool {
        (self.low()..=self.high()).contains(&value)
    }

    /// In plain words, of a number in this unit: "a share goes from 0 to 1".
    #[must_use]
    pub fn words(self, unit: &str) -> String {
        let (low, high) = (self.low(), self.high());
        match self {
            Self::Share => "a share goes from 0 to 1".to_owned(),
            Self::DayOfYear => "days after the winter solstice go from 0 to 366".to_owned(),
            _ if matches!(unit, "-" | "1") => format!("it goes from {low} to {high}"),
            _ => format!("it goes from {low} to {high} {unit}"),
        }
    }

    /// The domain of a number of this unit where its declaration states none. Units whose numbers have no
    /// domain in common, "-" and "1" among them, have none: the declaration does not compile without.
    #[must_use]
    pub const fn of_unit(unit: &str) -> Option<Self> {
        let mut next = 0;
        while next < OF_UNIT.len() {
            if same(OF_UNIT[next].0, unit) {
                return Some(OF_UNIT[next].1);
            }
            next += 1;
        }
        None
    }
}

/// Domains by unit.
const OF_UNIT: &[(&str, Domain)] = &[
    ("m3/m3", Domain::Between(0.01, 0.95)),
    ("g/g", Domain::Share),
    ("d", Domain::DayOfYear),
    ("C", Domain::Between(-60.0, 60.0)),
    ("C d", Domain::UpTo(20_000.0)),
    ("1/d", Domain::UpTo(5.0)),
    ("1/yr", Domain::UpTo(50.0)),
    ("1/(C d)", Domain::UpTo(10.0)),
    ("1/C", Domain::UpTo(1.0)),
    ("mm", Domain::UpTo(1_000.0)),
    ("cm", Domain::UpTo(300.0)),
    ("m", Domain::UpTo(1_000.0)),
    ("m2", Domain::UpTo(1_000.0)),
    ("m2/g", Domain::UpTo(1.0)),
    ("g", Domain::UpTo(100.0)),
    ("kg", Domain::Between(0.01, 100.0)),
    ("g/d", Domain::UpTo(5_000.0)),
    ("g/m2", Domain::UpTo(20_000.0)),
    ("g/m2/d", Domain::UpTo(100.0)),
    ("kg/m2", Domain::UpTo(100.0)),
    ("kg/ha", Domain::UpTo(100_000.0)),
    ("kg/ha/d", Domain::UpTo(50.0)),
    ("kg/ha/yr", Domain::UpTo(1_000.0)),
    ("1/g/d", Domain::UpTo(1_000.0)),
    ("1/m2/yr", Domain::UpTo(100_000.0)),
    ("1/m/d", Domain::UpTo(1_000.0)),
    ("m2/bird-day", Domain::UpTo(100.0)),
    ("1/bird-day", Domain::Between(0.001, 1e6)),
    ("bird-day", Domain::UpTo(1.0)),
    ("MJ/m2/d", Domain::Between(0.1, 50.0)),
    ("kcal/g", Domain::Between(0.1, 10.0)),
    ("h", Domain::UpTo(24.0)),
    ("h/d", Domain::UpTo(24.0)),
    ("h/m2", Domain::UpTo(10.0)),
    ("h/m3", Domain::UpTo(100.0)),
    ("d/yr", Domain::Between(1.0, 366.0)),
    ("C/km", Domain::UpTo(20.0)),
    ("C/(MJ/m2/d)", Domain::UpTo(5.0)),
    ("mm/C/d", Domain::UpTo(100.0)),
];

const fn same(one: &str, other: &str) -> bool {
    let (one, other) = (one.as_bytes(), other.as_bytes());
    if one.len() != other.len() {
        return false;
    }
    let mut at = 0;
    while at < one.len() {
        if one[at] != other[at] {
            return false;
        }
        at += 1;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_belong_to_it_and_nothing_that_is_no_number() {
        for (unit, domain) in OF_UNIT {
            assert!(domain.low().is_finite() && domain.high().is_finite() && domain.low() < domain.high(), "{unit}");
            assert!(domain.contains(domain.low()) && domain.contains(domain.high()), "{unit}");
            for outside in [f64::NAN, f64::INFINITY, -f64::INFINITY, domain.low() - 1.0, domain.high() + 1.0] {
                assert!(!domain.contains(outside), "{unit}: {outside}");
            }
        }
    }

    #[test]
    fn it_says_itself() {
        assert_eq!(Domain::Share.words("-"), "a share goes from 0 to 1");
        assert_eq!(Domain::UpTo(20.0).words("-"), "it goes from 0 to 20");
        assert_eq!(Domain::Between(-60.0, 60.0).words("C"), "it goes from -60 to 60 C");
        assert_eq!(Domain::of_unit("1/d"), Some(Domain::UpTo(5.0)));
        assert_eq!(Domain::of_unit("-"), None);
    }
}
