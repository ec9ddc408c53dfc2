//! Less room over all plots than the rule for the class of bird.

use super::Doubt;
use crate::model::SiteModel;

/// Less outdoor area in all than the rule asks.
pub(super) fn tight(model: &SiteModel) -> Vec<Doubt> {
    let site = &model.base;
    let area: f64 = site.plots.iter().map(|plot| plot.area_m2).sum();
    let asked: f64 = site
        .groups
        .iter()
        .map(|group| group.number * site.birds.get(group.class).map_or(0.0, |class| class.numbers.space_rule))
        .sum();
    let birds: f64 = site.groups.iter().map(|group| group.number).sum();
    if asked <= area {
        return Vec::new();
    }
    let about = site.plots.first().map_or(String::new(), |plot| format!("plot.{}.area", plot.name));
    let message = format!(
        "{birds} birds have {:.1} m2 each over all plots, less than the {:.1} m2 of the organic rule",
        area / birds,
        asked / birds
    );
    vec![Doubt { about, message, remedy: "Keep fewer birds or add a plot, or ask whether the rule binds you.".into() }]
}
