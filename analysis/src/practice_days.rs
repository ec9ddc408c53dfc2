//! How many days a year each rule of a practice spoke in some possible years, and what kept the others silent.

use crate::experiment::draws_of;
use scenarios::SiteModel;
use sim_engine::gates::practice::Practice;
use sim_engine::gates::practice::tally::RuleTally;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::run::world::RunError;
use sim_engine::run::{RunOptions, simulate};

/// Possible years that are run at least: enough to see a rule that never speaks, few enough to wait for.
const YEARS: u32 = 8;
/// Which possible years.
const SEED: u64 = 1;

/// What the rules of one strategy came to.
#[derive(Clone, Debug, PartialEq)]
pub struct PracticeDays {
    /// Possible years that were run.
    pub years: u32,
    /// By rule, over all of them.
    pub rules: Vec<RuleTally>,
    /// Mornings on which none had an answer.
    pub home_mornings: u32,
}

/// Runs strategy `which` of the model alone; `None` where it is no practice.
///
/// # Errors
/// [`RunError`], as of any run.
pub fn practice_days(model: &SiteModel, which: usize) -> Result<Option<PracticeDays>, RunError> {
    let Some(StrategyKind::Practice { home, rules }) = model.strategies.get(which).map(|spec| &spec.kind) else {
        return Ok(None);
    };
    let draws = YEARS.div_ceil(model.years.max(1));
    let mut days =
        PracticeDays { years: draws * model.years, rules: vec![RuleTally::default(); rules.len()], home_mornings: 0 };
    for draw in draws_of(model, SEED, None, 0..draws as usize) {
        let mut practice = Practice::new(&draw.site, *home, rules);
        simulate(&draw.site, &draw.drivers, &mut practice, RunOptions::default(), &mut ())?;
        days.rules.iter_mut().zip(practice.tallies()).for_each(|(sum, more)| sum.add(more));
        days.home_mornings += practice.home_mornings();
    }
    Ok(Some(days))
}
