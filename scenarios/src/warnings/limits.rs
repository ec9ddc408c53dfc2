//! Limits that no run can hold, or that cannot be proved.

use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::measures::Measure;
use sim_engine::site::Plot;

/// Ground that is below the limit on the first day.
pub(super) fn cover_start(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let bound = view.limit(Measure::LeastCover)?;
    (plot.has_sward() && plot.cover_start < bound).then_some(())?;
    let cover = tidy(plot.cover_start);
    warning(
        plot.at("cover.start"),
        format!("{} starts with a cover of {cover}", plot.name),
        format!("the limit least_cover = {} is broken on the first day", tidy(bound)),
        format!("Lower least_cover below {cover}, or begin when the ground has grown over."),
    )
}

/// Cover no sward keeps on every day of every year.
const ALWAYS: Threshold = Threshold::new(0.92, "", "from memory: winter and drought thin any sward");

/// A limit on cover that fails without birds.
pub(super) fn cover_high(view: &SiteView<'_>) -> Option<Warning> {
    let bound = ALWAYS.over(view.limit(Measure::LeastCover)?)?;
    warning(
        "limits.least_cover",
        format!("a least cover of {}", tidy(bound)),
        format!("no plot keeps more than {ALWAYS} through every winter and drought, birds or not"),
        "Did you mean least_cover = 0.7?",
    )
}

/// Chance that possible years can show at all.
const CERTAIN: Threshold = Threshold::new(0.99, "", "one bad year in 200 is 0.995");
/// Chance below which a limit binds nothing.
const LOOSE: Threshold = Threshold::new(0.5, "", "from memory");

/// A chance that cannot be shown, or binds nothing.
pub(super) fn required_reliability(view: &SiteView<'_>) -> Option<Warning> {
    let required = view.model.compare.required_reliability;
    let because = if required > CERTAIN.value {
        format!("no number of possible years shows more than {CERTAIN}")
    } else if required < LOOSE.value {
        format!("limits that hold in less than {LOOSE} of the years hold as often as not")
    } else {
        return None;
    };
    let what = format!("limits must hold with a chance of {}", tidy(required));
    warning("compare.sure", what, because, "Did you mean sure = 0.9?")
}
