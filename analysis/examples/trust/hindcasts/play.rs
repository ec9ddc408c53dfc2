//! Plays a row: the same draws with birds and without, every unknown drawn.

use super::rows::Row;
use super::watch::Watch;
use super::{SITES, folder};
use analysis::experiment::{Arm, Trial, draws_of, over_draws};
pub use scenarios::Library;
use scenarios::{SiteModel, site_file};

/// Possible years a row is played on.
pub const DRAWS: usize = 200;
/// Seed of every row.
const SEED: u64 = 2029;
/// The strategy of every site of a trial.
const STRATEGY: &str = "trial";

type AnyError = Box<dyn std::error::Error>;

/// Reads a row's site, and sees that what the row asks for is there.
///
/// # Errors
/// The site file's faults, or what is missing.
pub fn site(row: &Row, library: &Library) -> Result<(SiteModel, usize, usize), AnyError> {
    let model = site_file::read(&folder().join(SITES).join(row.site), library)?;
    let missing = |what: &str| format!("{}: {} has no {what}", row.id, row.site);
    let strategy = model.strategy(STRATEGY).ok_or_else(|| missing("strategy of the trial"))?;
    let plots = &model.base.plots;
    let plot = plots.iter().position(|plot| plot.name == row.plot).ok_or_else(|| missing(row.plot))?;
    let of_plot = &plots[plot];
    let pests = of_plot.pests.iter().map(|pest| model.base.pests[pest.pest].name.as_str());
    let weeds = of_plot.weeds.iter().map(|(weed, _)| model.base.weeds[*weed].name.as_str());
    let creepers = of_plot.creepers.iter().map(|(weed, _)| model.base.creepers[*weed].name.as_str());
    let there: Vec<&str> = pests.chain(weeds).chain(creepers).collect();
    for name in [row.figure.pest(), row.figure.weed()].into_iter().flatten() {
        there.contains(&name).then_some(()).ok_or_else(|| missing(name))?;
    }
    Ok((model, strategy, plot))
}

/// The row's figure of each draw; `NaN` where there is nothing to compare.
///
/// # Errors
/// As [`site`], and of the runs.
pub fn play(row: &Row, library: &Library, draws: usize) -> Result<Vec<f64>, AnyError> {
    let (model, strategy, plot) = site(row, library)?;
    let watch = |_: usize| Watch::new(row.figure, plot);
    let figures = over_draws(0..draws, |range| {
        let (trial, _) = Trial::new(draws_of(&model, SEED, None, range), &model, |_| ())?;
        let with = trial.run(Arm::strategy(&model.strategies, strategy), watch)?;
        let without = trial.run(Arm::no_birds(), watch)?;
        let pairs = with.iter().zip(&without);
        Ok(pairs.map(|(with, without)| row.figure.of(&with.recorder, &without.recorder)).collect())
    })?;
    Ok(figures)
}
