//! `hensward season SITE`: one draw, day by day, with ledger, diary, audit and "why".

mod why;
mod words;

use super::inputs::{mention_warnings, strategy};
use super::outputs::{add_charts, check_png, provenance, take, write};
use super::station_days::{self, ForcedWeather};
use crate::common::Common;
use crate::problem::CommandError;
use crate::screen;
use crate::sites::{self, Opened};
use crate::whole::whole;
use analysis::draw_sampler::{Draw, DrawSampler};
use analysis::json::{RunFacts, SeasonDocument, season_document, text as document_text};
use analysis::ledger::Digits;
use analysis::output::Files;
use analysis::report::{SeasonView, season_report};
use analysis::season::simulate;
use clap::Args;
use std::path::PathBuf;
use std::time::Instant;

/// Runs of a season: the strategy, and the run of birds shut in it is held against.
const RUNS: u64 = 2;

/// Files it writes, whatever is asked.
const FILES: [&str; 5] = ["season.html", "ledger.csv", "ledger_site.csv", "diary.csv", "summary.json"];

/// What can be asked.
#[derive(Args, Debug)]
pub struct SeasonArgs {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// The strategy to follow [default: the first of the site]
    #[arg(long, value_name = "NAME")]
    pub strategy: Option<String>,
    /// Run on a station's days instead of the site's weather
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
    /// Which possible year; in 0 every unknown has its likely value
    #[arg(long, default_value_t = 0, value_name = "N", value_parser = whole::<u64>(0, u64::MAX))]
    pub draw: u64,
    /// Why a gate stood as it did on a day, and what the other way would have done
    #[arg(long, value_name = "PLOT@DATE")]
    pub why: Option<String>,
    /// Seventeen digits in the ledgers: the very numbers
    #[arg(long)]
    pub exact: bool,
    /// Every chart also as PNG
    #[arg(long)]
    pub png: bool,
}

/// Tells a season.
///
/// # Errors
/// Faults of the site or the options; what the system refused.
pub fn run(args: &SeasonArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    check_png(args.png)?;
    let mut opened = sites::open(&args.site)?;
    mention_warnings(&opened.model, &args.site, common);
    let which = args.strategy.as_deref().map_or(Ok(0), |name| strategy(&opened.model, "--strategy", name))?;
    let question = args.why.as_deref().map(|text| why::parse(text, &opened.model)).transpose()?;
    let laid = match &args.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let mut folder = take(common, &opened.label, "season", &opened.origin, &FILES)?;
    let draw = draw(args, common, &opened, laid.as_ref());
    let digits = if args.exact { Digits::Exact } else { Digits::Short };
    let season = simulate(&opened.model, &draw, which, Some(digits))?;
    let answer = match question {
        Some((plot, day)) => analysis::season::why(&opened.model, &draw, which, plot, day)?.map(|why| (plot, day, why)),
        None => None,
    };
    let from = provenance(common, &opened.inputs);
    let mut document = season_document(&opened.model, &season, which, args.draw, &from, None);
    document.weather = laid.as_ref().map(ForcedWeather::used);
    document.why = answer.as_ref().map(|(plot, day, why)| why::figures(&opened.model, *plot, *day, why));
    let output = SeasonView {
        model: &opened.model,
        library: &opened.library,
        draw: &draw,
        which,
        season: &season,
        from: &from,
        units: common.units_of(&opened.model),
    };
    write(&files(&output, &document, args.png)?, &mut folder, common)?;
    if common.json {
        let seconds = begun.elapsed().as_secs_f64();
        document.run = Some(RunFacts::of(&opened.model, RUNS, seconds, rayon::current_num_threads()));
        return screen::print(&document_text(&document)?);
    }
    match &answer {
        Some((plot, day, why)) => {
            screen::print(&why::words(&opened.model, *plot, *day, why, common.units_of(&opened.model)))
        }
        None => screen::print(&words::words(
            &opened.model,
            which,
            args.draw,
            laid.as_ref(),
            &season,
            common.units_of(&opened.model),
        )),
    }
}

/// The draw: weather path and unknowns, or the station's days.
fn draw(args: &SeasonArgs, common: &Common, opened: &Opened, laid: Option<&ForcedWeather>) -> Draw {
    let sampler = DrawSampler { seed: common.seed };
    match laid {
        Some(laid) => sampler.draw_on(&opened.model, args.draw, &laid.days),
        None => sampler.draw(&opened.model, args.draw),
    }
}

fn files(output: &SeasonView<'_>, document: &SeasonDocument, png: bool) -> Result<Files, CommandError> {
    let season = output.season;
    let mut files = Files::default();
    let report = season_report(output);
    files.add("season.html", report.html);
    files.add("ledger.csv", season.ledger.0.clone());
    files.add("ledger_site.csv", season.ledger.1.clone());
    files.add("diary.csv", season.diary.csv());
    add_charts(&mut files, &report.charts, png)?;
    files.add("summary.json", document_text(document)?);
    Ok(files)
}
