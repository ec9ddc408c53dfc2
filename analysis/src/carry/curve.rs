//! What is known of one strategy: tallies by flock size, and the curves through them.

use crate::stats::LEVEL;
use crate::stats::isotonic::falling;
use crate::stats::wilson::wilson;
use crate::sweep::tally::Tally;
use sim_engine::measures::Measure;
use std::collections::BTreeMap;

/// A hair under a count, for shares that are not exact in binary.
const HAIR: f64 = 1e-9;

/// Tallies of one strategy by flock size.
#[derive(Clone, Debug, Default)]
pub struct Curve {
    points: BTreeMap<u64, Tally>,
}

/// Where a curve falls below a bar: the largest flock tried that reaches it, if any, and the
/// next one tried, if any.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// Reaches the bar.
    pub above: Option<u64>,
    /// Does not.
    pub below: Option<u64>,
}

impl Gap {
    /// The flock to try next to close the gap; `None` once it is closed. While nothing lies
    /// below, flocks double up to `most`.
    #[must_use]
    pub fn next(self, most: u64) -> Option<u64> {
        match (self.above, self.below) {
            (Some(above), Some(below)) if below - above > 1 => Some(above + (below - above) / 2),
            (Some(above), None) if above < most => Some((2 * above).clamp(above + 1, most)),
            (None, Some(below)) if below > 0 => Some(below / 2),
            _ => None,
        }
    }
}

impl Curve {
    /// Takes a tally in.
    pub fn put(&mut self, flock: u64, tally: Tally) {
        self.points.insert(flock, tally);
    }

    /// Whether this flock was tried.
    #[must_use]
    pub fn has(&self, flock: u64) -> bool {
        self.points.contains_key(&flock)
    }

    /// Flocks tried, with their tallies.
    pub fn points(&self) -> impl Iterator<Item = (u64, &Tally)> {
        self.points.iter().map(|(&flock, tally)| (flock, tally))
    }

    /// Draws in which a limit held (`None`: all of them), by flock tried, never rising with
    /// the flock.
    #[must_use]
    pub fn fitted(&self, limit: Option<usize>) -> Vec<(u64, f64)> {
        let held = |tally: &Tally| limit.map_or(tally.all_held, |limit| tally.held[limit]) as f64;
        let counts: Vec<f64> = self.points.values().map(held).collect();
        let weights = vec![1.0; counts.len()];
        self.points.keys().copied().zip(falling(&counts, &weights)).collect()
    }

    /// Where a fitted curve falls below a count of draws.
    #[must_use]
    pub fn gap(&self, limit: Option<usize>, count: u64) -> Gap {
        let fitted = self.fitted(limit);
        let reaches = |share: f64| share >= count as f64 - HAIR;
        let above = fitted.iter().filter(|(_, held)| reaches(*held)).map(|(flock, _)| *flock).max();
        let below = fitted.iter().filter(|(_, held)| !reaches(*held)).map(|(flock, _)| *flock).min();
        Gap { above, below }
    }

    /// Flock in the middle of the step, among these, over which mean cover falls fastest a bird;
    /// and the step. `None` where it falls nowhere.
    #[must_use]
    pub fn steepest(&self, flocks: &[u64]) -> Option<(f64, (u64, u64))> {
        let cover = |flock: u64| Some((flock, self.points.get(&flock)?.of(Measure::MeanCover).mean()));
        let known: Vec<(u64, f64)> = flocks.iter().filter_map(|&flock| cover(flock)).collect();
        let falls = known.windows(2).map(|pair| {
            let ((from, before), (to, after)) = (pair[0], pair[1]);
            ((before - after) / (to - from) as f64, (from, to))
        });
        // Equal falls: the smaller flock.
        let fastest = falls.reduce(|best, next| if next.0 > best.0 { next } else { best })?;
        (fastest.0 > 0.0).then(|| (0.5 * (fastest.1.0 + fastest.1.1) as f64, fastest.1))
    }
}

/// Counts of draws that mark the answer and its interval.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bars {
    /// Of so many draws the wanted share held: the answer.
    pub middle: u64,
    /// Even the lower end of the Wilson interval reaches the wanted share; one more than
    /// there are draws where none does.
    pub surely: u64,
    /// The upper end reaches it.
    pub perhaps: u64,
}

impl Bars {
    /// For a wanted share of so many draws.
    #[must_use]
    pub fn of(required_reliability: f64, draws: u64) -> Self {
        let first = |reaches: &dyn Fn(u64) -> bool| (0..=draws).find(|&count| reaches(count)).unwrap_or(draws + 1);
        let ends = |count: u64| wilson(count as usize, draws as usize, LEVEL);
        Self {
            middle: first(&|count| count as f64 >= required_reliability * draws as f64 - HAIR),
            surely: first(&|count| ends(count).low >= required_reliability),
            perhaps: first(&|count| ends(count).high >= required_reliability),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve(held: &[(u64, u64)]) -> Curve {
        let mut curve = Curve::default();
        for &(flock, all_held) in held {
            curve.put(flock, Tally { draws: 10, all_held, ..Tally::new(0) });
        }
        curve
    }

    #[test]
    fn gaps_close_by_halves_and_open_ends_double() {
        let tried = curve(&[(0, 10), (8, 9), (16, 4)]);
        assert_eq!(tried.gap(None, 9), Gap { above: Some(8), below: Some(16) });
        assert_eq!(tried.gap(None, 9).next(99), Some(12));
        assert_eq!(tried.gap(None, 11), Gap { above: None, below: Some(0) });
        assert_eq!(tried.gap(None, 11).next(99), None);
        assert_eq!(tried.gap(None, 1).next(99), Some(32));
        assert_eq!(tried.gap(None, 1).next(20), Some(20));
        assert_eq!(Gap { above: Some(16), below: None }.next(16), None);
    }

    /// 8, 10 rises: both count as 9.
    #[test]
    fn chance_never_rises_with_the_flock() {
        assert_eq!(curve(&[(1, 8), (2, 10), (3, 5)]).fitted(None), [(1, 9.0), (2, 9.0), (3, 5.0)]);
    }

    /// 200 draws, nine of ten: 180 of them; Wilson's interval of 188 begins above 0.9, that of
    /// 171 ends above it (statsmodels proportion_confint, from memory of the formula by hand).
    #[test]
    fn the_bars_are_wilsons() {
        let bars = Bars::of(0.9, 200);
        assert_eq!(bars.middle, 180);
        let (low, high) =
            (wilson(bars.surely as usize, 200, LEVEL).low, wilson(bars.perhaps as usize, 200, LEVEL).high);
        assert!(low >= 0.9 && wilson(bars.surely as usize - 1, 200, LEVEL).low < 0.9);
        assert!(high >= 0.9 && wilson(bars.perhaps as usize - 1, 200, LEVEL).high < 0.9);
        assert!(bars.perhaps < 180 && bars.surely > 180);
        // Ten draws cannot make nine of ten sure.
        assert_eq!(Bars::of(0.9, 10), Bars { middle: 9, surely: 11, perhaps: Bars::of(0.9, 10).perhaps });
    }
}
