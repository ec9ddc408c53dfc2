//! `season.html`: one season with its charts, measures and diary.

use super::page::{Part, figure as picture, plot_id};
use super::words::{measured, typeset, unit};
use super::{Report, fans, flows, grounds, page, pictures};
use crate::charts::Chart;
use crate::charts::axis::plain_date;
use crate::draw_sampler::Draw;
use crate::json::Provenance;
use crate::season::Season;
use crate::units::Units;
use maud::{Markup, html};
use scenarios::{Library, SiteModel};
use sim_engine::measures::Measure;

/// What the page of a season is made from.
#[derive(Clone, Copy)]
pub struct SeasonView<'a> {
    /// The site.
    pub model: &'a SiteModel,
    /// The library, for plants that can harm birds.
    pub library: &'a Library,
    /// The luck.
    pub draw: &'a Draw,
    /// Index of the strategy in the model.
    pub which: usize,
    /// The season.
    pub season: &'a Season,
    /// What it was made from.
    pub from: &'a Provenance,
    /// Units of figures, words and axes.
    pub units: Units,
}

/// `season.html` of a season, with its charts.
#[must_use]
pub fn season_report(told: &SeasonView<'_>) -> Report {
    let name = told.model.strategies.get(told.which).map_or("", |spec| spec.name.as_str());
    let title = format!("{}: a season under {name}", told.model.name);
    let charts = charts(told);
    let parts = [
        gates(told, &charts),
        measures(told),
        plots(told, &charts),
        diary(told),
        grounds::taken_for_granted(told.model, told.units),
        grounds::cautions(told.model, told.library, told.units),
    ];
    let foot = grounds::provenance(told.model, told.from, 1);
    Report { html: page::whole(&title, &head(told, name), &parts, &foot), charts }
}

/// Every chart by name.
fn charts(told: &SeasonView<'_>) -> Vec<(String, Chart)> {
    let (model, season) = (told.model, told.season);
    let mut charts = vec![
        ("season".to_owned(), pictures::strip(model, told.draw, told.which, season)),
        ("cover".to_owned(), pictures::cover(model, told.which, season)),
    ];
    for plot in 0..model.base.plots.len() {
        charts.push((plot_id(plot), fans::season_plot(model, season, plot, told.units)));
        let nitrogen = flows::season_plot(model, told.which, season, plot, told.units);
        charts.push((format!("{}-nitrogen", plot_id(plot)), nitrogen));
    }
    charts
}

fn head(told: &SeasonView<'_>, name: &str) -> Markup {
    let luck = match told.draw.number {
        0 => "Every unknown at its likely value, on the first of all weathers.".to_owned(),
        number => format!("Possible year number {number}."),
    };
    html! {
        header {
            p.site { (told.model.name) }
            h1 { "A season under " (name) }
            p.answer { (typeset(&super::describe::what_it_does(told.model, told.which, told.units))) " " (luck) }
        }
    }
}

/// From so many plots on the chart of every plot's cover is too tall for a sheet of paper. Each
/// plot's own picture shows the same; the chart is among the files in any case.
const MANY_PLOTS: usize = 12;

fn gates(told: &SeasonView<'_>, charts: &[(String, Chart)]) -> Part {
    let many = told.model.base.plots.len() >= MANY_PLOTS;
    let shown = charts.iter().filter(|(name, _)| !(name.starts_with("plot-") || many && name == "cover"));
    let body = html! { div.pictures { @for (_, chart) in shown { (picture(chart)) } } };
    Part::new("gates", "Gates and cover", body)
}

fn plots(told: &SeasonView<'_>, charts: &[(String, Chart)]) -> Part {
    let of = |plot: usize| {
        charts.iter().filter(move |(name, _)| {
            let id = plot_id(plot);
            *name == id || *name == format!("{id}-nitrogen")
        })
    };
    let names = || told.model.base.plots.iter().map(|plot| plot.name.as_str()).enumerate();
    let body = html! {
        @for (at, name) in names() {
            article.plot id=(plot_id(at)) {
                h3 { (name) }
                div.pictures { @for (_, chart) in of(at) { (picture(chart)) } }
            }
        }
    };
    Part::new("plots", "Plot by plot", body).holding(names().map(|(at, name)| (plot_id(at), name.to_owned())).collect())
}

fn measures(told: &SeasonView<'_>) -> Part {
    let shown = Measure::ALL.iter().map(|&m| (m, told.season.measures.get(m))).filter(|(_, value)| !value.is_nan());
    let body = html! {
        table.short {
            tbody { @for (m, value) in shown {
                tr { td { (m.plain()) } td.number { (measured(value, m, told.units)) } td { (unit(m.unit(), told.units)) } }
            } }
        }
    };
    Part::new("measures", "What came of it", body)
}

fn diary(told: &SeasonView<'_>) -> Part {
    let body = html! {
            details open {
                summary { (told.season.diary.lines.len()) " lines" }
                table.diary { tbody { @for day in told.season.diary.lines.chunk_by(|a, b| a.date == b.date) {
                    tr {
                        td.date { (plain_date(day[0].date)) }
                        td { @for line in day { p {
                            (super::plan::said(line, told.units))
                        } } }
                    }
                } } }
            }
    };
    Part::new("diary", "Diary", body)
}
