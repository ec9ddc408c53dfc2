//! Does a limit hold often enough? Wald's sequential test (Wald 1945, Annals of Mathematical
//! Statistics 16:117–186), one a strategy and limit.
//!
//! A fixed interval looked at again and again would in the end throw out a strategy on the
//! line. The test weighs two chances to give way, a quarter above and a quarter below the one
//! allowed: where 1 in 10 is allowed, 12.5 in 100 against 7.5. A limit that gives way more
//! often than the first is taken for held, or one that gives way less often than the second
//! for failed, with at most the chance of error asked for. In between it may be judged either
//! way; the middle is where the counted share is the share asked for, so the table never says
//! other than the test.
//!
//! Weighed is every year, judged after whole blocks: years of a block are not independent
//! ([`crate::stats::blocks`]). Their unknowns are spread out, so that one year that gives way makes
//! another in its block less likely rather than more, and the weight wanders less than the test
//! supposes: as a rule it errs towards more years (tried in `select/tests.rs`).

use libm::log;

/// How far the two chances to give way lie from the one allowed, as a share of it (our own
/// judgement: closer costs years by the square, and nobody plans by 11 years in 100 against 9).
const APART: f64 = 0.25;

/// The numbers all tests share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimitTest {
    holds: f64,
    /// Weight of a year in which it held, and of one in which it gave way.
    weights: [f64; 2],
    /// Weight at which it is known either way.
    bar: f64,
}

impl LimitTest {
    /// For a limit that must hold in a share `holds` of years, below 1, with a chance of error each way.
    #[must_use]
    pub fn new(holds: f64, error: f64) -> Self {
        let allowed = 1.0 - holds;
        let often = (allowed * (1.0 + APART)).min(0.5 * (1.0 + allowed));
        let seldom = allowed * (1.0 - APART);
        let held = log((1.0 - seldom) / (1.0 - often));
        Self { holds, weights: [held, log(seldom / often)], bar: log(1.0 / error) }
    }
}

/// One limit of one strategy.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Keeping {
    held: usize,
    years: usize,
    weight: f64,
    known: Option<bool>,
}

impl Keeping {
    /// One more year.
    pub fn take(&mut self, test: &LimitTest, held: bool) {
        self.years += 1;
        self.held += usize::from(held);
        self.weight += test.weights[usize::from(!held)];
    }

    /// Whether it is known by now; what is known stays known.
    pub fn judge(&mut self, test: &LimitTest) {
        if test.holds <= 0.0 {
            self.known = Some(true);
        }
        if self.known.is_none() && self.weight.abs() >= test.bar {
            self.known = Some(self.weight > 0.0);
        }
    }

    /// Whether it is known to hold often enough, or not to.
    #[must_use]
    pub fn known(&self) -> Option<bool> {
        self.known
    }

    /// Share of years in which it held.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.held as f64 / self.years.max(1) as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn years_until_known(pattern: &[bool], error: f64) -> (usize, bool) {
        let test = LimitTest::new(0.9, error);
        let mut keeping = Keeping::default();
        let at = pattern.iter().position(|&held| {
            keeping.take(&test, held);
            keeping.judge(&test);
            keeping.known().is_some()
        });
        (at.unwrap() + 1, keeping.known().unwrap())
    }

    /// By hand: ln(1/0.005) = 5.298, over ln(0.925/0.875) = 0.05557 a year held: 96 years; over
    /// ln(0.125/0.075) = 0.5108 a year not held: 11 years.
    #[test]
    fn steady_cases_take_the_years_worked_out_by_hand() {
        assert_eq!(years_until_known(&[true; 200], 0.005), (96, true));
        assert_eq!(years_until_known(&[false; 200], 0.005), (11, false));
    }

    #[test]
    fn a_share_that_need_not_hold_holds() {
        let mut keeping = Keeping::default();
        let test = LimitTest::new(0.0, 0.01);
        keeping.take(&test, false);
        keeping.judge(&test);
        assert_eq!(keeping.known(), Some(true));
    }
}
