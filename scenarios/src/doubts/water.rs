//! Drip lines where they water nothing: they run to a standing crop.

use super::Doubt;
use crate::model::SiteModel;

/// Plots with drip irrigation and no crop.
pub(super) fn dry_drip(model: &SiteModel) -> Vec<Doubt> {
    let dry = model.base.plots.iter().filter(|plot| plot.drip && plot.grounds.iter().all(|g| g.crops.is_empty()));
    dry.map(|plot| Doubt {
        about: format!("plot.{}.irrigation", plot.name),
        message: format!("{} has no crop, and drip waters beds while a crop stands: nothing is watered", plot.name),
        remedy: "Leave it out, or name the crop. Water under trees is not counted.".into(),
    })
    .collect()
}
