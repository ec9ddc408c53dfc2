//! The report of a comparison: its parts in the order of the page.

use super::compared::{ByName, CompareView, Report};
use super::page::{self, Part};
use super::runs::StrategyRuns;
use super::strip::strip;
use super::{cards, fans, flows, grounds, harvest, limits, measures, moves, pictures, plots, rates, sheet, strategies};
use crate::charts::Chart;
use crate::charts::season_strip::season_strip;
use crate::charts::trade_off::Gain;
use maud::html;
use rayon::prelude::*;
use sim_engine::dates::days_of_years;

/// `report.html` of a comparison, with its charts.
#[must_use]
pub fn compare_report(view: &CompareView<'_>) -> Report {
    let charts = charts(view);
    let chart = |name: &str| charts.iter().find(|(of, _)| of == name).map(|(_, chart)| chart);
    let runs = StrategyRuns::from(view);
    let year = cards::part(&runs, chart("year"));
    let folded = [Part::new("moves", "Every move of the year", moves::of_the_year(&runs)), strategies::part(view)];
    let rest = [
        pictures_part(&chart),
        plots::figures(&runs, plots::looked_at(view)),
        plots::pictures(view, &chart),
        limits::part(view),
        measures::part(view),
        grounds::taken_for_granted(view.model, view.units),
        grounds::cautions(view.model, view.library, view.units),
        grounds::how_to_read(view),
    ];
    let folded = folded.into_iter().chain(rates::part(view)).chain(harvest::part(&runs)).chain(rest).map(Part::folded);
    let parts: Vec<Part> = std::iter::once(year).chain(folded).collect();
    let title = format!("{}: which gate, when", view.model.name);
    let foot = grounds::provenance(view.model, view.from, view.comparison.finished);
    Report { html: page::whole(&title, &sheet::part(view, &runs), &parts, &foot), charts }
}

/// Every chart, in the order of the page; those of nitrogen by plot are files alone.
fn charts(view: &CompareView<'_>) -> Vec<(String, Chart)> {
    let (model, c, likely) = (view.model, view.comparison, view.likely);
    let of_plot = |plot: usize| {
        let name = page::plot_id(plot);
        let nitrogen = format!("{name}-nitrogen");
        [(name, fans::plot(view, plot)), (nitrogen, flows::plot(view, plot))]
    };
    let of_plots = || (0..model.base.plots.len()).into_par_iter().flat_map_iter(of_plot).collect::<Vec<_>>();
    let of_site = || {
        let season = |days: usize| season_strip(&strip(model, &likely.draw, view.leading(), &likely.season, days));
        vec![
            ("year".to_owned(), Some(season(days_of_years(model.base.start, 1)))),
            ("season".to_owned(), (model.years > 1).then(|| season(model.base.days))),
            ("trade-off".to_owned(), pictures::trade(c, Gain::Pests)),
            ("trade-off-hours".to_owned(), pictures::trade(c, Gain::Hours)),
            ("aim".to_owned(), Some(pictures::aim(c))),
            ("least-cover".to_owned(), pictures::least_cover(model, c)),
            ("all-plots".to_owned(), fans::site(view)),
            ("all-plots-nitrogen".to_owned(), flows::site(view)),
        ]
    };
    let (charts, of_plots) = rayon::join(of_site, of_plots);
    charts.into_iter().chain(of_plots).filter_map(|(name, chart)| Some((name, chart?))).collect()
}

fn pictures_part(chart: &ByName<'_>) -> Part {
    let shown = ["trade-off", "trade-off-hours", "aim", "least-cover", "all-plots", "all-plots-nitrogen"];
    let body = html! {
        div.pictures {
            @for picture in shown.iter().filter_map(|name| chart(name)) { (page::figure(picture)) }
            div.reading {
                h3 { "Reading the pictures" }
                ul {
                    li { "A hollow marker or a hatched bar: a limit fails too often." }
                    li { "Whiskers are 95 % intervals of the mean. All strategies share the same possible years, so differences are surer than the figures themselves." }
                    li { "Half of all possible years run in the dark band, 9 in 10 in the pale one." }
                    li { "A limit must hold on every day of the run: a possible year that dips under the line once counts as not held." }
                }
            }
        }
    };
    Part::new("pictures", "Pictures of all strategies", body)
}
