//! Windows of degree-days around a pest's emergence.

use super::typical::after_solstice;
use super::{Doubt, SiteView, Threshold, tidy};
use sim_engine::gates::spec::StrategySpec;
use sim_engine::species::Pest;

fn window<'a>(sight: &'a SiteView<'_>, strategy: &StrategySpec) -> Option<(&'a Pest, f64, f64)> {
    let window = strategy.kind.pest_window()?;
    Some((sight.site.pests.get(window.pest)?, window.from_dd, window.to_dd))
}

/// Spreads of emergence a window may lie after half of it.
const AFTER: Threshold = Threshold::new(3.0, "spreads after half emergence", "99.9 % of a normal spread have flown");

/// Degree-days counted from the new year instead of from half emergence.
pub(super) fn counted(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let (pest, from, to) = window(sight, strategy)?;
        (from > AFTER.value * pest.params.emergence_spread).then(|| {
            let (near, far) = (from - pest.params.emergence, to - pest.params.emergence);
            Doubt::new(
                format!("strategy.{}.pest_date.from", strategy.name),
                &format!("from {} to {} degree-days", tidy(from), tidy(to)),
                &format!("they count from half emergence, before it negative, and this is over {AFTER}"),
                format!(
                    "Did you mean \"{} degree-days\" to \"{} degree-days\"?",
                    tidy(near.round()),
                    tidy(far.round())
                ),
            )
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// A window no season of this climate reaches.
pub(super) fn never(sight: &SiteView<'_>) -> Vec<Doubt> {
    let latitude = sight.site.place.latitude_deg;
    let doubt = |strategy: &StrategySpec| {
        let (pest, from, _) = window(sight, strategy)?;
        let n = &pest.params;
        let season = (after_solstice(n.counting_from, latitude), after_solstice(n.season_end, latitude));
        let has = sight.typical.degree_days(season.0, season.1, n.base_temperature);
        (n.emergence + from > has).then(|| {
            Doubt::new(
                format!("strategy.{}.pest_date.from", strategy.name),
                &format!("a window that opens {} degree-days after the count begins", tidy(n.emergence + from)),
                &format!("a whole season of {} has {} in this climate", pest.name, tidy(has)),
                "Did you mean \"-60 degree-days\"? Zero is when half of them have left the soil.",
            )
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}
