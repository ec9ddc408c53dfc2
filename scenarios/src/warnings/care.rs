//! Manual care on the wrong ground, too often, or by the wrong measure.

use super::{Part, SiteView, Threshold, Warning, tidy, warning};
use crate::site_file::dates::shown;
use crate::yearly_load::times_a_year;
use sim_engine::dates::spans;
use sim_engine::site::{Care, Task};
use std::mem::discriminant;

/// Mowing where all is beds.
pub(super) fn mow(care: &Part<'_, Care>) -> Option<Warning> {
    (matches!(care.it.task, Task::Mow { .. }) && !care.plot.has_sward()).then_some(())?;
    warning(
        format!("{}.task", care.path),
        format!("mowing in {}", care.plot.name),
        "the whole plot is beds, and there is no sward to mow",
        "Did you mean task = \"weed\"?",
    )
}

/// The same work twice at the same time of the year.
pub(super) fn twice(view: &SiteView<'_>) -> Vec<Warning> {
    let times = |care: &Care| spans((care.from, care.to), view.site.start, view.end());
    let at_once = |one: &Care, other: &Care| {
        let others = times(other);
        times(one).iter().any(|time| others.iter().any(|other| time.0 <= other.1 && other.0 <= time.1))
    };
    let again = |here: &Part<'_, Care>| {
        // The usual work of the beds is no line of the file.
        let same = |other: &&Care| {
            (other.ground, here.it.ground) == (None, None)
                && discriminant(&other.task) == discriminant(&here.it.task)
                && at_once(other, here.it)
        };
        here.plot.care[..here.at].iter().find(same)?;
        let what = format!("the same work stands twice in {}", here.plot.name);
        let remedy = "Take one out, or give each a season of its own.";
        warning(format!("{}.task", here.path), what, "both are done in the same season", remedy)
    };
    view.parts("care", |plot| &plot.care).iter().filter_map(again).collect()
}

/// Days between two goes of manual care below which a unit was missed.
const OFTEN: Threshold = Threshold::new(4.0, "days", "common practice, no source");

/// Work every other day.
pub(super) fn often(care: &Part<'_, Care>) -> Option<Warning> {
    let days = OFTEN.under(f64::from(care.it.every_days))?;
    warning(
        format!("{}.every", care.path),
        format!("hand work in {} every {days} days", care.plot.name),
        format!("nobody comes more often than every {OFTEN}"),
        format!("Did you mean every = \"{days} weeks\"?"),
    )
}

/// Hours one go in one plot may take.
const LONG_GO: Threshold = Threshold::new(16.0, "h", "two long days; from memory");

/// Effort of the whole plot written for one m2.
pub(super) fn effort(care: &Part<'_, Care>) -> Option<Warning> {
    let effort_h_m2 = match care.it.task {
        Task::Mow { effort_h_m2, .. } => effort_h_m2?,
        Task::Mulch { effort_h_m2, .. } | Task::Compost { effort_h_m2, .. } => effort_h_m2,
        Task::Weed { .. } | Task::Clear => return None,
    };
    let hours = LONG_GO.over(effort_h_m2 * care.plot.area_m2)?;
    let one = (effort_h_m2 / care.plot.area_m2 * 1e4).round() / 1e4;
    warning(
        format!("{}.effort", care.path),
        format!("one go in {} takes {} h", care.plot.name, tidy(hours)),
        format!("that is more than {LONG_GO}"),
        format!("Did you mean effort = \"{one} h per m2\"? It is for one m2, not for the plot."),
    )
}

/// Dry mass of a mulch 15 cm deep: 800 g/m2 of straw is about 5 cm.
const DEEP_MULCH: Threshold = Threshold::new(2_400.0, "g/m2", "about 15 cm of straw; from memory");

/// A mulch that buries the ground.
pub(super) fn mulch(care: &Part<'_, Care>) -> Option<Warning> {
    let Task::Mulch { mass_g_m2, .. } = care.it.task else { return None };
    let mass = DEEP_MULCH.over(mass_g_m2)?;
    warning(
        format!("{}.mass", care.path),
        format!("{} g/m2 of mulch at once", tidy(mass)),
        format!("it is more than {DEEP_MULCH}"),
        format!("Did you mean \"{} g/m2\"? 800 g/m2 of dry straw is about 5 cm.", tidy(mass / 10.0)),
    )
}

/// Nitrogen a year from manure: the rule for the area of a whole farm.
const NITROGEN: Threshold = Threshold::new(170.0, "kg/ha per year", "Directive 91/676/EEC, of the whole farm's area");

/// Compost beyond the rule for manure nitrogen.
pub(super) fn nitrogen(care: &Part<'_, Care>) -> Option<Warning> {
    let Task::Compost { nitrogen_kg_ha, .. } = care.it.task else { return None };
    let times = times_a_year(care.it)?;
    let year = NITROGEN.over(nitrogen_kg_ha * times)?;
    let season = format!("{} times from {} to {}", tidy(times), shown(care.it.from), shown(care.it.to));
    warning(
        &care.path,
        format!("{} kg/ha per year of nitrogen with the compost of {}", tidy(year), care.plot.name),
        format!("{season} is more than {NITROGEN}"),
        "Give it once a year, in spring, or less of it; the birds bring theirs.",
    )
}
