//! Limits that do not hold with every gate shut either, in a paragraph.

use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::outcomes::PlotColumn;
use crate::units::Units;
use crate::wording::{limit_in_words, possible_years};
use scenarios::SiteModel;
use sim_engine::measures::Measure;

/// Says which limits hold too seldom with the birds shut in, and on which plot; nothing where each holds often enough.
#[must_use]
pub fn limits_shut_in(model: &SiteModel, c: &Comparison, units: Units) -> Option<String> {
    let broken = c.limits_shut_in.iter().filter(|limit| !limit.enough);
    let told = broken.map(|limit| {
        let words = limit_in_words(&limit.limit, units);
        let plot =
            worst_plot(model, c, limit.limit.measure).map(|name| format!(" ({name} is the worst)")).unwrap_or_default();
        format!("\"{words}\" holds in {} of {}{plot}", limit.held, possible_years(limit.draws))
    });
    let told: Vec<String> = told.collect();
    match told.as_slice() {
        [] => None,
        told => Some(format!("With the birds shut in not every limit holds either: {}.", told.join("; "))),
    }
}

/// The plot that breaks a limit on plots with the birds shut in: that with the worst middle value.
fn worst_plot<'m>(model: &'m SiteModel, c: &Comparison, measure: Measure) -> Option<&'m str> {
    let (column, sign) = match measure {
        Measure::LeastCover => (PlotColumn::LeastCover, 1.0),
        Measure::NitrogenWorst => (PlotColumn::Nitrogen, -1.0),
        _ => return None,
    };
    let plots = model.base.plots.iter().enumerate();
    let plots = plots.filter(|(_, plot)| measure != Measure::LeastCover || plot.has_sward());
    let middle = plots.filter_map(|(place, plot)| {
        let spread = c.plot(ArmId::ShutIn, place, column).spread?;
        Some((sign * spread.median, plot.name.as_str()))
    });
    middle.min_by(|one, two| one.0.total_cmp(&two.0)).map(|(_, name)| name)
}
