//! Possible years until the best is known: sequential selection with an indifference zone.
//!
//! The procedure of Kim & Nelson 2001 (ACM Transactions on Modeling and Computer Simulation
//! 11:251–273): a first stage gives the variance of every paired difference (all strategies
//! share their draws); then years are added one by one, and a strategy that falls out of a
//! triangle around another's sum of aims is beaten and costs nothing more.
//! Draws are not independent but blocks of them are ([`crate::stats::blocks`]): variances are those of
//! block means, and sums are looked at where a block ends.
//!
//! Two things differ from the paper, both on the careful side:
//!
//! - Theirs names one of two equals. We must be able to say "no worthwhile difference", so each
//!   pair is asked twice, once each way: *does this one lead the other at all, or does it not
//!   lead by what is worth a change?* (`select/pairs.rs`). To be named best, all others must
//!   be beaten; where no strategy left leads another by as much, either will do.
//! - A strategy must also keep its limits, as in Andradóttir & Kim 2010 (Naval Research
//!   Logistics 57:403–421): each limit is put to a sequential test (`select/limits.rs`), and only
//!   a strategy known to keep its limits may beat another.
//!
//! The chance of a wrong answer is shared out by Bonferroni, half to pairs and half to limits,
//! so it holds for any dependence that common draws bring. *Wrong* is: the true best is thrown
//! out, a strategy that is not the best is named, one that leads all others by what is worth a
//! change is called no different, or a limit well past its line (see [`limits`]) is misjudged.

pub mod limits;
pub mod pairs;
mod words;

#[cfg(test)]
mod tests;

pub use words::stayed;

use crate::stats;
use crate::stats::blocks::{self, BLOCK};
use limits::{Keeping, LimitTest};
use pairs::{Pairs, Triangle};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Possible years of the first stage: 24 blocks, enough that variances guessed from them cost little
/// (Kim & Nelson 2001 advise 10 or more), few enough to stop early.
pub const FIRST: usize = 96;
/// Possible years asked for at once. A strategy may fail a limit before the first stage ends.
const BATCH: usize = 32;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SelectionRules {
    /// Chance that the answer is right, above 0 and below 1.
    pub confidence: f64,
    /// Lead worth a change, as a share of the best's gain over birds shut in in the first stage.
    pub indifference_share: f64,
    /// Share of possible years in which every limit must hold, below 1.
    pub required_reliability: f64,
    /// Most possible years of a strategy.
    pub most: usize,
}

/// One strategy in one possible year.
#[derive(Clone, Debug, PartialEq)]
pub struct YearSample {
    /// Worth over the run of birds shut in.
    pub aim: f64,
    /// Whether each limit held.
    pub held: Vec<bool>,
}

/// What became of a strategy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// It is the best.
    Best,
    /// No worthwhile difference to the others that are left.
    AsGood,
    /// Another is ahead of it.
    Beaten {
        /// Index of the one ahead.
        by: usize,
    },
    /// A limit gives way too often.
    Fails {
        /// Index of the limit.
        limit: usize,
    },
    /// Still in when the years ran out.
    Undecided,
}

/// A strategy at the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ended {
    /// Possible years it was tried on: always the first so many.
    pub draws: usize,
    /// What became of it.
    pub fate: Fate,
}

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SelectionEnd {
    /// One strategy is the best.
    Best,
    /// Those left differ by less than is worth a change.
    NoWorthwhileDifference,
    /// No strategy keeps its limits.
    NothingHolds,
    /// The years allowed ran out.
    OutOfYears,
    /// Stopped by hand.
    Stopped,
}

/// A finished selection.
#[derive(Clone, Debug, PartialEq)]
pub struct Selection {
    /// What was asked.
    pub rules: SelectionRules,
    /// The answer.
    pub answer: SelectionEnd,
    /// Every strategy, in the order given.
    pub ended: Vec<Ended>,
    /// Lead worth a change, in the unit of the aims.
    pub indifference_hours: f64,
    /// Possible years of those that stayed longest.
    pub draws: usize,
}

impl Selection {
    /// Indices of the strategies left at the end.
    #[must_use]
    pub fn left(&self) -> Vec<usize> {
        let stays = |fate: &Fate| matches!(fate, Fate::Best | Fate::AsGood | Fate::Undecided);
        (0..self.ended.len()).filter(|&s| stays(&self.ended[s].fate)).collect()
    }
}

/// Gives possible years: first, how many, and the strategies still in; by year and strategy.
pub type SampleSource<'y, E> = dyn FnMut(usize, usize, &[usize]) -> Result<Vec<Vec<YearSample>>, E> + 'y;

/// Selects among `strategies` (how many) under `limits` (how many).
///
/// `years(first, count, live)` gives the possible years `first..first + count`, for each the
/// samples of the strategies `live` in that order; fewer years than asked mean a stop by hand.
///
/// # Errors
/// What `years` fails with.
pub fn select<E>(
    strategies: usize,
    limits: usize,
    rules: SelectionRules,
    years: &mut SampleSource<'_, E>,
) -> Result<Selection, E> {
    let mut race = Race::new(strategies, limits, rules);
    loop {
        let count = BATCH.min(rules.most.saturating_sub(race.draws));
        if count == 0 || race.live.is_empty() {
            break;
        }
        let batch = years(race.draws, count, &race.live)?;
        batch.iter().for_each(|year| race.take(year));
        race.thin_out();
        if let Some(answer) = race.answer() {
            return Ok(race.finish(answer));
        }
        if batch.len() < count {
            return Ok(race.finish(SelectionEnd::Stopped));
        }
    }
    Ok(race.finish(SelectionEnd::OutOfYears))
}

/// The running state.
struct Race {
    rules: SelectionRules,
    /// Shares of the chance of error: of one pair, of one limit.
    pair_error: f64,
    limit_test: LimitTest,
    live: Vec<usize>,
    draws: usize,
    aims: Vec<Vec<f64>>,
    keeping: Vec<Vec<Keeping>>,
    pairs: Pairs,
    indifference_hours: f64,
    ended: Vec<Ended>,
}

impl Race {
    fn new(strategies: usize, limits: usize, rules: SelectionRules) -> Self {
        let rivals = strategies.saturating_sub(1);
        let error = 1.0 - rules.confidence;
        let (of_pairs, of_limits) = match (rivals, limits) {
            (_, 0) => (error, 0.0),
            (0, _) => (0.0, error),
            _ => (0.5 * error, 0.5 * error),
        };
        Self {
            rules,
            pair_error: of_pairs / rivals.max(1) as f64,
            // The best may be wronged by each of its limits; each rival by the one that fails it.
            limit_test: LimitTest::new(rules.required_reliability, of_limits / (rivals + limits).max(1) as f64),
            live: (0..strategies).collect(),
            draws: 0,
            aims: vec![Vec::new(); strategies],
            keeping: vec![vec![Keeping::default(); limits]; strategies],
            pairs: Pairs::new(strategies),
            indifference_hours: f64::NAN,
            ended: vec![Ended { draws: 0, fate: Fate::Undecided }; strategies],
        }
    }

    /// One possible year of those still in.
    fn take(&mut self, year: &[YearSample]) {
        for (&s, sample) in self.live.iter().zip(year) {
            self.aims[s].push(sample.aim);
            for (keeping, &held) in self.keeping[s].iter_mut().zip(&sample.held) {
                keeping.take(&self.limit_test, held);
            }
        }
        self.draws += 1;
        if self.draws.is_multiple_of(BLOCK) {
            self.end_block();
        }
    }

    /// What the years so far tell.
    fn end_block(&mut self) {
        for &s in &self.live {
            self.keeping[s].iter_mut().for_each(|keeping| keeping.judge(&self.limit_test));
        }
        if self.draws == FIRST {
            self.end_first_stage();
        } else if self.draws > FIRST {
            self.pairs.take(&self.live, &self.aims);
        }
    }

    /// Variances of paired differences, and what a lead must be to be worth having.
    fn end_first_stage(&mut self) {
        self.indifference_hours = self.rules.indifference_share * self.best_mean().abs();
        let triangle =
            Triangle::new(self.pair_error, blocks::freedom(self.draws as f64), 0.5 * self.indifference_hours);
        self.pairs.begin(triangle, &self.live, &self.aims);
    }

    /// Highest mean aim of those whose limits held often enough so far, else of all.
    fn best_mean(&self) -> f64 {
        let keeps = |s: &&usize| self.keeping[**s].iter().all(|k| k.share() >= self.rules.required_reliability);
        let best = |of: &mut dyn Iterator<Item = &usize>| of.map(|&s| stats::mean(&self.aims[s])).reduce(f64::max);
        best(&mut self.live.iter().filter(keeps)).or_else(|| best(&mut self.live.iter())).unwrap_or(0.0)
    }

    /// Every limit of it is known to hold.
    fn holds(&self, s: usize) -> bool {
        self.keeping[s].iter().all(|k| k.known() == Some(true))
    }

    /// Takes out what fails a limit, then what is beaten by one that keeps its limits.
    fn thin_out(&mut self) {
        for s in self.live.clone() {
            if let Some(limit) = self.keeping[s].iter().position(|k| k.known() == Some(false)) {
                self.take_out(s, Fate::Fails { limit });
            }
        }
        // The lowest first, so that of a circle made by chance the highest stays.
        let mut order = self.live.clone();
        order.sort_by(|&a, &b| stats::mean(&self.aims[a]).total_cmp(&stats::mean(&self.aims[b])));
        for s in order {
            let ahead = |&&other: &&usize| other != s && self.holds(other) && self.pairs.leads(other, s);
            if let Some(&by) = self.live.iter().find(ahead) {
                self.take_out(s, Fate::Beaten { by });
            }
        }
    }

    fn take_out(&mut self, s: usize, fate: Fate) {
        self.live.retain(|&other| other != s);
        self.ended[s] = Ended { draws: self.draws, fate };
    }

    fn answer(&self) -> Option<SelectionEnd> {
        let known = self.live.iter().all(|&s| self.holds(s));
        match self.live.as_slice() {
            [] => Some(SelectionEnd::NothingHolds),
            _ if !known => None,
            [_] => Some(SelectionEnd::Best),
            left => self.pairs.none_leads(left).then_some(SelectionEnd::NoWorthwhileDifference),
        }
    }

    fn finish(mut self, answer: SelectionEnd) -> Selection {
        let fate = match answer {
            SelectionEnd::Best => Fate::Best,
            SelectionEnd::NoWorthwhileDifference => Fate::AsGood,
            _ => Fate::Undecided,
        };
        for s in self.live.clone() {
            self.take_out(s, fate);
        }
        Selection {
            rules: self.rules,
            answer,
            ended: self.ended,
            indifference_hours: self.indifference_hours,
            draws: self.draws,
        }
    }
}
