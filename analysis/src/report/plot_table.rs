//! The table of a plot: every figure with its range, beside the run of birds shut in and that of nothing.

use super::compared::CompareView;
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::outcomes::{PlotColumn, PlotSpread};
use crate::run_detail::PlotFigures;
use crate::stats::quantiles::Spread;
use crate::wording::{BLANK, figure, plain_date, typeset, unit};
use maud::{Markup, html};
use sim_engine::dates::date_of;
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
    pub fn over_draws(self, c: &Comparison, run: ArmId, plot: usize) -> PlotSpread {
        let seen = |run| c.detail(run).iter().map(move |detail| &detail.plots[plot]);
        match self {
            Kept(column) => c.plot(run, plot, column),
            Close(pick) => PlotSpread::of(&seen(run).map(pick).collect::<Vec<f64>>()),
            FewerPests => {
                let both = seen(run).zip(seen(ArmId::ShutIn));
                let fewer = both.map(|(here, shut_in)| percent_fewer(here.pests.emerged_m2, shut_in.pests.emerged_m2));
                PlotSpread::of(&fewer.collect::<Vec<f64>>())
            }
        }
    }
}

/// How a figure is printed.
enum Print {
    /// In a metric unit, with so many decimals.
    Number(&'static str, usize),
    /// A day of the run, as a date.
    Date,
}

use Print::{Date, Number};

/// Head, how it is printed, figure.
type FigureRow = (&'static str, Print, PlotFigure);

const ROWS: [FigureRow; 35] = [
    ("Days open", Number("d", 0), Kept(PlotColumn::DaysOpen)),
    ("Stays", Number("", 1), Close(|p| p.stays)),
    ("Longest stay", Number("d", 0), Close(|p| p.longest_stay_d)),
    ("Shortest rest", Number("d", 0), Close(|p| p.shortest_rest_d)),
    ("Bird-days", Number("per m2", 1), Kept(PlotColumn::BirdDays)),
    ("Least cover", Number("%", 0), Kept(PlotColumn::LeastCover)),
    ("Mean cover", Number("%", 0), Kept(PlotColumn::MeanCover)),
    ("Days under the cover limit", Number("d", 0), Kept(PlotColumn::DaysUnder)),
    ("Longest under half cover because of the birds", Number("d", 0), Kept(PlotColumn::BareDays)),
    ("Mean weed cover", Number("%", 1), Kept(PlotColumn::WeedCover)),
    ("Weed seed bank, change", Number("%", 0), Close(|p| p.seed_bank_percent)),
    ("Keeper's work", Number("h", 1), Kept(PlotColumn::Work)),
    ("Work saved against birds shut in", Number("h", 1), Kept(PlotColumn::WorkSaved)),
    ("Pests risen from its own soil", Number("per m2", 2), Close(|p| p.pests.emerged_m2)),
    ("Fewer pests risen than with the birds shut in", Number("%", 0), FewerPests),
    ("Pests flown in", Number("per m2", 2), Close(|p| p.pests.flown_in_m2)),
    ("Crop damaged by pests", Number("%", 1), Close(|p| p.pests.damage_percent)),
    ("Nitrogen load, any 12 months", Number("kg/ha", 0), Kept(PlotColumn::Nitrogen)),
    ("Phosphorus load, any 12 months", Number("kg/ha", 1), Kept(PlotColumn::Phosphorus)),
    ("Nitrogen leached", Number("kg/ha", 0), Kept(PlotColumn::Leached)),
    ("Worm eggs at the end", Number("index", 1), Kept(PlotColumn::WormEggs)),
    ("Green eaten, dry", Number("kg", 1), Close(|p| p.green_eaten_kg)),
    ("Insects and worms eaten, dry", Number("kg", 2), Close(|p| p.insects_eaten_kg)),
    ("Harvest kept, fresh", Number("kg", 1), Close(|p| p.harvest.kept_kg)),
    ("Harvest lost to pests, fresh", Number("kg", 1), Close(|p| p.harvest.lost_to_pests_kg)),
    ("Harvest lost to weeds, fresh", Number("kg", 1), Close(|p| p.harvest.lost_to_weeds_kg)),
    ("Fruit picked by birds, fresh", Number("kg", 2), Close(|p| p.harvest.taken_by_birds_kg)),
    ("Crop taken by birds, dry", Number("kg", 2), Close(|p| p.crop_taken_kg)),
    ("Slugs and snails, mean", Number("per m2", 1), Close(|p| p.slugs_m2)),
    ("Crop eaten by slugs, dry", Number("kg", 2), Close(|p| p.crop_to_slugs_kg)),
    ("Soil to shovel back", Number("kg", 0), Close(|p| p.soil_thrown_kg)),
    ("Clean-up done, days after the crop", Number("d", 0), Close(|p| p.residue_gone_d)),
    ("First clean-up done by", Date, Close(|p| p.first_residue_gone_day)),
    ("First harvest allowed", Date, Close(|p| p.harvest_allowed_day)),
    ("Nitrogen left in soil and plants", Number("kg/ha", 0), Close(|p| p.nitrogen.stored)),
];

const HEADS: [&str; 3] = ["This strategy", "Birds shut in", "No birds, no care"];

pub(super) fn table(view: &CompareView<'_>, plot: usize) -> Markup {
    let runs = [ArmId::Strategy(view.comparison.leading()), ArmId::ShutIn, ArmId::Nothing];
    html! {
        table.plot-figures {
            thead { tr { th { "" } @for head in HEADS { th { (head) } } } }
            tbody { @for row in &ROWS { (line(view, row, runs, plot)) } }
        }
    }
}

/// A row, left out where there is nothing to say.
fn line(view: &CompareView<'_>, (head, print, what): &FigureRow, runs: [ArmId; 3], plot: usize) -> Markup {
    let seen = runs.map(|run| what.over_draws(view.comparison, run, plot));
    if !seen.iter().any(|of| of.something) {
        return html! {};
    }
    let [with, shut_in, nothing] = seen.map(|of| said(view, print, of.spread));
    let what = match print {
        Number("" | "index", _) | Date => String::new(),
        Number("d", _) if head.contains("days") => String::new(),
        Number("d", _) => "days".to_owned(),
        Number(of, _) => unit(of, view.units),
    };
    html! {
        tr {
            td.what { (head) @if !what.is_empty() { small { ", " (typeset(&what)) } } }
            td { strong { (with.0) } @if let Some(range) = &with.1 { " " small { "(" (range) ")" } } }
            td { (shut_in.0) }
            td { (nothing.0) }
        }
    }
}

/// Median, and the range nine in ten possible years fall in where there is one.
fn said(view: &CompareView<'_>, print: &Print, spread: Option<Spread>) -> (String, Option<String>) {
    let Some(of) = spread else { return (BLANK.to_owned(), None) };
    let write = |value: f64| match *print {
        Number(unit, decimals) => figure(view.units.value(value, unit), view.units.decimals(decimals, unit)),
        Date => plain_date(date_of(view.model.base.start, value.max(0.0).round() as usize)),
    };
    let (low, high) = (write(of.p05), write(of.p95));
    (write(of.median), (low != high).then(|| format!("{low} to {high}")))
}
