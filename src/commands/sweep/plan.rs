//! What a sweep runs: the cells, and the site of each.

use super::args::{SampleDesign, SweepArgs};
use crate::commands::inputs::strategies;
use crate::commands::station_days::ForcedWeather;
use crate::common::Common;
use crate::problem::CommandError;
use crate::sites::{self, Opened};
use analysis::provenance::VERSION;
use analysis::sweep::axis::{Axis, Values, values};
use analysis::sweep::design::{Cells, Design, MOST_SOBOL_AXES};
use analysis::sweep::work::Cell;
use analysis::sweep::{LimitName, SweepPlan};
use analysis::units::Units;
use rayon::prelude::*;
use scenarios::vary::{Knob, Template};
use scenarios::{Fault, Faults};
use sim_engine::weather::DayWeather;

/// More cells than this want `--yes`.
const MANY_CELLS: u64 = 10_000_000;
/// Up to so many cells, every one is read before the first is run.
const CHECKED_CELLS: u64 = 4_000;

/// A sweep ready to run.
pub struct Sweep<'o> {
    /// What decides its results.
    pub plan: SweepPlan,
    /// Strategies, by index into the model's.
    pub which: Vec<usize>,
    /// Number of cells.
    pub count: u64,
    cells: Cells,
    template: Template,
    knobs: Vec<Knob>,
    opened: &'o Opened,
    laid: Option<ForcedWeather>,
}

/// Plans a sweep and reads its cells for faults.
///
/// # Errors
/// What cannot be varied so, a value that makes the site invalid, too many cells.
pub fn plan<'o>(
    args: &SweepArgs,
    common: &Common,
    opened: &'o Opened,
    laid: Option<ForcedWeather>,
) -> Result<Sweep<'o>, CommandError> {
    let template = Template::new(opened.text());
    let mut varied = args.vary.iter().map(|text| vary(&template, text)).collect::<Result<Vec<_>, _>>()?;
    if let Some((one, two)) = twice(&varied) {
        return Err(CommandError::argument(
            "--vary",
            format!("{one} and {two} set the same number"),
            "Vary one of them.",
        ));
    }
    // What needs the ground computed anew runs slowest.
    varied.sort_by_key(|(knob, _)| knob.light);
    let (knobs, axes): (Vec<Knob>, Vec<Axis>) = varied.into_iter().unzip();
    let design = design(args, &axes)?;
    let model = &opened.model;
    let which = strategies(model, &args.strategies)?;
    let wanted = args.draws.unwrap_or(model.draws) as usize;
    let distinct = if laid.is_some() { None } else { model.weather.distinct_draws() };
    let draws = distinct.map_or(wanted, |years| wanted.min(years)) as u64;
    let plan = SweepPlan {
        version: VERSION.to_owned(),
        input_digest: sites::digest(&opened.inputs),
        seed: common.seed,
        site: model.name.clone(),
        years: model.years,
        draws,
        required_reliability: args.sure.unwrap_or(model.compare.required_reliability),
        axes,
        design,
        strategies: which.iter().map(|&s| model.strategies[s].name.clone()).collect(),
        limits: LimitName::all(model, Units::Metric),
        aim_unit: model.aim_unit.short().to_owned(),
        aims: model.aims.iter().map(|(measure, points)| (measure.name().to_owned(), *points > 0.0)).collect(),
        weather: laid.as_ref().map(ForcedWeather::given),
    };
    let count = count(&plan, args.yes)?;
    let cells = plan.cells();
    let sweep = Sweep { plan, which, count, cells, template, knobs, opened, laid };
    sweep.check()?;
    Ok(sweep)
}

fn vary(template: &Template, text: &str) -> Result<(Knob, Axis), CommandError> {
    let argument = format!("--vary {text}");
    let Some((key, range)) = text.split_once('=') else {
        return Err(CommandError::argument(&argument, "has no values", "Write for example --vary stay=3..28/1."));
    };
    let knob =
        template.knob(key.trim()).map_err(|error| CommandError::argument(&argument, error.message, error.remedy))?;
    let values = values(&argument, range.trim())?;
    let Knob { key, unit, whole, light, .. } = knob.clone();
    Ok((knob, Axis { key, unit, light, whole, values }))
}

/// Days of a station are laid on a run of one length.
fn other_length(laid: usize, wanted: usize) -> CommandError {
    let fault = format!("the weather is laid on {laid} days, and a cell runs {wanted}");
    CommandError::argument("--weather", fault, "Leave --weather out, or do not vary how long the run is.")
}

fn twice(varied: &[(Knob, Axis)]) -> Option<(&str, &str)> {
    varied.iter().enumerate().find_map(|(at, (knob, _))| {
        let other = varied[..at].iter().find(|(other, _)| other.overlaps(knob))?;
        Some((other.0.key.as_str(), knob.key.as_str()))
    })
}

fn design(args: &SweepArgs, axes: &[Axis]) -> Result<Design, CommandError> {
    match (args.sample, args.design) {
        (None, _) => match axes.iter().find(|axis| matches!(axis.values, Values::Between(..))) {
            Some(axis) => {
                let (low, high) = axis.ends();
                let remedy =
                    format!("Give a step, {}={low}..{high}/1, or cells spread evenly with --sample 500.", axis.key);
                Err(CommandError::argument("--vary", format!("the range of {} has no step", axis.key), remedy))
            }
            None => Ok(Design::Grid),
        },
        (Some(_), SampleDesign::Sobol) if axes.len() > MOST_SOBOL_AXES => {
            let fault = format!("{} values are varied; Sobol points are made for up to {MOST_SOBOL_AXES}", axes.len());
            Err(CommandError::argument("--design", fault, "Take --design latin."))
        }
        (Some(points), SampleDesign::Sobol) => Ok(Design::Sobol { points }),
        (Some(points), SampleDesign::Latin) => Ok(Design::Latin { points }),
    }
}

fn count(plan: &SweepPlan, yes: bool) -> Result<u64, CommandError> {
    match plan.cell_count() {
        Some(count) if count <= MANY_CELLS || yes => Ok(count),
        Some(count) => {
            let remedy = "Take greater steps, cells spread evenly with --sample 1000, or add --yes if you mean it.";
            Err(CommandError::argument("--vary", format!("this makes {count} cells"), remedy))
        }
        None => {
            Err(CommandError::argument("--vary", "this makes more cells than can be counted", "Take greater steps."))
        }
    }
}

impl Sweep<'_> {
    /// The run's days where they are given.
    pub fn weather(&self) -> Option<&[DayWeather]> {
        self.laid.as_ref().map(|laid| laid.days.as_slice())
    }

    /// A cell, ready to run.
    ///
    /// # Errors
    /// Its values make the site invalid.
    pub fn cell(&self, opened: &Opened, number: u64) -> Result<Cell, CommandError> {
        let values = self.cells.values(number);
        let model = self.read(opened, &values)?;
        let heavy = self.knobs.iter().zip(&values).filter(|(knob, _)| !knob.light);
        Ok(Cell { model, ground: heavy.map(|(_, value)| format!("{value} ")).collect(), only: None })
    }

    fn read(&self, opened: &Opened, values: &[f64]) -> Result<scenarios::SiteModel, CommandError> {
        let settings: Vec<(&Knob, f64)> = self.knobs.iter().zip(values.iter().copied()).collect();
        let model = opened.again(&self.template.text(&settings)).map_err(|faults| self.with_values(values, &faults))?;
        match self.weather() {
            Some(days) if days.len() != model.base.days => Err(other_length(days.len(), model.base.days)),
            _ => Ok(model),
        }
    }

    /// Faults of a cell, with the values that make them.
    fn with_values(&self, values: &[f64], faults: &Faults) -> CommandError {
        let named: Vec<String> =
            self.knobs.iter().zip(values).map(|(knob, value)| format!("{}={value}", knob.key)).collect();
        let errors = faults.all().iter().filter(|fault| fault.severity == scenarios::diagnose::Severity::Error);
        let output = errors.map(|fault| {
            let place = format!("{}, line {}", fault.place.file, fault.place.line);
            Fault::of_file(
                "--vary",
                format!("with {}, {place}: {}", named.join(", "), fault.message),
                fault.remedy.clone(),
            )
        });
        CommandError::Input(Faults::sorted(output.collect()))
    }

    /// Reads cells for faults before any is run: all of them, or where they are many, every
    /// value of every axis beside the first and the last values of the others.
    fn check(&self) -> Result<(), CommandError> {
        let picked: Vec<Vec<f64>> = if self.count <= CHECKED_CELLS {
            (0..self.count).map(|cell| self.cells.values(cell)).collect()
        } else {
            self.edges()
        };
        let read = picked.par_iter().map(|values| self.read(self.opened, values).map(drop));
        let found: Vec<CommandError> = read.filter_map(Result::err).collect();
        // The cell that comes first speaks for all.
        found.into_iter().next().map_or(Ok(()), Err)
    }

    fn edges(&self) -> Vec<Vec<f64>> {
        let [first, last] = [0, self.count - 1].map(|cell| self.cells.values(cell));
        let mut picked = vec![first.clone(), last.clone()];
        for (along, axis) in self.plan.axes.iter().enumerate() {
            let all: Vec<f64> = match &axis.values {
                Values::List(list) => list.clone(),
                Values::Between(low, high) => vec![*low, *high],
            };
            for corner in [&first, &last] {
                picked.extend(all.iter().map(|value| {
                    let mut values = corner.clone();
                    values[along] = *value;
                    values
                }));
            }
        }
        picked
    }
}
