//! `season.html`: one season on a sheet, its year with a card for each plot, and the rest folded away.

use super::page::{Part, figure as picture, plot_id};
use super::runs::StrategyRuns;
use super::strip::strip;
use super::{Report, cards, fans, flows, grounds, harvest, moves, page, pictures, plots, season_sheet};
use crate::charts::Chart;
use crate::charts::season_strip::season_strip;
use crate::draw_sampler::Draw;
use crate::provenance::Provenance;
use crate::season::Season;
use crate::units::Units;
use crate::wording::{measured, unit};
use maud::html;
use scenarios::{Library, SiteModel};
use sim_engine::dates::days_of_years;
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
    let runs = StrategyRuns::of_season((view.model, view.which), view.draw, view.season, view.units);
    let title = format!("{}: a season under {}", view.model.name, runs.name());
    let charts = charts(view);
    let chart = |name: &str| charts.iter().find(|(of, _)| of == name).map(|(_, chart)| chart);
    let year = cards::part(&runs, chart("year").or_else(|| chart("season")));
    let moves = Part::new("moves", "Every move, and why", moves::of_the_season(&runs));
    let rest = [
        measures(view),
        plots::figures(&runs, None),
        pictures_part(&charts),
        grounds::taken_for_granted(view.model, view.units),
        grounds::cautions(view.model, view.library, view.units),
    ];
    let folded = std::iter::once(moves).chain(harvest::part(&runs)).chain(rest).map(Part::folded);
    let parts: Vec<Part> = std::iter::once(year).chain(folded).collect();
    let foot = grounds::provenance(view.model, view.from, 1);
    Report { html: page::whole(&title, &season_sheet::part(&runs), &parts, &foot), charts }
}

/// Every chart by name, in the order of the page; the first is the picture of the year.
fn charts(view: &SeasonView<'_>) -> Vec<(String, Chart)> {
    let (model, season) = (view.model, view.season);
    let gates = |days: usize| season_strip(&strip(model, view.draw, view.which, season, days));
    let year = (model.years > 1).then(|| ("year".to_owned(), gates(days_of_years(model.base.start, 1))));
    let cover = pictures::cover(model, view.which, season).map(|cover| ("cover".to_owned(), cover));
    let of_plot = |plot: usize| {
        let name = plot_id(plot);
        let nitrogen = format!("{name}-nitrogen");
        [
            (name, fans::season_plot(model, season, plot, view.units)),
            (nitrogen, flows::season_plot(model, view.which, season, plot, view.units)),
        ]
    };
    let of_site = year.into_iter().chain([("season".to_owned(), gates(model.base.days))]).chain(cover);
    of_site.chain((0..model.base.plots.len()).flat_map(of_plot)).collect()
}

/// All but the picture of the year.
fn pictures_part(charts: &[(String, Chart)]) -> Part {
    let body = html! { div.pictures { @for (_, chart) in charts.iter().skip(1) { (picture(chart)) } } };
    Part::new("pictures", "Pictures of every plot", body)
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
    Part::new("measures", "Every measure", body)
}
