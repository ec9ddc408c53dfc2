//! Every figure of every plot under the strategy, with its range: plots side by side, as many as a page is wide.

use super::runs::{Run, StrategyRuns};
use crate::outcomes::{PlotColumn, PlotSpread};
use crate::run_detail::PlotFigures;
use crate::stats::quantiles::Spread;
use crate::wording::{BLANK, figure, typeset, unit};
use maud::{Markup, html};
use sim_engine::summary::percent_fewer;

/// A figure of a plot in a run.
#[derive(Clone, Copy)]
pub(super) enum PlotFigure {
    /// Of every possible year.
    Kept(PlotColumn),
    /// Of those looked at closely.
    Close(fn(&PlotFigures) -> f64),
    /// Fewer adults risen from its soil than with the birds shut in, %, of those looked at closely.
    FewerPests,
}

use PlotFigure::{Close, FewerPests, Kept};

impl PlotFigure {
    /// Over all possible years it is known of.
    pub fn over_draws(self, runs: &StrategyRuns<'_>, plot: usize) -> PlotSpread {
        let seen = |run| runs.details(run).iter().map(move |detail| &detail.plots[plot]);
        match self {
            Kept(column) => runs.plot(plot, column),
            Close(pick) => PlotSpread::of(&seen(Run::Strategy).map(pick).collect::<Vec<f64>>()),
            FewerPests => {
                let both = seen(Run::Strategy).zip(seen(Run::ShutIn));
                let fewer = both.map(|(here, shut_in)| percent_fewer(here.pests.emerged_m2, shut_in.pests.emerged_m2));
                PlotSpread::of(&fewer.collect::<Vec<f64>>())
            }
        }
    }
}

/// Head, metric unit, decimals, figure.
type FigureRow = (&'static str, &'static str, usize, PlotFigure);

const ROWS: [FigureRow; 33] = [
    ("Days open", "d", 0, Kept(PlotColumn::DaysOpen)),
    ("Stays", "", 1, Close(|p| p.stays)),
    ("Longest stay", "d", 0, Close(|p| p.longest_stay_d)),
    ("Shortest rest", "d", 0, Close(|p| p.shortest_rest_d)),
    ("Bird-days", "per m2", 1, Kept(PlotColumn::BirdDays)),
    ("Least cover", "%", 0, Kept(PlotColumn::LeastCover)),
    ("Mean cover", "%", 0, Kept(PlotColumn::MeanCover)),
    ("Days under the cover limit", "d", 0, Kept(PlotColumn::DaysUnder)),
    ("Longest under half cover because of the birds", "d", 0, Kept(PlotColumn::BareDays)),
    ("Mean weed cover", "%", 1, Kept(PlotColumn::WeedCover)),
    ("Weed seed bank, change", "%", 0, Close(|p| p.seed_bank_percent)),
    ("Keeper's work", "h", 1, Kept(PlotColumn::Work)),
    ("Work saved against birds shut in", "h", 1, Kept(PlotColumn::WorkSaved)),
    ("Pests risen from its own soil", "per m2", 2, Close(|p| p.pests.emerged_m2)),
    ("Fewer pests risen than with the birds shut in", "%", 0, FewerPests),
    ("Pests flown in", "per m2", 2, Close(|p| p.pests.flown_in_m2)),
    ("Crop damaged by pests", "%", 1, Close(|p| p.pests.damage_percent)),
    ("Nitrogen load, any 12 months", "kg/ha", 0, Kept(PlotColumn::Nitrogen)),
    ("Phosphorus load, any 12 months", "kg/ha", 1, Kept(PlotColumn::Phosphorus)),
    ("Nitrogen leached", "kg/ha", 0, Kept(PlotColumn::Leached)),
    ("Worm eggs at the end", "index", 1, Kept(PlotColumn::WormEggs)),
    ("Green eaten, dry", "kg", 1, Close(|p| p.green_eaten_kg)),
    ("Insects and worms eaten, dry", "kg", 2, Close(|p| p.insects_eaten_kg)),
    ("Harvest kept, fresh", "kg", 1, Close(|p| p.harvest.kept_kg)),
    ("Harvest lost to pests, fresh", "kg", 1, Close(|p| p.harvest.lost_to_pests_kg)),
    ("Harvest lost to weeds, fresh", "kg", 1, Close(|p| p.harvest.lost_to_weeds_kg)),
    ("Fruit picked by birds, fresh", "kg", 2, Close(|p| p.harvest.taken_by_birds_kg)),
    ("Crop taken by birds, dry", "kg", 2, Close(|p| p.crop_taken_kg)),
    ("Slugs and snails, mean", "per m2", 1, Close(|p| p.slugs_m2)),
    ("Crop eaten by slugs, dry", "kg", 2, Close(|p| p.crop_to_slugs_kg)),
    ("Soil to shovel back", "kg", 0, Close(|p| p.soil_thrown_kg)),
    ("Leftovers of a crop gone, days after it ends", "d", 0, Close(|p| p.residue_gone_d)),
    ("Nitrogen left in soil and plants", "kg/ha", 0, Close(|p| p.nitrogen.stored)),
];

/// Plots side by side in one table.
const ABREAST: usize = 6;

pub(super) fn tables(runs: &StrategyRuns<'_>) -> Markup {
    let plots: Vec<usize> = (0..runs.model.base.plots.len()).collect();
    html! { @for plots in plots.chunks(ABREAST) { (table(runs, plots)) } }
}

fn table(runs: &StrategyRuns<'_>, plots: &[usize]) -> Markup {
    html! {
        table.stack.plot-figures {
            thead { tr { th { "" } @for &plot in plots { th { (name(runs, plot)) } } } }
            tbody { @for row in &ROWS { (line(runs, row, plots)) } }
        }
    }
}

fn name<'v>(runs: &StrategyRuns<'v>, plot: usize) -> &'v str {
    &runs.model.base.plots[plot].name
}

/// A row, left out where there is nothing to say of any plot.
fn line(runs: &StrategyRuns<'_>, (head, of_unit, decimals, what): &FigureRow, plots: &[usize]) -> Markup {
    let seen: Vec<PlotSpread> = plots.iter().map(|&plot| what.over_draws(runs, plot)).collect();
    if !seen.iter().any(|of| of.something) {
        return html! {};
    }
    let unit_words = match *of_unit {
        "" | "index" => String::new(),
        "d" if head.contains("days") => String::new(),
        of => unit(of, runs.units),
    };
    html! {
        tr {
            td.what { (head) @if !unit_words.is_empty() { small { ", " (typeset(&unit_words)) } } }
            @for (of, &plot) in seen.iter().zip(plots) { (cell(runs, (of_unit, *decimals), of.spread, plot)) }
        }
    }
}

/// Median, and the range nine in ten possible years fall in where there is one.
fn cell(runs: &StrategyRuns<'_>, (unit, decimals): (&str, usize), spread: Option<Spread>, plot: usize) -> Markup {
    let write = |value: f64| figure(runs.units.value(value, unit), runs.units.decimals(decimals, unit));
    html! {
        td data-head=(name(runs, plot)) { span {
            @match spread {
                None => (BLANK),
                Some(of) => {
                    strong { (write(of.median)) }
                    @if write(of.p05) != write(of.p95) { " " small { "(" (write(of.p05)) " to " (write(of.p95)) ")" } }
                },
            }
        } }
    }
}
