//! Yard and house out of proportion.

use super::crowding::{CRAMPED, yard_is_tiny};
use super::{SiteView, Threshold, Warning, tidy, warning};

/// A yard larger than all plots together.
pub(super) fn larger(view: &SiteView<'_>) -> Option<Warning> {
    let (yard, plots) = (view.site.yard.area_m2, view.plots_m2());
    (yard > plots).then_some(())?;
    warning(
        "yard.area",
        format!("the yard has {} m2 and all plots {} m2", tidy(yard), tidy(plots)),
        "the yard is only where birds wait when no gate is open",
        "Did you count a plot into the yard? What is grown on is a plot with a gate.",
    )
}

/// A yard too small for days without an open gate.
pub(super) fn tiny(view: &SiteView<'_>) -> Option<Warning> {
    let (yard, birds) = (view.site.yard.area_m2, view.birds());
    yard_is_tiny(view.site).then_some(())?;
    warning(
        "yard.area",
        format!("{} m2 of yard for {} birds", tidy(yard), tidy(birds)),
        format!("each has less than {CRAMPED} on days when no gate is open"),
        "Correct the area. A house or run alone is not the yard.",
    )
}

/// Area few people put a roof over.
const ROOF: Threshold = Threshold::new(150.0, "m2", "from memory");

/// A large yard with a roof.
pub(super) fn roof(view: &SiteView<'_>) -> Option<Warning> {
    let area = ROOF.over(view.site.yard.area_m2).filter(|_| view.site.yard.covered)?;
    warning(
        "yard.covered",
        format!("a roof over {} m2 of yard", tidy(area)),
        format!("few yards above {ROOF} have one"),
        "Did you mean netted = true? Write covered = true only for a roof that keeps rain and droppings of wild birds off.",
    )
}

/// Days after which a drained yard is full of droppings.
const FULL: Threshold = Threshold::new(366.0, "days", "common practice, no source");

/// A yard that takes droppings and is never cleaned out.
pub(super) fn never_cleaned(view: &SiteView<'_>) -> Option<Warning> {
    let yard = &view.site.yard;
    let long = view.site.days as f64 >= FULL.value;
    (yard.drained && yard.cleaned_every_days.is_none() && long).then_some(())?;
    warning(
        "yard.surface",
        "a yard that drains and is never cleaned out",
        format!("chip or gravel that takes droppings is full within about {FULL}"),
        "Add for example cleaned_out = \"every 8 weeks\": what comes out goes to the heap.",
    )
}

/// Least and most share of droppings that fall in a house at night.
const LITTLE: Threshold = Threshold::new(0.25, "", "from memory; 0.35 to 0.6 is usual");
const MUCH: Threshold = Threshold::new(0.75, "", "from memory; 0.35 to 0.6 is usual");

/// A share of night droppings that no house has.
pub(super) fn night_share(view: &SiteView<'_>) -> Option<Warning> {
    let share = view.site.house.night_share;
    let (side, line) = match share {
        low if low < LITTLE.value => ("below", LITTLE),
        high if high > MUCH.value => ("above", MUCH),
        _ => return None,
    };
    let what = format!("{} of the droppings fall in the house at night", tidy(share));
    let because = format!("birds that go out by day and sleep indoors are hardly {side} {line}");
    warning("house.night_share", what, because, "Did you mean night_share = 0.45?")
}
