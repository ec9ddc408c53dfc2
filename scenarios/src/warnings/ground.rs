//! Soil, cover and water that do not go together.

use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::site::Plot;

/// Drainage against the soil's own from which it is fast or slow.
const OWN: Threshold = Threshold::new(1.0, "times the soil's own", "definition");
/// Soils that let water through, by the share of extra water they lose in a day.
const QUICK_SOIL: Threshold =
    Threshold::new(0.75, "of its surplus a day", "the library's drainage rates; the line is from memory");
/// Soils that hold it.
const SLOW_SOIL: Threshold =
    Threshold::new(0.3, "of its surplus a day", "the library's drainage rates; the line is from memory");

/// Sand that drains slowly, clay that drains fast.
pub(super) fn drainage(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let soil = view.site.soils.get(plot.soil)?;
    let rate = soil.params.drainage_rate;
    let (word, side, line) = match plot.drainage_factor {
        factor if factor < OWN.value && rate >= QUICK_SOIL.value => ("slow", "more than", QUICK_SOIL),
        factor if factor > OWN.value && rate <= SLOW_SOIL.value => ("fast", "less than", SLOW_SOIL),
        _ => return None,
    };
    warning(
        plot.at("drainage"),
        format!("{} with {word} drainage", soil.name),
        format!("{} by itself drains {side} {line}", soil.name),
        "Is the soil another, or did you mean drainage = \"ordinary\"? Keep it if drains or a pan below make it so.",
    )
}

/// Shade from which a cover must bear some.
const DEEP_SHADE: Threshold = Threshold::new(0.5, "of the light held back", "from memory");
/// Growth kept in full shade below which a cover does not.
const BEARS: Threshold = Threshold::new(0.25, "of its growth in shade", "from memory");

/// A cover under canopies that it will not bear.
pub(super) fn shade(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let cover = view.site.covers.get(plot.cover)?;
    let dark: f64 = view.canopies_of(plot).map(|(here, canopy)| here.share * canopy.params.shade_in_leaf).sum();
    let names: Vec<&str> = view.canopies_of(plot).map(|(_, canopy)| canopy.name.as_str()).collect();
    (dark >= DEEP_SHADE.value && cover.params.shade_tolerance < BEARS.value).then_some(())?;
    warning(
        plot.at("cover.plant"),
        format!("{} under {}", cover.name, names.join(" and ")),
        format!("{} % of the light is held back, and it keeps less than {BEARS}", tidy(100.0 * dark)),
        "Did you mean \"shade grass\" or \"rough grass\"?",
    )
}

/// Drip irrigation, which waters beds while a crop stands, where none ever does.
pub(super) fn drip(_: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    (plot.drip && plot.grounds.iter().all(|ground| ground.crops.is_empty())).then_some(())?;
    warning(
        plot.at("irrigation"),
        "drip irrigation on a plot without a crop",
        "drip waters beds while a crop stands: nothing is watered",
        "Write irrigation = \"none\", or name the crop. Water under trees is not counted.",
    )
}
