//! Crops whose dates do not fit the climate or each other.

use super::site_view::StandingCropPlan;
use super::typical::dates;
use super::{SiteView, Threshold, Warning, tidy, warning};
use crate::site_file::dates::{shown, shown_day};
use jiff::ToSpan;
use sim_engine::dates::days_between;
use sim_engine::species::CropParams;

/// Share of the least thermal time (`days_to_ripe`) a crop must have had at its last harvest.
const RIPE: Threshold = Threshold::new(0.5, "of that", "half: leaves are cut young; from memory");
/// Share of the likely thermal time from which a first harvest is very late.
const OVERRIPE: Threshold =
    Threshold::new(3.0, "times that", "from memory; winter roots and leaves wait in the ground");
/// Share of a days-to-ripe range's likely value that is its least, where only the likely is at hand; from memory.
const LEAST_OF_LIKELY: f64 = 0.75;

fn params<'a>(view: &SiteView<'a>, crop: &StandingCropPlan<'_>) -> Option<&'a CropParams> {
    view.site.crops.get(crop.plan.crop).map(|crop| &crop.params)
}

/// Crops cut before they can be ripe in this climate.
pub(super) fn too_short(view: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    let (params, harvest) = (params(view, crop)?, crop.plan.harvest?);
    let (from, _) = dates((crop.plan.from, crop.plan.to))?;
    let (_, last) = dates((crop.plan.from, harvest.to))?;
    let least = LEAST_OF_LIKELY * params.days_to_ripe;
    let has = view.typical.degree_days(from, last, params.base_temperature);
    (has < RIPE.value * least).then_some(())?;
    let remedy = match view.typical.reaches(from, params.base_temperature, params.days_to_ripe) {
        Some(day) => format!("Planted on {} it would be ripe about {} here.", shown(crop.plan.from), shown_day(day)),
        None => "Plant it earlier, or choose another crop for this climate.".to_owned(),
    };
    let (has, least) = (tidy(has), tidy(least));
    warning(
        format!("{}.harvest", crop.path),
        format!("{} is harvested until {}", crop.name, shown(harvest.to)),
        format!("it has {has} degree-days by then in this climate, and ripens on {least} or more: less than {RIPE}"),
        remedy,
    )
}

/// Crops that are ripe long before their first harvest.
pub(super) fn too_long(view: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    let (params, harvest) = (params(view, crop)?, crop.plan.harvest?);
    let (from, first) = dates((crop.plan.from, harvest.from))?;
    let has = view.typical.degree_days(from, first, params.base_temperature);
    (has > OVERRIPE.value * params.days_to_ripe).then_some(())?;
    let ripe = shown_day(view.typical.reaches(from, params.base_temperature, params.days_to_ripe)?);
    warning(
        format!("{}.harvest", crop.path),
        format!("the first harvest of {} is on {}", crop.name, shown(harvest.from)),
        format!("it is ripe about {ripe} here, and by then has had over {OVERRIPE}"),
        "Shorten its time in the ground: until the harvest is over the gate stays shut.",
    )
}

/// Base temperature from which a crop is tender.
const TENDER: Threshold = Threshold::new(8.0, "C", "the library's base temperatures; the line is from memory");
/// Mean of the month's lowest temperatures at which frost kills what is tender.
const FROSTY: Threshold = Threshold::new(4.0, "C", "common practice, no source");

/// Tender crops put out while nights freeze.
pub(super) fn frost(view: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    (params(view, crop)?.base_temperature >= TENDER.value).then_some(())?;
    let (from, _) = dates((crop.plan.from, crop.plan.to))?;
    let night = FROSTY.under(view.typical.lowest_c(from))?;
    let mut months = (1..=12).map(|month| from.saturating_add((15 * month).days()));
    let remedy = match months.find(|day| view.typical.lowest_c(*day) >= 2.0 * FROSTY.value) {
        Some(day) => format!(
            "Did you mean \"{}\"? Before that it is under glass, and the model knows open beds only.",
            shown_day(day)
        ),
        None => "Is it under glass? The model knows open beds only.".to_owned(),
    };
    warning(
        format!("{}.in_ground", crop.path),
        format!("{} goes out on {}", crop.name, shown(crop.plan.from)),
        format!("nights are then about {} C here, below {FROSTY}, and it is tender", tidy(night)),
        remedy,
    )
}

/// Days from planting to a first harvest.
const FIRST_CUT: Threshold = Threshold::new(18.0, "days", "radishes take about 25; from memory");

/// A harvest that begins as soon as the crop is in.
pub(super) fn at_once(_: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    let (from, first) = dates((crop.plan.from, crop.plan.harvest?.from))?;
    let days = FIRST_CUT.under(f64::from(days_between(from, first)))?;
    // A stand that comes back every year is as old as one likes.
    let whole_year =
        dates((crop.plan.from, crop.plan.to)).is_some_and(|(from, to)| from.saturating_add(330.days()) < to);
    (!whole_year).then_some(())?;
    warning(
        format!("{}.harvest", crop.path),
        format!("{} is harvested {days} days after it is planted", crop.name),
        format!("nothing is ready within {FIRST_CUT}"),
        "Write the first and last day you pick, within in_ground.",
    )
}

/// Food crops without a harvest, and so without a waiting period.
pub(super) fn no_harvest(view: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    (params(view, crop)?.harvest_share > 0.0 && crop.plan.harvest.is_none()).then_some(())?;
    let last = shown(crop.plan.to);
    warning(
        format!("{}.crop", crop.path),
        format!("{} has no harvest", crop.name),
        "then no waiting period keeps birds off before it is eaten",
        format!("Add the first and last day you pick, for example: harvest = [\"{last}\", \"{last}\"]"),
    )
}

/// Crops said to hang clear of the soil that the library says do not.
pub(super) fn touches_soil(view: &SiteView<'_>, crop: &StandingCropPlan<'_>) -> Option<Warning> {
    let touches = view.site.crops.get(crop.plan.crop)?.touches_soil;
    (touches && !crop.plan.harvest?.touches_soil).then_some(())?;
    let rules = &view.site.rules;
    let (touching, other) = (rules.waiting_days_touching, rules.waiting_days_other);
    warning(
        format!("{}.touches_soil", crop.path),
        format!("{} is said not to touch the soil", crop.name),
        format!("the library says it does: {touching} days of waiting instead of {other}"),
        "Take the line out, unless it is lifted off the soil and kept from splashes.",
    )
}
