//! The rule by which a row is judged (`docs/set-aside.md`), and how it is read where it leaves room; both were fixed before
//! any row set aside was played.
//!
//! - A published figure: *outside* where our range does not hold it (of a published range: no part of it); else *says
//!   nothing* where our range covers more than half of what is possible; else *within*. A miss stays a miss, however wide
//!   the range.
//! - A published word, "fewer" or "no difference": what is possible is the word and its contrary. *Within* where all our
//!   range is of the word, *outside* where none of it is; a range that holds both covers all that is possible and *says
//!   nothing*.

use std::fmt;

/// What was published.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Published {
    /// A figure, or a range of figures.
    Figure(f64, f64),
    /// The sign alone: above nought.
    AboveNought,
    /// No difference to speak of: this much either way counts as none.
    NoMoreThan(f64),
}

/// What comes of holding our range against it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Our range holds what was published.
    Within,
    /// It does not.
    Outside,
    /// Our range is so wide that it says nothing.
    SaysNothing,
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Verdict::Within => "within",
            Verdict::Outside => "outside",
            Verdict::SaysNothing => "says nothing",
        })
    }
}

/// Holds our 5 to 95 % range against what was published; `possible` is the least and the most a figure can be.
#[must_use]
pub fn judge(published: Published, possible: [f64; 2], [low, high]: [f64; 2]) -> Verdict {
    match published {
        Published::Figure(least, most) if high < least || most < low => Verdict::Outside,
        Published::Figure(..) if high - low > 0.5 * (possible[1] - possible[0]) => Verdict::SaysNothing,
        Published::Figure(..) => Verdict::Within,
        Published::AboveNought => of_word(low > 0.0, high <= 0.0),
        Published::NoMoreThan(band) => of_word(-band <= low && high <= band, high < -band || band < low),
    }
}

fn of_word(all: bool, none: bool) -> Verdict {
    match (all, none) {
        (true, _) => Verdict::Within,
        (_, true) => Verdict::Outside,
        _ => Verdict::SaysNothing,
    }
}

#[cfg(test)]
mod tests {
    use super::Published::{AboveNought, Figure, NoMoreThan};
    use super::*;

    const PERCENT: [f64; 2] = [0.0, 100.0];

    #[test]
    fn a_figure_in_a_narrow_range_is_within_and_beside_it_outside() {
        assert_eq!(judge(Figure(30.0, 30.0), PERCENT, [20.0, 40.0]), Verdict::Within);
        assert_eq!(judge(Figure(41.0, 41.0), PERCENT, [20.0, 40.0]), Verdict::Outside);
        assert_eq!(judge(Figure(19.0, 19.0), PERCENT, [20.0, 40.0]), Verdict::Outside);
        assert_eq!(judge(Figure(40.0, 40.0), PERCENT, [20.0, 40.0]), Verdict::Within);
    }

    #[test]
    fn of_a_published_range_one_part_is_enough() {
        assert_eq!(judge(Figure(35.0, 60.0), PERCENT, [20.0, 40.0]), Verdict::Within);
        assert_eq!(judge(Figure(41.0, 60.0), PERCENT, [20.0, 40.0]), Verdict::Outside);
    }

    /// Half of what is possible is still said; more is not. But a wide range that misses has missed.
    #[test]
    fn more_than_half_of_what_is_possible_says_nothing() {
        assert_eq!(judge(Figure(30.0, 30.0), PERCENT, [10.0, 60.0]), Verdict::Within);
        assert_eq!(judge(Figure(30.0, 30.0), PERCENT, [10.0, 60.1]), Verdict::SaysNothing);
        assert_eq!(judge(Figure(5.0, 5.0), PERCENT, [10.0, 95.0]), Verdict::Outside);
        assert_eq!(judge(Figure(5.0, 5.0), [0.0, 20.0], [0.0, 11.0]), Verdict::SaysNothing);
    }

    #[test]
    fn a_sign_is_held_by_a_range_of_that_sign_alone() {
        assert_eq!(judge(AboveNought, PERCENT, [0.1, 99.0]), Verdict::Within);
        assert_eq!(judge(AboveNought, PERCENT, [-9.0, 0.0]), Verdict::Outside);
        assert_eq!(judge(AboveNought, PERCENT, [0.0, 0.0]), Verdict::Outside);
        assert_eq!(judge(AboveNought, PERCENT, [-9.0, 9.0]), Verdict::SaysNothing);
        assert_eq!(judge(AboveNought, PERCENT, [0.0, 9.0]), Verdict::SaysNothing);
    }

    #[test]
    fn no_difference_is_held_by_a_range_within_the_band_alone() {
        assert_eq!(judge(NoMoreThan(5.0), PERCENT, [-5.0, 5.0]), Verdict::Within);
        assert_eq!(judge(NoMoreThan(5.0), PERCENT, [5.1, 50.0]), Verdict::Outside);
        assert_eq!(judge(NoMoreThan(5.0), PERCENT, [-50.0, -5.1]), Verdict::Outside);
        assert_eq!(judge(NoMoreThan(5.0), PERCENT, [0.0, 50.0]), Verdict::SaysNothing);
        assert_eq!(judge(NoMoreThan(5.0), PERCENT, [-50.0, 50.0]), Verdict::SaysNothing);
    }
}
