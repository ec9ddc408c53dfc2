//! A run shared out in parts.

use serde::{Deserialize, Serialize};

/// One part of a run that is shared out: `number` of `of`, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shard {
    /// Which, from 1.
    pub number: u64,
    /// Of how many.
    pub of: u64,
}

impl Shard {
    /// The whole run as one part.
    pub const WHOLE: Self = Self { number: 1, of: 1 };

    /// Whether it is one of so many.
    #[must_use]
    pub fn sound(&self) -> bool {
        (1..=self.of).contains(&self.number)
    }

    /// First cell and the cell after the last, of `cells`.
    #[must_use]
    pub fn span(&self, cells: u64) -> (u64, u64) {
        let cut = |number: u64| (u128::from(cells) * u128::from(number) / u128::from(self.of.max(1))) as u64;
        (cut(self.number - 1), cut(self.number))
    }

    /// Parses `2/4`.
    ///
    /// # Errors
    /// Not of this form, or no such part.
    pub fn parse(text: &str) -> Result<Self, String> {
        let parts = text.split_once('/').and_then(|(number, of)| Some((number.parse().ok()?, of.parse().ok()?)));
        match parts {
            Some((number, of)) if Self::sound(&Self { number, of }) => Ok(Self { number, of }),
            _ => Err("write which part of how many, from 1, for example 2/4".to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shards_cover_every_cell_once() {
        for (cells, of) in [(10, 3), (2, 5), (0, 2), (7, 7)] {
            let mut next = 0;
            for number in 1..=of {
                let (first, end) = Shard { number, of }.span(cells);
                assert_eq!(first, next);
                next = end;
            }
            assert_eq!(next, cells);
        }
        assert_eq!(Shard::parse("2/4"), Ok(Shard { number: 2, of: 4 }));
        assert!(["0/4", "5/4", "2", "a/b", "1/0"].iter().all(|text| Shard::parse(text).is_err()));
    }
}
