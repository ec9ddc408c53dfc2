//! Numbers far from what gardens have.

use super::Doubt;
use crate::model::SiteModel;

/// Pests per m² in the soil above which a count is doubted; from memory.
const MANY_PESTS_M2: f64 = 300.0;
/// Area from which a plot of a small flock may have been measured in square feet, m²; from memory.
const LARGE_PLOT_M2: f64 = 400.0;
/// Area per bird of one plot from which the same is asked, m²; from memory.
const MUCH_ROOM_M2: f64 = 40.0;
const FOOT2_M2: f64 = 0.3048 * 0.3048;

/// Pests very high.
pub(super) fn pests(model: &SiteModel) -> Vec<Doubt> {
    let site = &model.base;
    let all = site.plots.iter().flat_map(|plot| plot.pests.iter().map(move |pest| (plot, pest)));
    let doubt = |(plot, pest): (&sim_engine::site::Plot, &sim_engine::site::PlotPest)| {
        let species = site.pests.get(pest.pest).map_or("", |pest| pest.name.as_str());
        (pest.start_per_m2 > MANY_PESTS_M2).then(|| Doubt {
            about: format!("plot.{}.pest.{species}.start", plot.name),
            message: format!("{} {species} per m2 is very many", pest.start_per_m2),
            remedy: format!("Up to {MANY_PESTS_M2} per m2 is common; was the whole plot counted, not one m2?"),
        })
    };
    all.filter_map(doubt).collect()
}

/// Plots that may have been measured in square feet.
pub(super) fn areas(model: &SiteModel) -> Vec<Doubt> {
    let birds: f64 = model.base.groups.iter().map(|group| group.number).sum();
    let large = |area: f64| area >= LARGE_PLOT_M2 && birds > 0.0 && area / birds >= MUCH_ROOM_M2;
    let doubt = |plot: &sim_engine::site::Plot| Doubt {
        about: format!("plot.{}.area", plot.name),
        message: format!("{} m2 is much for one plot and {birds} birds", plot.area_m2),
        remedy: format!(
            "If it was measured in square feet write \"{} ft2\", which is {:.0} m2.",
            plot.area_m2,
            plot.area_m2 * FOOT2_M2
        ),
    };
    model.base.plots.iter().filter(|plot| large(plot.area_m2)).map(doubt).collect()
}
