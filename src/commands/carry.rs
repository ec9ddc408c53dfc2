//! `hensward carry SITE`: how many birds the site bears, and what fails first.

use super::inputs::{mention_warnings, share, strategies};
use super::outputs::{add_charts, check_png, provenance, take, write};
use super::station_days::{self, ForcedWeather};
use crate::common::Common;
use crate::problem::CommandError;
use crate::progress::Meter;
use crate::sites::{self, Opened};
use crate::whole::whole;
use crate::{screen, stop};
use analysis::carry::CarryPlan;
use analysis::carry::ground::{CarryOutcome, carry_site};
use analysis::carry::pictures::curves;
use analysis::carry::view::{CarryView, RoomEnd, carry_table, curves_csv};
use analysis::experiment::Job;
use analysis::json::{RunFacts, carry_document, text as document_text};
use analysis::output::Files;
use analysis::sweep::work::RunPlan;
use analysis::sweep::{LimitName, SweepError};
use analysis::table::paragraph;
use analysis::units::Units;
use clap::Args;
use scenarios::crowded;
use scenarios::vary::{FLOCK, Template};
use std::path::PathBuf;
use std::time::Instant;

/// Largest flock that is tried: the most a site file may have.
const MOST_BIRDS: u64 = 2_000;

/// Files it writes, whatever is asked.
const FILES: [&str; 3] = ["carry.svg", "curves.csv", "summary.json"];

/// What can be asked.
#[derive(Args, Debug)]
pub struct CarryArgs {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// A strategy to try; may be given more than once [default: all of the site]
    #[arg(long = "strategy", value_name = "NAME")]
    pub strategies: Vec<String>,
    /// Share of possible years in which all limits must hold together [default: that of the site]
    #[arg(long, value_name = "SHARE", value_parser = share)]
    pub sure: Option<f64>,
    /// Possible years each flock is tried on [default: those of the site]
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, 100_000))]
    pub draws: Option<u32>,
    /// Run on a station's days; possible years then differ in the unknowns only
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
    /// The chart as .png too, beside its .svg
    #[arg(long)]
    pub png: bool,
}

/// Finds how many birds the site carries.
///
/// # Errors
/// Faults of the site or the options; a stop; what the system refused.
pub fn run(args: &CarryArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    check_png(args.png)?;
    let mut opened = sites::open(&args.site)?;
    mention_warnings(&opened.model, &args.site, common);
    let laid = match &args.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let which = strategies(&opened.model, &args.strategies)?;
    let mut plan = plan(args, &opened, which.len())?;
    let room = room(&opened, plan.most)?;
    plan.most = room.as_ref().map_or(plan.most, |room| room.birds);
    let days = laid.as_ref().map(|laid| laid.days.as_slice());
    let run = RunPlan { seed: common.seed, draws: plan.draws, which: &which, weather: days };
    let mut folder = take(common, &opened.label, "carry", &opened.origin, &FILES)?;
    run.check_books(&opened.model)?;
    let found = search(&opened, &plan, &run, common)?;
    let runs = found.runs;
    let output = output(&opened, &plan, (&which, room), found);
    let from = provenance(common, &opened.inputs);
    let mut document = carry_document(&opened.model.name, &output, &from, None);
    document.weather = laid.as_ref().map(ForcedWeather::used);
    let mut files = Files::default();
    let shown = CarryView { limits: LimitName::all(&opened.model, common.units_of(&opened.model)), ..output.clone() };
    add_charts(&mut files, &[("carry".to_owned(), curves(&shown))], args.png)?;
    files.add("curves.csv", curves_csv(&output));
    files.add("summary.json", document_text(&document)?);
    write(&files, &mut folder, common)?;
    if !common.json {
        let weather = laid.map(|laid| paragraph(&laid.given().note())).unwrap_or_default();
        return screen::print(&format!("{}{weather}", carry_table(&shown)));
    }
    let seconds = begun.elapsed().as_secs_f64();
    document.run = Some(RunFacts::of(&opened.model, runs, seconds, rayon::current_num_threads()));
    screen::print(&document_text(&document)?)
}

fn plan(args: &CarryArgs, opened: &Opened, strategies: usize) -> Result<CarryPlan, CommandError> {
    let model = &opened.model;
    let present = Template::new(opened.text()).flock();
    if model.base.groups.is_empty() {
        let remedy = "Add a group, for example [birds.flock] with class = \"layer\" and number = 8.";
        return Err(CommandError::argument(&args.site, "the site has no birds to count", remedy));
    }
    if model.limits.all.is_empty() {
        let remedy = "Write what must hold under [limits], for example least_cover = 0.7.";
        return Err(CommandError::argument(
            &args.site,
            "the site has no limit, so any number of birds keeps them",
            remedy,
        ));
    }
    let wanted = args.draws.unwrap_or(model.draws) as usize;
    let distinct = if args.weather.is_some() { None } else { model.weather.distinct_draws() };
    let draws = distinct.map_or(wanted, |years| wanted.min(years)) as u64;
    Ok(CarryPlan {
        strategies,
        limits: model.limits.all.len(),
        draws,
        required_reliability: args.sure.unwrap_or(model.compare.required_reliability),
        present: present as u64,
        most: MOST_BIRDS,
    })
}

/// The largest flock of which `check` warns of no crowding, up to `most`; `None` where there is room for all of those.
fn room(opened: &Opened, most: u64) -> Result<Option<RoomEnd>, CommandError> {
    let template = Template::new(opened.text());
    let flock = template.knob(FLOCK).map_err(|error| CommandError::argument(FLOCK, error.message, error.remedy))?;
    let why = |birds: u64| -> Result<Option<String>, CommandError> {
        Ok(crowded(&opened.again(&template.text(&[(&flock, birds as f64)]))?.base))
    };
    let Some(mut reason) = why(most)? else { return Ok(None) };
    let (mut room, mut tight) = (0, most);
    while tight - room > 1 {
        let middle = room + (tight - room) / 2;
        match why(middle)? {
            Some(words) => (tight, reason) = (middle, words),
            None => room = middle,
        }
    }
    Ok(Some(RoomEnd { birds: room, why: reason }))
}

fn search(opened: &Opened, plan: &CarryPlan, run: &RunPlan<'_>, common: &Common) -> Result<CarryOutcome, CommandError> {
    let stop = stop::listen(common.quiet)?;
    let template = Template::new(opened.text());
    let flock = template.knob(FLOCK).map_err(|error| CommandError::argument(FLOCK, error.message, error.remedy))?;
    let with_flock = |birds: u64| Ok(opened.again(&template.text(&[(&flock, birds as f64)]))?);
    let meter = Meter::search(common.progress, common.quiet);
    let found = carry_site(plan, run, &with_flock, &Job::new(stop, &|way| meter.round(way)));
    meter.finish();
    found.map_err(|error| match error {
        SweepError::Stopped => {
            CommandError::Stopped("Stopped before the answer was found; nothing was written.".to_owned())
        }
        error => CommandError::from(error),
    })
}

fn output(
    opened: &Opened,
    plan: &CarryPlan,
    (which, room): (&[usize], Option<RoomEnd>),
    found: CarryOutcome,
) -> CarryView {
    let model = &opened.model;
    let names = which.iter().map(|&strategy| model.strategies[strategy].name.clone());
    CarryView {
        draws: plan.draws,
        required_reliability: plan.required_reliability,
        present: plan.present,
        // JSON and CSV are always metric.
        limits: LimitName::all(model, Units::Metric),
        room,
        strategies: names.zip(found.strategies).collect(),
    }
}
