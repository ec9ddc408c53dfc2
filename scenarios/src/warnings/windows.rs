//! Windows of degree-days around a pest's emergence.

use super::pests::season_degree_days;
use super::site_view::setting;
use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::gates::spec::StrategySpec;

/// Spreads of emergence a window may lie after half of it.
const AFTER: Threshold = Threshold::new(3.0, "spreads after half emergence", "99.9 % of a normal spread have flown");

/// Degree-days counted from the new year instead of from half emergence.
pub(super) fn counted(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let window = strategy.kind.pest_window()?;
    let (from, to) = (window.from_dd, window.to_dd);
    let params = &view.site.pests.get(window.pest)?.params;
    (from > AFTER.value * params.emergence_spread).then_some(())?;
    let (near, far) = (tidy((from - params.emergence).round()), tidy((to - params.emergence).round()));
    warning(
        setting(strategy, "from"),
        format!("from {} to {} degree-days", tidy(from), tidy(to)),
        format!("they count from half emergence, before it negative, and this is over {AFTER}"),
        format!("Did you mean \"{near} degree-days\" to \"{far} degree-days\"?"),
    )
}

/// A window no season of this climate reaches.
pub(super) fn never(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let window = strategy.kind.pest_window()?;
    let pest = view.site.pests.get(window.pest)?;
    let (opens, has) = (pest.params.emergence + window.from_dd, season_degree_days(view, pest));
    (opens > has).then_some(())?;
    warning(
        setting(strategy, "from"),
        format!("a window that opens {} degree-days after the count begins", tidy(opens)),
        format!("a whole season of {} has {} in this climate", pest.name, tidy(has)),
        "Did you mean \"-60 degree-days\"? Zero is when half of them have left the soil.",
    )
}
