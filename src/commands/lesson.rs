//! `hensward lesson SITE`: two printed pages, on which a group guesses first and then sees.

use super::inputs::{mention_warnings, strategy};
use super::outputs::{provenance, take, write};
use super::station_days::{self, ForcedWeather};
use crate::common::Common;
use crate::problem::CommandError;
use crate::progress::Meter;
use crate::sites::{self, Opened};
use crate::whole::whole;
use crate::{screen, stop};
use analysis::experiment::Job;
use analysis::json::{RunFacts, lesson_document, text as document_text};
use analysis::lesson::{self, Lesson, LessonError, LessonView, first_year, lesson_page};
use analysis::output::Files;
use analysis::table::wrapped;
use analysis::wording::held;
use clap::Args;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Runs of a possible year: two strategies, and the run of birds shut in they are held against.
const RUNS: u64 = 3;

/// The file of both pages.
const PAGE: &str = "lesson.html";

/// What can be asked.
#[derive(Args, Debug)]
pub struct LessonArgs {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// Strategy A, given again strategy B [default: the site's own strategy, and the one that moves gates alike but loses most or least cover]
    #[arg(long = "strategy", value_name = "NAME")]
    pub strategies: Vec<String>,
    /// Which possible year is shown; in 0 every unknown has its likely value
    #[arg(long, default_value_t = 0, value_name = "N", value_parser = whole::<u64>(0, u64::MAX))]
    pub draw: u64,
    /// Possible years the answers are tried on
    #[arg(long, default_value_t = 40, value_name = "N", value_parser = whole::<u32>(1, 100_000))]
    pub draws: u32,
    /// Run on a station's days instead of the site's weather
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
}

/// Writes a lesson.
///
/// # Errors
/// Faults of the site or the options; a stop; what the system refused.
pub fn run(args: &LessonArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let mut opened = sites::open(&args.site)?;
    mention_warnings(&opened.model, &args.site, common);
    let which = strategies(args, &opened)?;
    opened.model = first_year(opened.model);
    let laid = match &args.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let mut folder = take(common, &opened.label, "lesson", &opened.origin, &[PAGE, "summary.json"])?;
    let page = folder.path().join(PAGE);
    let lesson = make(args, common, &opened, which, laid.as_ref())?;
    let from = provenance(common, &opened.inputs);
    let mut document = lesson_document(&lesson, &from, None);
    document.weather = laid.as_ref().map(ForcedWeather::used);
    let mut files = Files::default();
    files.add(PAGE, lesson_page(&LessonView { lesson: &lesson, from: &from }));
    files.add("summary.json", document_text(&document)?);
    write(&files, &mut folder, common)?;
    if common.json {
        let runs = (lesson.draws as u64 + 1) * RUNS;
        let seconds = begun.elapsed().as_secs_f64();
        document.run = Some(RunFacts::of(&lesson.model, runs, seconds, rayon::current_num_threads()));
        return screen::print(&document_text(&document)?);
    }
    screen::print(&words(&lesson, &page))
}

/// The strategies that are named; the site has two at least.
fn strategies(args: &LessonArgs, opened: &Opened) -> Result<(usize, Option<usize>), CommandError> {
    let model = &opened.model;
    let named: Vec<usize> =
        args.strategies.iter().map(|name| strategy(model, "--strategy", name)).collect::<Result<_, _>>()?;
    if model.strategies.len() < 2 {
        let remedy = "Write a second [strategy.NAME] into the site file, for example by_eye = { enter_above = 0.9, leave_below = 0.75 }.";
        return Err(CommandError::argument(&args.site, "a lesson needs two strategies, and the site has one", remedy));
    }
    match named.as_slice() {
        [] => Ok((model.compare.against, None)),
        [first] => Ok((*first, None)),
        [first, second] if first == second => {
            let fault = format!("\"{}\" is named twice", model.strategies[*first].name);
            Err(CommandError::argument(
                "--strategy",
                fault,
                "A lesson holds two different strategies side by side: name another.",
            ))
        }
        [first, second] => Ok((*first, Some(*second))),
        more => {
            let fault = format!("{} strategies are named, and a lesson has two", more.len());
            Err(CommandError::argument("--strategy", fault, "Name two; to see more at once: hensward compare."))
        }
    }
}

fn make(
    args: &LessonArgs,
    common: &Common,
    opened: &Opened,
    which: (usize, Option<usize>),
    laid: Option<&ForcedWeather>,
) -> Result<Lesson, CommandError> {
    let wanted = args.draws as usize;
    let distinct = if laid.is_some() { None } else { opened.model.weather.distinct_draws() };
    let draws = distinct.map_or(wanted, |years| wanted.min(years));
    let note = laid.map(|laid| format!("{} All these years share it.", laid.words())).unwrap_or_default();
    let spec = lesson::LessonSpec {
        which,
        seed: common.seed,
        number: args.draw,
        draws,
        weather: laid.map(|laid| laid.days.as_slice()),
        note: &note,
        units: common.units_of(&opened.model),
    };
    let stop = stop::listen(common.quiet)?;
    let meter = Meter::new(common.progress, common.quiet, draws);
    let made = lesson::make(opened.model.clone(), &spec, &Job::new(stop, &|count| meter.done(count)));
    meter.finish();
    made.map_err(|error| match error {
        LessonError::Stopped => {
            CommandError::Stopped("Stopped before the lesson was finished; nothing was written.".to_owned())
        }
        LessonError::NoSward => CommandError::argument(
            &args.site,
            "a lesson draws ground cover, and every plot of the site is all beds",
            "Leave some of a plot outside its beds, for example beds = 0.7.",
        ),
        error => CommandError::Other(anyhow::Error::new(error)),
    })
}

/// What stdout says: where the pages are and what they ask, but not the answers: a leader may
/// want to guess too.
fn words(lesson: &Lesson, page: &Path) -> String {
    let mut out = wrapped(
        &format!(
            "A lesson of two pages: A is {}, B is {}, on the same weather and the same unknowns.",
            lesson.name(0),
            lesson.name(1)
        ),
        "",
    );
    out.push_str(&format!("\n  {}\n\n", page.display()));
    out.push_str(&wrapped(
        "Open it in any browser and print it, on A4 or US Letter: page 1 for everyone in the group, page 2 for you alone. The group is asked:",
        "",
    ));
    for question in &lesson.questions {
        out.push_str(&wrapped(&question.ask, "  - "));
    }
    let least = lesson.questions.iter().map(|question| question.same).min().unwrap_or(0);
    out.push_str(&wrapped(
        &format!(
            "The answers, with reasons, are on page 2; the least steady of them is the same in {} possible years.",
            held(least, lesson.draws)
        ),
        "",
    ));
    out
}
