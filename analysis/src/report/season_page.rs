//! `season.html`: one season with its charts, measures and diary.

use super::page::{Part, figure as picture, plot_id};
use super::strip::strip;
use super::{Report, fans, flows, grounds, page, pictures};
use crate::charts::Chart;
use crate::charts::season_strip::season_strip;
use crate::draw_sampler::Draw;
use crate::provenance::Provenance;
use crate::season::Season;
use crate::units::Units;
use crate::wording::{measured, plain_date, typeset, unit};
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
    /// The draw.
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
pub fn season_report(view: &SeasonView<'_>) -> Report {
    let name = view.model.strategies.get(view.which).map_or("", |spec| spec.name.as_str());
    let title = format!("{}: a season under {name}", view.model.name);
    let charts = charts(view);
    let parts = [
        gates(view, &charts),
        measures(view),
        plots(view, &charts),
        diary(view),
        grounds::taken_for_granted(view.model, view.units),
        grounds::cautions(view.model, view.library, view.units),
    ];
    let foot = grounds::provenance(view.model, view.from, 1);
    Report { html: page::whole(&title, &head(view, name), &parts, &foot), charts }
}

/// Every chart by name.
fn charts(view: &SeasonView<'_>) -> Vec<(String, Chart)> {
    let (model, season) = (view.model, view.season);
    let mut charts =
        vec![("season".to_owned(), season_strip(&strip(model, view.draw, view.which, season, model.base.days)))];
    charts.extend(pictures::cover(model, view.which, season).map(|cover| ("cover".to_owned(), cover)));
    for plot in 0..model.base.plots.len() {
        charts.push((plot_id(plot), fans::season_plot(model, season, plot, view.units)));
        let nitrogen = flows::season_plot(model, view.which, season, plot, view.units);
        charts.push((format!("{}-nitrogen", plot_id(plot)), nitrogen));
    }
    charts
}

fn head(view: &SeasonView<'_>, name: &str) -> Markup {
    let draw = match view.draw.number {
        0 => "Every unknown at its likely value, in the first weather drawn.".to_owned(),
        number => format!("Possible year number {number}."),
    };
    html! {
        header {
            p.site { (view.model.name) }
            h1 { "A season under " (name) }
            p.answer { (typeset(&super::describe::what_it_does(view.model, view.which, view.units))) " " (draw) }
        }
    }
}

/// From so many plots on the chart of every plot's cover is too tall for a sheet of paper. Each
/// plot's own picture shows the same; the chart is among the files in any case.
const MANY_PLOTS: usize = 12;

fn gates(view: &SeasonView<'_>, charts: &[(String, Chart)]) -> Part {
    let many = view.model.base.plots.len() >= MANY_PLOTS;
    let shown = charts.iter().filter(|(name, _)| !(name.starts_with("plot-") || many && name == "cover"));
    let body = html! { div.pictures { @for (_, chart) in shown { (picture(chart)) } } };
    Part::new("gates", "Gates and cover", body)
}

fn plots(view: &SeasonView<'_>, charts: &[(String, Chart)]) -> Part {
    let of = |plot: usize| {
        charts.iter().filter(move |(name, _)| {
            let id = plot_id(plot);
            *name == id || *name == format!("{id}-nitrogen")
        })
    };
    let names = || view.model.base.plots.iter().map(|plot| plot.name.as_str()).enumerate();
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

fn measures(view: &SeasonView<'_>) -> Part {
    let shown = Measure::ALL.iter().map(|&m| (m, view.season.measures.get(m))).filter(|(_, value)| !value.is_nan());
    let body = html! {
        table.short {
            tbody { @for (m, value) in shown {
                tr { td { (m.plain()) } td.number { (measured(value, m, view.units)) } td { (unit(m.unit(), view.units)) } }
            } }
        }
    };
    Part::new("measures", "Results", body)
}

fn diary(view: &SeasonView<'_>) -> Part {
    let body = html! {
            details open="open" {
                summary { (view.season.diary.lines.len()) " lines" }
                table.diary { tbody { @for day in view.season.diary.lines.chunk_by(|a, b| a.date == b.date) {
                    tr {
                        td.date { (plain_date(day[0].date)) }
                        td { @for line in day { p {
                            (super::moves::said(line, view.units))
                        } } }
                    }
                } } }
            }
    };
    Part::new("diary", "Diary", body)
}
