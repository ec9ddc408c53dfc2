//! What can be asked: the commands and the options every command has.

use crate::commands::{carry, check, compare, lesson, merge, new, score, season, sources, sweep, weather};
use analysis::units::Units;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Which gate on which date: simulates a small flock of hens let through gates into
/// garden plots, day by day, and compares gate strategies before the season.
#[derive(Debug, Parser)]
#[command(name = "hensward", version, arg_required_else_help = true, max_term_width = 80)]
#[command(
    after_help = "SITE is a site file, a folder that holds site.toml, or the name of a demo: sallowmere, emberstair, puddlecote.\nTry: hensward compare sallowmere\nBegin with your own ground: hensward new my-garden"
)]
pub struct Asked {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// What holds for every command.
    #[command(flatten)]
    pub common: Common,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a starter site for your ground, with questions in its comments
    New(new::Asked),
    /// Say back in plain words what a site file says, and what looks wrong
    Check(check::Asked),
    /// One possible year (or run of years), day by day
    Season(season::Asked),
    /// Strategies on the same possible years: table, verdict, report
    Compare(compare::Asked),
    /// Two printed pages for a group: guess first, then see
    Lesson(lesson::Asked),
    /// Where numbers come from: value, range, unit, source, and how well it is known
    Sources(sources::Asked),
    /// How many birds the site bears, and what gives way first
    Carry(carry::Asked),
    /// Many cells: numbers of a site varied, every strategy tried in each
    Sweep(sweep::Asked),
    /// Join the parts of a sweep that was shared out
    Merge(merge::Asked),
    /// A strategy on the open problem set: aims, limits, share of the best known
    Score(score::Asked),
    /// A station's weather: fit a generator to it, or draw new days
    Weather(weather::Asked),
}

/// Options of every command.
#[derive(Args, Clone, Debug)]
#[command(next_help_heading = "Options of every command")]
pub struct Common {
    /// One JSON document on stdout instead of words
    #[arg(long, global = true)]
    pub json: bool,
    /// Folder for files; `None` is the default of the help.
    #[arg(long, global = true, value_name = "FOLDER", help = "Folder for files [default: results/<site>/<command>]")]
    pub out: Option<PathBuf>,
    /// Seed of all luck: the same seed gives the same files
    #[arg(long, global = true, default_value_t = 1, value_name = "N")]
    pub seed: u64,
    /// Threads; results do not depend on them [default: all cores]
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
    /// No talk on stderr, faults only
    #[arg(long, global = true)]
    pub quiet: bool,
    /// How progress is shown on stderr
    #[arg(long, global = true, value_enum, default_value_t = Progress::Auto)]
    pub progress: Progress,
    /// Units of words, pages and charts; CSV and JSON are always metric
    #[arg(long, global = true, value_parser = units(), default_value = "metric")]
    pub units: Units,
}

/// How progress is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Progress {
    /// A bar with the time left on a terminal, nothing elsewhere
    Auto,
    /// A line now and then
    Plain,
    /// Nothing
    None,
}

fn units() -> impl TypedValueParser<Value = Units> {
    let words = [
        PossibleValue::new("metric").help("Square metres and kilograms"),
        PossibleValue::new("us").help("Square feet and pounds"),
    ];
    PossibleValuesParser::new(words).map(|word| if word == "us" { Units::Us } else { Units::Metric })
}
