//! The table of a plot: every figure with its range, beside the run of birds shut in and that of nothing.

use super::compared::CompareView;
use crate::experiment::ArmId;
use crate::experiment::{DrawOutcome, Outcome};
use crate::run_detail::PlotFigures;
use crate::stats::quantiles::spread;
use crate::wording::{BLANK, figure, plain_date, typeset, unit};
use maud::{Markup, html};
use sim_engine::dates::date_of;
use sim_engine::summary::{PlotSummary, percent_fewer};

/// One plot in one run of one draw.
pub(super) struct PlotOutcome<'a> {
    draw: &'a DrawOutcome,
    outcome: &'a Outcome,
    plot: usize,
}

impl<'a> PlotOutcome<'a> {
    /// All draws of a run.
    pub fn all(view: &CompareView<'a>, run: ArmId, plot: usize) -> Vec<PlotOutcome<'a>> {
        let seen = |draw: &'a DrawOutcome| PlotOutcome { draw, outcome: draw.of(run), plot };
        // A strategy that --until-sure took out has blanks from then on.
        view.comparison.outcomes.iter().map(seen).filter(|seen| !seen.outcome.plots.is_empty()).collect()
    }

    pub fn summary(&self) -> &'a PlotSummary {
        &self.outcome.plots[self.plot]
    }

    /// The plot looked at closely, if it was.
    pub fn detail(&self) -> Option<&'a PlotFigures> {
        self.outcome.detail.as_ref().map(|detail| &detail.plots[self.plot])
    }

    /// Fewer adults risen from the plot's soil than with the birds shut in, %.
    pub fn fewer_pests(&self) -> f64 {
        let shut_in =
            self.draw.shut_in.detail.as_ref().map_or(f64::NAN, |detail| detail.plots[self.plot].pests.emerged_m2);
        percent_fewer(self.detail().map_or(f64::NAN, |here| here.pests.emerged_m2), shut_in)
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

/// Head, how it is printed, value.
type FigureRow = (&'static str, Print, fn(&PlotOutcome<'_>) -> f64);

fn close(seen: &PlotOutcome<'_>, pick: fn(&PlotFigures) -> f64) -> f64 {
    seen.detail().map_or(f64::NAN, pick)
}

const ROWS: [FigureRow; 35] = [
    ("Days open", Number("d", 0), |s| s.summary().days_open),
    ("Stays", Number("", 1), |s| close(s, |p| p.stays)),
    ("Longest stay", Number("d", 0), |s| close(s, |p| p.longest_stay_d)),
    ("Shortest rest", Number("d", 0), |s| close(s, |p| p.shortest_rest_d)),
    ("Bird-days", Number("per m2", 1), |s| s.summary().bird_days),
    ("Least cover", Number("%", 0), |s| 100.0 * s.summary().least_cover),
    ("Mean cover", Number("%", 0), |s| 100.0 * s.summary().mean_cover),
    ("Days under the cover limit", Number("d", 0), |s| s.summary().days_under),
    ("Longest under half cover because of the birds", Number("d", 0), |s| s.summary().bare_days),
    ("Mean weed cover", Number("%", 1), |s| 100.0 * s.summary().weed_cover),
    ("Weed seed bank, change", Number("%", 0), |s| close(s, |p| p.seed_bank_percent)),
    ("Keeper's work", Number("h", 1), |s| s.summary().work_h),
    ("Work saved against birds shut in", Number("h", 1), |s| s.summary().work_saved_h),
    ("Pests risen from its own soil", Number("per m2", 2), |s| close(s, |p| p.pests.emerged_m2)),
    ("Fewer pests risen than with the birds shut in", Number("%", 0), |s| s.fewer_pests()),
    ("Pests flown in", Number("per m2", 2), |s| close(s, |p| p.pests.flown_in_m2)),
    ("Crop damaged by pests", Number("%", 1), |s| close(s, |p| p.pests.damage_percent)),
    ("Nitrogen load, any 12 months", Number("kg/ha", 0), |s| s.summary().nitrogen),
    ("Phosphorus load, any 12 months", Number("kg/ha", 1), |s| s.summary().phosphorus),
    ("Nitrogen leached", Number("kg/ha", 0), |s| s.summary().leached),
    ("Worm eggs at the end", Number("index", 1), |s| s.summary().worm_eggs),
    ("Green eaten, dry", Number("kg", 1), |s| close(s, |p| p.green_eaten_kg)),
    ("Insects and worms eaten, dry", Number("kg", 2), |s| close(s, |p| p.insects_eaten_kg)),
    ("Harvest kept, fresh", Number("kg", 1), |s| close(s, |p| p.harvest.kept_kg)),
    ("Harvest lost to pests, fresh", Number("kg", 1), |s| close(s, |p| p.harvest.lost_to_pests_kg)),
    ("Harvest lost to weeds, fresh", Number("kg", 1), |s| close(s, |p| p.harvest.lost_to_weeds_kg)),
    ("Fruit picked by birds, fresh", Number("kg", 2), |s| close(s, |p| p.harvest.taken_by_birds_kg)),
    ("Crop taken by birds, dry", Number("kg", 2), |s| close(s, |p| p.crop_taken_kg)),
    ("Slugs and snails, mean", Number("per m2", 1), |s| close(s, |p| p.slugs_m2)),
    ("Crop eaten by slugs, dry", Number("kg", 2), |s| close(s, |p| p.crop_to_slugs_kg)),
    ("Soil to shovel back", Number("kg", 0), |s| close(s, |p| p.soil_thrown_kg)),
    ("Clean-up done, days after the crop", Number("d", 0), |s| close(s, |p| p.residue_gone_d)),
    ("First clean-up done by", Date, |s| close(s, |p| p.first_residue_gone_day)),
    ("First harvest allowed", Date, |s| close(s, |p| p.harvest_allowed_day)),
    ("Nitrogen left in soil and plants", Number("kg/ha", 0), |s| close(s, |p| p.nitrogen.stored)),
];

const HEADS: [&str; 3] = ["This strategy", "Birds shut in", "No birds, no care"];

pub(super) fn table(view: &CompareView<'_>, plot: usize) -> Markup {
    let runs = [ArmId::Strategy(view.comparison.leading()), ArmId::ShutIn, ArmId::Nothing];
    let seen = runs.map(|run| PlotOutcome::all(view, run, plot));
    html! {
        table.plot-figures {
            thead { tr { th { "" } @for head in HEADS { th { (head) } } } }
            tbody { @for row in &ROWS { (line(view, row, &seen)) } }
        }
    }
}

/// A row, left out where there is nothing to say.
fn line(view: &CompareView<'_>, (head, print, pick): &FigureRow, seen: &[Vec<PlotOutcome<'_>>; 3]) -> Markup {
    let columns = seen.each_ref().map(|draws| draws.iter().map(pick).collect::<Vec<f64>>());
    if columns.iter().flatten().all(|value| value.is_nan() || *value == 0.0) {
        return html! {};
    }
    let [with, shut_in, nothing] = columns.map(|values| said(view, print, &values));
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
fn said(view: &CompareView<'_>, print: &Print, values: &[f64]) -> (String, Option<String>) {
    let Some(of) = spread(values) else { return (BLANK.to_owned(), None) };
    let write = |value: f64| match *print {
        Number(unit, decimals) => figure(view.units.value(value, unit), view.units.decimals(decimals, unit)),
        Date => plain_date(date_of(view.model.base.start, value.max(0.0).round() as usize)),
    };
    let (low, high) = (write(of.p05), write(of.p95));
    (write(of.median), (low != high).then(|| format!("{low} to {high}")))
}
