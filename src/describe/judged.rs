//! What strategies are judged by: limits, aims and what one hour of work buys, what is unknown.

use crate::text::{TextPage, counted};
use analysis::units::{Units, short};
use analysis::wording::limit_in_words;
use scenarios::SiteModel;
use scenarios::money::AimUnit;
use sim_engine::measures::Measure;

/// Tells it.
pub(super) fn tell(page: &mut TextPage, model: &SiteModel, units: Units) {
    page.heading("What must hold");
    for limit in &model.limits.all {
        let source =
            limit.source.map_or_else(|| "yours".to_owned(), |source| format!("unless you say otherwise: {source}"));
        page.point(&format!("{}: {} ({source}).", limit.name, limit_in_words(limit, units)));
    }
    if model.limits.all.is_empty() {
        page.point("Nothing, apart from the rules above.");
    }
    page.heading("What is wanted");
    for &(measure, points) in &model.aims {
        page.point(&one_point(measure, points, units, &model.aim_unit));
    }
    page.heading("How strategies are compared");
    page.point(&compared(model));
    page.point(&format!(
        "{} not known exactly; every possible year takes its own value of each from its range.",
        counted(model.unknowns.len(), "number is", "numbers are"),
    ));
}

/// What one unit is worth in money, or what one hour of work is worth as much as: "1 h of your work for every 3.33 kg/yr of: harvest kept".
fn one_point(measure: Measure, points: f64, units: Units, aims: &AimUnit) -> String {
    if points == 0.0 {
        return format!("Nothing for: {}.", measure.plain());
    }
    if let AimUnit::Money(_) = aims {
        let (one, unit) = units.measure(1.0, measure.unit());
        let verb = if points > 0.0 { "is worth" } else { "costs" };
        let worth = aims.amount(&short(points.abs() / one));
        return format!("1 {unit} of: {}; {verb} {worth}.", measure.plain());
    }
    let (amount, unit) = units.measure(1.0 / points.abs(), measure.unit());
    let sign = if points > 0.0 { "1 h of your work is worth" } else { "1 h of your work is spent for" };
    format!("{sign} {} {unit} of: {}.", short(amount), measure.plain())
}

fn compared(model: &SiteModel) -> String {
    let against = model.strategies.get(model.compare.against).map_or("", |strategy| strategy.name.as_str());
    format!(
        "Against {against}. Every limit must hold in {} % of the possible years. A strategy that is ahead by less than {} % of the best one's gain over birds shut in is not worth a change.",
        short(100.0 * model.compare.required_reliability),
        short(100.0 * model.compare.indifference_share),
    )
}
