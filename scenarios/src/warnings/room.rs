//! Less room in yard and plots than the rule for the class of bird, or than the site's own limit.

use super::site_view::Named;
use super::{SiteView, Warning, tidy, warning};
use sim_engine::measures::Measure;

/// Outdoor area the rule asks for all birds, m2 (each class's `space_rule` in the library).
fn asked(view: &SiteView<'_>) -> f64 {
    let site = view.site;
    let each = |class: usize| site.birds.get(class).map_or(0.0, |class| class.params.space_rule);
    site.groups.iter().map(|group| group.number * each(group.class)).sum()
}

/// Outdoor area, m2: all plots and a yard without a roof, as the measure counts it.
fn outdoors(view: &SiteView<'_>) -> f64 {
    view.plots_m2() + view.site.yard.outdoor_area_m2()
}

/// Less outdoor area in all than the rule asks.
pub(super) fn tight(view: &SiteView<'_>) -> Option<Warning> {
    let (area, asked, birds) = (outdoors(view), asked(view), view.birds());
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
    let (area, birds) = (outdoors(view), view.birds());
    let bound = view.limit(Measure::Space)?;
    (birds > 0.0 && area / birds < bound && asked(view) <= area).then_some(())?;
    warning(
        "limits.space",
        format!("a limit of {} m2 per bird", tidy(bound)),
        format!("yard and plots together give {:.1} m2 per bird, so that no strategy can hold it", area / birds),
        "Lower the limit, or keep fewer birds.",
    )
}
