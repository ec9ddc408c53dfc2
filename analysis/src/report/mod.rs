//! Reports: one HTML file, no network and no script needed, fit for phone, screen and paper.
//!
//! The order is that of a reader in a hurry: the answer, what to do and what to watch, what
//! each strategy costs and buys, the pictures, plot after plot, then everything it rests on.
//! Each part is a file of its own.

mod answer;
pub mod cautions;
pub mod describe;
mod fans;
mod flows;
mod grounds;
mod limits;
mod measures;
pub(crate) mod page;
pub mod pictures;
mod plan;
mod plot_table;
mod plots;
mod season_page;
mod strategies;
mod watch;
pub mod words;

pub use season_page::{SeasonTold, season_report};

use crate::charts::Chart;
use crate::compare::Comparison;
use crate::json::Provenance;
use crate::season::LikelySeason;
use crate::units::Units;
use maud::{Markup, html};
use page::Part;
use rayon::prelude::*;
use scenarios::{Library, SiteModel};

/// What a report of a comparison is made from.
#[derive(Clone, Copy)]
pub struct Compared<'a> {
    /// The site.
    pub model: &'a SiteModel,
    /// The library, for plants that can harm birds.
    pub library: &'a Library,
    /// The comparison.
    pub comparison: &'a Comparison,
    /// A season under the leading strategy, every unknown at its likely value.
    pub likely: &'a LikelySeason,
    /// What it was made from.
    pub from: &'a Provenance,
    /// What a reader should know before the figures, as sentences.
    pub notes: &'a [String],
    /// Units of figures, words and axes.
    pub units: Units,
}

/// A page and its charts by name, for files beside it.
#[derive(Clone, Debug)]
pub struct Report {
    /// The page.
    pub html: String,
    /// Name without ending, chart.
    pub charts: Vec<(String, Chart)>,
}

impl Compared<'_> {
    /// Index into the model of the strategy looked at closely.
    fn leading(&self) -> usize {
        self.comparison.plan.which[self.comparison.leading()]
    }

    /// Its name.
    fn leading_name(&self) -> &str {
        &self.comparison.names[self.comparison.leading()]
    }
}

/// `report.html` of a comparison, with its charts.
#[must_use]
pub fn compare_report(told: &Compared<'_>) -> Report {
    let charts = charts(told);
    let chart = |name: &str| charts.iter().find(|(of, _)| of == name).map(|(_, chart)| chart);
    let parts = [
        plan::part(told, chart("season")),
        strategies::part(told),
        pictures_part(&chart),
        plots::part(told, &chart),
        limits::part(told),
        measures::part(told),
        grounds::taken_for_granted(told.model, told.units),
        grounds::cautions(told.model, told.library, told.units),
        grounds::how_to_read(told),
    ];
    let title = format!("{}: which gate, when", told.model.name);
    let foot = grounds::provenance(told.model, told.from, told.comparison.outcomes.len());
    Report { html: page::whole(&title, &answer::part(told), &parts, &foot), charts }
}

/// Every chart, in the order of the page.
fn charts(told: &Compared<'_>) -> Vec<(String, Chart)> {
    let (model, c, likely) = (told.model, told.comparison, told.likely);
    let of_plot = |plot: usize| {
        let name = page::plot_id(plot);
        let nitrogen = format!("{name}-nitrogen");
        [(name, fans::plot(told, plot)), (nitrogen, flows::plot(told, plot))]
    };
    let of_plots = || (0..model.base.plots.len()).into_par_iter().flat_map_iter(of_plot).collect::<Vec<_>>();
    let of_site = || {
        vec![
            ("season".to_owned(), Some(pictures::strip(model, &likely.draw, told.leading(), &likely.season))),
            ("trade-off".to_owned(), pictures::trade(c)),
            ("aim".to_owned(), Some(pictures::aim(c))),
            ("least-cover".to_owned(), Some(pictures::least_cover(model, c))),
            ("all-plots".to_owned(), fans::site(told)),
            ("all-plots-nitrogen".to_owned(), flows::site(told)),
        ]
    };
    let (charts, of_plots) = rayon::join(of_site, of_plots);
    charts.into_iter().chain(of_plots).filter_map(|(name, chart)| Some((name, chart?))).collect()
}

/// A chart by its name, where there is one.
type ByName<'c> = dyn Fn(&str) -> Option<&'c Chart> + 'c;

fn pictures_part(chart: &ByName<'_>) -> Part {
    let shown = ["trade-off", "aim", "least-cover", "all-plots", "all-plots-nitrogen"];
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
