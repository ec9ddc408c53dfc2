//! `hensward carry SITE`: how many birds the site bears, and what gives way first.

use super::station_days::{self, Laid};
use super::{add_charts, mention_doubts, provenance, share, strategies, write};
use crate::options::Common;
use crate::problem::Problem;
use crate::progress::Meter;
use crate::sites::{self, Opened};
use crate::{screen, stop};
use analysis::carry::CarryPlan;
use analysis::carry::ground::{Found, carry_site};
use analysis::carry::pictures::curves;
use analysis::carry::told::{Told, carry_table, curves_csv};
use analysis::json::{RunFacts, carry_document, text as document_text};
use analysis::output::Files;
use analysis::sweep::work::Trial;
use analysis::sweep::{LimitName, SweepError};
use analysis::table::paragraph;
use analysis::units::Units;
use clap::Args;
use scenarios::vary::{FLOCK, Template};
use std::path::PathBuf;
use std::time::Instant;

/// Largest flock that is tried: the most a site file may have.
const MOST_BIRDS: u64 = 2_000;

/// What can be asked.
#[derive(Args, Debug)]
pub struct Asked {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// A strategy to try; may be given more than once [default: all of the site]
    #[arg(long = "strategy", value_name = "NAME")]
    pub strategies: Vec<String>,
    /// Share of possible years in which all limits must hold together [default: that of the site]
    #[arg(long, value_name = "SHARE", value_parser = share)]
    pub sure: Option<f64>,
    /// Possible years each flock is tried on [default: those of the site]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=100_000))]
    pub draws: Option<u32>,
    /// Run on a station's days; possible years then differ in the unknowns only
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
    /// The chart as .png too, beside its .svg
    #[arg(long)]
    pub png: bool,
}

/// Finds how many birds are borne.
///
/// # Errors
/// Faults of the site or the options; a stop; what the system refused.
pub fn run(asked: &Asked, common: &Common) -> Result<(), Problem> {
    let begun = Instant::now();
    let mut opened = sites::open(&asked.site)?;
    mention_doubts(&opened.model, &asked.site, common);
    let laid = match &asked.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let which = strategies(&opened.model, &asked.strategies)?;
    let plan = plan(asked, &opened, which.len())?;
    let days = laid.as_ref().map(|laid| laid.days.as_slice());
    let trial = Trial { seed: common.seed, draws: plan.draws, which: &which, weather: days };
    let found = search(&opened, &plan, &trial, common)?;
    let runs = found.runs;
    let told = told(&opened, &plan, &which, found);
    let from = provenance(common, &opened.inputs);
    let mut document = carry_document(&opened.model.name, &told, &from, None);
    document.weather = laid.as_ref().map(Laid::used);
    let mut files = Files::default();
    let shown = Told { limits: LimitName::all(&opened.model, common.units), ..told.clone() };
    add_charts(&mut files, &[("carry".to_owned(), curves(&shown))], asked.png)?;
    files.add("curves.csv", curves_csv(&told));
    files.add("summary.json", document_text(&document)?);
    write(&files, common, &opened.label, "carry")?;
    if !common.json {
        let weather = laid.map(|laid| paragraph(&laid.given().note())).unwrap_or_default();
        return screen::print(&format!("{}{weather}", carry_table(&shown)));
    }
    let seconds = begun.elapsed().as_secs_f64();
    document.run = Some(RunFacts::of(&opened.model, runs, seconds, rayon::current_num_threads()));
    screen::print(&document_text(&document)?)
}

fn plan(asked: &Asked, opened: &Opened, strategies: usize) -> Result<CarryPlan, Problem> {
    let model = &opened.model;
    let present = Template::new(opened.text()).flock();
    if model.base.groups.is_empty() {
        let remedy = "Add a group, for example [birds.flock] with class = \"layer\" and number = 8.";
        return Err(Problem::argument(&asked.site, "the site has no birds to count", remedy));
    }
    if model.limits.all.is_empty() {
        let remedy = "Write what must hold under [limits], for example least_cover = 0.7.";
        return Err(Problem::argument(&asked.site, "the site has no limit, so it bears any flock", remedy));
    }
    let wanted = asked.draws.unwrap_or(model.draws) as usize;
    let distinct = if asked.weather.is_some() { None } else { model.weather.distinct_draws() };
    let draws = distinct.map_or(wanted, |years| wanted.min(years)) as u64;
    Ok(CarryPlan {
        strategies,
        limits: model.limits.all.len(),
        draws,
        sure: asked.sure.unwrap_or(model.compare.sure),
        present: present as u64,
        most: MOST_BIRDS,
    })
}

fn search(opened: &Opened, plan: &CarryPlan, trial: &Trial<'_>, common: &Common) -> Result<Found, Problem> {
    stop::listen(common.quiet)?;
    let template = Template::new(opened.text());
    let flock = template.knob(FLOCK).map_err(|error| Problem::argument(FLOCK, error.message, error.remedy))?;
    let with_flock = |birds: u64| Ok(opened.again(&template.text(&[(&flock, birds as f64)]))?);
    let meter = Meter::search(common.progress, common.quiet);
    let found = carry_site(plan, trial, &with_flock, &|way| meter.round(way), &stop::asked);
    meter.finish();
    found.map_err(|error| match error {
        SweepError::Stopped => Problem::Stopped("Stopped before the answer was found; nothing was written.".to_owned()),
        error => Problem::from(error),
    })
}

fn told(opened: &Opened, plan: &CarryPlan, which: &[usize], found: Found) -> Told {
    let model = &opened.model;
    let names = which.iter().map(|&strategy| model.strategies[strategy].name.clone());
    Told {
        draws: plan.draws,
        sure: plan.sure,
        present: plan.present,
        // JSON and CSV are always metric.
        limits: LimitName::all(model, Units::Metric),
        strategies: names.zip(found.strategies).collect(),
    }
}
