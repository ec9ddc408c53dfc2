//! The rules read from the top each morning.
//!
//! - The first rule with a plot that may be open says which gate stands open; where none has one, home; without a home, the yard.
//! - A stay that has begun goes on until its days are over, the ground looks worn, its days of the year are used up, its own
//!   `unless` or a hard rule ends it. A rule further up may end it only with `at_once`.
//! - A stay of so many days outlasts the occasion on which it began; one of at most so many ends with it.
//! - Where a rule names an occasion and a stay and no rest, it stays once in each plot until that occasion is over.
//! - A rule without stay and looks keeps nobody: it is asked anew every morning.

use super::plots::RulePlots;
use super::rule::Rule;
use super::tally::{PracticeTally, Silent};
use crate::dates::days_between;
use crate::gates::reason::Reason;
use crate::gates::strategy::{Observation, Opening, Proposal, Strategy};
use crate::site::Site;
use jiff::civil::Date;

/// Where the birds are, by which rule.
#[derive(Clone, Copy, Debug)]
struct Current {
    rule: usize,
    place: usize,
    since: Date,
}

/// A practice: its rules and what it remembers.
#[derive(Clone, Debug)]
pub struct Practice {
    home: Option<usize>,
    rules: Vec<RulePlots>,
    current: Option<Current>,
    year: i16,
    tally: PracticeTally,
}

impl Practice {
    /// From its rules, the first on top; without a home the birds are in the yard when none speaks.
    #[must_use]
    pub fn new(site: &Site, home: Option<usize>, rules: &[Rule]) -> Self {
        Self {
            home,
            rules: rules.iter().map(|rule| RulePlots::new(rule, site)).collect(),
            current: None,
            year: i16::MIN,
            tally: PracticeTally::of(rules.len()),
        }
    }

    /// Mornings so far.
    #[must_use]
    pub fn tally(&self) -> &PracticeTally {
        &self.tally
    }

    /// Notes what the morning shows, and ends a stay that is over.
    fn look(&mut self, seen: &Observation) {
        if seen.date.year() != self.year {
            self.year = seen.date.year();
            self.rules.iter_mut().for_each(RulePlots::new_year);
        }
        self.rules.iter_mut().for_each(|rule| rule.look(seen));
        let Some(now) = self.current else { return };
        let rule = &mut self.rules[now.rule];
        let Err(why) = rule.may_go_on(now.place, now.since, seen) else { return };
        self.current = None;
        // A plot that is shut, or off which the weather keeps birds for a day, has its turn again.
        if !matches!(why, Silent::Shut | Silent::Weather) {
            rule.left(now.place, why == Silent::Stayed);
        }
    }

    /// The rule that speaks today, and of which plot.
    fn speaks(&mut self, seen: &Observation) -> Option<Current> {
        for (number, rule) in self.rules.iter().enumerate() {
            if let Some(now) = self.current {
                if now.rule == number {
                    return Some(now);
                }
                // Rules further down are not reached: this one stands above the stay.
                if self.rules[now.rule].rule.keeps() && !rule.rule.at_once {
                    continue;
                }
            }
            match rule.begin(seen) {
                Ok(place) => return Some(Current { rule: number, place, since: seen.date }),
                Err((why, plot)) => self.tally.rules[number].was_silent(why, seen.plots[plot].shut),
            }
        }
        None
    }
}

impl Strategy for Practice {
    fn practices(&self, tell: &mut dyn FnMut(&PracticeTally)) {
        tell(&self.tally);
    }

    fn propose(&mut self, observation: &Observation, proposal: &mut Proposal) -> bool {
        self.look(observation);
        self.current = self.speaks(observation);
        let Some(now) = self.current else {
            self.tally.home_mornings += 1;
            let Some(home) = self.home else {
                proposal.reason = Reason::NoRule;
                return false;
            };
            proposal.open(home, Reason::Home);
            return true;
        };
        let rule = &mut self.rules[now.rule];
        rule.count(now.place);
        let plot = rule.plot(now.place);
        self.tally.rules[now.rule].opened(plot);
        let day = f64::from(days_between(now.since, observation.date) + 1);
        let stay = Some(rule.stay_days(now.place)).filter(|days| days.is_finite());
        proposal.reason = Reason::Rule { rule: now.rule, day, stay };
        let (hours, birds) = (rule.rule.hours, rule.rule.birds);
        proposal.openings.push(Opening { plot, hours, birds });
        true
    }
}
