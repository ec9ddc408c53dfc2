//! Weather that was given (`--weather FILE`) and not generated, as a sweep tells of it.

use crate::provenance::DIGEST;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which days of a station were laid on the run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct GivenWeather {
    /// Name of the file, without its folder.
    pub file: String,
    /// First day of the station that is used.
    pub first: String,
    /// Last day of the station that is used.
    pub last: String,
    /// Days that were filled in, as the site file allows.
    pub filled: usize,
    /// Digest of the file's bytes.
    #[schemars(regex(pattern = DIGEST))]
    pub digest: String,
}

impl GivenWeather {
    /// What a reader should know before the figures.
    #[must_use]
    pub fn note(&self) -> String {
        format!("{} All possible years share it; they differ in the unknowns only.", self.words())
    }

    /// Which days are used, in a sentence.
    #[must_use]
    pub fn words(&self) -> String {
        let filled = if self.filled == 0 { String::new() } else { format!(" ({} days filled in)", self.filled) };
        format!("Weather: {} to {} of {}{filled}, laid on the run day by day.", self.first, self.last, self.file)
    }

    /// What differs between the weather of two runs, in words; `None` if nothing does.
    #[must_use]
    pub fn difference(one: Option<&Self>, other: Option<&Self>) -> Option<String> {
        let source = |given: Option<&Self>| {
            given.map_or_else(|| "generated".to_owned(), |of| format!("{} to {} of {}", of.first, of.last, of.file))
        };
        match (one, other) {
            _ if one == other => None,
            _ if source(one) == source(other) => Some(format!("the days in the weather file, {}", source(one))),
            _ => Some(format!("the weather: {} and {}", source(one), source(other))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_difference_is_named() {
        let given = |first: &str, digest: &str| GivenWeather {
            file: "a.csv".into(),
            first: first.into(),
            last: "2013".into(),
            filled: 0,
            digest: digest.into(),
        };
        let (one, other, edited) = (given("2011", "x"), given("2012", "y"), given("2011", "z"));
        let difference = |one, other| GivenWeather::difference(one, other).unwrap_or_default();
        assert_eq!(difference(Some(&one), Some(&one)), "");
        assert_eq!(difference(None, Some(&one)), "the weather: generated and 2011 to 2013 of a.csv");
        assert_eq!(
            difference(Some(&one), Some(&other)),
            "the weather: 2011 to 2013 of a.csv and 2012 to 2013 of a.csv"
        );
        assert_eq!(difference(Some(&one), Some(&edited)), "the days in the weather file, 2011 to 2013 of a.csv");
    }
}
