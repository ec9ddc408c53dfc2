//! Hand work on the wrong ground, too often, or by the wrong measure.

use super::{Doubt, SiteView, Threshold, tidy};
use crate::site_file::dates::shown;
use sim_engine::site::{Care, Plot, Task};

fn all<'a>(sight: &'a SiteView<'_>) -> impl Iterator<Item = (&'a Plot, String, &'a Care)> {
    sight.site.plots.iter().flat_map(|plot| {
        plot.care.iter().enumerate().map(move |(at, care)| (plot, format!("plot.{}.care.{at}", plot.name), care))
    })
}

/// Mowing where all is beds.
pub(super) fn mow(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, path, care): (&Plot, String, &Care)| {
        let sward = plot.grounds.iter().any(|ground| !ground.bed);
        (matches!(care.task, Task::Mow { .. }) && !sward).then(|| {
            let because = "the whole plot is beds, and there is no sward to mow";
            Doubt::new(
                format!("{path}.task"),
                &format!("mowing in {}", plot.name),
                because,
                "Did you mean task = \"hoe\"?",
            )
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Hoeing where there are no beds.
pub(super) fn hoe(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, path, care): (&Plot, String, &Care)| {
        (matches!(care.task, Task::Hoe { .. }) && SiteView::beds(plot) == 0.0).then(|| {
            let because = "it has no beds, and hoeing tears up the cover";
            Doubt::new(
                format!("{path}.task"),
                &format!("hoeing in {}", plot.name),
                because,
                "Did you mean task = \"mow\"? Or add beds = 0.6.",
            )
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Days between two goes of hand work below which a unit was missed.
const OFTEN: Threshold = Threshold::new(4.0, "days", "common practice, no source");

/// Work every other day.
pub(super) fn often(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, path, care): (&Plot, String, &Care)| {
        (f64::from(care.every_days) < OFTEN.value).then(|| {
            let what = format!("hand work in {} every {} days", plot.name, care.every_days);
            let remedy = format!("Did you mean every = \"{} weeks\"?", care.every_days);
            Doubt::new(format!("{path}.every"), &what, &format!("nobody comes more often than every {OFTEN}"), remedy)
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Hours one go in one plot may take.
const LONG_GO: Threshold = Threshold::new(16.0, "h", "two long days; from memory");

/// Effort of the whole plot written for one m2.
pub(super) fn effort(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, path, care): (&Plot, String, &Care)| {
        let hours = care.effort_h_m2 * plot.area_m2;
        (hours > LONG_GO.value).then(|| {
            let what = format!("one go in {} takes {} h", plot.name, tidy(hours));
            let one = (care.effort_h_m2 / plot.area_m2 * 1e4).round() / 1e4;
            let remedy = format!("Did you mean effort = \"{one} h per m2\"? It is for one m2, not for the plot.");
            Doubt::new(format!("{path}.effort"), &what, &format!("that is more than {LONG_GO}"), remedy)
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Dry mass of a mulch 15 cm deep: 800 g/m2 of straw is about 5 cm.
const DEEP_MULCH: Threshold = Threshold::new(2_400.0, "g/m2", "about 15 cm of straw; from memory");

/// A mulch that buries the ground.
pub(super) fn mulch(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(_, path, care): (&Plot, String, &Care)| {
        let Task::Mulch { mass_g_m2 } = care.task else { return None };
        (mass_g_m2 > DEEP_MULCH.value).then(|| {
            let what = format!("{} g/m2 of mulch at once", tidy(mass_g_m2));
            let remedy =
                format!("Did you mean \"{} g/m2\"? 800 g/m2 of dry straw is about 5 cm.", tidy(mass_g_m2 / 10.0));
            Doubt::new(format!("{path}.mass"), &what, &format!("it is more than {DEEP_MULCH}"), remedy)
        })
    };
    all(sight).filter_map(doubt).collect()
}

/// Nitrogen a year from manure: the rule for the area of a whole farm.
const NITROGEN: Threshold = Threshold::new(170.0, "kg/ha per year", "Directive 91/676/EEC, of the whole farm's area");

/// Compost beyond the rule for manure nitrogen.
pub(super) fn nitrogen(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |(plot, path, care): (&Plot, String, &Care)| {
        let Task::Compost { nitrogen_kg_ha, .. } = care.task else { return None };
        let (from, to) = super::typical::dates((care.from, care.to))?;
        let season = from.until(to).ok()?.get_days() + 1;
        let times = f64::from(season.div_euclid(care.every_days.max(1) as i32) + 1);
        let year = nitrogen_kg_ha * times;
        (year > NITROGEN.value).then(|| {
            let what = format!("{} kg/ha per year of nitrogen with the compost of {}", tidy(year), plot.name);
            let because = format!(
                "{} times from {} to {} is more than {NITROGEN}",
                tidy(times),
                shown(care.from),
                shown(care.to)
            );
            Doubt::new(path, &what, &because, "Give it once a year, in spring, or less of it; the birds bring theirs.")
        })
    };
    all(sight).filter_map(doubt).collect()
}
