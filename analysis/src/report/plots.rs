//! Plot after plot: the figures of all plots side by side, and their pictures.

use super::compared::{ByName, CompareView};
use super::page::{Part, figure as picture, plot_id};
use super::plot_table::tables;
use super::runs::StrategyRuns;
use crate::experiment::ArmId;
use maud::html;

pub(super) fn figures(runs: &StrategyRuns<'_>, note: Option<String>) -> Part {
    let body = html! {
        p {
            "Under " strong { (runs.name()) } ": "
            (runs.words("in this one possible year", "the middle of the possible years, and in brackets the range 9 in 10 fall in"))
            ". Amounts are a year."
        }
        @if let Some(note) = note { p.note { (note) } }
        (tables(runs))
    };
    Part::new("plot-figures", "Figures of every plot", body)
}

pub(super) fn pictures(view: &CompareView<'_>, chart: &ByName<'_>) -> Part {
    let plots = 0..view.model.base.plots.len();
    let body = html! {
        div.pictures {
            @if let Some(season) = chart("season") { (picture(season)) }
            @for plot in plots { @if let Some(fans) = chart(&plot_id(plot)) { (picture(fans)) } }
        }
        p.note { "Where the nitrogen of each plot comes from and goes: the files plot-1-nitrogen.svg and so on, beside this page." }
    };
    Part::new("plot-pictures", "Pictures of every plot, all years", body)
}

/// Says so where not all possible years were looked at plot by plot.
pub(super) fn looked_at(view: &CompareView<'_>) -> Option<String> {
    let (seen, all) = (view.comparison.detail(ArmId::ShutIn).len(), view.comparison.finished);
    let words = format!(
        "Pictures of plots, and figures that are only about a plot, rest on the first {seen} of the {all} possible years."
    );
    (seen < all).then_some(words)
}
