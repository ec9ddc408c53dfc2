//! Turns and stays that cannot be what was meant.

use super::site_view::setting;
use super::waiting::{FEW_DAYS, open_days};
use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::site::Plot;

/// A turn through one plot.
pub(super) fn one_plot(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let StrategyKind::FixedTurn { order, .. } = &strategy.kind else { return None };
    (order.len() == 1 && view.site.plots.len() > 1).then_some(())?;
    warning(
        setting(strategy, "order"),
        "a turn through one plot",
        "the birds never leave it",
        "Name the plots in turn, or say what it is: continuous = { plot = \"…\" }.",
    )
}

/// A plot twice in a turn.
pub(super) fn named_twice(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let StrategyKind::FixedTurn { order, .. } = &strategy.kind else { return None };
    let again = (1..order.len()).find(|at| order[at - 1] == order[*at])?;
    let what = format!("{} comes twice running in the turn", view.site.plots.get(order[again])?.name);
    warning(
        setting(strategy, &format!("order.{again}")),
        what,
        "that is the same as one stay twice as long",
        "Take one out.",
    )
}

/// Days in one plot after which a season is over.
const SEASON: Threshold = Threshold::new(120.0, "days", "from memory");

/// A stay longer than a season.
pub(super) fn long(_: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let (key, days) = strategy.kind.stay_days()?;
    let days = SEASON.over(days)?;
    warning(
        setting(strategy, key),
        format!("a stay of {} days", tidy(days)),
        format!("after {SEASON} in one plot the season is over"),
        format!("Did you mean \"{} days\"?", tidy((days / 7.0).round())),
    )
}

/// Days in which every plot should have its turn.
const ROUND: Threshold = Threshold::new(366.0, "days", "definition of a year");

/// A turn that takes longer than a year.
pub(super) fn turn(_: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let StrategyKind::FixedTurn { order, stay_days, .. } = &strategy.kind else { return None };
    let round = ROUND.over(order.len() as f64 * stay_days).filter(|_| *stay_days <= SEASON.value)?;
    let stay = tidy((ROUND.value / order.len() as f64 / 2.0).floor());
    warning(
        setting(strategy, "stay"),
        format!("one round of the turn takes {} days", tidy(round)),
        format!("birds never go to some plots in {ROUND}"),
        format!("Did you mean stay = \"{stay} days\"? Or name fewer plots."),
    )
}

/// Days a grazed sward needs to come back at the least.
const REST: Threshold = Threshold::new(7.0, "days", "common practice asks for three to five weeks, no source");

/// A rest too short for anything to grow.
pub(super) fn rest(_: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let (key, days) = strategy.kind.rest_days()?;
    let what = format!("a plot rests for {} days", tidy(REST.under(days)?));
    let remedy = "Did you mean weeks? Write for example \"28 days\" of rest.";
    warning(setting(strategy, key), what, format!("a grazed sward needs more than {REST}"), remedy)
}

/// A strategy built on a plot that crops and waiting keep shut nearly all year.
pub(super) fn shut(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let (key, plots) = strategy.kind.plots()?;
    // Without a crop or harvest nothing shuts it.
    let shuts = |plot: &Plot| {
        plot.grounds.iter().any(|ground| !ground.crops.is_empty())
            || plot.canopies.iter().any(|canopy| !canopy.harvest.is_empty())
    };
    let shut = |plot: &&Plot| {
        shuts(plot) && open_days(plot, &view.site.rules, view.site.start.year()) < FEW_DAYS.value as usize
    };
    let shut = plots.iter().filter_map(|plot| view.site.plots.get(*plot)).find(shut)?;
    warning(
        setting(strategy, key),
        format!("{} wants to open {}", strategy.name, shut.name),
        format!("crops and waiting periods leave fewer than {FEW_DAYS} of a year for it"),
        "Take it out of the strategy, or leave a gap between its crops.",
    )
}
