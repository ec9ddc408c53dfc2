//! Hours, numbers and thresholds of strategies that contradict the day, the flock or the limits.

use super::{Doubt, SiteView, Threshold, tidy};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::measures::Measure;
use sim_engine::weather::radiation::day_length_h;

/// Days of the year of the two solstices.
const SOLSTICES: [i16; 2] = [172, 355];

/// More hours than the longest day has.
pub(super) fn hours(sight: &SiteView<'_>) -> Vec<Doubt> {
    let latitude = sight.site.place.latitude_deg;
    let longest = SOLSTICES.iter().map(|day| day_length_h(latitude, *day)).fold(0.0, f64::max);
    let doubt = |strategy: &StrategySpec| {
        let hours = strategy.hours.filter(|hours| *hours > longest)?;
        let what = format!("gates open for {} h a day", tidy(hours));
        let because = format!("the longest day here has {longest:.1} h, and hens go in at dusk");
        Some(Doubt::new(
            format!("strategy.{}.hours", strategy.name),
            &what,
            &because,
            "Leave hours away: then it is from dawn to dusk.",
        ))
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// More birds let through than there are.
pub(super) fn birds(sight: &SiteView<'_>) -> Vec<Doubt> {
    let flock = sight.birds();
    let doubt = |strategy: &StrategySpec| {
        let birds = strategy.birds.filter(|birds| *birds > flock)?;
        let what = format!("{} birds are let through", tidy(birds));
        let because = format!("there are only {}", tidy(flock));
        Some(Doubt::new(
            format!("strategy.{}.birds", strategy.name),
            &what,
            &because,
            "Leave birds away: then it is the whole flock.",
        ))
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Least difference of the cover to enter at and to leave at.
const GAP: Threshold = Threshold::new(0.03, "", "a keeper's eye is no finer; from memory");

/// Birds that leave as soon as they are in.
pub(super) fn narrow(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::ByEye { enter_above, leave_below, .. } = &strategy.kind else { return None };
        (enter_above - leave_below < GAP.value).then(|| {
            let what = format!("birds enter above {} and leave below {}", tidy(*enter_above), tidy(*leave_below));
            let remedy = format!("Did you mean leave_below = {}?", tidy((enter_above - 0.15).max(0.0)));
            Doubt::new(
                format!("strategy.{}.by_eye.leave_below", strategy.name),
                &what,
                &format!("the two lie less than {GAP} apart"),
                remedy,
            )
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Birds that only leave when the limit on cover is already broken.
pub(super) fn under_limit(sight: &SiteView<'_>) -> Vec<Doubt> {
    let limits = &sight.model.limits.all;
    let Some(least) = limits.iter().find(|limit| limit.measure == Measure::LeastCover) else { return Vec::new() };
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::ByEye { leave_below, .. } = &strategy.kind else { return None };
        (*leave_below < least.bound).then(|| {
            let what = format!("{} leaves below a cover of {}", strategy.name, tidy(*leave_below));
            let because = format!("the limit least_cover = {} is broken by then", tidy(least.bound));
            let remedy = format!("Did you mean leave_below = {}?", tidy((least.bound + 0.1).min(0.95)));
            Doubt::new(format!("strategy.{}.by_eye.leave_below", strategy.name), &what, &because, remedy)
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Day's highest temperature below which nobody seeks shade.
const COOL: Threshold = Threshold::new(20.0, "C", "from memory");
const LEAST_F: f64 = 32.0;

/// Shade sought on cool days.
pub(super) fn heat(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::Weather { shade_above_c: Some(above), .. } = strategy.kind else { return None };
        (above < COOL.value).then(|| {
            let what = format!("shade above {} C", tidy(above));
            let celsius = if above < LEAST_F { "28 C" } else { "82 F" };
            let because = format!("hens seek it on days well above {COOL}");
            Doubt::new(
                format!("strategy.{}.weather.shade_above", strategy.name),
                &what,
                &because,
                format!("Did you mean \"{celsius}\"?"),
            )
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}

/// Shade sought where no plot has any.
pub(super) fn no_shade(sight: &SiteView<'_>) -> Vec<Doubt> {
    let shady = sight.site.plots.iter().any(|plot| plot.canopy.is_some());
    let doubt = |strategy: &StrategySpec| {
        let StrategyKind::Weather { shade_above_c: Some(_), .. } = strategy.kind else { return None };
        (!shady).then(|| {
            let because = "no plot has trees, bushes or canes";
            let remedy = "Add canopy = \"…\" to the plot that has them, or take shade_above out.";
            Doubt::new(format!("strategy.{}.weather.shade_above", strategy.name), "shade is sought", because, remedy)
        })
    };
    sight.model.strategies.iter().filter_map(doubt).collect()
}
