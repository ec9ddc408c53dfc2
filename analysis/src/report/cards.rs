//! The picture of the year, with a card for each plot beside it.

use super::compared::CompareView;
use super::page::{Part, figure as picture, plot_id};
use super::plot_table::PlotFigure::{Close, FewerPests, Kept};
use super::plot_table::over_draws;
use crate::cautions::NITROGEN_RULE_KG_HA;
use crate::charts::Chart;
use crate::harvest_dates::harvest_dates;
use crate::outcomes::PlotColumn;
use crate::wording::{capital, figure, harvest_in_words, typeset};
use maud::{Markup, html};
use sim_engine::dates::date_of;
use sim_engine::site::Plot;

/// Harvests of so many days are told; those of later years are like them.
const DAYS_A_YEAR: usize = 365;

pub(super) fn part(view: &CompareView<'_>, year: Option<&Chart>) -> Part {
    let plots = &view.model.base.plots;
    let body = html! {
        div.year {
            @if let Some(year) = year { (picture(year)) }
            div.cards { @for plot in 0..plots.len() { (card(view, plot)) } }
        }
    };
    let within = plots.iter().enumerate().map(|(at, plot)| (plot_id(at), plot.name.clone())).collect();
    Part::new("year", format!("The year under {}, plot by plot", view.leading_name()), body).holding(within)
}

fn card(view: &CompareView<'_>, plot: usize) -> Markup {
    let here = &view.model.base.plots[plot];
    let year = date_of(view.model.base.start, DAYS_A_YEAR);
    let harvests = harvest_dates(view.model).into_iter().filter(|of| of.plot == plot && of.first_day < year);
    let harvests: Vec<_> = harvests.collect();
    html! {
        article.card id=(plot_id(plot)) {
            h3 { (here.name) " " small { (typeset(&view.units.area(here.area_m2))) } }
            p.note { "Gate " (view.units.length(here.distance_m)) " away. " (typeset(&ground(view, here))) }
            p { (typeset(&finding(view, plot))) }
            @if !harvests.is_empty() { ul { @for harvest in &harvests { li { (harvest_in_words(harvest)) } } } }
            @if let Some(caution) = caution(view, plot) { p.heed { (typeset(&caution)) } }
        }
    }
}

/// "Clay loam, draining slowly; rough grass; plum trees."
fn ground(view: &CompareView<'_>, plot: &Plot) -> String {
    let site = &view.model.base;
    let drains = match plot.drainage_factor {
        factor if factor < 1.0 => ", draining slowly",
        factor if factor > 1.0 => ", draining fast",
        _ => "",
    };
    let soil = site.soils.get(plot.soil).map_or("", |soil| soil.name.as_str());
    let mut words = vec![format!("{}{drains}", capital(soil))];
    match plot.has_sward() {
        true => words.extend(site.covers.get(plot.cover).map(|cover| cover.name.clone())),
        false => words.push("all beds, no ground cover to keep".to_owned()),
    }
    words.extend(plot.canopies.iter().filter_map(|here| {
        let name = site.canopies.get(here.canopy)?.name.clone();
        Some(if here.share == 1.0 { name } else { format!("{name} over {:.0} %", 100.0 * here.share) })
    }));
    words.join("; ") + "."
}

/// The plot in a sentence: the middle of the possible years, and the range 9 in 10 fall in.
fn finding(view: &CompareView<'_>, plot: usize) -> String {
    let of = |what| over_draws(view, plot, what);
    let mut clauses = Vec::new();
    if let Some(open) = of(Kept(PlotColumn::DaysOpen)) {
        if open.p95 < 0.5 {
            return "The birds never come here.".to_owned();
        }
        clauses.push(format!("open {} a year", days(open.median)));
    }
    if let Some(stays) = of(Close(|here| here.stays)) {
        let count = figure(stays.median, 0);
        clauses.push(format!("in {count} {}", if count == "1" { "stay" } else { "stays" }));
    }
    let opening = capital(&clauses.join(" "));
    let least = of(Kept(PlotColumn::LeastCover)).map_or_else(String::new, |least| {
        format!(
            " Its cover falls to {} % at the lowest ({} to {}).",
            figure(least.median, 0),
            figure(least.p05, 0),
            figure(least.p95, 0)
        )
    });
    let pests = of(FewerPests).map_or_else(String::new, |fewer| {
        let word = if fewer.median < 0.0 { "more" } else { "fewer" };
        format!(
            " {} % {word} pests leave its soil than with the birds shut in ({} to {}).",
            figure(fewer.median.abs(), 0),
            figure(fewer.p05, 0),
            figure(fewer.p95, 0)
        )
    });
    format!("{opening}.{least}{pests}")
}

/// "1 day", "12 days".
fn days(count: f64) -> String {
    let count = figure(count, 0);
    if count == "1" { "1 day".to_owned() } else { format!("{count} days") }
}

/// Where the load is high.
fn caution(view: &CompareView<'_>, plot: usize) -> Option<String> {
    let load = over_draws(view, plot, Kept(PlotColumn::Nitrogen))?;
    (load.median > NITROGEN_RULE_KG_HA).then(|| {
        format!(
            "{} of nitrogen in twelve months, above {}, a farm's rule. Phosphorus reaches good practice sooner: spread the heap wider, test the soil.",
            view.units.plain(load.median.round(), "kg/ha"),
            view.units.nitrogen_rule(NITROGEN_RULE_KG_HA)
        )
    })
}
