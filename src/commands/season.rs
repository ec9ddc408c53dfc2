//! `hensward season SITE`: one luck, day by day, with ledger, diary, audit and "why".

mod tell;
mod why;

use super::station_days::{self, Laid};
use super::{add_charts, mention_doubts, provenance, strategy, write};
use crate::options::Common;
use crate::problem::Problem;
use crate::screen;
use crate::sites::{self, Opened};
use analysis::json::{RunFacts, SeasonDocument, season_document, text as document_text};
use analysis::ledger::Digits;
use analysis::luck::{Draw, Luck};
use analysis::output::Files;
use analysis::report::{SeasonTold, season_report};
use analysis::season::tell;
use clap::Args;
use std::path::PathBuf;
use std::time::Instant;

/// Runs of a season: the strategy, and the no-birds run it is held against.
const RUNS: u64 = 2;

/// What can be asked.
#[derive(Args, Debug)]
pub struct Asked {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// The strategy to follow [default: the first of the site]
    #[arg(long, value_name = "NAME")]
    pub strategy: Option<String>,
    /// Run on a station's days instead of the site's weather
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
    /// Which possible year; in 0 every unknown has its likely value
    #[arg(long, default_value_t = 0, value_name = "N")]
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
pub fn run(asked: &Asked, common: &Common) -> Result<(), Problem> {
    let begun = Instant::now();
    let mut opened = sites::open(&asked.site)?;
    mention_doubts(&opened.model, &asked.site, common);
    let which = asked.strategy.as_deref().map_or(Ok(0), |name| strategy(&opened.model, "--strategy", name))?;
    let question = asked.why.as_deref().map(|text| why::parse(text, &opened.model)).transpose()?;
    let laid = match &asked.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let draw = draw(asked, common, &opened, laid.as_ref());
    let digits = if asked.exact { Digits::Exact } else { Digits::Short };
    let season = tell(&opened.model, &draw, which, Some(digits))?;
    let answer = match question {
        Some((plot, day)) => analysis::season::why(&opened.model, &draw, which, plot, day)?.map(|why| (plot, day, why)),
        None => None,
    };
    let from = provenance(common, &opened.inputs);
    let mut document = season_document(&opened.model, &season, which, asked.draw, &from, None);
    document.weather = laid.as_ref().map(Laid::used);
    document.why = answer.as_ref().map(|(plot, day, why)| why::figures(&opened.model, *plot, *day, why));
    let told = SeasonTold {
        model: &opened.model,
        library: &opened.library,
        draw: &draw,
        which,
        season: &season,
        from: &from,
        units: common.units,
    };
    write(&files(&told, &document, asked.png)?, common, &opened.label, "season")?;
    if common.json {
        let seconds = begun.elapsed().as_secs_f64();
        document.run = Some(RunFacts::of(&opened.model, RUNS, seconds, rayon::current_num_threads()));
        return screen::print(&document_text(&document)?);
    }
    match &answer {
        Some((plot, day, why)) => screen::print(&why::words(&opened.model, *plot, *day, why, common.units)),
        None => screen::print(&tell::words(&opened.model, which, asked.draw, laid.as_ref(), &season, common.units)),
    }
}

/// The luck: weather path and unknowns, or the station's days.
fn draw(asked: &Asked, common: &Common, opened: &Opened, laid: Option<&Laid>) -> Draw {
    let luck = Luck { seed: common.seed };
    match laid {
        Some(laid) => luck.draw_on(&opened.model, asked.draw, &laid.days),
        None => luck.draw(&opened.model, asked.draw),
    }
}

fn files(told: &SeasonTold<'_>, document: &SeasonDocument, png: bool) -> Result<Files, Problem> {
    let season = told.season;
    let mut files = Files::default();
    let report = season_report(told);
    files.add("season.html", report.html);
    files.add("ledger.csv", season.ledger.0.clone());
    files.add("ledger_site.csv", season.ledger.1.clone());
    files.add("diary.csv", season.diary.csv());
    add_charts(&mut files, &report.charts, png)?;
    files.add("summary.json", document_text(document)?);
    Ok(files)
}
