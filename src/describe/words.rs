//! Words that the screen and the whole description share.

use scenarios::SiteModel;
use sim_engine::site::Group;

/// ", kept apart in berries for 30 days"; nothing of birds that are not.
pub(super) fn kept_apart(model: &SiteModel, group: &Group) -> String {
    let Some(isolation) = group.isolate else { return String::new() };
    let plot = isolation.quarters.plot().and_then(|plot| model.base.plots.get(plot));
    let place = plot.map_or("a coop or pen of their own", |plot| plot.name.as_str());
    format!(", kept apart in {place} for {} days", isolation.days)
}

/// What rain makes of the yard.
pub(super) const fn surface(drained: bool) -> &'static str {
    if drained { "on a surface that drains" } else { "on a surface that turns to mud" }
}
