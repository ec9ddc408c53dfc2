//! The commands, one file each, and what they share.

pub mod carry;
pub mod check;
pub mod compare;
pub mod lesson;
pub mod merge;
pub mod new;
pub mod score;
pub mod season;
pub mod sources;
pub mod station_days;
pub mod sweep;
pub mod weather;

use crate::options::{Asked, Command, Common};
use crate::problem::Problem;
use crate::screen;
use crate::sites::{Input, digest};
use analysis::charts::Chart;
use analysis::json::Provenance;
use analysis::output::Files;
use scenarios::SiteModel;
use scenarios::nearest::did_you_mean;
use std::path::PathBuf;

/// Does what was asked.
///
/// # Errors
/// Wrong input, a stop, or what the system refused.
pub fn run(asked: &Asked) -> Result<(), Problem> {
    let common = &asked.common;
    use_threads(common.threads)?;
    match &asked.command {
        Command::New(asked) => new::run(asked, common),
        Command::Carry(asked) => carry::run(asked, common),
        Command::Check(asked) => check::run(asked, common),
        Command::Season(asked) => season::run(asked, common),
        Command::Compare(asked) => compare::run(asked, common),
        Command::Lesson(asked) => lesson::run(asked, common),
        Command::Sources(asked) => sources::run(asked, common),
        Command::Sweep(asked) => sweep::run(asked, common),
        Command::Merge(asked) => merge::run(asked, common),
        Command::Score(asked) => score::run(asked, common),
        Command::Weather(asked) => weather::run(asked, common),
    }
}

fn use_threads(threads: Option<u16>) -> Result<(), Problem> {
    let Some(threads) = threads else { return Ok(()) };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build_global();
    pool.map_err(|error| Problem::Other(anyhow::Error::new(error).context("cannot start the threads")))
}

/// Adds every chart as SVG, and beside it as PNG where that is asked for.
///
/// # Errors
/// If a chart cannot be drawn in pixels.
pub fn add_charts(files: &mut Files, charts: &[(String, Chart)], png: bool) -> Result<(), Problem> {
    for (name, chart) in charts {
        files.add(format!("{name}.svg"), chart.svg.clone());
    }
    if png {
        for (name, image) in analysis::charts::png::all(charts).map_err(|error| Problem::Other(error.into()))? {
            files.add(format!("{name}.png"), image);
        }
    }
    Ok(())
}

/// Where files go: `--out`, else `results/<site>/<command>`.
pub fn folder(common: &Common, label: &str, command: &str) -> PathBuf {
    common.out.clone().unwrap_or_else(|| PathBuf::from("results").join(label).join(command))
}

/// Writes the files and says where they are.
///
/// # Errors
/// The file that could not be written.
pub fn write(files: &Files, common: &Common, label: &str, command: &str) -> Result<(), Problem> {
    let folder = folder(common, label, command);
    files.write(&folder)?;
    let names: Vec<&str> = files.names().collect();
    screen::talk(common.quiet, &format!("Written to {}: {}", folder.display(), names.join(", ")));
    Ok(())
}

/// Index of a strategy named on the command line.
///
/// # Errors
/// There is none of that name; says which is near.
pub fn strategy(model: &SiteModel, option: &str, name: &str) -> Result<usize, Problem> {
    model.strategy(name).ok_or_else(|| {
        let remedy = did_you_mean(name, model.strategies.iter().map(|strategy| strategy.name.as_str()));
        Problem::argument(option, format!("the site has no strategy \"{name}\""), remedy)
    })
}

/// Indices of the strategies named on the command line; all of the site where none is.
///
/// # Errors
/// There is none of a name, or one is named twice.
pub fn strategies(model: &SiteModel, names: &[String]) -> Result<Vec<usize>, Problem> {
    let which: Vec<usize> = names.iter().map(|name| strategy(model, "--strategy", name)).collect::<Result<_, _>>()?;
    if let Some(again) = (1..which.len()).find(|&at| which[..at].contains(&which[at])) {
        let name = &model.strategies[which[again]].name;
        return Err(Problem::argument("--strategy", format!("\"{name}\" is named twice"), "Name each strategy once."));
    }
    Ok(if which.is_empty() { (0..model.strategies.len()).collect() } else { which })
}

/// Says that a site has unusual values, which only `check` shows one by one.
pub fn mention_doubts(model: &SiteModel, site: &str, common: &Common) {
    let words = match model.doubts.len() {
        0 => return,
        1 => "One thing in the site file is unusual".to_owned(),
        many => format!("{many} things in the site file are unusual"),
    };
    screen::talk(common.quiet, &format!("{words}; to see: hensward check {site}"));
}

/// What a document was made from.
pub fn provenance(common: &Common, inputs: &[Input]) -> Provenance {
    Provenance::new(common.seed, digest(inputs))
}

/// Parses a share for clap.
///
/// # Errors
/// What is no share, with what would be right.
pub fn share(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(share) if (0.0..=1.0).contains(&share) => Ok(share),
        _ => Err("write a share from 0 to 1, for example 0.9".to_owned()),
    }
}
