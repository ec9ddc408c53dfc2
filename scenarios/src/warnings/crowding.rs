//! Too many birds for the room there is: what `check` warns of, and where a search for the largest flock ends.

use super::Threshold;
use sim_engine::site::{Plot, Site};

/// Yard per bird below which it is a cage.
pub(super) const CRAMPED: Threshold = Threshold::new(0.4, "m2 per bird", "common practice, no source");
/// Room per bird in a plot below which it is no outing.
pub(super) const NO_ROOM: Threshold = Threshold::new(0.5, "m2 per bird", "common practice, no source");

/// All birds.
fn birds(site: &Site) -> f64 {
    site.groups.iter().map(|group| group.number).sum()
}

/// Outdoor area the rule asks for all birds, m2 (each class's `space_rule` in the library).
pub(super) fn asked(site: &Site) -> f64 {
    let each = |class: usize| site.birds.get(class).map_or(0.0, |class| class.params.space_rule);
    site.groups.iter().map(|group| group.number * each(group.class)).sum()
}

/// Outdoor area, m2: all plots and a yard without a roof, as the measure counts it.
pub(super) fn outdoors(site: &Site) -> f64 {
    site.plots.iter().map(|plot| plot.area_m2).sum::<f64>() + site.yard.outdoor_area_m2()
}

/// Whether the yard is too small for days without an open gate.
pub(super) fn yard_is_tiny(site: &Site) -> bool {
    birds(site) > 0.0 && site.yard.area_m2 / birds(site) < CRAMPED.value
}

/// Whether a plot is too small for the birds that go into it.
pub(super) fn plot_is_tiny(site: &Site, plot: &Plot) -> bool {
    birds(site) > 0.0 && plot.area_m2 / birds(site) < NO_ROOM.value
}

/// Why the birds of a site have too little room, in words; `None` where `check` warns of none.
#[must_use]
pub fn crowded(site: &Site) -> Option<String> {
    if yard_is_tiny(site) {
        return Some(format!("less than {} {} in the yard", CRAMPED.value, CRAMPED.unit));
    }
    if asked(site) > outdoors(site) {
        return Some("less room in yard and plots than the organic rule asks for".to_owned());
    }
    let tiny = site.plots.iter().find(|plot| plot_is_tiny(site, plot))?;
    Some(format!("less than {} {} in {}", NO_ROOM.value, NO_ROOM.unit, tiny.name))
}
