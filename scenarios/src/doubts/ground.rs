//! Soil, cover and water that do not go together.

use super::{Doubt, SiteView, Threshold, tidy};
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
pub(super) fn drainage(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |plot: &Plot| {
        let soil = sight.site.soils.get(plot.soil)?;
        let rate = soil.params.drainage_rate;
        let (word, line) = match plot.drainage_factor {
            factor if factor < OWN.value && rate >= QUICK_SOIL.value => ("slow", QUICK_SOIL),
            factor if factor > OWN.value && rate <= SLOW_SOIL.value => ("fast", SLOW_SOIL),
            _ => return None,
        };
        let what = format!("{} with {word} drainage", soil.name);
        let side = if word == "slow" { "more than" } else { "less than" };
        let because = format!("{} by itself drains {side} {line}", soil.name);
        let remedy = "Is the soil another, or did you mean drainage = \"ordinary\"? Keep it if drains or a pan below make it so.";
        Some(Doubt::new(format!("plot.{}.drainage", plot.name), &what, &because, remedy))
    };
    sight.site.plots.iter().filter_map(doubt).collect()
}

/// Shade from which a cover must bear some.
const DEEP_SHADE: Threshold = Threshold::new(0.5, "of the light held back", "from memory");
/// Growth kept in full shade below which a cover does not.
const BEARS: Threshold = Threshold::new(0.25, "of its growth in shade", "from memory");

/// A cover under a canopy that it will not bear.
pub(super) fn shade(sight: &SiteView<'_>) -> Vec<Doubt> {
    let doubt = |plot: &Plot| {
        let canopy = sight.site.canopies.get(plot.canopy?)?;
        let cover = sight.site.covers.get(plot.cover)?;
        let (dark, bears) = (canopy.params.shade_in_leaf, cover.params.shade_tolerance);
        (dark >= DEEP_SHADE.value && bears < BEARS.value).then(|| {
            Doubt::new(
                format!("plot.{}.cover.plant", plot.name),
                &format!("{} under {}", cover.name, canopy.name),
                &format!("{} % of the light is held back, and it keeps less than {BEARS}", tidy(100.0 * dark)),
                "Did you mean \"shade grass\" or \"rough grass\"?",
            )
        })
    };
    sight.site.plots.iter().filter_map(doubt).collect()
}

/// Drip irrigation, which waters beds while a crop stands, where none ever does.
pub(super) fn drip(sight: &SiteView<'_>) -> Vec<Doubt> {
    let dry = |plot: &&Plot| plot.drip && plot.grounds.iter().all(|ground| ground.crops.is_empty());
    let doubt = |plot: &Plot| {
        let because = "drip waters beds while a crop stands: nothing is watered";
        let remedy = "Write irrigation = \"none\", or name the crop. Water under trees is not counted.";
        Doubt::new(
            format!("plot.{}.irrigation", plot.name),
            "drip irrigation on a plot without a crop",
            because,
            remedy,
        )
    };
    sight.site.plots.iter().filter(dry).map(doubt).collect()
}
