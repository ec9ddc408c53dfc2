//! The picture of the year, with a card for each plot beside it.

use super::gate_dates::GateDates;
use super::page::{Part, figure as picture, plot_id};
use super::plot_table::PlotFigure::{self, Close, FewerPests, Kept};
use super::runs::StrategyRuns;
use crate::cautions::NITROGEN_RULE_KG_HA;
use crate::charts::Chart;
use crate::harvest_dates::harvest_dates;
use crate::outcomes::PlotColumn;
use crate::stats::quantiles::Spread;
use crate::wording::{capital, figure, harvest_in_words, typeset};
use maud::{Markup, html};
use sim_engine::dates::date_of;
use sim_engine::site::Plot;

/// Harvests of so many days are told; those of later years are like them.
const DAYS_A_YEAR: usize = 365;

pub(super) fn part(runs: &StrategyRuns<'_>, year: Option<&Chart>) -> Part {
    let plots = &runs.model.base.plots;
    let body = html! {
        div.year {
            @if let Some(year) = year { (picture(year)) }
            div.cards { @for plot in 0..plots.len() { (card(runs, plot)) } }
        }
    };
    let within = plots.iter().enumerate().map(|(at, plot)| (plot_id(at), plot.name.clone())).collect();
    Part::new("year", format!("The year under {}, plot by plot", runs.name()), body).holding(within)
}

fn card(runs: &StrategyRuns<'_>, plot: usize) -> Markup {
    let here = &runs.model.base.plots[plot];
    let year = date_of(runs.model.base.start, DAYS_A_YEAR);
    let harvests = harvest_dates(runs.model).into_iter().filter(|of| of.plot == plot && of.first_day < year);
    let harvests: Vec<_> = harvests.collect();
    html! {
        article.card id=(plot_id(plot)) {
            h3 { (here.name) " " small { (typeset(&runs.units.area(here.area_m2))) } }
            p.note { "Gate " (runs.units.length(here.distance_m)) " away. " (typeset(&ground(runs, here))) }
            p {
                (typeset(&finding(runs, plot)))
                @if runs.one_year() { @if let Some(gate) = GateDates::of(runs.season, runs.draw, plot) { (gate.in_words()) } }
            }
            @if !harvests.is_empty() { ul { @for harvest in &harvests { li { (harvest_in_words(harvest)) } } } }
            @if let Some(caution) = caution(runs, plot) { p.heed { (typeset(&caution)) } }
        }
    }
}

/// "Clay loam, draining slowly; rough grass; plum trees."
fn ground(runs: &StrategyRuns<'_>, plot: &Plot) -> String {
    let site = &runs.model.base;
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
fn finding(runs: &StrategyRuns<'_>, plot: usize) -> String {
    let of = |what: PlotFigure| what.over_draws(runs, plot).spread;
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
        format!(" Its cover falls to {} % at the lowest{}.", figure(least.median, 0), range(&least))
    });
    let pests = of(FewerPests).map_or_else(String::new, |fewer| {
        let word = if fewer.median < 0.0 { "more" } else { "fewer" };
        let percent = figure(fewer.median.abs(), 0);
        format!(" {percent} % {word} pests leave its soil than with the birds shut in{}.", range(&fewer))
    });
    format!("{opening}.{least}{pests}")
}

/// " (3 to 12)"; nothing where both ends read alike, as in a single year.
fn range(of: &Spread) -> String {
    let (low, high) = (figure(of.p05, 0), figure(of.p95, 0));
    if low == high { String::new() } else { format!(" ({low} to {high})") }
}

/// "1 day", "12 days".
fn days(count: f64) -> String {
    let count = figure(count, 0);
    if count == "1" { "1 day".to_owned() } else { format!("{count} days") }
}

/// Where the load is high.
fn caution(runs: &StrategyRuns<'_>, plot: usize) -> Option<String> {
    let load = Kept(PlotColumn::Nitrogen).over_draws(runs, plot).spread?;
    (load.median > NITROGEN_RULE_KG_HA).then(|| {
        format!(
            "{} of nitrogen in twelve months, above {}, a farm's rule. Phosphorus reaches good practice sooner: spread the heap wider, test the soil.",
            runs.units.plain(load.median.round(), "kg/ha"),
            runs.units.nitrogen_rule(NITROGEN_RULE_KG_HA)
        )
    })
}
