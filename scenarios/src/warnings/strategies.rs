//! Hours, numbers and thresholds of strategies that contradict the day, the flock or the limits.

use super::site_view::{Named, setting};
use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::measures::Measure;
use sim_engine::weather::radiation::day_length_h;

/// Days of the year of the two solstices.
const SOLSTICES: [i16; 2] = [172, 355];

/// Hours that are the whole day, or lie in the dark.
pub(super) fn hours(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let hours = strategy.hours?;
    let latitude = view.site.place.latitude_deg;
    let [one, other] = SOLSTICES.map(|day| day_length_h(latitude, day));
    let (shortest, longest) = (one.min(other), one.max(other));
    if hours.within(longest) == Some((0.0, longest)) {
        return warning(
            strategy.at("hours"),
            format!("gates open {hours}"),
            format!("the longest day here has {longest:.1} h, and hens go in at dusk"),
            "Leave hours away: then it is from dawn to dusk.",
        );
    }
    (shortest > 0.0 && hours.within(shortest).is_none()).then_some(())?;
    warning(
        strategy.at("hours"),
        format!("gates open {hours}"),
        format!("on the shortest day here the sun is up for {shortest:.1} h about noon, and this lies in the dark"),
        "Write \"last 2 hours\": that goes with the sun; or leave it, and no gate opens on such days.",
    )
}

/// More birds let through than there are.
pub(super) fn birds(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let birds = strategy.birds.filter(|birds| *birds > view.birds())?;
    warning(
        strategy.at("birds"),
        format!("{} birds are let through", tidy(birds)),
        format!("there are only {}", tidy(view.birds())),
        "Leave birds away: then it is the whole flock.",
    )
}

/// Least difference of the cover to enter at and to leave at.
const GAP: Threshold = Threshold::new(0.03, "", "a keeper's eye is no finer; from memory");

/// Birds that leave as soon as they are in.
pub(super) fn narrow(_: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let StrategyKind::ByEye { enter_above, leave_below, .. } = strategy.kind else { return None };
    GAP.under(enter_above - leave_below)?;
    warning(
        setting(strategy, "leave_below"),
        format!("birds enter above {} and leave below {}", tidy(enter_above), tidy(leave_below)),
        format!("the two lie less than {GAP} apart"),
        format!("Did you mean leave_below = {}?", tidy((enter_above - 0.15).max(0.0))),
    )
}

/// Birds that only leave when the limit on cover is already broken.
pub(super) fn under_limit(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let least = view.limit(Measure::LeastCover)?;
    let StrategyKind::ByEye { leave_below, .. } = strategy.kind else { return None };
    (leave_below < least).then_some(())?;
    warning(
        setting(strategy, "leave_below"),
        format!("{} leaves below a cover of {}", strategy.name, tidy(leave_below)),
        format!("the limit least_cover = {} is broken by then", tidy(least)),
        format!("Did you mean leave_below = {}?", tidy((least + 0.1).min(0.95))),
    )
}

/// Day's highest temperature below which nobody seeks shade.
const COOL: Threshold = Threshold::new(20.0, "C", "from memory");
const LEAST_F: f64 = 32.0;

/// Shade sought on cool days.
pub(super) fn heat(_: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let StrategyKind::Weather { shade_above_c: Some(above), .. } = strategy.kind else { return None };
    let meant = if COOL.under(above)? < LEAST_F { "28 C" } else { "82 F" };
    warning(
        setting(strategy, "shade_above"),
        format!("shade above {} C", tidy(above)),
        format!("hens seek it on days well above {COOL}"),
        format!("Did you mean \"{meant}\"?"),
    )
}

/// Shade sought where no plot has any.
pub(super) fn no_shade(view: &SiteView<'_>, strategy: &StrategySpec) -> Option<Warning> {
    let StrategyKind::Weather { shade_above_c: Some(_), .. } = strategy.kind else { return None };
    view.site.plots.iter().all(|plot| plot.canopies.is_empty()).then_some(())?;
    let remedy = "Add canopy = \"…\" to the plot that has them, or take shade_above out.";
    warning(setting(strategy, "shade_above"), "shade is sought", "no plot has trees, bushes or canes", remedy)
}
