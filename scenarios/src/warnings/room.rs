//! Less room in yard and plots than the rule for the class of bird, or than the site's own limit.

use super::crowding::{asked, outdoors};
use super::site_view::Named;
use super::{SiteView, Warning, tidy, warning};
use sim_engine::measures::Measure;

/// Less outdoor area in all than the rule asks.
pub(super) fn tight(view: &SiteView<'_>) -> Option<Warning> {
    let (area, asked, birds) = (outdoors(view.site), asked(view.site), view.birds());
    (asked > area).then_some(())?;
    warning(
        view.site.groups.first().map_or(String::new(), |group| group.at("number")),
        format!("{} birds have {:.1} m2 each in yard and plots", tidy(birds), area / birds),
        format!("the organic rule asks for {:.1} m2", asked / birds),
        "Keep fewer birds or add a plot, or ask whether the rule binds you.",
    )
}

/// A limit on room that even all plots together cannot hold.
pub(super) fn limit(view: &SiteView<'_>) -> Option<Warning> {
    let (area, birds) = (outdoors(view.site), view.birds());
    let bound = view.limit(Measure::Space)?;
    (birds > 0.0 && area / birds < bound && asked(view.site) <= area).then_some(())?;
    warning(
        "limits.space",
        format!("a limit of {} m2 per bird", tidy(bound)),
        format!("yard and plots together give {:.1} m2 per bird, so that no strategy can hold it", area / birds),
        "Lower the limit, or keep fewer birds.",
    )
}
