//! Plots and distances of an unlikely size.

use super::crowding::{NO_ROOM, plot_is_tiny};
use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use sim_engine::site::Plot;

const HECTARE_M2: f64 = 10_000.0;
/// Of the international foot (NIST Handbook 44, appendix C).
const ACRE_M2: f64 = 4_046.856_422_4;

/// Area from which a plot of a small flock may have been measured in square feet.
const LARGE: Threshold = Threshold::new(400.0, "m2", "from memory");
/// Area per bird of one plot from which the same is asked.
const MUCH_ROOM: Threshold = Threshold::new(40.0, "m2 per bird", "from memory");

/// Plots that may have been measured in square feet. Whoever writes feet or acres means them, and an orchard is large.
pub(super) fn square_feet(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let birds = view.birds();
    let large = plot.canopies.is_empty()
        && plot.area_m2 >= LARGE.value
        && birds > 0.0
        && plot.area_m2 / birds >= MUCH_ROOM.value;
    (large && !view.in_us_units(&plot.at("area"))).then_some(())?;
    let area = tidy(plot.area_m2);
    warning(
        plot.at("area"),
        format!("{area} m2 is much for one plot and {} birds", tidy(birds)),
        format!("it is over {MUCH_ROOM}"),
        format!("Did you mean \"{area} ft2\"?"),
    )
}

/// Times the middle plot that one plot may be.
const MANY_TIMES: Threshold = Threshold::new(20.0, "times the middle plot", "from memory");

/// One plot far larger than all others: a slip with ha or acres.
pub(super) fn slip(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let mut areas: Vec<f64> = view.site.plots.iter().map(|plot| plot.area_m2).collect();
    areas.sort_by(f64::total_cmp);
    let middle = *areas.get(areas.len() / 2).filter(|_| areas.len() >= 3)?;
    (plot.area_m2 > MANY_TIMES.value * middle).then_some(())?;
    let (unit, size) = if view.in_us_units(&plot.at("area")) { ("acre", ACRE_M2) } else { ("ha", HECTARE_M2) };
    warning(
        plot.at("area"),
        format!("{} is {} m2", plot.name, tidy(plot.area_m2)),
        format!("the middle one of your plots has {} m2, and it is over {MANY_TIMES}", tidy(middle)),
        format!("Did you mean \"{} {unit}\"?", short_share(plot.area_m2 / size / 10.0)),
    )
}

/// Hectares or acres in as many digits as it needs.
fn short_share(area: f64) -> String {
    let text = format!("{area:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A plot too small for the birds that go into it.
pub(super) fn tiny(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let birds = view.birds();
    plot_is_tiny(view.site, plot).then_some(())?;
    warning(
        plot.at("area"),
        format!("{} m2 for {} birds is very tight", tidy(plot.area_m2), tidy(birds)),
        format!("each has less than {NO_ROOM} there"),
        "Correct the area, or let fewer in: birds = 6 in a strategy.",
    )
}

/// Distances over which birds thin out before a gate is out of their way.
const TOO_FAR: Threshold = Threshold::new(8.0, "times that", "1 bird in 80 is left; the form is the model's");

/// A gate the birds will hardly walk to.
pub(super) fn far(view: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let (scale, path) = (view.site.process.distance_scale, plot.at("distance_from_yard"));
    (plot.distance_m > TOO_FAR.value * scale).then_some(())?;
    let distance = tidy(plot.distance_m);
    let feet = if view.in_us_units(&path) { String::new() } else { format!("Did you mean \"{distance} ft\"? ") };
    warning(
        path,
        format!("{distance} m is far for a gate"),
        format!("hens thin out to a quarter over {} m, and this is over {TOO_FAR}", tidy(scale)),
        format!("{feet}Move the house nearer, or count on this plot for little."),
    )
}

/// Area of beds below which there is nothing to grow on.
const SLIVER: Threshold = Threshold::new(1.0, "m2", "from memory");

/// A share of beds that is almost nothing.
pub(super) fn sliver(_: &SiteView<'_>, plot: &Plot) -> Option<Warning> {
    let beds = SiteView::beds(plot);
    let area = SLIVER.under(beds * plot.area_m2).filter(|_| beds > 0.0)?;
    let meant = tidy((beds * 100.0).min(1.0));
    warning(
        plot.at("beds"),
        format!("beds = {} leaves {} m2 of beds", tidy(beds), tidy(area)),
        format!("that is less than {SLIVER}"),
        format!("Did you mean beds = {meant}? It is the share of the plot that is dug."),
    )
}
