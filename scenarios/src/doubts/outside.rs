//! Events on days the run does not have, and pests watched where there are none.

use super::Doubt;
use crate::model::SiteModel;
use jiff::ToSpan;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::site::When;

/// Events that never come.
pub(super) fn events(model: &SiteModel) -> Vec<Doubt> {
    let site = &model.base;
    let end = site.start.saturating_add((site.days as i64).days());
    let outside = |on: When, until: Option<When>| match (on, until.unwrap_or(on)) {
        (When::On(on), When::On(until)) => until < site.start || on >= end,
        _ => false,
    };
    let doubt = |(position, event): (usize, &sim_engine::site::SiteEvent)| {
        outside(event.on, event.until).then(|| Doubt {
            about: format!("event.{position}"),
            message: format!("this event is not within the run, {} to {end}", site.start),
            remedy: "Change its date, or take it out.".into(),
        })
    };
    site.events.iter().enumerate().filter_map(doubt).collect()
}

/// Pest dates in plots that do not have the pest.
pub(super) fn pests(model: &SiteModel) -> Vec<Doubt> {
    let site = &model.base;
    let mut doubts = Vec::new();
    for strategy in &model.strategies {
        let StrategyKind::PestDate { plot, pest, .. } = strategy.kind else { continue };
        let (Some(place), Some(species)) = (site.plots.get(plot), site.pests.get(pest)) else { continue };
        if place.pests.iter().all(|there| there.pest != pest) {
            doubts.push(Doubt {
                about: format!("watch.{plot}.{pest}"),
                message: format!(
                    "{} watches {} in {}, which does not have it",
                    strategy.name, species.name, place.name
                ),
                remedy: format!("Add it under [[plot.{}.pest]], or watch another plot.", place.name),
            });
        }
    }
    doubts
}
