//! The report of a comparison: its parts in the order of the page.

use super::compared::{ByName, CompareView, Report};
use super::page::{self, Part};
use super::{answer, fans, flows, grounds, harvest, limits, measures, pictures, plan, plots, rates, strategies};
use crate::charts::Chart;
use crate::charts::trade_off::Gain;
use maud::{Markup, html};
use rayon::prelude::*;

/// `report.html` of a comparison, with its charts.
#[must_use]
pub fn compare_report(view: &CompareView<'_>) -> Report {
    let charts = charts(view);
    let chart = |name: &str| charts.iter().find(|(of, _)| of == name).map(|(_, chart)| chart);
    let first = [plan::part(view, chart("season")), strategies::part(view)];
    let rest = [
        pictures_part(&chart),
        plots::part(view, &chart),
        limits::part(view),
        measures::part(view),
        grounds::taken_for_granted(view.model, view.units),
        grounds::cautions(view.model, view.library, view.units),
        grounds::how_to_read(view),
    ];
    let parts: Vec<Part> = first.into_iter().chain(rates::part(view)).chain(harvest::part(view)).chain(rest).collect();
    let title = format!("{}: which gate, when", view.model.name);
    let foot = grounds::provenance(view.model, view.from, view.comparison.finished);
    Report { html: page::whole(&title, &answer::part(view), &parts, &foot), charts }
}

/// Every chart, in the order of the page.
fn charts(view: &CompareView<'_>) -> Vec<(String, Chart)> {
    let (model, c, likely) = (view.model, view.comparison, view.likely);
    let of_plot = |plot: usize| {
        let name = page::plot_id(plot);
        let nitrogen = format!("{name}-nitrogen");
        [(name, fans::plot(view, plot)), (nitrogen, flows::plot(view, plot))]
    };
    let of_plots = || (0..model.base.plots.len()).into_par_iter().flat_map_iter(of_plot).collect::<Vec<_>>();
    let of_site = || {
        vec![
            ("season".to_owned(), Some(pictures::strip(model, &likely.draw, view.leading(), &likely.season))),
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
            (reading())
        }
    };
    Part::new("pictures", "What is won and what it costs", body)
}

fn reading() -> Markup {
    html! {
        div.reading {
            h3 { "Reading the pictures" }
            ul {
                li { "A hollow marker or a hatched bar of the aim: a limit gives way too often." }
                li { "Whiskers are 95 % intervals of the mean. Where they overlap, look at the differences under “Every measure”: all strategies share their luck, so differences are surer." }
                li { "Half of all possible years run in the dark band, 9 in 10 in the pale one." }
                li { "A limit must hold on every day of the run, so a possible year that dips under the line once counts as not held." }
            }
        }
    }
}
