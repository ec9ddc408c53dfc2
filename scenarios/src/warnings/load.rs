//! More manure on a piece of ground than the yardstick for a field.

use super::site_view::Named;
use super::{SiteView, Threshold, Warning, tidy, warning};
use crate::yearly_load::{FIELD_YARDSTICK_KG_HA, PieceLoad, of_pieces};
use sim_engine::site::SiteEventKind;

/// Nitrogen of manure on any hectare in any twelve months.
const FIELD: Threshold = Threshold::new(
    FIELD_YARDSTICK_KG_HA,
    "kg/ha in 12 months",
    "Nitrate Pollution Prevention Regulations 2015 of England, reg. 8: manure spread on any hectare",
);

/// Ground that gets more of droppings, heap and compost than that in a likely year.
pub(super) fn ground(view: &SiteView<'_>) -> Vec<Warning> {
    of_pieces(view.site).iter().filter_map(|piece| one(view, piece)).collect()
}

fn one(view: &SiteView<'_>, piece: &PieceLoad) -> Option<Warning> {
    let load = FIELD.over(piece.all())?;
    let plot = view.site.plots.get(piece.plot)?;
    let to_plot = |kind: &SiteEventKind| match kind {
        SiteEventKind::SpreadHeap { plots } => plots.iter().any(|(to, _)| *to == piece.plot),
        _ => false,
    };
    let event = view.site.events.iter().position(|event| to_plot(&event.what));
    let about = event.map_or_else(|| plot.at("area"), |event| format!("event.{event}"));
    let ground = if piece.beds { "the beds of " } else { "" };
    let parts = [("droppings", piece.droppings), ("heap", piece.heap), ("compost", piece.compost)];
    let named = parts.iter().filter(|(_, kg)| *kg >= 0.5).map(|(what, kg)| format!("{what} {}", tidy(*kg)));
    let remedy = if event.is_some() {
        let times = tidy((load / FIELD.value).ceil());
        format!("Spread the heap over {times} times the ground, with plots = {{ \"{}\" = 0.3, … }}.", plot.name)
    } else {
        "Keep fewer birds, give them more ground, or bring less compost.".to_owned()
    };
    warning(
        about,
        format!("about {} kg/ha of nitrogen in a year on {ground}{}", tidy(load), plot.name),
        format!("{} add up to more than {FIELD}", named.collect::<Vec<_>>().join(", ")),
        remedy,
    )
}
