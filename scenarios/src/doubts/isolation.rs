//! New birds isolated in a plot while a crop stands there.

use super::Doubt;
use crate::model::SiteModel;
use crate::site_file::dates::spans;
use jiff::ToSpan;

/// Isolations among crops.
pub(super) fn among_crops(model: &SiteModel) -> Vec<Doubt> {
    let site = &model.base;
    let mut doubts = Vec::new();
    for group in &site.groups {
        let Some((plot, days)) = group.isolate.and_then(|(plot, days)| Some((site.plots.get(plot)?, days))) else {
            continue;
        };
        let from = group.arrive.unwrap_or(site.start);
        let to = from.saturating_add(i64::from(days).days());
        for crop in plot.grounds.iter().flat_map(|ground| &ground.crops) {
            let standing =
                spans((crop.from, crop.to), from, to).iter().any(|(first, last)| *first <= to && *last >= from);
            if standing {
                let name = site.crops.get(crop.crop).map_or("", |crop| crop.name.as_str());
                doubts.push(Doubt {
                    about: format!("birds.{}.isolate", group.name),
                    message: format!(
                        "{} is isolated in {} from {from} to {to}, while {name} is in the ground there",
                        group.name, plot.name
                    ),
                    remedy: "Isolate them in a plot without a crop, or guard the beds.".into(),
                });
            }
        }
    }
    doubts
}
