//! Limits that no run can hold, or that cannot be proved.

use super::{Doubt, SiteView, Threshold, tidy};
use sim_engine::measures::Measure;
use sim_engine::site::Plot;

fn least_cover(sight: &SiteView<'_>) -> Option<f64> {
    let limits = &sight.model.limits.all;
    limits.iter().find(|limit| limit.measure == Measure::LeastCover).map(|limit| limit.bound)
}

/// Ground that is below the limit on the first day.
pub(super) fn cover_start(sight: &SiteView<'_>) -> Vec<Doubt> {
    let Some(bound) = least_cover(sight) else { return Vec::new() };
    // A plot that is all beds has no cover to lose.
    let sward = |plot: &&Plot| plot.grounds.iter().any(|ground| !ground.bed);
    let doubt = |plot: &Plot| {
        let what = format!("{} starts with a cover of {}", plot.name, tidy(plot.cover_start));
        let because = format!("the limit least_cover = {} is broken on the first day", tidy(bound));
        let remedy =
            format!("Lower least_cover below {}, or begin when the ground has grown over.", tidy(plot.cover_start));
        Doubt::new(format!("plot.{}.cover.start", plot.name), &what, &because, remedy)
    };
    sight.site.plots.iter().filter(sward).filter(|plot| plot.cover_start < bound).map(doubt).collect()
}

/// Cover no sward keeps on every day of every year.
const ALWAYS: Threshold = Threshold::new(0.92, "", "from memory: winter and drought thin any sward");

/// A limit on cover that fails without birds.
pub(super) fn cover_high(sight: &SiteView<'_>) -> Vec<Doubt> {
    let Some(bound) = least_cover(sight).filter(|bound| *bound > ALWAYS.value) else { return Vec::new() };
    let because = format!("no plot keeps more than {ALWAYS} through every winter and drought, birds or not");
    vec![Doubt::new(
        "limits.least_cover",
        &format!("a least cover of {}", tidy(bound)),
        &because,
        "Did you mean least_cover = 0.7?",
    )]
}

/// Chance that possible years can show at all.
const CERTAIN: Threshold = Threshold::new(0.99, "", "one bad year in 200 is 0.995");
/// Chance below which a limit binds nothing.
const LOOSE: Threshold = Threshold::new(0.5, "", "from memory");

/// A chance that cannot be shown, or binds nothing.
pub(super) fn sure(sight: &SiteView<'_>) -> Vec<Doubt> {
    let sure = sight.model.compare.sure;
    let because = if sure > CERTAIN.value {
        format!("no number of possible years shows more than {CERTAIN}")
    } else if sure < LOOSE.value {
        format!("limits that hold in less than {LOOSE} of the years hold as often as not")
    } else {
        return Vec::new();
    };
    vec![Doubt::new(
        "compare.sure",
        &format!("limits must hold with a chance of {}", tidy(sure)),
        &because,
        "Did you mean sure = 0.9?",
    )]
}
