//! Crops whose dates do not fit the climate or each other.

use super::sight::StandingCropPlan;
use super::typical::dates;
use super::{Doubt, SiteView, Threshold, tidy};
use crate::site_file::dates::shown;
use jiff::ToSpan;
use sim_engine::species::CropParams;

/// Share of the least thermal time (`days_to_ripe`) a crop must have had at its last harvest.
const RIPE: Threshold = Threshold::new(0.5, "of that", "half: leaves are cut young; from memory");
/// Share of the likely thermal time from which a first harvest is very late.
const OVERRIPE: Threshold =
    Threshold::new(3.0, "times that", "from memory; winter roots and leaves wait in the ground");
/// Share of a days-to-ripe range's likely value that is its least, where only the likely is at hand; from memory.
const LEAST_OF_LIKELY: f64 = 0.75;

fn params<'a>(sight: &'a SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<&'a CropParams> {
    sight.site.crops.get(crop.plan.crop).map(|crop| &crop.params)
}

/// Crops cut before they can be ripe in this climate.
pub(super) fn too_short(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |crop: StandingCropPlan<'_>| {
        let n = params(sight, &crop)?;
        let (from, _) = dates((crop.plan.from, crop.plan.to))?;
        let last = crop.plan.harvest.as_ref().and_then(|harvest| dates((crop.plan.from, harvest.to)))?.1;
        let least = LEAST_OF_LIKELY * n.days_to_ripe;
        let has = sight.typical.degree_days(from, last, n.base_temperature);
        if has >= RIPE.value * least {
            return None;
        }
        let ripe = sight.typical.reaches(from, n.base_temperature, n.days_to_ripe);
        let remedy = ripe.map_or_else(
            || "Plant it earlier, or choose another crop for this climate.".to_owned(),
            |day| {
                format!(
                    "Planted on {} it would be ripe about {:02}-{:02} here.",
                    shown(crop.plan.from),
                    day.month(),
                    day.day()
                )
            },
        );
        Some(Doubt::new(
            format!("{}.harvest", crop.path),
            &format!("{} is harvested until {}", crop.name, crop.plan.harvest.map_or(String::new(), |h| shown(h.to))),
            &format!(
                "it has {} degree-days by then in this climate, and ripens on {} or more: less than {RIPE}",
                tidy(has),
                tidy(least)
            ),
            remedy,
        ))
    };
    sight.crops().into_iter().filter_map(doubt).collect()
}

/// Crops that are ripe long before their first harvest.
pub(super) fn too_long(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |crop: StandingCropPlan<'_>| {
        let n = params(sight, &crop)?;
        let first = crop.plan.harvest.as_ref().and_then(|harvest| dates((crop.plan.from, harvest.from)))?;
        let has = sight.typical.degree_days(first.0, first.1, n.base_temperature);
        if has <= OVERRIPE.value * n.days_to_ripe {
            return None;
        }
        let ripe = sight.typical.reaches(first.0, n.base_temperature, n.days_to_ripe)?;
        Some(Doubt::new(
            format!("{}.harvest", crop.path),
            &format!(
                "the first harvest of {} is on {}",
                crop.name,
                crop.plan.harvest.map_or(String::new(), |h| shown(h.from))
            ),
            &format!(
                "it is ripe about {:02}-{:02} here, and by then has had over {OVERRIPE}",
                ripe.month(),
                ripe.day()
            ),
            "Shorten its time in the ground: until the harvest is over the gate stays shut.",
        ))
    };
    sight.crops().into_iter().filter_map(doubt).collect()
}

/// Base temperature from which a crop is tender.
const TENDER: Threshold = Threshold::new(8.0, "C", "the library's base temperatures; the line is from memory");
/// Mean of the month's lowest temperatures at which frost kills what is tender.
const FROSTY: Threshold = Threshold::new(4.0, "C", "common practice, no source");

/// Tender crops put out while nights freeze.
pub(super) fn frost(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |crop: StandingCropPlan<'_>| {
        let n = params(sight, &crop)?;
        let (from, _) = dates((crop.plan.from, crop.plan.to))?;
        let night = sight.typical.lowest_c(from);
        (n.base_temperature >= TENDER.value && night < FROSTY.value).then(|| {
            let mild = (1..=12)
                .map(|month| from.saturating_add((15 * month).days()))
                .find(|day| sight.typical.lowest_c(*day) >= 2.0 * FROSTY.value);
            let remedy = mild.map_or("Is it under glass? The model knows open beds only.".to_owned(), |day| {
                format!(
                    "Did you mean \"{:02}-{:02}\"? Before that it is under glass, and the model knows open beds only.",
                    day.month(),
                    day.day()
                )
            });
            Doubt::new(
                format!("{}.in_ground", crop.path),
                &format!("{} goes out on {}", crop.name, shown(crop.plan.from)),
                &format!("nights are then about {} C here, below {FROSTY}, and it is tender", tidy(night)),
                remedy,
            )
        })
    };
    sight.crops().into_iter().filter_map(doubt).collect()
}

/// Days from planting to a first harvest.
const FIRST_CUT: Threshold = Threshold::new(18.0, "days", "radishes take about 25; from memory");

/// A harvest that begins as soon as the crop is in.
pub(super) fn at_once(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |crop: StandingCropPlan<'_>| {
        let harvest = crop.plan.harvest?;
        let (from, first) = dates((crop.plan.from, harvest.from))?;
        let days = from.until(first).ok()?.get_days();
        // A stand that comes back every year is as old as one likes.
        let whole_year =
            dates((crop.plan.from, crop.plan.to)).is_some_and(|(from, to)| from.saturating_add(330.days()) < to);
        (f64::from(days) < FIRST_CUT.value && !whole_year).then(|| {
            Doubt::new(
                format!("{}.harvest", crop.path),
                &format!("{} is harvested {days} days after it is planted", crop.name),
                &format!("nothing is ready within {FIRST_CUT}"),
                "Write the first and last day you pick, within in_ground.",
            )
        })
    };
    sight.crops().into_iter().filter_map(doubt).collect()
}

/// Food crops without a harvest, and so without a waiting period.
pub(super) fn no_harvest(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |crop: StandingCropPlan<'_>| {
        let eaten = params(sight, &crop).is_some_and(|n| n.harvest_share > 0.0);
        (eaten && crop.plan.harvest.is_none()).then(|| {
            Doubt::new(
                format!("{}.crop", crop.path),
                &format!("{} has no harvest", crop.name),
                "then no waiting period keeps birds off before it is eaten",
                format!(
                    "Add the first and last day you pick, for example: harvest = [\"{}\", \"{}\"]",
                    shown(crop.plan.to),
                    shown(crop.plan.to)
                ),
            )
        })
    };
    sight.crops().into_iter().filter_map(doubt).collect()
}

/// Crops said to hang clear of the soil that the library says do not.
pub(super) fn touches_soil(sight: &SiteView<'_>) -> Vec<Doubt> {
    let rules = &sight.site.rules;
    let doubt = |crop: StandingCropPlan<'_>| {
        let touches = sight.site.crops.get(crop.plan.crop)?.touches_soil;
        (touches && crop.plan.harvest.is_some_and(|harvest| !harvest.touches_soil)).then(|| {
            Doubt::new(
                format!("{}.touches_soil", crop.path),
                &format!("{} is said not to touch the soil", crop.name),
                &format!(
                    "the library says it does: {} days of waiting instead of {}",
                    rules.waiting_days_touching, rules.waiting_days_other
                ),
                "Take the line out, unless it is lifted off the soil and kept from splashes.",
            )
        })
    };
    sight.crops().into_iter().filter_map(doubt).collect()
}
