//! Does one strategy lead another? Kim & Nelson's triangle, asked once each way.
//!
//! For a pair the sum of paired differences D is watched after every block of possible years, less half
//! of what is worth a change (δ/2) a year. When the sum leaves the triangle
//! ±max(0, h²S²/2d − r·d/2) upward after r years, the first leads the second; when it leaves
//! downward, the first does not lead by δ. Here d = δ/2 is the paper's indifference zone, S² the variance of D
//! in the first stage of n blocks, made of the means of blocks and scaled to one year (the paper's
//! triangle of blocks, written in years), h² = 2η(n − 1) and η = ½((2β)^(−2/(n−1)) − 1) its constants
//! for c = 1, which the paper advises (Kim & Nelson 2001, section 3). Either way the chance to
//! leave on the wrong side is at most β where D is normal: upward when D's mean is 0 or
//! less, downward when it is δ or more. After h²S²/d² years at most the triangle is shut.

use crate::stats::blocks::{BLOCK, Moments};
use sim_engine::math::pow;

/// The numbers all triangles share.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Triangle {
    /// h² of the paper.
    pub h2: f64,
    /// d: half of what is worth a change, in the unit of the aims.
    pub half_worth: f64,
}

impl Triangle {
    /// For a chance of error `error` a pair (each way) and so many degrees of freedom of the variances.
    #[must_use]
    pub fn new(error: f64, freedom: f64, half_worth: f64) -> Self {
        let eta = 0.5 * (pow(2.0 * error, -2.0 / freedom) - 1.0);
        Self { h2: (2.0 * eta * freedom).max(0.0), half_worth }
    }

    /// Half the height of the triangle of a pair after `years`.
    fn line(&self, variance: f64, years: f64) -> f64 {
        (0.5 * (self.h2 * variance / self.half_worth - years * self.half_worth)).max(0.0)
    }

    /// Whether a lead summed up to `sum` is real (`true`), too small to matter, or open.
    fn judge(&self, sum: f64, variance: f64, years: f64) -> Option<bool> {
        let less = sum - years * self.half_worth;
        // Nothing between the two that varies, and nothing worth having: no lead.
        let line = if variance == 0.0 { 0.0 } else { self.line(variance, years) };
        if less > 0.0 && less >= line {
            Some(true)
        } else if less <= -line {
            Some(false)
        } else {
            None
        }
    }
}

/// One pair, the first less the second.
#[derive(Clone, Copy, Debug, Default)]
struct StrategyPair {
    sum: f64,
    variance: f64,
    /// Whether the first leads the second, and the second the first.
    leads: [Option<bool>; 2],
}

/// All pairs of strategies.
#[derive(Clone, Debug)]
pub struct Pairs {
    count: usize,
    triangle: Triangle,
    pairs: Vec<StrategyPair>,
    years: usize,
}

impl Pairs {
    /// Of so many strategies.
    #[must_use]
    pub fn new(count: usize) -> Self {
        Self { count, triangle: Triangle::default(), pairs: vec![StrategyPair::default(); count * count], years: 0 }
    }

    /// Ends the first stage of those still in: sums and variances from their columns so far.
    pub fn begin(&mut self, triangle: Triangle, live: &[usize], aims: &[Vec<f64>]) {
        self.triangle = triangle;
        self.years = live.first().map_or(0, |&s| aims[s].len());
        for (at, &first) in live.iter().enumerate() {
            for &second in &live[at + 1..] {
                let apart: Vec<f64> = aims[first].iter().zip(&aims[second]).map(|(a, b)| a - b).collect();
                let pair = &mut self.pairs[first * self.count + second];
                pair.sum = crate::stats::sum(&apart);
                pair.variance = Moments::of(&apart).variance().0;
                judge(pair, &triangle, self.years);
            }
        }
    }

    /// Takes in the last block of each strategy still in.
    pub fn take(&mut self, live: &[usize], aims: &[Vec<f64>]) {
        let before = self.years;
        self.years += BLOCK;
        let last = |s: usize| crate::stats::sum(&aims[s][before..]);
        for (at, &first) in live.iter().enumerate() {
            for &second in &live[at + 1..] {
                let pair = &mut self.pairs[first * self.count + second];
                pair.sum += last(first) - last(second);
                judge(pair, &self.triangle, self.years);
            }
        }
    }

    /// Whether `first` is known to lead `second`.
    #[must_use]
    pub fn leads(&self, first: usize, second: usize) -> bool {
        self.known(first, second) == Some(true)
    }

    /// Whether among those left none leads another by what is worth a change.
    #[must_use]
    pub fn none_leads(&self, left: &[usize]) -> bool {
        let mut pairs = left.iter().flat_map(|&a| left.iter().map(move |&b| (a, b)));
        pairs.all(|(a, b)| a == b || self.known(a, b) == Some(false))
    }

    fn known(&self, first: usize, second: usize) -> Option<bool> {
        let (low, high) = (first.min(second), first.max(second));
        self.pairs[low * self.count + high].leads[usize::from(first > second)]
    }
}

/// Asks both ways; what is known stays known.
fn judge(pair: &mut StrategyPair, triangle: &Triangle, years: usize) {
    let years = years as f64;
    let ways = [pair.sum, 0.0 - pair.sum];
    for (known, sum) in pair.leads.iter_mut().zip(ways) {
        *known = known.or_else(|| triangle.judge(sum, pair.variance, years));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The constant solves the paper's equation for c = 1: ½(1 + 2η)^(−(n−1)/2) = β.
    #[test]
    fn the_constant_solves_the_papers_equation() {
        for (error, freedom) in [(0.05, 9.0), (0.05 / 9.0, 9.0), (0.0023, 31.0)] {
            let eta = Triangle::new(error, freedom, 1.0).h2 / (2.0 * freedom);
            let left = 0.5 * (1.0 + 2.0 * eta).powf(-0.5 * freedom);
            assert!((left / error - 1.0).abs() < 1e-9, "{left} is not {error}");
        }
    }

    /// By hand, h² = 8, d = 2 and S² = 3: half the height is 8 · 3 / (2 · 2) − r · 2 / 2 = 6 − r, shut
    /// after h²S²/d² = 6 years. The sum counts less d a year.
    #[test]
    fn the_triangle_by_hand() {
        let triangle = Triangle { h2: 8.0, half_worth: 2.0 };
        assert_eq!([0.0, 2.0, 6.0, 9.0].map(|years| triangle.line(3.0, years)), [6.0, 4.0, 0.0, 0.0]);
        let judged = |sum: f64| triangle.judge(sum, 3.0, 2.0);
        assert_eq!([8.0, 7.9, 4.0, 0.1, 0.0].map(judged), [Some(true), None, None, None, Some(false)]);
        // Once it is shut every sum is judged, one of exactly nothing as no lead.
        let late = |sum: f64| triangle.judge(sum, 3.0, 9.0);
        assert_eq!([18.1, 18.0, 17.9].map(late), [Some(true), Some(false), Some(false)]);
        // What never varies is known at once.
        assert_eq!([4.1, 4.0].map(|sum| triangle.judge(sum, 0.0, 2.0)), [Some(true), Some(false)]);
    }

    /// A chance of error of one in two or more asks for no evidence.
    #[test]
    fn a_toss_up_needs_no_evidence() {
        assert_eq!(Triangle::new(0.5, 9.0, 1.0).h2, 0.0);
        assert_eq!(Triangle::new(0.9, 9.0, 1.0).h2, 0.0);
    }

    /// Sums go on block by block from where the first stage left them, and each pair is known in the
    /// year its own sum leaves the triangle, whichever of the two leads.
    #[test]
    fn pairs_are_judged_by_the_sums_of_all_years_so_far() {
        // Each is 4 points a year ahead of the one before, 3 more or less by turns of a block.
        let year = |s: usize, year: usize| s as f64 * if (year / BLOCK).is_multiple_of(2) { 7.0 } else { 1.0 };
        let column = |s: usize, years: usize| -> Vec<f64> { (0..years).map(|y| year(s, y)).collect() };
        let triangle = Triangle::new(0.01, 9.0, 1.0);
        let aims = |years| -> Vec<Vec<f64>> { (0..3).map(|s| column(s, years)).collect() };
        let mut pairs = Pairs::new(3);
        pairs.begin(triangle, &[0, 1, 2], &aims(40));
        let known_by_hand = |first: usize, second: usize, years: usize| {
            let apart = |years| -> Vec<f64> {
                column(first, years).iter().zip(column(second, years)).map(|(a, b)| a - b).collect()
            };
            let variance = Moments::of(&apart(40)).variance().0;
            let at = |years: usize| triangle.judge(apart(years).iter().sum(), variance, years as f64);
            (40..=years).step_by(BLOCK).find_map(at)
        };
        let mut decided_late = 0;
        for years in (44..400).step_by(BLOCK) {
            pairs.take(&[0, 1, 2], &aims(years));
            for (first, second) in [(0, 1), (1, 0), (0, 2), (2, 0), (1, 2), (2, 1)] {
                let (was, is) = (known_by_hand(first, second, years - BLOCK), known_by_hand(first, second, years));
                decided_late += usize::from(was.is_none() && is.is_some());
                assert_eq!(pairs.known(first, second), is, "{first} on {second} after {years}");
            }
            if decided_late == 6 {
                break;
            }
        }
        assert_eq!(decided_late, 6);
        assert!(pairs.leads(2, 1) && pairs.leads(1, 0) && !pairs.leads(0, 1) && !pairs.none_leads(&[0, 1]));
    }

    #[test]
    fn twins_do_not_lead_each_other_and_a_steady_lead_is_seen_at_once() {
        let twin = vec![3.0, 5.0, 4.0];
        let ahead = vec![4.0, 6.0, 5.0];
        let mut pairs = Pairs::new(3);
        pairs.begin(Triangle::new(0.01, 2.0, 0.25), &[0, 1, 2], &[twin.clone(), twin, ahead]);
        assert!(pairs.none_leads(&[0, 1]));
        assert!(pairs.leads(2, 0) && pairs.leads(2, 1) && !pairs.leads(0, 2));
    }
}
