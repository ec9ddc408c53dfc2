//! Paired intervals for all pairs of strategies that hold *together* at one level.
//!
//! With k strategies there are k(k − 1)/2 pairs; each gets a t interval at
//! 1 − (1 − level)/pairs (Bonferroni, Dunn 1961, JASA 56:52–64). It holds for any
//! dependence between the pairs and for unequal spreads, which sharing the same
//! possible years brings; it is a little wide, which errs towards
//! "too close to call".

use super::blocks::paired;
use super::t::Difference;

/// One pair: the strategy at index `first` minus the one at `second`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// Index of the strategy subtracted from.
    pub first: usize,
    /// Index of the strategy subtracted; always above `first`.
    pub second: usize,
    /// Difference with its simultaneous interval.
    pub difference: Difference,
}

/// Number of pairs among `count` strategies; at least 1 so that it can divide.
#[must_use]
pub fn pairs(count: usize) -> usize {
    (count * count.saturating_sub(1) / 2).max(1)
}

/// The level each pair needs so that all pairs together hold at `level`.
#[must_use]
pub fn level_per_pair(count: usize, level: f64) -> f64 {
    1.0 - (1.0 - level) / pairs(count) as f64
}

/// All pairs of `columns` (one column of draws a strategy), together at `level`.
#[must_use]
pub fn all_pairs(columns: &[&[f64]], level: f64) -> Vec<Pair> {
    let each = level_per_pair(columns.len(), level);
    (0..columns.len())
        .flat_map(|first| (first + 1..columns.len()).map(move |second| (first, second)))
        .map(|(first, second)| Pair { first, second, difference: paired(columns[first], columns[second], each) })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_engine::streams::stream;

    #[test]
    fn two_strategies_need_no_widening() {
        assert_eq!(level_per_pair(2, 0.95), 0.95);
        assert!((level_per_pair(4, 0.95) - (1.0 - 0.05 / 6.0)).abs() < 1e-15);
        assert_eq!(level_per_pair(1, 0.95), 0.95);
    }

    #[test]
    fn pairs_come_in_index_order() {
        let columns = [[1.0, 2.0, 4.0], [0.0, 2.0, 3.0], [5.0, 5.0, 4.0]];
        let columns: Vec<&[f64]> = columns.iter().map(|c| c.as_slice()).collect();
        let got: Vec<_> = all_pairs(&columns, 0.95).iter().map(|p| (p.first, p.second)).collect();
        assert_eq!(got, [(0, 1), (0, 2), (1, 2)]);
    }

    /// Common practice, no source: a 95 % family should miss in at most about 5 % of
    /// repeats; 400 repeats have a standard error of 1.1 points.
    #[test]
    fn all_pairs_together_cover_nineteen_times_in_twenty() {
        let misses = (0..400).filter(|&repeat| misses_zero(repeat)).count();
        assert!(misses <= 30, "{misses} of 400");
    }

    fn misses_zero(repeat: u64) -> bool {
        use rand::Rng;
        let mut random = stream(7, repeat, "cover");
        let columns: Vec<Vec<f64>> =
            (0..4).map(|_| (0..30).map(|_| f64::from(random.next_u32()) / 4.3e9).collect()).collect();
        let columns: Vec<&[f64]> = columns.iter().map(Vec::as_slice).collect();
        all_pairs(&columns, 0.95)
            .iter()
            .any(|pair| pair.difference.estimate.low > 0.0 || pair.difference.estimate.high < 0.0)
    }
}
