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
use scenarios::quantity::units::phrase;
use scenarios::vary::{Knob, NoKnob, Template};
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
    let range = range.trim().trim_matches(['"', '\'']);
    let (bare, unit) = without_units(range).map_err(|[one, other]| {
        CommandError::argument(&argument, format!("its values are in {one} and {other}"), ONE_UNIT)
    })?;
    let refused = |error: NoKnob| CommandError::argument(&argument, error.message, error.remedy);
    let knob = match &unit {
        Some(unit) => knob.in_unit(unit).map_err(refused)?,
        None => knob,
    };
    let values = values(&argument, &bare)?;
    let axis = Axis { key: String::new(), unit: String::new(), light: false, whole: false, values };
    if let (None, Some(error)) = (&unit, knob.asked(range, axis.ends())) {
        return Err(refused(error));
    }
    let values = axis.values;
    let Knob { key, unit, whole, light, .. } = knob.clone();
    Ok((knob, Axis { key, unit, light, whole, values }))
}

const ONE_UNIT: &str = "Give them all in one unit, for example 7d..21d/7d or \"7..21/7 days\".";

/// The values of `--vary` without their units, and the unit they have; the two of them where there are more than one.
fn without_units(text: &str) -> Result<(String, Option<String>), [String; 2]> {
    let (mut bare, mut word, mut unit) = (String::new(), String::new(), None::<String>);
    for (at, c) in text.char_indices() {
        let number = c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | '/');
        // A slash, a hyphen or a digit within a unit: "kg/ha", "degree-days", "m2".
        let within = !word.trim().is_empty() && !matches!(c, '.' | ',') && goes_on(text, at);
        if number && !within {
            unit = same(unit, &mut word)?;
            bare.push(c);
        } else {
            word.push(c);
        }
    }
    let unit = same(unit, &mut word)?;
    // A word that is no unit is a slip in a number: it is told as one.
    let known = unit.as_ref().is_none_or(|unit| phrase(unit).is_ok());
    Ok(if known { (bare, unit) } else { (text.to_owned(), None) })
}

/// Whether a slash, hyphen or digit at this byte belongs to the unit before it.
fn goes_on(text: &str, at: usize) -> bool {
    let (before, rest) = text.split_at(at);
    let letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
    let slash = rest.strip_prefix(['/', '-']);
    letter(before.chars().last())
        && slash.map_or(rest.starts_with(|c: char| c.is_ascii_digit()), |rest| letter(rest.chars().next()))
}

/// The unit so far, or the new one of the word that was read, which is emptied.
fn same(unit: Option<String>, word: &mut String) -> Result<Option<String>, [String; 2]> {
    let new = std::mem::take(word).trim().to_owned();
    match unit {
        _ if new.is_empty() => Ok(unit),
        Some(unit) if unit != new && phrase(&unit).is_ok() && phrase(&new).is_ok() => Err([unit, new]),
        _ => Ok(Some(new)),
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_may_have_a_unit() {
        for (text, bare, unit) in [
            ("7..21/7", "7..21/7", None),
            ("7d..21d/7d", "7..21/7", Some("d")),
            ("7..21/7 days", "7..21/7", Some("days")),
            ("14 days", "14", Some("days")),
            ("1w,2w", "1,2", Some("w")),
            ("-60 degree-days", "-60", Some("degree-days")),
            ("100..200/50 kg/ha", "100..200/50", Some("kg/ha")),
            ("5 m2, 7 m2", "5,7", Some("m2")),
            ("3..x", "3..x", None),
        ] {
            let wanted = (bare.to_owned(), unit.map(str::to_owned));
            assert_eq!(without_units(text), Ok(wanted), "{text}");
        }
        assert_eq!(without_units("7d..2w"), Err(["d".to_owned(), "w".to_owned()]));
    }

    #[test]
    fn a_number_in_weeks_is_asked_for_its_unit_and_may_be_set_in_days() {
        let template = Template::new("[strategy.t]\nfixed_turn = { stay = \"2 weeks\" }\n");
        let refused = format!("{:?}", vary(&template, "stay=7..21/7").map(|_| ()).unwrap_err());
        assert!(refused.contains("49 to 147 days") && refused.contains("7..21/7 days"), "{refused}");
        for (text, written) in
            [("stay=7d..21d/7d", "7 days"), ("stay=\"7..21/7 days\"", "7 days"), ("stay=1w", "1 weeks")]
        {
            let (knob, axis) = vary(&template, text).unwrap();
            let told = template.text(&[(&knob, axis.ends().0)]);
            let told: Vec<&str> = told.split_whitespace().collect();
            assert!(told.join(" ").contains(written), "{text}: {told:?}");
        }
        let days = Template::new("[strategy.t]\nfixed_turn = { stay = \"14 days\" }\n");
        assert!(vary(&days, "stay=7..21/7").is_ok() && vary(&days, "stay=1w,2w").is_ok());
        assert!(vary(&days, "stay=7 kg").is_err());
    }
}
