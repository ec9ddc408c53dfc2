//! Plot after plot: what it is, what the leading strategy does there, what comes of it.

use super::compared::{ByName, CompareView};
use super::page::{Part, figure as picture, plot_id};
use super::plot_table::PlotFigure::{Close, FewerPests, Kept};
use super::plot_table::{PlotFigure, table};
use crate::cautions::NITROGEN_RULE_KG_HA;
use crate::experiment::ArmId;
use crate::outcomes::PlotColumn;
use crate::season::LikelySeason;
use crate::stats::quantiles::Spread;
use crate::wording::{capital, figure, month_name, plain_date, typeset};
use maud::{Markup, html};
use sim_engine::agenda::Event;
use sim_engine::dates::date_of;
use sim_engine::site::{Plot, When};
use sim_engine::waiting::{earliest_harvest, waiting_days_before};

pub(super) fn part(view: &CompareView<'_>, chart: &ByName<'_>) -> Part {
    let plots = &view.model.base.plots;
    let body = html! {
        p { "Under " strong { (view.leading_name()) } ": the middle of the possible years, and in brackets the range 9 in 10 fall in. Amounts are a year." }
        @if let Some(note) = looked_at(view) { p.note { (note) } }
        @for plot in 0..plots.len() { (one(view, plot, chart)) }
    };
    let within = plots.iter().enumerate().map(|(at, plot)| (plot_id(at), plot.name.clone())).collect();
    Part::new("plots", "Plot by plot", body).holding(within)
}

/// Says so where not all possible years were looked at plot by plot.
fn looked_at(view: &CompareView<'_>) -> Option<String> {
    let (seen, all) = (view.comparison.detail(ArmId::ShutIn).len(), view.comparison.finished);
    let words = format!(
        "Pictures of plots, and figures that are only about a plot, rest on the first {seen} of the {all} possible years."
    );
    (seen < all).then_some(words)
}

fn one(view: &CompareView<'_>, plot: usize, chart: &ByName<'_>) -> Markup {
    let here = &view.model.base.plots[plot];
    let id = plot_id(plot);
    let nitrogen = chart(&format!("{id}-nitrogen"));
    html! {
        article.plot.alone id=(id) {
            h3 { (here.name) " " small { (typeset(&view.units.area(here.area_m2))) } }
            p.note { (typeset(&ground(view, here))) }
            p.lead { (typeset(&finding(view, plot))) }
            @if let Some(caution) = cautions(view, plot) { p.heed { (caution) } }
            @if let Some(line) = harvests(view.likely, plot) { p { (line) } }
            div.pictures {
                div {
                    @if let Some(fans) = chart(&id) { (picture(fans)) }
                    @if let Some(nitrogen) = nitrogen { (picture(nitrogen)) }
                }
                (table(view, plot))
            }
            @if !here.has_sward() { p.note { "All beds: no sward to keep." } }
        }
    }
}

/// "Clay loam, draining slowly; rough grass; plum trees; kale from 10 June to 20 February."
fn ground(view: &CompareView<'_>, plot: &Plot) -> String {
    let site = &view.model.base;
    let name = |names: Option<&String>| names.cloned().unwrap_or_default();
    let drains = match plot.drainage_factor {
        factor if factor < 1.0 => ", draining slowly",
        factor if factor > 1.0 => ", draining fast",
        _ => "",
    };
    let soil = name(site.soils.get(plot.soil).map(|soil| &soil.name));
    let mut words = vec![format!("{}{drains}", capital(&soil))];
    let cover = site.covers.get(plot.cover).filter(|_| plot.has_sward());
    words.extend(cover.map(|cover| cover.name.clone()));
    words.extend(plot.canopies.iter().filter_map(|here| {
        let name = site.canopies.get(here.canopy)?.name.clone();
        Some(if here.share == 1.0 { name } else { format!("{name} over {:.0} %", 100.0 * here.share) })
    }));
    for ground in &plot.grounds {
        words.extend(ground.crops.iter().map(|crop| {
            let name = name(site.crops.get(crop.crop).map(|crop| &crop.name));
            format!("{name} from {} to {}", day(crop.from), day(crop.to))
        }));
    }
    words.join("; ") + "."
}

/// "10 June" for every year, "10 Jun 2027" for one.
fn day(when: When) -> String {
    match when {
        When::On(date) => plain_date(date),
        When::Yearly { month, day } => format!("{day} {}", month_name(month)),
    }
}

/// The plot in a sentence.
fn finding(view: &CompareView<'_>, plot: usize) -> String {
    let of = |what: PlotFigure| over_draws(view, plot, what);
    let mut clauses = Vec::new();
    if let Some(open) = of(Kept(PlotColumn::DaysOpen)) {
        if open.p95 < 0.5 {
            return "The birds never come here.".to_owned();
        }
        clauses.push(format!("open {} days a year", figure(open.median, 0)));
    }
    if let Some(stays) = of(Close(|here| here.stays)) {
        let count = figure(stays.median, 0);
        clauses.push(format!("in {count} {}", if count == "1" { "stay" } else { "stays" }));
    }
    let opening = capital(&clauses.join(" "));
    let least = of(Kept(PlotColumn::LeastCover));
    let least = least.map_or_else(String::new, |least| {
        format!(
            " Cover falls to {} % at the least ({} to {}).",
            figure(least.median, 0),
            figure(least.p05, 0),
            figure(least.p95, 0)
        )
    });
    let pests = of(FewerPests);
    let pests = pests.map_or_else(String::new, |fewer| {
        let word = if fewer.median < 0.0 { "more" } else { "fewer" };
        format!(
            " {} % {word} pests rise from its soil than with the birds shut in ({} to {}).",
            figure(fewer.median.abs(), 0),
            figure(fewer.p05, 0),
            figure(fewer.p95, 0)
        )
    });
    format!("{opening}.{least}{pests}")
}

fn over_draws(view: &CompareView<'_>, plot: usize, what: PlotFigure) -> Option<Spread> {
    what.over_draws(view.comparison, ArmId::Strategy(view.comparison.leading()), plot).spread
}

/// Where the load is high.
fn cautions(view: &CompareView<'_>, plot: usize) -> Option<String> {
    let load = over_draws(view, plot, Kept(PlotColumn::Nitrogen))?;
    (load.median > NITROGEN_RULE_KG_HA).then(|| {
        format!(
            "Droppings, heap and compost bring {} of nitrogen in twelve months here, above the rule of {} and year, which is about a farm's whole area; phosphorus reaches good practice sooner still. Spread the heap wider, and have the soil tested.",
            view.units.plain(load.median.round(), "kg/ha"),
            view.units.nitrogen_rule(NITROGEN_RULE_KG_HA)
        )
    })
}

/// Birds' last day before each harvest of the likely season, and the earliest harvest after it.
fn harvests(likely: &LikelySeason, plot: usize) -> Option<String> {
    let (draw, season) = (&likely.draw, &likely.season);
    let date = |day: usize| date_of(draw.site.start, day);
    let mut before = None;
    let mut told_of = |day: usize| {
        let wait = waiting_days_before(&draw.site.plots[plot], &draw.site.rules, date(day));
        let last_in = (0..day).rev().find(|&d| season.diary.state(d, plot).is_some_and(|state| state.open))?;
        // One line for all harvests that wait as long after the same stay.
        (before.replace((last_in, wait)) != Some((last_in, wait))).then(|| {
            let allowed = plain_date(earliest_harvest(date(last_in), wait));
            let (last_in, planned) = (plain_date(date(last_in)), plain_date(date(day)));
            format!("not before {allowed} ({wait} days after {last_in}, birds' last day in; planned from {planned})")
        })
    };
    let rows: Vec<String> = (season.diary.events.iter())
        .filter_map(|&(day, what)| match what {
            Event::HarvestBegins { plot: of } if of == plot => told_of(day),
            _ => None,
        })
        .collect();
    (!rows.is_empty())
        .then(|| format!("Earliest harvest under the waiting period, in a likely run: {}.", rows.join("; ")))
}
