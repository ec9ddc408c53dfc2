//! How many days a year each rule of a practice spoke in some possible years, where, and what kept the others silent: the
//! figures of screen and JSON alike.

use crate::experiment::draws_of;
use crate::report::practice::{sentences, why_never};
use crate::units::Units;
use crate::wording::{figure, list};
use scenarios::SiteModel;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::gates::build;
use sim_engine::gates::practice::tally::{PracticeTally, RuleTally};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::run::world::RunError;
use sim_engine::run::{RunOptions, simulate};

/// Possible years that are run at least: enough to see a rule that never speaks, few enough to wait for.
const YEARS: u32 = 8;
/// Which possible years.
const SEED: u64 = 1;

/// What the rules of a practice came to under a strategy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PracticeDays {
    /// The strategy that was run.
    pub strategy: String,
    /// The practice: the strategy itself, or one that it calls upon.
    pub practice: String,
    /// Possible years that were run.
    pub years: u32,
    /// Its rules, the first on top.
    pub rules: Vec<RuleDays>,
    /// Where the birds are when none of them applies, in words.
    pub home: String,
    /// Days a year on which none applied, the mean of those years.
    pub home_days_a_year: f64,
}

/// What one rule came to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RuleDays {
    /// What it says.
    pub sentence: String,
    /// Days a year on which it applied, the mean of those years.
    pub days_a_year: f64,
    /// Of those, in each of its plots, as it lists them.
    pub plots: Vec<RulePlotDays>,
    /// Why it never applied; `null` where it did.
    pub never_because: Option<String>,
}

/// Days of a rule in a plot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RulePlotDays {
    /// The plot.
    pub plot: String,
    /// Days a year, the mean of those years.
    pub days_a_year: f64,
}

/// Runs strategy `which` of the model for every practice it is made of: itself, or those it calls upon, which are asked only
/// where what stands before them has no answer. None where it is made of none.
///
/// # Errors
/// [`RunError`], as of any run.
pub fn practice_days(model: &SiteModel, which: usize, units: Units) -> Result<Vec<PracticeDays>, RunError> {
    let practices = practices_of(&model.strategies, which);
    if practices.is_empty() {
        return Ok(Vec::new());
    }
    let draws = YEARS.div_ceil(model.years.max(1));
    let mut tallies: Vec<PracticeTally> = practices.iter().map(|&at| PracticeTally::of(rules_of(model, at))).collect();
    for draw in draws_of(model, SEED, None, 0..draws as usize) {
        let mut strategy = build(&draw.site, &model.strategies, which);
        simulate(&draw.site, &draw.drivers, strategy.as_mut(), RunOptions::default(), &mut ())?;
        let mut sums = tallies.iter_mut();
        strategy.practices(&mut |more| sums.next().into_iter().for_each(|sum| sum.add(more)));
    }
    let counted = Counted { model, strategy: which, years: draws * model.years, units };
    Ok(practices.into_iter().zip(&tallies).filter_map(|(practice, tally)| counted.days(practice, tally)).collect())
}

/// The practices a strategy is made of, in the order in which it tells of them.
fn practices_of(strategies: &[StrategySpec], which: usize) -> Vec<usize> {
    match strategies.get(which).map(|spec| &spec.kind) {
        Some(StrategyKind::Practice { .. }) => vec![which],
        Some(kind) => kind.calls().iter().flat_map(|&below| practices_of(strategies, below)).collect(),
        None => Vec::new(),
    }
}

fn rules_of(model: &SiteModel, practice: usize) -> usize {
    match &model.strategies[practice].kind {
        StrategyKind::Practice { rules, .. } => rules.len(),
        _ => 0,
    }
}

/// A strategy that was run.
#[derive(Clone, Copy)]
struct Counted<'m> {
    model: &'m SiteModel,
    strategy: usize,
    years: u32,
    units: Units,
}

impl Counted<'_> {
    fn a_year(self, mornings: u32) -> f64 {
        f64::from(mornings) / f64::from(self.years)
    }

    fn days(self, practice: usize, tally: &PracticeTally) -> Option<PracticeDays> {
        let strategies = &self.model.strategies;
        let StrategyKind::Practice { home, rules } = &strategies[practice].kind else { return None };
        let mut said = sentences(self.model, *home, rules, self.units);
        let home = said.pop()?;
        let asked = tally.mornings() > 0;
        let rules = rules.iter().zip(said).zip(&tally.rules);
        Some(PracticeDays {
            strategy: strategies[self.strategy].name.clone(),
            practice: strategies[practice].name.clone(),
            years: self.years,
            rules: rules.map(|((rule, sentence), tally)| self.rule(&rule.plots, sentence, tally, asked)).collect(),
            home,
            home_days_a_year: self.a_year(tally.home_mornings),
        })
    }

    fn rule(self, plots: &[usize], sentence: String, tally: &RuleTally, asked: bool) -> RuleDays {
        let days_in = |plot: &usize| RulePlotDays {
            plot: self.model.base.plots[*plot].name.clone(),
            days_a_year: self.a_year(tally.spoke_in.iter().filter(|(at, _)| at == plot).map(|(_, days)| days).sum()),
        };
        let why = || if asked { why_never(tally) } else { "what stands before it always had an answer".to_owned() };
        RuleDays {
            sentence,
            days_a_year: self.a_year(tally.spoke),
            plots: plots.iter().map(days_in).collect(),
            never_because: (tally.spoke == 0).then(why),
        }
    }
}

/// How many days a year each rule spoke and where, and of those that never did, why.
#[must_use]
pub fn spoken(days: &PracticeDays) -> Vec<String> {
    let of = if days.practice == days.strategy { String::new() } else { format!(" of {}", days.practice) };
    let rule = |(at, rule): (usize, &RuleDays)| {
        let (number, years) = (at + 1, days.years);
        if let Some(why) = &rule.never_because {
            return format!("rule {number}{of} never applied in {years} possible years: {why}");
        }
        let a_year = figure(rule.days_a_year, 0);
        format!("rule {number}{of} applied on {a_year} days a year (mean of {years} possible years){}", by_plot(rule))
    };
    let home = (days.home_days_a_year > 0.0)
        .then(|| format!("no rule{of} applied on {} days a year", figure(days.home_days_a_year, 0)));
    days.rules.iter().enumerate().map(rule).chain(home).collect()
}

/// ": 20 in veg-one and 22 in veg-two", where a rule has several plots.
fn by_plot(rule: &RuleDays) -> String {
    let each = |of: &RulePlotDays| format!("{} in {}", figure(of.days_a_year, 0), of.plot);
    let all: Vec<String> = rule.plots.iter().map(each).collect();
    if all.len() > 1 { format!(": {}", list(&all)) } else { String::new() }
}
