//! Turns and stays that cannot be what was meant.

use super::waiting::{FEW_DAYS, open_days};
use super::{Doubt, SiteView, Threshold, tidy};
use crate::site_file::dates::in_year;
use sim_engine::gates::spec::{StrategyKind, StrategySpec};

fn path(strategy: &StrategySpec, key: &str) -> String {
    format!("strategy.{}.{}.{key}", strategy.name, strategy.kind.word())
}

/// A turn through one plot.
pub(super) fn one_plot(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::FixedTurn { order, .. } = &strategy.kind else { return None };
        (order.len() == 1 && sight.site.plots.len() > 1).then(|| {
            let remedy = "Name the plots in turn, or say what it is: continuous = { plot = \"…\" }.";
            Doubt::new(path(strategy, "order"), "a turn through one plot", "the birds never leave it", remedy)
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// A plot twice in a turn.
pub(super) fn named_twice(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::FixedTurn { order, .. } = &strategy.kind else { return None };
        let again = (1..order.len()).find(|at| order[at - 1] == order[*at])?;
        let name = &sight.site.plots.get(order[again])?.name;
        let what = format!("{name} comes twice running in the turn");
        Some(Doubt::new(
            path(strategy, &format!("order.{again}")),
            &what,
            "that is one stay of double length",
            "Take one out.",
        ))
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Days in one plot after which a season is over.
const SEASON: Threshold = Threshold::new(120.0, "days", "from memory");

/// A stay longer than a season.
pub(super) fn long(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let (key, days) = strategy.kind.stay_days()?;
        (days > SEASON.value).then(|| {
            let what = format!("a stay of {} days", tidy(days));
            let because = format!("after {SEASON} in one plot the season is over");
            let remedy = format!("Did you mean \"{} days\"?", tidy((days / 7.0).round()));
            Doubt::new(path(strategy, key), &what, &because, remedy)
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Days in which every plot should have its turn.
const ROUND: Threshold = Threshold::new(366.0, "days", "definition of a year");

/// A turn that takes longer than a year.
pub(super) fn turn(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::FixedTurn { order, stay_days, .. } = &strategy.kind else { return None };
        let round = order.len() as f64 * stay_days;
        (round > ROUND.value && *stay_days <= SEASON.value).then(|| {
            let what = format!("one round of the turn takes {} days", tidy(round));
            let remedy = format!(
                "Did you mean stay = \"{} days\"? Or name fewer plots.",
                tidy((ROUND.value / order.len() as f64 / 2.0).floor())
            );
            Doubt::new(path(strategy, "stay"), &what, &format!("some plots are not entered in {ROUND}"), remedy)
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Days a grazed sward needs to come back at the least.
const REST: Threshold = Threshold::new(7.0, "days", "common practice asks for three to five weeks, no source");

/// A rest too short for anything to grow.
pub(super) fn rest(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let (key, days) = strategy.kind.rest_days()?;
        (days < REST.value).then(|| {
            let what = format!("a plot rests for {} days", tidy(days));
            let remedy = "Did you mean weeks? Write for example \"28 days\" of rest.";
            Doubt::new(path(strategy, key), &what, &format!("a grazed sward needs more than {REST}"), remedy)
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// A strategy built on a plot that crops and waiting keep shut nearly all year.
pub(super) fn shut(sight: &SiteView<'_>) -> Vec<Doubt> {
    let year = sight.site.start.year();
    let open = |plot: usize| {
        let plot = sight.site.plots.get(plot)?;
        // Without a crop or harvest nothing shuts it.
        let shuts = plot.grounds.iter().any(|ground| !ground.crops.is_empty()) || !plot.canopy_harvest.is_empty();
        let first = in_year(sim_engine::site::When::Yearly { month: 1, day: 1 }, year)?;
        (shuts && open_days(plot, &sight.site.rules, first.year()) < FEW_DAYS.value as usize).then_some(plot)
    };
    let doubt = |strategy: &StrategySpec| {
        let (key, plots) = strategy.kind.plots()?;
        let shut = plots.iter().copied().find_map(open)?;
        let what = format!("{} wants to open {}", strategy.name, shut.name);
        let because = format!("crops and waiting periods leave fewer than {FEW_DAYS} of a year for it");
        Some(Doubt::new(
            path(strategy, key),
            &what,
            &because,
            "Take it out of the strategy, or leave a gap between its crops.",
        ))
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}
