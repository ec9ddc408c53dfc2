//! Cover, weeds, pests and nitrogen through the season: over all possible years, or in one.

use super::compared::CompareView;
use crate::charts::Chart;
use crate::charts::fan::{FanData, FanPanel, fan};
use crate::experiment::ArmId;
use crate::run_detail::{EVERY_DAYS, Quantity, RunDetail, Weekly};
use crate::season::Season;
use crate::stats::quantiles::spread;
use crate::units::Units;
use crate::wording::{figure, short_month_name, typeset};
use scenarios::SiteModel;
use sim_engine::dates::date_of;
use sim_engine::site::Plot;

/// Name with unit, and the unit the engine counts in.
fn what(quantity: Quantity, units: Units) -> (String, &'static str) {
    let (words, unit) = match quantity {
        Quantity::Cover => ("Ground cover outside beds, %", "%"),
        Quantity::Weeds => ("Weed cover, %", "%"),
        Quantity::Pests => ("Pests resting in the soil, ", "per m2"),
        Quantity::Nitrogen => ("Mineral nitrogen in the soil, ", "kg/ha"),
    };
    let unit_words = if unit == "%" { String::new() } else { units.unit(unit) };
    (typeset(&format!("{words}{unit_words}")), unit)
}

/// Where a value of a week is taken from.
type PanelPlace<'p> = &'p dyn Fn(&Weekly, usize, Quantity) -> f64;

/// One plot under the leading strategy. `None` where no run was looked at closely.
#[must_use]
pub fn plot(view: &CompareView<'_>, plot: usize) -> Option<Chart> {
    let place = |weekly: &Weekly, week: usize, quantity: Quantity| weekly.at(week, plot, quantity);
    let s = view.comparison.leading();
    let panels = over_years(view, &place)?;
    let here = &view.model.base.plots[plot];
    let gap = if here.has_sward() { widest_gap(view.model, &panels[0]) } else { "all beds".to_owned() };
    let title = format!("{} under {}: {gap}", here.name, view.comparison.names[s]);
    Some(draw(view.model, title, panels, references(view)))
}

/// The whole site under the leading strategy: means over plots, by area.
#[must_use]
pub fn site(view: &CompareView<'_>) -> Option<Chart> {
    let plots = &view.model.base.plots;
    let place = |weekly: &Weekly, week: usize, quantity: Quantity| {
        let (mut sum, mut area) = (0.0, 0.0);
        for (at, plot) in plots.iter().enumerate() {
            let value = weekly.at(week, at, quantity);
            if !value.is_nan() {
                sum += plot.area_m2 * value;
                area += plot.area_m2;
            }
        }
        if area > 0.0 { sum / area } else { f64::NAN }
    };
    let panels = over_years(view, &place)?;
    let name = &view.comparison.names[view.comparison.leading()];
    let sward = plots.iter().any(Plot::has_sward);
    let gap = if sward { widest_gap(view.model, &panels[0]) } else { "all beds".to_owned() };
    let title = format!("{name}, mean of all plots: {gap}");
    Some(draw(view.model, title, panels, references(view)))
}

/// Where the median cover lies furthest below that with the birds shut in.
fn widest_gap(model: &SiteModel, cover: &FanPanel) -> String {
    let shut_in = cover.references.first().map_or(&[][..], Vec::as_slice);
    let gaps = cover.median.iter().zip(shut_in).map(|(with, shut_in)| shut_in - with).enumerate();
    let (week, gap) = gaps.fold((0, 0.0), |most, next| if next.1 > most.1 { next } else { most });
    if gap < 1.0 {
        return "cover hardly differs from birds shut in".to_owned();
    }
    let date = date_of(model.base.start, week * EVERY_DAYS);
    format!(
        "cover runs up to {} points below birds shut in ({} {})",
        figure(gap, 0),
        short_month_name(date),
        date.year()
    )
}

fn references(view: &CompareView<'_>) -> Vec<String> {
    let c = view.comparison;
    let against = (c.plan.against != c.leading()).then(|| format!("{}, median", c.names[c.plan.against]));
    ["birds shut in, median".to_owned()].into_iter().chain(against).collect()
}

/// Weeks of a run, draw by draw.
fn weeks<'c>(view: &CompareView<'c>, run: ArmId) -> Vec<&'c Weekly> {
    view.comparison.detail(run).iter().map(|detail| &detail.weekly).collect()
}

fn over_years(view: &CompareView<'_>, place: PanelPlace<'_>) -> Option<Vec<FanPanel>> {
    let c = view.comparison;
    let s = c.leading();
    let shown = weeks(view, ArmId::Strategy(s));
    let steps = shown.first()?.weeks();
    let mut others = vec![weeks(view, ArmId::ShutIn)];
    if c.plan.against != s {
        others.push(weeks(view, ArmId::Strategy(c.plan.against)));
    }
    let panel = |quantity: Quantity| {
        let (name, unit) = what(quantity, view.units);
        // Year by year, as they lie in memory: week by week every value is a miss of the cache.
        let by_week = |runs: &[&Weekly]| {
            let mut values = vec![Vec::with_capacity(runs.len()); steps];
            for weekly in runs {
                for (week, values) in values.iter_mut().enumerate() {
                    values.push(view.units.value(place(weekly, week, quantity), unit));
                }
            }
            values
        };
        let mut panel = FanPanel { name, limit: limit(view.model, quantity), ..FanPanel::default() };
        for values in by_week(&shown) {
            panel.push(spread(&values).as_ref());
        }
        let median = |runs: &Vec<&Weekly>| {
            by_week(runs).iter().map(|values| spread(values).map_or(f64::NAN, |spread| spread.median)).collect()
        };
        panel.references = others.iter().map(median).collect();
        panel
    };
    Some(Quantity::ALL.map(panel).into_iter().collect())
}

/// The cover line, where there is one.
fn limit(model: &SiteModel, quantity: Quantity) -> Option<f64> {
    let line = 100.0 * model.limits.cover_line;
    (quantity == Quantity::Cover && line > 0.0).then_some(line)
}

/// One plot in one season, the run of birds shut in beside it.
#[must_use]
pub fn season_plot(model: &SiteModel, season: &Season, plot: usize, units: Units) -> Chart {
    let steps = season.detail.weekly.weeks();
    let panel = |quantity: Quantity| {
        let (name, unit) = what(quantity, units);
        let column = |detail: &RunDetail| -> Vec<f64> {
            (0..steps).map(|week| units.value(detail.weekly.at(week, plot, quantity), unit)).collect()
        };
        let references = vec![column(&season.detail_shut_in)];
        FanPanel {
            name,
            median: column(&season.detail),
            references,
            limit: limit(model, quantity),
            ..FanPanel::default()
        }
    };
    let figures = &season.plots[plot];
    let open = match figures.days_open {
        0.0 => "never open".to_owned(),
        days => format!("open {} days a year", figure(days, 0)),
    };
    let here = &model.base.plots[plot];
    let ground = if here.has_sward() {
        format!("cover falls to {} %", figure(100.0 * figures.least_cover, 0))
    } else {
        "all beds".to_owned()
    };
    let title = format!("{}: {open}; {ground}", here.name);
    draw(model, title, Quantity::ALL.map(panel).into_iter().collect(), vec!["birds shut in".to_owned()])
}

fn draw(model: &SiteModel, title: String, mut panels: Vec<FanPanel>, references: Vec<String>) -> Chart {
    // A plot without weeds or pests has no panel of them.
    panels.retain(|panel| {
        let columns = [&panel.median, &panel.p95].into_iter().chain(&panel.references);
        columns.flatten().any(|value| !value.is_nan() && *value != 0.0)
    });
    fan(&FanData {
        title,
        quantity: String::new(),
        start: model.base.start,
        every_days: EVERY_DAYS,
        panels,
        limit: format!("limit {:.0} %", 100.0 * model.limits.cover_line),
        references,
    })
}
