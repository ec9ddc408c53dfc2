//! The leading strategy looked at closely: its plots, a likely season, its diary.

use super::Compared;
use super::page::{cell, figure as picture};
use super::pictures::{leading, strip};
use super::words::{figure, typeset};
use crate::charts::axis::{date_of, plain_date};
use crate::diary::Line;
use crate::luck::Draw;
use crate::season::{Season, tell};
use crate::stats::mean;
use maud::{Markup, html};
use scenarios::SiteModel;
use sim_engine::agenda::Happening;
use sim_engine::site::Plot;
use sim_engine::summary::PlotSummary;
use sim_engine::world::RunError;

/// Days of the diary shown.
const DIARY_DAYS: usize = 84;
/// Lines of the diary shown at most.
const DIARY_LINES: usize = 60;

pub(super) fn part(told: &Compared<'_>) -> Result<Markup, RunError> {
    let s = leading(told.comparison);
    let draw = told.likely();
    let season = tell(told.model, &draw, told.leading(), None)?;
    Ok(html! {
        section {
            h2 { "A closer look at " (told.comparison.names[s]) }
            p { "Means over the possible years; amounts a year." }
            (plots(told, s))
            div.season {
                h3 { "How it may go" }
                p { "One weather, with every unknown at its likely value: a picture of how it goes, not a forecast." }
                div.side {
                    (picture(&strip(told.model, &draw, told.leading(), &season)))
                    div {
                        (harvests(told.model, &draw, &season))
                        h3 { "From its diary" }
                        (diary(told.model, &season.diary.lines))
                    }
                }
            }
        }
    })
}

/// Head, number, decimals.
type Column = (&'static str, fn(&PlotSummary) -> f64, usize);

const COLUMNS: [Column; 8] = [
    ("Least cover, %", |p| 100.0 * p.least_cover, 0),
    ("Mean cover, %", |p| 100.0 * p.mean_cover, 0),
    ("Days under the limit", |p| p.days_under, 0),
    ("Days open", |p| p.days_open, 0),
    ("Bird-days per m²", |p| p.bird_days, 1),
    ("Manure N, kg/ha", |p| p.nitrogen, 0),
    ("Manure P, kg/ha", |p| p.phosphorus, 1),
    ("Weed cover, %", |p| 100.0 * p.weed_cover, 1),
];

fn plots(told: &Compared<'_>, s: usize) -> Markup {
    let of = |plot: usize, pick: fn(&PlotSummary) -> f64| {
        let values: Vec<f64> = told.comparison.outcomes.iter().map(|o| pick(&o.strategies[s].plots[plot])).collect();
        mean(&values)
    };
    html! {
        table.stack.numbers {
            thead { tr { th { "Plot" } @for (head, _, _) in COLUMNS { th { (head) } } } }
            tbody {
                @for (at, plot) in told.model.base.plots.iter().enumerate() {
                    tr {
                        td.what { strong { (plot.name) } " " small { (figure(plot.area_m2, 0)) " m²" } }
                        @for (head, pick, decimals) in COLUMNS { (cell(head, &figure(of(at, pick), decimals))) }
                    }
                }
            }
        }
    }
}

/// Birds' last day in a plot before each harvest, and the earliest harvest after it.
fn harvests(model: &SiteModel, draw: &Draw, season: &Season) -> Markup {
    let rows: Vec<String> = (season.diary.events.iter())
        .filter_map(|&(day, what)| match what {
            Happening::HarvestBegins { plot } => harvest(model, draw, season, plot, day),
            _ => None,
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            h3 { "Earliest harvest under the waiting period" }
            ul.close { @for row in &rows { li { (row) } } }
        }
    }
}

fn harvest(model: &SiteModel, draw: &Draw, season: &Season, plot: usize, day: usize) -> Option<String> {
    let here = model.base.plots.get(plot)?;
    let last_in = (0..day).rev().find(|&d| season.diary.state(d, plot).is_some_and(|s| s.open))?;
    let wait = waiting_days(model, here);
    let date = |day: usize| plain_date(date_of(draw.site.start, day));
    Some(format!(
        "{}: birds last in on {}, so not before {} ({wait} days); the plan's harvest begins on {}.",
        here.name,
        date(last_in),
        date(last_in + wait),
        date(day)
    ))
}

/// The longer period if anything harvested in the plot touches the soil.
fn waiting_days(model: &SiteModel, plot: &Plot) -> usize {
    let crops = plot.grounds.iter().flat_map(|g| &g.crops).filter_map(|c| c.harvest);
    let touches = crops.chain(plot.canopy_harvest.iter().copied()).any(|h| h.touches_soil);
    let rules = &model.base.rules;
    (if touches { rules.waiting_days_touching } else { rules.waiting_days_other }) as usize
}

fn diary(model: &SiteModel, lines: &[Line]) -> Markup {
    let until = date_of(model.base.start, DIARY_DAYS);
    let shown: Vec<&Line> = lines.iter().take_while(|l| l.date < until).take(DIARY_LINES).collect();
    let days = shown.chunk_by(|a, b| a.date == b.date);
    html! {
        p { "The first twelve weeks; the command season writes all of it." }
        table.diary {
            tbody {
                @for day in days {
                    tr { td.date { (plain_date(day[0].date)) } td { @for line in day { p { (typeset(&said(line))) } } } }
                }
            }
        }
    }
}

/// "plum-slope: gate opened (its turn, day 1 of 14)".
fn said(line: &Line) -> String {
    let what = if line.plot.is_empty() { line.what.clone() } else { format!("{}: {}", line.plot, line.what) };
    if line.why.is_empty() { what } else { format!("{what} ({})", line.why) }
}
